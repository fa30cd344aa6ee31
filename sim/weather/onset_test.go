package weather

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/stat"
)

// fittedBefore is a fit of Mumbai Colaba up to where simulated years come in.
func fittedBefore(t *testing.T) *fitter {
	t.Helper()
	series := record(t, colabaFile).series()
	f := &fitter{}
	f.c.StartDOY = driestCentre(series)
	f.years = turned(series, f.c.StartDOY, 65)
	f.findRains()
	f.fitCurves()
	f.fitPersistence()
	return f
}

// Mumbai Colaba 1901-70: dates, curves, amounts and persistence as an independent script finds them
// in the file by the equations of the guide.
func TestFitByTheEquations(t *testing.T) {
	f := fittedBefore(t)
	assert.Equal(t, 89, f.c.StartDOY)
	assert.Len(t, f.years, 69)
	for _, tt := range []struct {
		x        []float64
		mean, sd float64
	}{{f.on, 70.492754, 7.230701}, {f.off, 180.797101, 13.027776}} {
		mean, sd := stat.MeanStdDev(tt.x, nil)
		assert.InDelta(t, tt.mean, mean, 1e-5)
		assert.InDelta(t, tt.sd, sd, 1e-5)
	}
	assert.Equal(t, []float64{70, 181}, []float64{f.c.OnsetDay, f.c.WithdrawalDay})
	assert.True(t, f.c.ClockMoves)
	assert.InDelta(t, 0.67*7.230701, f.c.OnsetSD, 1e-5)
	assert.InDelta(t, 0.5*13.027776, f.c.WithdrawalSD, 1e-5)
	for d, want := range map[int][5]float64{
		20:  {0.007061, 0.025924, 0.196073, 0.446357, 5.32157},
		69:  {0.083048, 0.263413, 0.46045, 0.543307, 12.18139},
		70:  {0.430122, 0.535443, 0.76391, 0.842867, 29.40421},
		150: {0.417973, 0.524619, 0.679759, 0.816983, 14.23998},
		180: {0.338299, 0.400424, 0.596126, 0.739013, 18.18081},
		181: {0.093474, 0.191827, 0.473251, 0.522478, 17.78839},
		330: {0.006525, 0.003034, 0.010465, 0.009559, 5.60644},
	} {
		got := []float64{f.c.Chance[0][d], f.c.Chance[1][d], f.c.Chance[2][d], f.c.Chance[3][d], f.c.ExcessMM[d]}
		assert.InDeltaSlice(t, want[:], got, 6e-6, "clock day %d", d)
	}
	for k, want := range [3]MixedExponential{{0.45974, 0.22353, 1.66074}, {0.64047, 0.32017, 2.21108}, {0.61765, 0.28528, 2.15457}} {
		got := f.c.Classes[k]
		assert.InDeltaSlice(t, []float64{want.P, want.B1, want.B2}, []float64{got.P, got.B1, got.B2}, 6e-6, "class %d", k)
	}
	r, pairs := f.rankCorrelations()
	assert.Equal(t, []float64{4811, 4566, 4441, 4353, 4279, 4202}, pairs[1:])
	assert.InDeltaSlice(t, []float64{0.37048, 0.21845, 0.1426, 0.12343, 0.08138, 0.05579}, r[1:], 2e-4, "equal amounts may stand in any order")
	assert.InDelta(t, 0.53278, f.c.SlowShare, 1e-3)
	assert.InDelta(t, 0.67, f.c.SlowPersistence, 1e-9)
	f.opt.Plain = true
	f.fitCurves()
	for k, want := range [4]float64{0.471141, 0.471141, 0.788495, 0.788495} {
		assert.InDelta(t, want, f.c.Chance[k][150], 2e-6, "a textbook chain goes by yesterday alone")
	}
}

// Dates by hand: of a year with rain on days 100 to 199 alone; a gap of reports, a shower before and a
// flood, capped at 25 mm, do not move them.
func TestDatesByHand(t *testing.T) {
	year := make([]float64, 365)
	for d := 100; d < 200; d++ {
		year[d] = 10
	}
	dates := func() [2]int {
		on, off := monsoonDates(year)
		return [2]int{on, off}
	}
	assert.Equal(t, [2]int{100, 200}, dates())
	year[60] = 900
	assert.Equal(t, [2]int{100, 200}, dates(), "40 dry days of 3 mm less than usual outweigh 25 mm")
	year[92] = 900
	assert.Equal(t, [2]int{92, 200}, dates(), "8 dry days do not: 25 mm of the flood are")
	for d := 150; d < 160; d++ {
		year[d] = missing
	}
	assert.Equal(t, [2]int{92, 200}, dates())
	year[0], year[1], year[364] = missing, missing, missing
	assert.Equal(t, [2]int{92, 200}, dates())
	all := make([]float64, 365)
	all[364] = 25
	on, off := monsoonDates(all)
	assert.Equal(t, [2]int{364, 365}, [2]int{on, off}, "the last day of the year")
}

// The driest 91 days by hand, with rain of 5 mm on all other days, over New Year too; missing reports
// are not dry ones.
func TestDriestDays(t *testing.T) {
	for centre := range 365 {
		if centre%28 != 0 && centre != 364 {
			continue
		}
		series := make([]float64, 3*365)
		for i := range series {
			if away := (i - centre + 2*365) % 365; away > 45 && away < 365-45 {
				series[i] = 5
			}
		}
		for i := 0; i < 365; i += 2 {
			series[i] = missing // of the first year, wet and dry days alike
		}
		assert.Equal(t, centre+1, driestCentre(series))
	}
}

// Years are cut from the day on which they begin, whole ones only, with as many gaps as are allowed;
// a year that is refused is missing.
func TestTurnedYears(t *testing.T) {
	series := make([]float64, 3*365)
	for i := range series {
		series[i] = float64(i)
	}
	years := turned(series, 1, 0)
	require.Len(t, years, 3)
	assert.Equal(t, []float64{0, 364}, []float64{years[0][0], years[0][364]})
	years = turned(series, 200, 0)
	require.Len(t, years, 2)
	assert.Equal(t, []float64{199, 563, 564}, []float64{years[0][0], years[0][364], years[1][0]})
	series[400], series[401] = missing, missing
	assert.Len(t, turned(series, 1, 2), 3)
	assert.Len(t, turned(series, 1, 1), 2)

	rec := dailyRecord(2, func(y, d int, x *Reading) {
		if y == 0 || d < 299 {
			x.RainMM = 0
		}
	})
	rec.Years[0][7].RainMM = 8
	s := rec.series()
	require.Len(t, s, 730)
	assert.Equal(t, 8.0, s[7])
	assert.False(t, has(s[365]), "299 reports are too few")
}

// Clocks of the years of a record are drawn towards the mean: dates 12 days off by the ratio of
// deviations, within their limits; without spread they are the mean.
func TestClockOfARecordedYear(t *testing.T) {
	f := &fitter{on: []float64{88, 112}, off: []float64{188, 212}}
	f.c = Climate{ClockMoves: true, OnsetDay: 100, WithdrawalDay: 200}
	raw := stat.StdDev(f.on, nil)
	f.c.OnsetSD, f.c.WithdrawalSD = 0.5*raw, 0.25*raw
	c := f.clockOf(0)
	assert.InDeltaSlice(t, []float64{100, 200, 94, 197}, []float64{c.usualOn, c.usualOff, c.on, c.off}, 1e-9)
	c = f.clockOf(1)
	assert.InDeltaSlice(t, []float64{106, 203}, []float64{c.on, c.off}, 1e-9)
	assert.True(t, c.moves)
	f.c.OnsetSD, f.c.WithdrawalSD = 20*raw, 20*raw
	c = f.clockOf(0)
	assert.Equal(t, []float64{5, 10}, []float64{c.on, c.off})
	c = f.clockOf(1)
	assert.Equal(t, []float64{340, 360}, []float64{c.on, c.off})
	f.c.OnsetSD = 21 * raw
	assert.Equal(t, 345.0, f.clockOf(1).on)
	still := &fitter{on: []float64{100, 100}, off: []float64{200, 200}, c: f.c}
	c = still.clockOf(0)
	assert.Equal(t, []float64{100, 200}, []float64{c.on, c.off})
}

// Observations by hand: the state is the wetness of yesterday and of the day before; without both it
// is unknown, and a missing day is none. A day of 1 mm is wet.
func TestObservationsByHand(t *testing.T) {
	f := &fitter{years: [][]float64{{1, 0.9, 5, 2, missing, 3, 3, 1, 0}}, on: []float64{0}, off: []float64{0}}
	var states []int
	for _, o := range f.observations() {
		assert.Equal(t, o.day, o.clockDay, "a clock that does not move")
		assert.Equal(t, f.years[0][o.day], o.rain)
		states = append(states, o.state)
	}
	assert.Equal(t, []int{-1, -1, 1, 2, -1, -1, 3, 3}, states, "days 0 to 3 and 5 to 8")
}

// Smoothing by hand: a level curve stays level, one day's count is spread by the Gaussian of ten days
// up to forty, not over the end of the year, nor over a date, but round the year where there are none.
func TestSmoothingByHand(t *testing.T) {
	prior := func(int) float64 { return 0.25 }
	var sum, count [365]float64
	f := &fitter{}
	for _, v := range f.smooth(&sum, &count, prior, 4) {
		assert.InDelta(t, 0.25, v, 1e-12, "nothing counted: the prior")
	}
	sum[0], count[0] = 1, 1
	for _, tt := range []struct {
		moves bool
		onset float64
		near  map[int]float64 // weight of day 0
	}{
		{false, 0, map[int]float64{0: 1, 10: 0.606531, 40: 0.000335, 41: 0, 355: 0.606531, 325: 0.000335, 324: 0}},
		{true, 0, map[int]float64{0: 1, 10: 0.606531, 355: 0}},
		{true, 10, map[int]float64{9: 0.666977, 10: 0}},
	} {
		f.c = Climate{ClockMoves: tt.moves, OnsetDay: tt.onset, WithdrawalDay: 300}
		got := f.smooth(&sum, &count, prior, 4)
		for d, w := range tt.near {
			assert.InDelta(t, (4*0.25+w)/(4+w), got[d], 1e-6, "day %d of %+v", d, tt)
		}
	}
	f.c = Climate{ClockMoves: true, OnsetDay: 100, WithdrawalDay: 200}
	for d, want := range map[int]int{0: 0, 99: 0, 100: 1, 199: 1, 200: 2, 364: 2} {
		assert.Equal(t, want, f.segment(d), "day %d", d)
	}
	f.c.ClockMoves = false
	assert.Zero(t, f.segment(150))
}

// Ranks by hand: of amounts over their mean, dry days none, a day of 1.0 mm among the wet.
func TestRanksByHand(t *testing.T) {
	var excess [365]float64
	excess[0], excess[1] = 10, 1
	obs := []observation{{clockDay: 0, rain: 10.95}, {clockDay: 1, rain: 0.9}, {clockDay: 1, rain: 2.95}, {clockDay: 1, rain: 1}, {clockDay: 0, rain: 5.95}}
	assert.Equal(t, []float64{0.5, 0, 0.75, 0, 0.25}, ranksOfAmounts(obs, &excess))
}

// Persistence of made-up amounts: scores that persist by a share of 0.6 and 0.7 a day are found again.
func TestPersistenceFound(t *testing.T) {
	rng := rand.New(rand.NewPCG(14, 1))
	f := &fitter{years: make([][]float64, 60), on: make([]float64, 60), off: make([]float64, 60)}
	for i := range f.years {
		f.years[i] = make([]float64, 365)
		slow := rng.NormFloat64()
		for d := range f.years[i] {
			slow = 0.7*slow + 0.714143*rng.NormFloat64()
			f.years[i][d] = 1 + 5*math.Exp(0.774597*slow+0.632456*rng.NormFloat64())
		}
	}
	for d := range f.c.ExcessMM {
		f.c.ExcessMM[d] = 5
	}
	f.fitPersistence()
	assert.InDelta(t, 0.6, f.c.SlowShare, 0.03)
	assert.InDelta(t, 0.7, f.c.SlowPersistence, 0.03)
}

// With too few wet days to tell, nothing persists.
func TestNoPersistence(t *testing.T) {
	f := &fitter{years: [][]float64{make([]float64, 365)}, on: []float64{0}, off: []float64{0}}
	f.years[0][3], f.years[0][4] = 5, 6
	for d := range f.c.ExcessMM {
		f.c.ExcessMM[d] = 5
	}
	f.c.SlowShare, f.c.SlowPersistence = 9, 9
	f.fitPersistence()
	assert.Equal(t, []float64{0, 0}, []float64{f.c.SlowShare, f.c.SlowPersistence})
}
