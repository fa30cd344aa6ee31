package weather

import (
	"math"
	"math/rand/v2"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/integrate/quad"
	"gonum.org/v1/gonum/stat"
)

// reportOf is an assessment of 20 lines, 12 of which decide: so many fail, gravely, or cannot be
// told.
func reportOf(whole float64, used, refused, failing, grave, unknown int) FitReport {
	r := FitReport{Summary: Summary{Used: used}, WholeYears: whole, Lines: make([]Line, 20)}
	for i := range r.Lines {
		l := Line{Name: "line", Unit: "mm", Observed: 100, Simulated: 101, Tolerance: 10, Shows: 21, Weight: i < 12, Inside: true}
		switch {
		case !l.Weight:
		case i < grave:
			l.State, l.Simulated, l.Inside = Fails, 121, false
		case i < grave+failing:
			l.State, l.Simulated, l.Inside = Fails, 120, false
		case i < grave+failing+unknown:
			l.State = Unknown
		default:
			l.State = Agrees
		}
		r.Lines[i] = l
	}
	for range refused {
		r.Summary.Refused = append(r.Summary.Refused, YearQuality{Year: 1931, Refused: "no rain report"})
	}
	return r
}

// The verdict: what is said where few years are whole, many are not used, lines fail, fail by
// more than twice what matters, or cannot be told, at each limit and one beyond it. The limits are
// the program's own.
func TestVerdict(t *testing.T) {
	cases := []struct {
		whole                                  float64
		used, refused, failing, grave, unknown int
		want                                   string
		reasons                                int
	}{
		{20, 30, 0, 0, 0, 0, VerdictGood, 0},
		{19.9, 30, 0, 0, 0, 0, VerdictCare, 1},
		{30, 30, 1, 0, 0, 0, VerdictGood, 1},
		{30, 30, 10, 0, 0, 0, VerdictGood, 1},
		{30, 30, 11, 0, 0, 0, VerdictCare, 1},
		{30, 30, 0, 1, 0, 0, VerdictCare, 1},
		{30, 30, 0, 4, 0, 0, VerdictCare, 4},
		{30, 30, 0, 5, 0, 0, VerdictUseless, 5},
		{30, 30, 0, 0, 2, 0, VerdictCare, 2},
		{30, 30, 0, 0, 3, 0, VerdictUseless, 3},
		{30, 30, 0, 0, 0, 6, VerdictGood, 1},
		{30, 30, 0, 0, 0, 7, VerdictCare, 1},
	}
	require.Len(t, cases, 12)
	for _, tt := range cases {
		r := reportOf(tt.whole, tt.used, tt.refused, tt.failing, tt.grave, tt.unknown)
		r.judge()
		assert.Equal(t, tt.want, r.Verdict, "%+v", tt)
		assert.Len(t, r.Why, tt.reasons, "%+v: %v", tt, r.Why)
	}
	r := reportOf(30, 30, 11, 0, 0, 0)
	r.judge()
	assert.Equal(t, []string{"11 years are not used, the first of them 1931: no rain report."}, r.Why)
	for _, grave := range []bool{false, true} {
		r = reportOf(30, 30, 0, 0, 0, 0)
		r.Suspicions = []Suspicion{{"Found", "1 May 1931", "Blank it.", grave}}
		r.judge()
		assert.Equal(t, map[bool]string{false: VerdictCare, true: VerdictUseless}[grave], r.Verdict)
		assert.Equal(t, []string{"Found: 1 May 1931. Blank it."}, r.Why)
	}
}

// The state of a line by hand: a difference of 12 and of 8 where 10 matters, in a record that shows
// much, little and next to nothing. A line that decides nothing has none.
func TestStatesByHand(t *testing.T) {
	cases := []struct {
		simulated, sd float64
		want          State
	}{
		{112, 5, Fails}, {108, 4, Trifle}, {112, 7, Agrees}, {112, 7.2, Unknown}, {101, 7.13, Agrees}, {101, 7.14, Unknown}, {110, 4, Trifle}, {130, 16, Unknown},
	}
	require.Len(t, cases, 8)
	for _, tt := range cases {
		l := Line{Observed: 100, Simulated: tt.simulated, Tolerance: 10, Weight: true}
		l.judge(tt.simulated, tt.sd)
		assert.Equal(t, tt.want, l.State, "%+v", tt)
		assert.InDelta(t, 2.802*tt.sd, l.Shows, 1e-9)
	}
	l := Line{Observed: 100, Simulated: 200}
	l.judge(200, 1)
	assert.Empty(t, l.State)
	assert.False(t, l.Inside)
}

// A record of two and a half times the rain of its normals, or less than that part of it, is
// not usable until that is settled.
func TestRecordAgainstNormals(t *testing.T) {
	for _, tt := range []struct {
		monthMM float64
		want    string
	}{{41, VerdictGood}, {39, VerdictUseless}, {249, VerdictGood}, {251, VerdictUseless}} {
		r, n := FitReport{Verdict: VerdictGood, Why: []string{"a reason"}}, Normals{Station: "Here"}
		for m := range 12 {
			r.Summary.RainMM[m], n.Months[m].RainMM = tt.monthMM, 100
		}
		r.compareWithNormals(n)
		assert.Equal(t, tt.want, r.Verdict, "%g mm", tt.monthMM)
		if tt.want == VerdictUseless {
			require.Len(t, r.Why, 2)
			assert.Contains(t, r.Why[0], "normals of Here 1200")
		}
	}
}

// The rainy months are those with a twelfth of the rain or more, over New Year too and in both
// seasons where there are two; a record without rain has none.
func TestRainyMonths(t *testing.T) {
	months := func(rain [12]float64) (in []int) {
		for m, is := range rainyMonths(rain) {
			if is {
				in = append(in, m+1)
			}
		}
		return in
	}
	assert.Equal(t, []int{1, 2, 12}, months([12]float64{300, 200, 20, 20, 20, 20, 20, 20, 20, 20, 20, 200}))
	assert.Equal(t, []int{3, 4, 5, 10, 11}, months([12]float64{10, 20, 150, 220, 130, 20, 10, 10, 20, 120, 140, 20}))
	assert.Empty(t, months([12]float64{}))
	assert.Equal(t, []int{4, 6, 7}, months([12]float64{0, 0, 0, 110, 0, 200, 800, 50, 0, 0, 0, 0}))
}

// The two-exponential stand-in of the textbook chain has the mean 1 of its gamma and, where two
// exponentials can, its variance of 1/shape (gamma law: mean kθ, variance kθ²). A shape below
// some 0.17 would need a negative mean: the mean stays 1.
func TestGammaInMixedForm(t *testing.T) {
	for _, tt := range []struct {
		shape   float64
		scale   float64 // mm; amounts of 1 mm weigh less the larger it is
		matched bool
	}{{0.8, 8, true}, {0.6, 8, true}, {0.3, 8, true}, {0.185, 8e9, false}, {0.1, 8000, false}} {
		rng := rand.New(rand.NewPCG(11, 1))
		f := &fitter{opt: FitOptions{Plain: true}, years: make([][]float64, 60)}
		var y []float64
		for i := range f.years {
			f.years[i] = make([]float64, 365)
			for d := range f.years[i] {
				f.years[i][d] = 1 + tt.scale*gammaDraw(tt.shape, rng)
				switch d {
				case 100:
					f.years[i][d] = 0.9 // a dry day
					continue
				case 101:
					f.years[i][d] = 1 // wet
				}
				y = append(y, f.years[i][d]-0.95)
			}
		}
		f.on, f.off = make([]float64, 60), make([]float64, 60)
		for d := range f.c.ExcessMM {
			f.c.ExcessMM[d] = stat.Mean(y, nil)
		}
		shape, scale := FitGamma(y)
		assert.InEpsilon(t, stat.Mean(y, nil), shape*scale, 1e-9, "maximum likelihood keeps the mean")
		for _, m := range f.gammaClasses() {
			assert.InDelta(t, 1, m.P*m.B1+(1-m.P)*m.B2, 1e-9, "shape %g", tt.shape)
			assert.Greater(t, m.B1, 0.0)
			variance := 2*(m.P*m.B1*m.B1+(1-m.P)*m.B2*m.B2) - 1
			if tt.matched {
				assert.InEpsilon(t, 1/shape, variance, 1e-6, "shape %g", tt.shape)
			} else {
				assert.InDelta(t, 0.05, m.B1, 1e-12)
			}
		}
	}
}

// A class of too few wet days takes the amounts of the whole year; one of enough keeps its own.
func TestAmountsOfShortRecords(t *testing.T) {
	fitOf := func(yearsOfRecord int) [3]MixedExponential {
		rng := rand.New(rand.NewPCG(12, 1))
		f := &fitter{years: make([][]float64, yearsOfRecord), on: make([]float64, yearsOfRecord), off: make([]float64, yearsOfRecord)}
		f.c.OnsetDay, f.c.WithdrawalDay = 100, 200
		for i := range f.years {
			f.years[i] = make([]float64, 365)
			for d := range f.years[i] {
				mean := 4.0
				if d >= 100 && d < 150 {
					mean = 4 * 3 * rng.Float64() * rng.Float64() // spread wider in the first half of the rains
				}
				f.years[i][d] = 1 + mean*rng.ExpFloat64()
			}
		}
		for d := range f.c.ExcessMM {
			f.c.ExcessMM[d] = 4
		}
		f.fitAmounts()
		return f.c.Classes
	}
	short, long := fitOf(2), fitOf(4) // 100 and 200 days of each half of the rains
	assert.Equal(t, short[0], short[1], "both halves are short of 150 days")
	assert.NotEqual(t, short[0], short[2])
	assert.NotEqual(t, long[0], long[1])
	assert.NotEqual(t, long[0], long[2])
}

// Fewer than ten usable years are no climate, and wet days less than 30 pairs apart tell nothing
// of persistence.
func TestShortRecords(t *testing.T) {
	good := record(t, colabaFile)
	rest := stationNormals(t, "MUMBAI_COLABA 43057")
	_, err := Fit(&Record{Station: "short", FirstYear: 1901, Years: good.Years[:10]}, rest, FitOptions{Seed: 1, Plain: true})
	require.ErrorContains(t, err, "9 usable years of rain, at least 10 are needed")
	c, err := Fit(&Record{Station: "short", FirstYear: 1901, Years: good.Years[:11]}, rest, FitOptions{Seed: 1, Plain: true})
	require.NoError(t, err)
	assert.Equal(t, 10, c.FittedYears)

	pairs := func(wetDays int) float64 {
		f := &fitter{years: [][]float64{make([]float64, 365)}, on: []float64{0}, off: []float64{0}}
		for d := range wetDays {
			f.years[0][d] = 2 + float64(d*d%7)
		}
		for d := range f.c.ExcessMM {
			f.c.ExcessMM[d] = 5
		}
		_, n := f.rankCorrelations()
		return n[1]
	}
	assert.Zero(t, pairs(31))
	assert.Equal(t, 31.0, pairs(32))
}

// Days of a year that begins anywhere fall into the months of the calendar (of 2001, by the
// standard library), and so do totals by year.
func TestMonthsOfTurnedYears(t *testing.T) {
	for _, startDOY := range []int{1, 2, 60, 200, 365} {
		year := make([]float64, 365)
		var rain, days, wet [12]float64
		for d := range year {
			date := time.Date(2001, 1, 1+(startDOY-1+d)%365, 0, 0, 0, 0, time.UTC)
			year[d] = float64(date.Day() % 4)
			m := date.Month() - 1
			days[m]++
			rain[m] += year[d]
			if year[d] >= 1 {
				wet[m]++
			}
		}
		sums := monthly([][]float64{year}, startDOY)
		facts := factsOf(year, startDOY, &[12]bool{})
		for m := range 12 {
			assert.Equal(t, monthSums{days[m], wet[m], rain[m]}, sums[m], "from day %d, month %d", startDOY, m+1)
			assert.InDelta(t, rain[m], facts.totals[m], 1e-12)
			assert.InDelta(t, wet[m], facts.counts[m], 1e-12)
		}
	}
}

// A day's rain above the ordinary darkens and cools it, by 0.28 °C and 0.036 of sunshine for
// each √mm (own fits to a monsoon station), and on the mean of all wet days the temperature is
// that of wet days, less what the mean of √R lies above its stand-in: by the law of the amounts,
// integrated apart from the generator's tables.
func TestHeavyRainCools(t *testing.T) {
	fitted, err := colaba()
	require.NoError(t, err)
	c := fitted.c
	c.YearAmount, c.YearOccurrence, c.OnsetSD, c.WithdrawalSD = 0, 0, 0, 0
	s, err := NewClimateSource(c)
	require.NoError(t, err)
	const day = 150
	year := s.newYear(drawYear(rand.New(rand.NewPCG(1, 1))))
	drawn := func(fast float64, seed uint64) Day {
		return s.step(&chainWalk{}, day, &year, draws{-9, 0, fast}, rand.New(rand.NewPCG(seed, 2)))
	}
	var light, heavy, sunLight, sunHeavy, roots float64
	const n = 400
	for seed := range uint64(n) {
		a, b := drawn(0, seed), drawn(2.5, seed)
		light, heavy = light+a.TmaxC/n, heavy+b.TmaxC/n
		sunLight, sunHeavy = sunLight+a.SunFraction/n, sunHeavy+b.SunFraction/n
		roots = math.Sqrt(b.RainMM) - math.Sqrt(a.RainMM)
	}
	assert.Greater(t, roots, 2.0)
	assert.InDelta(t, 0.28*roots, light-heavy, 0.02)
	assert.Greater(t, sunLight-sunHeavy, 0.02*roots, "some days have no sun to lose")

	var all []float64
	rng := rand.New(rand.NewPCG(3, 3))
	for range 20_000 {
		all = append(all, s.step(&chainWalk{}, day, &year, draws{-9, rng.NormFloat64(), rng.NormFloat64()}, rng).TmaxC)
	}
	mix, x := c.Classes[s.class[day]], c.ExcessMM[year.clock.day(day)]
	gap := quad.Fixed(func(u float64) float64 {
		q := mix.quantile(u)
		return math.Sqrt(1+x*q) - math.Sqrt(q)*math.Sqrt(1+x)
	}, 0, 1, 400, nil, 0)
	want := s.rest.mean[(day+c.StartDOY-1)%365][1][0] - 0.28*gap
	assert.InDelta(t, want, stat.Mean(all, nil), 0.05)
}

// A climate that cannot be is refused: a year that begins on no day, a chance beyond 0 to 1 or no
// number, an amount that is not above 0, normals that lack something.
func TestImpossibleClimates(t *testing.T) {
	fitted, err := colaba()
	require.NoError(t, err)
	for name, change := range map[string]func(*Climate){
		"no day":        func(c *Climate) { c.StartDOY = 0 },
		"day 366":       func(c *Climate) { c.StartDOY = 366 },
		"chance 1.01":   func(c *Climate) { c.Chance[2][100] = 1.01 },
		"chance -0.01":  func(c *Climate) { c.Chance[3][364] = -0.01 },
		"chance no one": func(c *Climate) { c.Chance[0][0] = math.NaN() },
		"no amount":     func(c *Climate) { c.ExcessMM[200] = 0 },
		"no vapour":     func(c *Climate) { c.Rest.Months[11].VapourKPa = 0 },
		"no wind":       func(c *Climate) { c.Rest.Months[11].WindMS = 0 },
		"cold noon":     func(c *Climate) { c.Rest.Months[0].TmaxC = c.Rest.Months[0].TminC },
	} {
		c := fitted.c
		change(&c)
		_, err := NewClimateSource(c)
		require.Error(t, err, name)
	}
	c := fitted.c
	c.StartDOY, c.Chance[2][100], c.Chance[3][100] = 365, 1, 0
	_, err = NewClimateSource(c)
	require.NoError(t, err)
}

// Classes of amounts by hand: rains from day 100 to 201, their second half from day 150.5 on.
func TestClassesOfAmounts(t *testing.T) {
	c := Climate{OnsetDay: 100, WithdrawalDay: 201}
	for d, want := range map[int]int{0: 2, 99: 2, 100: 0, 150: 0, 151: 1, 200: 1, 201: 2, 364: 2} {
		assert.Equal(t, want, c.classOf(d), "day %d", d)
	}
}

// Quantiles against type 7 of Hyndman & Fan 1996, as R's quantile() gives by default: of 1 2 4 8
// and 16 in any order.
func TestQuantile(t *testing.T) {
	x := []float64{8, 1, 16, 2, 4}
	for p, want := range map[float64]float64{0: 1, 0.1: 1.4, 0.25: 2, 0.5: 4, 0.9: 12.8, 1: 16} {
		assert.InDelta(t, want, quantile(x, p), 1e-12)
	}
	assert.Equal(t, []float64{8, 1, 16, 2, 4}, x)
}
