package weather

import (
	"flag"
	"math"
	"math/rand/v2"
	"os"
	"sync"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/stat"
)

var full = flag.Bool("weather.full", false, "1,000 simulated years and more, as in the acceptance record")

// years is the length of the simulation behind an acceptance test.
func years() int {
	if *full {
		return 1000
	}
	return 600
}

func record(t testing.TB, file string) *Record {
	t.Helper()
	f, err := os.Open("../../testdata/records/" + file)
	require.NoError(t, err)
	defer func() { _ = f.Close() }()
	r, err := ReadRecord(file, f)
	require.NoError(t, err)
	return r
}

const colabaFile = "mumbai_colaba_IN012070300_daily_rain_1901_1970.csv"

// colaba is the fit of Mumbai Colaba 1901-1970 (NOAA GHCN-Daily IN012070300, daily rain;
// normals of the rest: WMO 1991-2020), made once for all tests.
var colaba = sync.OnceValues(func() (fitted struct {
	rec    *Record
	c      Climate
	report FitReport
}, err error,
) {
	f, err := os.Open("../../testdata/records/" + colabaFile)
	if err != nil {
		return fitted, err
	}
	defer func() { _ = f.Close() }()
	if fitted.rec, err = ReadRecord("Mumbai Colaba", f); err != nil {
		return fitted, err
	}
	table, err := os.Open("../../testdata/records/wmo_clino_1991_2020_monsoon_normals.csv")
	if err != nil {
		return fitted, err
	}
	defer func() { _ = table.Close() }()
	raws, err := ReadWMOTable(table)
	if err != nil {
		return fitted, err
	}
	for _, raw := range raws {
		if raw.Station == "MUMBAI_COLABA 43057" {
			rest, err := FillNormals(raw)
			if err != nil {
				return fitted, err
			}
			if fitted.c, err = Fit(fitted.rec, rest, FitOptions{Seed: 1}); err != nil {
				return fitted, err
			}
		}
	}
	fitted.report, err = Assess(fitted.rec, fitted.c, AssessOptions{Years: years(), Seed: 2})
	return fitted, err
})

func ratio(t *testing.T, r FitReport, name string) float64 {
	t.Helper()
	l := r.LineOf(name)
	return l.Simulated / l.Observed
}

// The loader finds 69 complete years, and refuses years with few reports or with rain days
// only by name.
func TestLoader(t *testing.T) {
	s := record(t, colabaFile).Summary()
	assert.Equal(t, 69, s.Complete)
	assert.Empty(t, s.Refused)
	assert.Equal(t, []int{1901, 1970}, []int{s.FirstYear, s.LastYear})

	r := &Record{Station: "test"}
	for m := 1; m <= 12; m++ {
		for d := 1; d <= int(monthLength[m-1]); d++ {
			if d%3 == 0 {
				r.day(2001, m, d).RainMM = 12 // rain days only
			}
			r.day(2002, m, d).RainMM = 0
			r.day(2003, m, d).RainMM = float64(d % 2 * 5)
			r.day(2004, m, d).RainMM = 3
		}
	}
	q := r.Quality()
	assert.Contains(t, q[0].Refused, "only 119 rain reports")
	assert.Empty(t, q[1].Refused)
	assert.True(t, q[2].Complete)
	assert.Contains(t, q[3].Refused, "a list of rain days")
}

// Months of the record: Mumbai Colaba 1901-70, computed from the file by an independent
// script: P(wet|dry) 0.597 and P(wet|wet) 0.889 in July; gamma shape 0.61.
func TestEstimators(t *testing.T) {
	var n [2][2]float64
	rec := record(t, colabaFile)
	for y := range rec.Years {
		for d := range rec.Years[y] {
			if monthOf(d) != 6 || !has(rec.Years[y][d].RainMM) || !has(rec.Years[y][d-1].RainMM) {
				continue
			}
			n[wetness(rec.Years[y][d-1].RainMM)][wetness(rec.Years[y][d].RainMM)]++
		}
	}
	assert.InDelta(t, 0.597, n[0][1]/(n[0][0]+n[0][1]), 0.002)
	assert.InDelta(t, 0.889, n[1][1]/(n[1][0]+n[1][1]), 0.002)

	rng := rand.New(rand.NewPCG(1, 1))
	var y []float64
	for range 100_000 {
		y = append(y, 20*gammaDraw(0.6, rng))
	}
	shape, scale := FitGamma(y)
	assert.InEpsilon(t, 0.6, shape, 0.01)
	assert.InEpsilon(t, 20, scale, 0.015)

	mix := MixedExponential{0.46, 0.23, 1.6557}
	y = y[:0]
	for range 20_000 {
		y = append(y, mix.quantile(rng.Float64()))
	}
	got := FitMixedExponential(y)
	assert.InDelta(t, 0.46, got.P, 0.02)
	assert.InDelta(t, 0.23, got.B1, 0.02)
}

func wetness(rain float64) int {
	if rain >= 1 {
		return 1
	}
	return 0
}

// gammaDraw draws a unit-scale gamma of shape below 1 (Ahrens & Dieter's rejection).
func gammaDraw(shape float64, rng *rand.Rand) float64 {
	for {
		p := (1 + shape/math.E) * rng.Float64()
		if p <= 1 {
			if x := math.Pow(p, 1/shape); rng.Float64() <= math.Exp(-x) {
				return x
			}
			continue
		}
		if x := -math.Log((1 + shape/math.E - p) / shape); rng.Float64() <= math.Pow(x, shape-1) {
			return x
		}
	}
}

// The fitted climate of Mumbai Colaba against its 69 years: means, spreads, spells,
// extremes, each within the stated bounds.
func TestFittedClimate(t *testing.T) {
	fitted, err := colaba()
	require.NoError(t, err)
	r := fitted.report
	assert.Equal(t, []int{6, 7, 8, 9}, r.Season)
	var spreads []float64
	for _, m := range []string{"Jun", "Jul", "Aug", "Sep"} {
		assert.InDelta(t, 1, ratio(t, r, "mean rain of "+m), 0.08, m)
		wet := r.LineOf("share of wet days in " + m)
		assert.InDelta(t, wet.Observed, wet.Simulated, 0.02, m)
		x := ratio(t, r, "spread of the rain of "+m)
		assert.True(t, x > 0.70 && x < 1.35, "%s %.2f", m, x)
		spreads = append(spreads, x)
		x = ratio(t, r, "spread of the wet days of "+m)
		assert.True(t, x > 0.75 && x < 1.35, "%s %.2f", m, x)
	}
	assert.InDelta(t, 1, stat.Mean(spreads, nil), 0.15)
	season := ratio(t, r, "spread of the rain of the rains")
	assert.True(t, season > 0.90 && season < 1.15, "%.2f", season)

	days := func(name string) float64 { l := r.LineOf(name); return l.Simulated - l.Observed }
	assert.InDelta(t, 0, days("longest wet spell of the median season"), 2)
	assert.InDelta(t, 0, days("longest wet spell of one season in ten"), 4)
	assert.InDelta(t, 0, days("longest dry spell of the median season"), 1)
	assert.InDelta(t, 0, days("longest dry spell of one season in ten"), 3)
	for name, tolerance := range map[string]float64{
		"dry spells of at least 5 days": 0.10, "dry spells of at least 7 days": 0.20, "dry spells of at least 10 days": 0.40,
		"wet spells of at least 5 days": 0.15, "wet spells of at least 10 days": 0.15, "chances of three dry days in a row": 0.12,
		"rain that 50 % of wet days do not pass": 0.06, "rain that 90 % of wet days do not pass": 0.06, "rain that 99 % of wet days do not pass": 0.06,
		"wettest 1 days of the median year": 0.10, "wettest 3 days of the median year": 0.12, "wettest 5 days of the median year": 0.15,
	} {
		assert.InDelta(t, 1, ratio(t, r, name), tolerance, name)
	}
	inside := 0
	for _, l := range r.Lines {
		if l.Inside {
			inside++
		}
		t.Logf("%-45s %8.3g observed %8.3g simulated (%.3g to %.3g) %v", l.Name, l.Observed, l.Simulated, l.Low, l.High, l.Inside)
	}
	t.Logf("%d of %d lines inside; verdict %s %v", inside, len(r.Lines), r.Verdict, r.Why)
	assert.GreaterOrEqual(t, float64(inside), 0.75*float64(len(r.Lines)))
	assert.NotEqual(t, VerdictUseless, r.Verdict)
}

// The textbook chain must fail where the fitted climate passes: it understates the spread
// of the season by almost half (0.53 to 0.65), and its spreads are further off.
func TestPlainModeFails(t *testing.T) {
	fitted, err := colaba()
	require.NoError(t, err)
	plain, err := Fit(fitted.rec, fitted.c.Rest, FitOptions{Seed: 1, Plain: true})
	require.NoError(t, err)
	r, err := Assess(fitted.rec, plain, AssessOptions{Years: years(), Seed: 2})
	require.NoError(t, err)
	season := ratio(t, r, "spread of the rain of the rains")
	t.Logf("plain: spread of the season %.2f", season)
	assert.True(t, season > 0.50 && season < 0.68, "%.2f", season)
	miss := func(r FitReport) (sum float64) {
		for _, m := range []string{"Jun", "Jul", "Aug", "Sep"} {
			sum += math.Abs(math.Log(ratio(t, r, "spread of the rain of "+m)))
		}
		return sum
	}
	assert.Less(t, miss(fitted.report), miss(r))
}

// Simulated onsets lie within 2 days of the record's mean, and their spread, found by the
// same rule, within 20 %. Without spread every year has the same calendar.
func TestClock(t *testing.T) {
	fitted, err := colaba()
	require.NoError(t, err)
	c := fitted.c
	require.True(t, c.ClockMoves)
	s, err := NewClimateSource(c)
	require.NoError(t, err)
	on, _ := datesOf(s.SimulatedYears(years(), 3))
	want, _ := datesOf(turned(fitted.rec.series(), c.StartDOY, 65))
	assert.InDelta(t, stat.Mean(want, nil), stat.Mean(on, nil), 2)
	assert.InEpsilon(t, stat.StdDev(want, nil), stat.StdDev(on, nil), 0.20)
	c.OnsetSD, c.WithdrawalSD = 0, 0
	s, err = NewClimateSource(c)
	require.NoError(t, err)
	for seed := range uint64(5) {
		y := s.newYear(drawYear(rand.New(rand.NewPCG(seed, 1))))
		assert.Equal(t, []float64{c.OnsetDay, c.WithdrawalDay}, []float64{y.clock.on, y.clock.off})
	}
}

// Residuals of the drawn days have the lag-0 correlations they were given, and dry days are
// 1.6 °C warmer than wet ones.
func TestResiduals(t *testing.T) {
	fitted, err := colaba()
	require.NoError(t, err)
	s, err := NewClimateSource(fitted.c)
	require.NoError(t, err)
	var w walk
	rng := rand.New(rand.NewPCG(9, 9))
	var x [4][]float64
	for range 60_000 {
		w.stepResidual(rng)
		for k := range x {
			x[k] = append(x[k], w.residual[k])
		}
	}
	for pair, want := range map[[2]int]float64{{0, 1}: 0.389, {0, 2}: 0.449, {1, 3}: 0.436, {2, 3}: -0.180} {
		assert.InDelta(t, want, stat.Correlation(x[pair[0]], x[pair[1]], nil), 0.05)
	}
	var wet, dry []float64
	for i := range 300 {
		for _, day := range s.Days(182, 31, rand.New(rand.NewPCG(4, uint64(i)))) {
			if day.RainMM >= 1 {
				wet = append(wet, day.TmaxC)
			} else {
				dry = append(dry, day.TmaxC)
			}
		}
	}
	assert.InDelta(t, 1.6, stat.Mean(dry, nil)-stat.Mean(wet, nil), 0.2)
}

// Year i is the same however many years are drawn.
func TestYearsDoNotDependOnTheirNumber(t *testing.T) {
	fitted, err := colaba()
	require.NoError(t, err)
	s, err := NewClimateSource(fitted.c)
	require.NoError(t, err)
	assert.Equal(t, s.SimulatedYears(12, 5)[:7], s.SimulatedYears(7, 5))
}

// Storms add rain in the rains and darken the sky; a wetter mean year is wetter; a user's
// change of climate does what it says.
func TestStormsWetnessAndChange(t *testing.T) {
	fitted, err := colaba()
	require.NoError(t, err)
	total := func(change func(*Climate)) (rain, tmax float64) {
		c := fitted.c
		change(&c)
		s, err := NewClimateSource(c)
		require.NoError(t, err)
		for i := range 150 {
			for _, d := range s.Days(152, 122, rand.New(rand.NewPCG(8, uint64(i)))) {
				rain += d.RainMM / 150
				tmax += d.TmaxC / 150 / 122
			}
		}
		return rain, tmax
	}
	rain, tmax := total(func(*Climate) {})
	stormy, _ := total(func(c *Climate) { c.Storms = Storms{PerYear: 1, TotalMM: 200, LogSD: 0.5} })
	assert.InDelta(t, 200*math.Exp(0.125), stormy-rain, 60)
	wetter, _ := total(func(c *Climate) { c.Wetness = 1.28 })
	assert.Greater(t, wetter, rain*1.05)
	changed, warmer := total(func(c *Climate) { c.Change = Change{TempC: 2, AmountFactor: 1.1} })
	assert.InDelta(t, 2, warmer-tmax, 0.3)
	assert.InEpsilon(t, 1.1*rain, changed, 0.02)
}

// Deliberately poor files: what is said of them.
func TestPoorFiles(t *testing.T) {
	good := record(t, colabaFile)
	rest := stationNormals(t, "MUMBAI_COLABA 43057")
	poor := func(change func(y, d int, x *Reading)) *Record {
		r := &Record{Station: "poor", FirstYear: good.FirstYear}
		r.Years = append(r.Years, good.Years...)
		for y := range r.Years {
			for d := range r.Years[y] {
				change(y, d, &r.Years[y][d])
			}
		}
		r.examine()
		return r
	}
	rng := rand.New(rand.NewPCG(1, 2))
	for _, tt := range []struct {
		name, want string
		rec        *Record
	}{
		{"rain days only", "usable years of rain", poor(func(_, _ int, x *Reading) {
			if x.RainMM < 1 {
				x.RainMM = missing
			}
		})},
		{"inches", "inches?", poor(func(_, _ int, x *Reading) { x.RainMM = math.Round(100*x.RainMM/25.4) / 100 })},
		{"tenths", "tenths of a millimetre?", poor(func(_, _ int, x *Reading) { x.RainMM *= 10 })},
		{"Fahrenheit", "degrees Fahrenheit?", poor(func(_, _ int, x *Reading) { x.TmaxC, x.TminC = 88, 76 })},
		{"four years", "4 usable years", &Record{Station: "poor", FirstYear: 1901, Years: good.Years[:5]}},
	} {
		_, err := Fit(tt.rec, rest, FitOptions{Seed: 1})
		require.ErrorContains(t, err, tt.want, tt.name)
	}
	holes := poor(func(_, _ int, x *Reading) {
		if rng.Float64() < 0.30 {
			x.RainMM = missing
		}
	})
	_, err := Fit(holes, rest, FitOptions{Seed: 1})
	require.ErrorContains(t, err, "0 usable years", "30 % of days missing leaves no year with 300 reports")
}

func BenchmarkDrawClimateYear(b *testing.B) {
	fitted, err := colaba()
	require.NoError(b, err)
	s, err := NewClimateSource(fitted.c)
	require.NoError(b, err)
	days := make([]Day, 365)
	rng := rand.New(rand.NewChaCha8([32]byte{1}))
	b.ReportAllocs()
	for b.Loop() {
		s.draw(days, 60, rng)
	}
	b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/(365+burnInDays), "ns/day")
}
