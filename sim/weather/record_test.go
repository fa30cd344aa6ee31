package weather

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/stat/distuv"
)

// dailyRecord is a record of some years from 2001 on whose every reading is made by fill.
func dailyRecord(years int, fill func(y, d int, x *Reading)) *Record {
	r := &Record{Station: "made up", FirstYear: 2001}
	for y := range years {
		r.Years = append(r.Years, emptyYear())
		for d := range r.Years[y] {
			fill(y, d, &r.Years[y][d])
		}
	}
	return r
}

// Real years: what was recorded is kept, a day of 1.0 mm is wet and one of less dries like a dry
// one, missing rain comes from the gaps' source and is counted, and a season that lacks more than
// ten days is left out.
func TestRealYears(t *testing.T) {
	fitted, err := colaba()
	require.NoError(t, err)
	gaps, err := NewClimateSource(fitted.c)
	require.NoError(t, err)
	rec := dailyRecord(3, func(y, d int, x *Reading) {
		if d >= 100+8+y || d < 100 { // the first season lacks 8 days, the third 10
			x.RainMM = []float64{0, 0.9, 1, 30}[d%4]
		}
		if d == 150 {
			*x = Reading{x.RainMM, 33.25, 24.25, 1.5, 2.22}
		}
		if d == 151 {
			*x = Reading{x.RainMM, 25, 24.5, -1, 0}
		}
	})
	s, err := NewRealYears(rec, gaps, fitted.c.Rest, 91, 120)
	require.NoError(t, err)
	assert.Equal(t, []int{2001, 2002, 2003}, s.Years)
	assert.Equal(t, 8+9+10, s.Filled)
	assert.Equal(t, 3, s.Seasons())
	days := s.Season(2, rand.New(rand.NewPCG(1, 1)))
	drawn := gaps.Days(91, 120, rand.New(rand.NewPCG(1, 1)))
	require.Len(t, days, 120)
	for d := range days {
		doy := 90 + d
		want := []float64{0, 0, 1, 30}[doy%4]
		if doy >= 100 && doy < 110 {
			want = drawn[d].RainMM
		}
		assert.Equal(t, want, days[d].RainMM, "day %d", doy)
		assert.LessOrEqual(t, days[d].TminC, days[d].TmaxC-0.9)
	}
	assert.Equal(t, Day{days[60].RainMM, 33.25, 24.25, 1, 2.22, days[60].WindMS}, days[60])
	assert.NotEqual(t, 25.0, days[61].TmaxC, "highest and lowest less than a degree apart are not believed")
	assert.Zero(t, days[61].SunFraction)
	assert.Positive(t, days[61].VapourKPa)

	for d := range 11 {
		rec.Years[1][100+d].RainMM = missing
	}
	s, err = NewRealYears(rec, gaps, fitted.c.Rest, 91, 120)
	require.NoError(t, err)
	assert.Equal(t, []int{2001, 2003}, s.Years, "eleven days are too many")
	s, err = NewRealYears(rec, gaps, fitted.c.Rest, 300, 120)
	require.NoError(t, err)
	assert.Equal(t, []int{2001, 2002}, s.Years, "the last season would run beyond the record")
}

// Years of too few reports are refused and those of more than ten gaps are not complete; months
// are scaled to their length. All by hand.
func TestQualityAndSummary(t *testing.T) {
	reports := []int{300, 299, 355, 354, 365}
	r := dailyRecord(5, func(y, d int, x *Reading) {
		if d < reports[y] {
			x.RainMM = float64(d % 2 * 4)
		}
		if y == 4 {
			x.TmaxC, x.TminC = 30, 20
		}
	})
	q := r.Quality()
	require.Len(t, q, 5)
	for y, want := range []struct{ complete, refused bool }{{false, false}, {false, true}, {true, false}, {false, false}, {true, false}} {
		assert.Equal(t, reports[y], q[y].Reports)
		assert.Equal(t, reports[y]/2, q[y].Wet)
		assert.Equal(t, 4*float64(reports[y]/2), q[y].RainMM)
		assert.Equal(t, want.complete, q[y].Complete, "%d", reports[y])
		assert.Equal(t, want.refused, q[y].Refused != "", "%d", reports[y])
	}
	s := r.Summary()
	assert.Equal(t, []int{2001, 2005, 2, 4}, []int{s.FirstYear, s.LastYear, s.Complete, s.Used})
	require.Len(t, s.Refused, 1)
	assert.Equal(t, 2002, s.Refused[0].Year)
	assert.InDelta(t, 0.25, s.HasTemps, 1e-12)
	assert.InDelta(t, 15*4, s.RainMM[0], 1e-12, "days 1, 3 … 29 of January")
	assert.InDelta(t, 15, s.RainDays[0], 1e-12)
	assert.InDelta(t, 10.0/21*31, s.RainDays[11], 31.0/40, "December of the years that have some of it")

	rainOnly := func(dry int) string {
		return dailyRecord(1, func(_, d int, x *Reading) {
			if d < 300 {
				x.RainMM = 3
			}
			if d < dry {
				x.RainMM = 0
			}
		}).Quality()[0].Refused
	}
	assert.Empty(t, rainOnly(45))
	assert.Contains(t, rainOnly(44), "only 44 of 300 reports are dry")
}

// What is said of odd values and units, at each limit and beyond it. The limits are the
// program's own.
func TestDoubts(t *testing.T) {
	said := func(n int, value func(i int) Reading) []string {
		r := dailyRecord(1, func(_, d int, x *Reading) {
			if d < n {
				*x = value(d)
			}
		})
		r.examine()
		return r.Findings
	}
	rain := func(mm float64) func(int) Reading {
		return func(int) Reading { return Reading{mm, missing, missing, missing, missing} }
	}
	warm := func(c float64) func(int) Reading {
		return func(int) Reading { return Reading{missing, c, missing, missing, missing} }
	}
	for _, tt := range []struct {
		name  string
		n     int
		value func(int) Reading
		want  []string
	}{
		{"warm", 9, warm(50), nil},
		{"Fahrenheit", 9, warm(50.5), []string{"degrees Fahrenheit?"}},
		{"still Fahrenheit", 9, warm(100), []string{"degrees Fahrenheit?"}},
		{"tenths", 9, warm(100.5), []string{"tenths of a degree?"}},
		{"heavy rain", 51, rain(90), nil},
		{"tenths of rain", 51, rain(91), []string{"tenths of a millimetre?"}},
		{"too few amounts to tell", 50, rain(91), nil},
		{"inches", 51, rain(2.51), []string{"inches?", "Most amounts have hundredths"}},
		{"hundredths", 51, rain(30.01), []string{"Most amounts have hundredths"}},
		{"decimal", 51, rain(2.41), []string{"inches?", "Most amounts have hundredths", "a decimal shifted?"}},
		{"the wettest there was", 1, rain(1900), nil},
		{"impossible", 1, rain(1901), []string{"1 rainfalls above 1900 mm"}},
		{"negative", 2, rain(-1), []string{"2 negative rainfalls"}},
		{"crossed", 3, func(int) Reading { return Reading{1, 20, 21, missing, missing} }, []string{"3 days with the lowest temperature above the highest"}},
		{"equal", 3, func(int) Reading { return Reading{1, 20, 20, missing, missing} }, nil},
	} {
		got := said(tt.n, tt.value)
		require.Len(t, got, len(tt.want), "%s: %v", tt.name, got)
		for i, want := range tt.want {
			assert.Contains(t, got[i], want, tt.name)
		}
	}
}

// Geng, Penning de Vries & Supit 1986: gamma amounts of scale −2.16 + 1.83 μ have a variance over
// their squared mean of scale/μ; below 3 mm the law is exponential and has 1. From the generator's
// table, weighted by the normal density of its scores.
func TestSpreadOfAmounts(t *testing.T) {
	for mu, want := range map[float64]float64{2: 1, 2.9: 1, 5: 1.83 - 2.16/5, 10: 1.83 - 0.216, 20: 1.83 - 0.108} {
		var s NormalsSource
		s.buildAmounts(0, mu)
		var w, wq, wqq float64
		for i, q := range s.amount[0] {
			p := distuv.UnitNormal.Prob(-4 + 8*float64(i)/scoreSteps)
			w, wq, wqq = w+p, wq+p*q, wqq+p*q*q
		}
		assert.InDelta(t, 1, wq/w, 0.002, "μ %g", mu)
		assert.InDelta(t, want, wqq/w-wq*wq/w/w, 0.03, "μ %g", mu)
	}
}

// The clock by hand: onset usually on day 100 and this year on 110, withdrawal on 200 and 190.
func TestClockOfADay(t *testing.T) {
	c := clock{true, 100, 200, 110, 190}
	for day, want := range map[int]int{0: 0, 55: 50, 109: 99, 110: 100, 150: 150, 190: 200, 277: 282, 364: 364} {
		assert.Equal(t, want, c.day(day), "day %d", day)
	}
	still := clock{usualOn: 100, usualOff: 200, on: 110, off: 190}
	assert.Equal(t, 55, still.day(55))
}

// A storm passes over three days: a quarter, half and a quarter of its rain, next to no sun, three
// times the wind; over New Year and the ends of a season too.
func TestStormPasses(t *testing.T) {
	days := make([]Day, 5)
	for i := range days {
		days[i] = Day{RainMM: 1, SunFraction: 0.5, WindMS: 2}
	}
	stormList{{day: 102, totalMM: 100}}.pass(days, 100)
	calm := Day{RainMM: 1, SunFraction: 0.5, WindMS: 2}
	assert.Equal(t, []Day{
		calm,
		{RainMM: 26, SunFraction: 0.05, WindMS: 6},
		{RainMM: 51, SunFraction: 0.05, WindMS: 6},
		{RainMM: 26, SunFraction: 0.05, WindMS: 6},
		calm,
	}, days)
	days = []Day{calm, calm}
	stormList{{day: 364, totalMM: 100}}.pass(days, 0) // its last day is day 0
	assert.Equal(t, []float64{26, 1}, []float64{days[0].RainMM, days[1].RainMM})
}

// Mixed exponential by hand: half exponential of mean 0.5 and half of mean 1.5 passes x with
// probability (e^(−2x) + e^(−x/1.5))/2.
func TestQuantileOfMixedExponential(t *testing.T) {
	m := MixedExponential{0.5, 0.5, 1.5}
	for _, x := range []float64{0.1, 0.5, 1, 3} {
		assert.InDelta(t, x, m.quantile(1-(math.Exp(-2*x)+math.Exp(-x/1.5))/2), 1e-9)
	}
}

// made is a source of the same day over and over.
type made Day

func (m made) Days(_, n int, _ *rand.Rand) []Day {
	days := make([]Day, n)
	for d := range days {
		days[d] = Day(m)
	}
	return days
}

// Which recorded values are taken: sunshine held in 0 to 1, vapour above 0, temperatures where both are
// there and at least a degree apart.
func TestTakenReadings(t *testing.T) {
	drawn := Day{1, 30, 20, 0.5, 2, 3}
	for _, tt := range []struct {
		r    Reading
		want Day
	}{
		{noReading(), drawn},
		{Reading{9, 25, 24, 0.25, 1.5}, Day{1, 25, 24, 0.25, 1.5, 3}},
		{Reading{9, 25, 24.1, 1.25, 0}, Day{1, 30, 20, 1, 2, 3}},
		{Reading{9, missing, 24, -0.25, -1}, Day{1, 30, 20, 0, 2, 3}},
		{Reading{9, 25, missing, missing, 0.01}, Day{1, 30, 20, 0.5, 0.01, 3}},
	} {
		d := drawn
		d.take(tt.r)
		assert.Equal(t, tt.want, d, "%+v", tt.r)
	}
}

// Records of which no season can be had are refused, and seasons drawn at random are all of the
// record's, each about as often.
func TestSeasonsOfARecord(t *testing.T) {
	rest := flatNormals(0.3, 9)
	rec := dailyRecord(4, func(y, _ int, x *Reading) {
		if y == 1 {
			return // no report at all
		}
		x.RainMM = 0
	})
	for y := range rec.Years {
		if y != 1 {
			rec.Years[y][5].RainMM = float64(10 + y)
		}
	}
	s, err := NewRealYears(rec, made{RainMM: 5}, rest, 1, 30)
	require.NoError(t, err)
	assert.Equal(t, []int{2001, 2003, 2004}, s.Years)
	assert.Zero(t, s.Filled)
	got := map[float64]int{}
	rng := rand.New(rand.NewPCG(1, 5))
	for range 300 {
		days := s.Days(200, 7, rng)
		require.Len(t, days, 30, "of the season's own length and days")
		got[days[5].RainMM]++
	}
	require.Len(t, got, 3)
	for _, mm := range []float64{10, 12, 13} {
		assert.InDelta(t, 100, got[mm], 30)
	}
	s, err = NewRealYears(rec, made{}, rest, 336, 395)
	require.NoError(t, err)
	assert.Equal(t, []int{2003}, s.Years, "to the last day of the record")
	_, err = NewRealYears(rec, made{}, rest, 336, 396)
	require.ErrorContains(t, err, "no season of 396 days lacks at most 10 days of rain")
	_, err = NewRealYears(&Record{Station: "x", Years: rec.Years, Findings: []string{string(unitDoubt) + ": inches?"}}, made{}, rest, 1, 30)
	require.ErrorContains(t, err, "x: Unit in doubt: inches?")
	_, err = NewRealYears(rec, made{}, Normals{}, 1, 30)
	require.ErrorContains(t, err, "are needed")
}

// A day of a real year that has more rain than is usual for its month is cooler, by 0.28 °C for each
// √mm above the usual root: level normals with 9 mm a wet day, of gamma amounts of mean 8 above 1 mm.
func TestRainOfARealYearCools(t *testing.T) {
	rest := flatNormals(0.3, 9)
	rain := 1.0
	season := func() []Day {
		rec := dailyRecord(1, func(_, _ int, x *Reading) { x.RainMM = rain })
		for d := range 100 {
			rec.Years[0][265+d].RainMM = 0 // a year of rain days alone is refused
		}
		s, err := NewRealYears(rec, made{}, rest, 1, 200)
		require.NoError(t, err)
		return s.Season(0, rand.New(rand.NewPCG(2, 6)))
	}
	mean := func(days []Day) (tmax float64) {
		for _, d := range days {
			tmax += d.TmaxC / float64(len(days))
		}
		return tmax
	}
	light := mean(season())
	rain = 81
	assert.InDelta(t, 0.28*8, light-mean(season()), 0.01, "√81 less √1")
	s, err := newRest(rest)
	require.NoError(t, err)
	shape := 8 / (-2.16 + 1.83*8)
	g := distuv.Gamma{Alpha: shape, Beta: shape}
	root := 0.0
	for i := range 20_000 {
		root += math.Sqrt(1+8*g.Quantile((float64(i)+0.5)/20_000)) / 20_000
	}
	assert.InDelta(t, root, s.usualRoot(6), 0.01)
}
