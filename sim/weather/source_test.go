package weather

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/integrate/quad"
	"gonum.org/v1/gonum/stat"
	"gonum.org/v1/gonum/stat/distuv"

	"drystalk/sim/air"
)

// flatNormals are normals of which every month has the same share of rain days and the same rain on
// each, so that their curves are level and can be told by hand.
func flatNormals(share, rainMM float64) Normals {
	n := Normals{Station: "Flat"}
	for m := range n.Months {
		days := share * monthLength[m]
		n.Months[m] = MonthNormal{RainMM: days * rainMM, RainDays: days, TmaxC: 31, TminC: 24, SunFraction: 0.5, VapourKPa: 2.8, WindMS: 2}
	}
	return n
}

// counted is a source of one number that counts how often it is asked. The number is near enough to
// the middle for a normal draw to be made of it alone.
type counted struct{ asked int }

func (c *counted) Uint64() uint64 {
	c.asked++
	return 0x0000_0010_1000_0000
}

// Every day takes the same number of draws, and forty are thrown away before the first: as stated in
// the guide, three of a year (its wetness and two dates) and eight of each day (three for rain, four
// for the rest, one for wind).
func TestNumberOfDraws(t *testing.T) {
	fitted, err := colaba()
	require.NoError(t, err)
	climate, err := NewClimateSource(fitted.c)
	require.NoError(t, err)
	normals, err := newNormalsSource(flatNormals(0.4, 9), 1)
	require.NoError(t, err)
	for name, s := range map[string]Source{"climate": climate, "normals": normals} {
		for _, n := range []int{0, 1, 2, 100} {
			var c counted
			require.Len(t, s.Days(150, n, rand.New(&c)), n)
			assert.Equal(t, 3+8*(40+n), c.asked, "%s, %d days", name, n)
		}
	}
}

// heldVapour integrates the mean of the vapour pressure, held below saturation a degree above the lowest
// temperature, over both, which go together by 0.436.
func heldVapour(mean, sd [4]float64) float64 {
	unit := distuv.UnitNormal
	return quad.Fixed(func(z float64) float64 {
		limit := air.SaturationKPa(mean[1] + sd[1]*z + 1)
		return unit.Prob(z) * quad.Fixed(func(x float64) float64 {
			return unit.Prob(x) * min(limit, mean[3]+sd[3]*(0.436*z+math.Sqrt(1-0.436*0.436)*x))
		}, -6, 6, 400, nil, 0)
	}, -6, 6, 200, nil, 0)
}

// Means and deviations of dry and wet days by hand, from level normals: with a rain share of 0.05 or
// less dry and wet days differ by nothing, with 0.275 by half of what they do at 0.5 and above.
func TestDryAndWetDaysByHand(t *testing.T) {
	for _, tt := range []struct {
		share    float64
		dry, wet [4]float64 // °C, °C, sunshine, kPa
		sdDry    [4]float64
		sdWet    [4]float64
	}{
		{0.04, [4]float64{31, 24, 0.5, 2.8}, [4]float64{31, 24, 0.5, 2.8}, [4]float64{1.2, 2.3, 0.2, 0.5}, [4]float64{1.5, 2.3, 0.25, 0.5}},
		{
			0.275,
			[4]float64{31 + 0.275*0.8, 24 + 0.275*0.4, 0.5 + 0.275*0.165, 2.8},
			[4]float64{31 - 0.725*0.8, 24 - 0.725*0.4, 0.5 - 0.725*0.165, 2.8},
			[4]float64{1.2, 1.9, 0.2, 0.35},
			[4]float64{1.5, 1.8, 0.25, 0.325},
		},
		{
			0.8,
			[4]float64{31 + 0.8*1.6, 24 + 0.8*0.8, 0.5 + 0.8*0.33, 2.8},
			[4]float64{31 - 0.2*1.6, 24 - 0.2*0.8, 0.5 - 0.2*0.33, 2.8},
			[4]float64{1.2, 1.5, 0.2, 0.2},
			[4]float64{1.5, 1.3, 0.25, 0.15},
		},
	} {
		s, err := newRest(flatNormals(tt.share, 9))
		require.NoError(t, err)
		for _, d := range []int{0, 100, 364} {
			for wet, want := range [][4]float64{tt.dry, tt.wet} {
				got := s.mean[d][wet]
				sun := distuv.Normal{Mu: got[2], Sigma: []float64{0.2, 0.25}[wet]}
				clipped := quad.Fixed(func(x float64) float64 { return x * sun.Prob(x) }, 0, 1, 100, nil, 0) + 1 - sun.CDF(1)
				assert.InDeltaSlice(t, want[:3], []float64{got[0], got[1], clipped}, 1e-6, "share %g, wet %d", tt.share, wet)
				assert.InDelta(t, want[3], heldVapour(got, s.sd[d][wet]), 2e-3, "share %g, wet %d", tt.share, wet)
			}
			assert.InDeltaSlice(t, tt.sdDry[:], s.sd[d][0][:], 1e-9)
			assert.InDeltaSlice(t, tt.sdWet[:], s.sd[d][1][:], 1e-9)
			assert.InDelta(t, 2, s.wind[d], 1e-9)
		}
	}
}

// What a day wears, by the guide, from the residuals that were drawn for it: heavy rain cools and
// darkens, the lowest temperature stays a degree below the highest, sunshine in 0 to 1 and vapour
// between 15 % of what the noon air holds and what air a degree above the lowest holds. Deviations
// five times the usual, so that every limit is met.
func TestDressedDaysByHand(t *testing.T) {
	s, err := newRest(flatNormals(0.3, 9))
	require.NoError(t, err)
	for d := range s.sd {
		for k := range 4 {
			s.sd[d][0][k] *= 5
			s.sd[d][1][k] *= 5
		}
	}
	rng := rand.New(rand.NewPCG(31, 1))
	var w walk
	var met [5]int
	tenth := func(x float64) float64 { return math.Floor(10*x+0.5) / 10 }
	for i := range 4000 {
		var day Day
		w.wet = i%2 == 1
		gap := 0.0
		if w.wet {
			gap = 3 * rng.NormFloat64()
		}
		s.dress(&day, &w, 200, gap, rng)
		mean, sd := s.mean[200][i%2], s.sd[200][i%2]
		highest := mean[0] + sd[0]*w.residual[0] - 0.28*gap
		lowest := mean[1] + sd[1]*w.residual[1]
		if lowest > highest-1 {
			lowest = highest - 1
			met[0]++
		}
		require.InDelta(t, tenth(highest), day.TmaxC, 1e-9)
		require.InDelta(t, tenth(lowest), day.TminC, 1e-9)
		switch sun := mean[2] + sd[2]*w.residual[2] - 0.036*gap; {
		case sun < 0:
			require.Zero(t, day.SunFraction)
			met[1]++
		case sun > 1:
			require.Equal(t, 1.0, day.SunFraction)
			met[2]++
		default:
			require.InDelta(t, sun, day.SunFraction, 0.005+1e-9)
			require.InDelta(t, math.Round(100*day.SunFraction), 100*day.SunFraction, 1e-9)
		}
		switch vapour, low, high := mean[3]+sd[3]*w.residual[3], 0.15*air.SaturationKPa(day.TmaxC), air.SaturationKPa(day.TminC+1); {
		case max(vapour, low) > high:
			require.InDelta(t, high, day.VapourKPa, 0.005+1e-9)
			met[3]++
		case vapour < low:
			require.InDelta(t, low, day.VapourKPa, 0.005+1e-9)
			met[4]++
		default:
			require.InDelta(t, vapour, day.VapourKPa, 0.005+1e-9)
			require.InDelta(t, math.Round(100*day.VapourKPa), 100*day.VapourKPa, 1e-9)
		}
		require.InDelta(t, math.Round(10*day.WindMS), 10*day.WindMS, 1e-9)
	}
	for k, n := range met {
		assert.Greater(t, n, 50, "limit %d", k)
	}
}

// Residuals by the equation x(t) = A x(t−1) + B e(t), all of a row.
func TestResidualsByHand(t *testing.T) {
	w := walk{residual: [4]float64{1, -2, 3, -4}}
	old := w.residual
	w.stepResidual(rand.New(rand.NewPCG(5, 5)))
	rng := rand.New(rand.NewPCG(5, 5))
	var e [4]float64
	for i := range e {
		e[i] = rng.NormFloat64()
	}
	for i := range 4 {
		want := 0.0
		for k := range 4 {
			want += residualA[i][k]*old[k] + residualB[i][k]*e[k]
		}
		assert.InDelta(t, want, w.residual[i], 1e-12)
	}
}

// Share and excess of a month by hand, with the least of each.
func TestWetDaysOfAMonth(t *testing.T) {
	for _, tt := range []struct{ rainMM, days, share, excess float64 }{
		{100, 10, 10.0 / 31, 9},
		{10.5, 10, 10.0 / 31, 0.1},
		{0.4, 0.5, 0.5 / 31, 0.1},
		{3, 0, 1e-4, 0.1},
	} {
		var n Normals
		n.Months[0] = MonthNormal{RainMM: tt.rainMM, RainDays: tt.days}
		share, excess := n.monthlyWet(0)
		assert.InDelta(t, tt.share, share, 1e-12)
		assert.InDelta(t, tt.excess, excess, 1e-12)
	}
}

// Amounts of a month by their law: exponential up to an excess of 3 mm, −ln(1 − u) at the chance u,
// level beyond scores of four; and the mean of √R over √(1 + μ), integrated apart.
func TestTableOfAmounts(t *testing.T) {
	var s NormalsSource
	s.buildAmounts(4, 2)
	for _, z := range []float64{-3.5, -1, 0, 0.5, 2, 4} {
		assert.InEpsilon(t, -math.Log(1-distuv.UnitNormal.CDF(z)), s.amountAt(4, z), 1e-6, "score %g", z)
	}
	assert.InDelta(t, s.amountAt(4, 4), s.amountAt(4, 9), 1e-6)
	assert.Equal(t, s.amountAt(4, -4), s.amountAt(4, -9))
	assert.InEpsilon(t, (s.amountAt(4, 0)+s.amountAt(4, 1.0/32))/2, s.amountAt(4, 1.0/64), 1e-9, "straight between steps")
	root := quad.Fixed(func(u float64) float64 { return math.Sqrt(1 - 2*math.Log(1-u)) }, 0, 1, 400, nil, 0) / math.Sqrt(3)
	assert.InDelta(t, root, s.root[4], 1e-4)

	s.buildAmounts(4, 3)
	shape := 3 / (-2.16 + 1.83*3)
	g := distuv.Gamma{Alpha: shape, Beta: shape}
	assert.InEpsilon(t, g.Quantile(0.5), s.amountAt(4, 0), 1e-6, "from 3 mm on the gamma of the source")
}

// What normals may not hold, at each limit and beyond it; and from which seasonality on years differ
// more: four months of 80 mm and eight of 10 have 8 exactly.
func TestLimitsOfNormals(t *testing.T) {
	for name, change := range map[string]func(*MonthNormal){
		"negative rain":       func(m *MonthNormal) { m.RainMM = -0.1 },
		"negative days":       func(m *MonthNormal) { m.RainDays = -0.1 },
		"more days than days": func(m *MonthNormal) { m.RainDays = 31.1 },
		"no number":           func(m *MonthNormal) { m.RainMM = math.NaN() },
	} {
		n := flatNormals(0.3, 9)
		change(&n.Months[11])
		_, err := newNormalsSource(n, 1)
		require.Error(t, err, name)
	}
	always, err := newNormalsSource(flatNormals(1, 9), 1)
	require.NoError(t, err, "rain on every day can be")
	never, err := newNormalsSource(flatNormals(0, 9), 1)
	require.NoError(t, err)
	for _, d := range never.Days(1, 365, rand.New(rand.NewPCG(1, 1))) {
		assert.Less(t, d.RainMM, 3.0)
	}
	wet := 0
	for _, d := range always.Days(1, 365, rand.New(rand.NewPCG(1, 1))) {
		if d.RainMM >= 1 {
			wet++
		}
	}
	assert.Greater(t, wet, 360)

	for mm, want := range map[float64]spread{80: {0.05, 0.08, 0.2}, 80.5: {0.10, 0.15, 0.35}} {
		n := flatNormals(0.3, 9)
		for m := range n.Months {
			n.Months[m].RainMM = 10
			if m >= 5 && m < 9 {
				n.Months[m].RainMM = mm
			}
		}
		s, err := newNormalsSource(n, 1)
		require.NoError(t, err)
		assert.Equal(t, want, s.spread, "%g mm", mm)
	}
	dry := Normals{}
	dry.Months[3].RainMM = 5
	assert.True(t, math.IsInf(dry.seasonality(), 1))
}

// The chain of rain days: of a long season with the chance 0.4, 0.75·0.4 of the days after dry ones
// are wet and 1 − 0.75·0.6 of those after wet ones (Geng et al. 1986). Amounts have their mean, and
// the score behind them persists by the slow share times 0.65 a day.
func TestChainOfNormals(t *testing.T) {
	s := &NormalsSource{normals: flatNormals(0.4, 9), spread: spread{0, 0, 0.8}}
	s.buildRain()
	s.buildRest()
	days := s.Days(1, 150_000, rand.New(rand.NewPCG(2, 7)))
	var after, wet [2]float64
	var rain float64
	pairs := [3][2][]float64{}
	for i := 2; i < len(days); i++ {
		was, is := wetness(days[i-1].RainMM), wetness(days[i].RainMM)
		after[was]++
		wet[was] += float64(is)
		rain += days[i].RainMM
		for lag := 1; lag <= 2; lag++ {
			if is == 1 && days[i-lag].RainMM >= 1 {
				pairs[lag][0] = append(pairs[lag][0], rankOf(days[i-lag].RainMM))
				pairs[lag][1] = append(pairs[lag][1], rankOf(days[i].RainMM))
			}
		}
	}
	assert.InDelta(t, 0.30, wet[0]/after[0], 0.006)
	assert.InDelta(t, 0.55, wet[1]/after[1], 0.008)
	assert.InEpsilon(t, 9, rain/(wet[0]+wet[1]), 0.03)
	for lag, want := range map[int]float64{1: 0.8 * 0.65, 2: 0.8 * 0.65 * 0.65} {
		assert.InDelta(t, want, stat.Correlation(pairs[lag][0], pairs[lag][1], nil), 0.025, "days %d apart", lag)
	}
}

// rankOf returns the normal score of a day's rain with a mean excess of 8 mm by the gamma law of
// Geng et al. 1986.
func rankOf(rainMM float64) float64 {
	shape := 8 / (-2.16 + 1.83*8)
	return distuv.UnitNormal.Quantile(distuv.Gamma{Alpha: shape, Beta: shape / 8}.CDF(max(0.02, rainMM-1)))
}

// Years differ by one number: the probit of the share of wet days has the deviation of its spread
// about √(1 + o²) of the mean probit, the logarithm of the mean amount that of its own about −a²/2,
// and wet years have much rain a day.
func TestYearsOfNormalsDiffer(t *testing.T) {
	const o, a = 0.5, 0.3
	s := &NormalsSource{normals: flatNormals(0.4, 9), spread: spread{o, a, 0.2}}
	s.buildRain()
	s.buildRest()
	var probits, logs []float64
	for i := range 200 {
		n, excess := 0.0, 0.0
		days := s.Days(1, 1200, rand.New(rand.NewPCG(8, uint64(i))))
		for _, d := range days {
			if d.RainMM >= 1 {
				n++
				excess += d.RainMM - 1
			}
		}
		probits = append(probits, distuv.UnitNormal.Quantile(n/1200))
		logs = append(logs, math.Log(excess/n/8))
	}
	mean, sd := stat.MeanStdDev(probits, nil)
	assert.InDelta(t, math.Sqrt(1+o*o)*distuv.UnitNormal.Quantile(0.4), mean, 0.1)
	assert.InDelta(t, o, sd, 0.07)
	mean, sd = stat.MeanStdDev(logs, nil)
	assert.InDelta(t, -a*a/2, mean, 0.06)
	assert.InDelta(t, a, sd, 0.04)
	assert.Greater(t, stat.Correlation(probits, logs, nil), 0.95)
}

// Dates of the years have the mean and the deviation of their normals, and a monsoon of which one
// date varies moves the calendar.
func TestDatesOfNormals(t *testing.T) {
	s := NormalsSource{normals: Normals{Onset: Monsoon{150, 7, 270, 9}}}
	rng := rand.New(rand.NewPCG(4, 2))
	var on, off []float64
	for range 20_000 {
		c := s.newClock(drawYear(rng))
		assert.True(t, c.moves)
		assert.Equal(t, [2]float64{150, 270}, [2]float64{c.usualOn, c.usualOff})
		on, off = append(on, c.on), append(off, c.off)
	}
	for _, tt := range []struct {
		x        []float64
		mean, sd float64
	}{{on, 150, 7}, {off, 270, 9}} {
		mean, sd := stat.MeanStdDev(tt.x, nil)
		assert.InDelta(t, tt.mean, mean, 0.2)
		assert.InDelta(t, tt.sd, sd, 0.15)
	}
	assert.InDelta(t, 0, stat.Correlation(on, off, nil), 0.03)
	assert.True(t, Monsoon{OnsetSD: 1}.moves())
	assert.True(t, Monsoon{WithdrawalSD: 1}.moves())
	assert.False(t, Monsoon{OnsetDOY: 150, WithdrawalDOY: 270}.moves())
}

// Rounding by hand, and the table of saturation against its equation, level beyond its ends.
func TestRoundingAndSaturation(t *testing.T) {
	for _, tt := range [][3]float64{{2.25, 10, 2.3}, {2.24, 10, 2.2}, {-0.25, 10, -0.2}, {0.125, 100, 0.13}, {3, 10, 3}} {
		assert.InDelta(t, tt[2], round(tt[0], tt[1]), 1e-12)
	}
	for _, tempC := range []float64{-40, -0.1, 0, 23.4, 31.7, 80} {
		assert.InEpsilon(t, air.SaturationKPa(tempC), saturationAt(tempC), 1e-9, "%g °C", tempC)
	}
	assert.Equal(t, saturationAt(-40), saturationAt(-60))
	assert.Equal(t, saturationAt(80), saturationAt(99))
}
