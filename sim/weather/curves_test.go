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
	"gonum.org/v1/gonum/stat/distuv"

	"drystalk/sim/air"
)

// Straight lines between mid-months by hand, over New Year too, and curves whose months have the
// means they were drawn for.
func TestCurves(t *testing.T) {
	knots := [12]float64{10, 24, 0, 0, 0, 0, 0, 0, 0, 0, 0, 41}
	curve := between(knots)
	assert.InDelta(t, 41-31*16/31.0, curve[0], 1e-9, "31 days from mid-December to mid-January")
	assert.InDelta(t, 10, curve[15], 1e-9, "the middle of January")
	assert.InDelta(t, 10+14/29.5, curve[16], 1e-9, "29.5 days from mid-January to mid-February")
	assert.InDelta(t, 41-15, curve[364], 1e-9, "the last day is 15 from mid-December")
	months := [12]float64{3, 5, 9, 14, 30, 200, 400, 390, 220, 80, 20, 4}
	var sum [12]float64
	for d, v := range daily(months) {
		sum[monthOf(d)] += v
	}
	for m := range months {
		assert.InDelta(t, months[m], sum[m]/monthLength[m], 0.01, "month %d", m+1)
	}
}

// The mean of a normal clipped to 0 to 1, integrated apart from its closed form.
func TestUnclipped(t *testing.T) {
	for _, wanted := range []float64{0.05, 0.3, 0.5, 0.9} {
		for _, sd := range []float64{0.1, 0.25} {
			n := distuv.Normal{Mu: unclipped(wanted, sd), Sigma: sd}
			inside := quad.Fixed(func(x float64) float64 { return x * n.Prob(x) }, 0, 1, 200, nil, 0)
			assert.InDelta(t, wanted, inside+1-n.CDF(1), 1e-4)
		}
	}
}

// However far the dates are drawn, the rains set in within the year, at least some days before
// they withdraw, and both limits are met exactly.
func TestLimitsOfTheDates(t *testing.T) {
	fitted, err := colaba()
	require.NoError(t, err)
	c := fitted.c
	c.OnsetSD, c.WithdrawalSD = 400, 400
	s, err := NewClimateSource(c)
	require.NoError(t, err)
	n := NormalsSource{normals: Normals{Onset: Monsoon{150, 400, 270, 400}}}
	rng := rand.New(rand.NewPCG(6, 6))
	lows, highs := [2][2]float64{{999, 999}, {999, 999}}, [2][2]float64{} // of the climate and of normals
	for range 500 {
		for k, x := range []clock{s.newYear(drawYear(rng)).clock, n.newClock(drawYear(rng))} {
			lows[k] = [2]float64{min(lows[k][0], x.on), min(lows[k][1], x.off-x.on)}
			highs[k] = [2]float64{max(highs[k][0], x.on), max(highs[k][1], x.off)}
		}
	}
	for k, want := range [2][4]float64{{5, 5, 345, 360}, {10, 10, 340, 355}} {
		assert.InDeltaSlice(t, want[:], []float64{lows[k][0], lows[k][1], highs[k][0], highs[k][1]}, 1e-9)
	}
}

// Ten millimetres in three hours from 14 h on, a triangle that peaks after the first, by areas:
// 1/3, 1/2, 1/6. Half an hour late, the hours get what falls in them, and midnight cuts no rain.
func TestBlockOfRain(t *testing.T) {
	var rain [24]float64
	addBlock(12, 14, 3, &rain)
	assert.InDeltaSlice(t, []float64{0, 4, 6, 2, 0}, rain[13:18], 1e-12)
	rain = [24]float64{}
	addBlock(12, 14.5, 1, &rain)
	assert.InDelta(t, 12*(1-1.5*0.25), rain[14], 1e-12)
	assert.InDelta(t, 12*1.5*0.25, rain[15], 1e-12)

	rng := rand.New(rand.NewPCG(8, 8))
	var inland, coast [24]float64
	for range 4000 {
		drawRainHours(5, false, rng, &inland)
		drawRainHours(5, true, rng, &coast)
	}
	var afternoon, morning float64
	for h := range 24 {
		if h >= 12 {
			afternoon += inland[h]
		}
		if h < 12 {
			morning += coast[h]
		}
	}
	assert.InDelta(t, 0.88, afternoon/20_000, 0.06, "a start at 15 h with a deviation of 3 h and some three hours of rain")
	assert.InDelta(t, 0.45, morning/20_000, 0.06, "on a coast at any hour, less what midnight pushes back")
}

// Stand-ins of normals by hand: rain days between two thresholds, vapour from dew point (FAO-56
// eq. 14) and from humidity, sunshine from hours; what is recorded comes first.
func TestFilledNormals(t *testing.T) {
	flat := func(x float64) *[12]float64 {
		var v [12]float64
		for m := range v {
			v[m] = x
		}
		return &v
	}
	raw := RawNormals{
		Station: "test", Place: Place{LatitudeDeg: 0}, RainMM: flat(100), Days03MM: flat(12), Days25MM: flat(8),
		TmaxC: flat(30), TminC: flat(22), Humidity: flat(0.75), SunshineH: flat(186), WindMS: flat(3),
	}
	n, err := FillNormals(raw)
	require.NoError(t, err)
	assert.InDelta(t, 12-0.45*4, n.Months[0].RainDays, 1e-12)
	assert.Less(t, n.Months[0].VapourKPa, 2.4180, "0.75 over the mean of 1/e° of the hours, by a script from the printed equations,")
	assert.Greater(t, n.Months[0].VapourKPa, 0.96*2.4180, "less what ten days of rain add")
	assert.InDelta(t, 0.5, n.Months[0].SunFraction, 1e-9, "six hours of twelve")
	assert.Equal(t, 3.0, n.Months[0].WindMS)
	assert.Len(t, n.Filled, 2)
	raw.DewPointC = flat(21)
	n, err = FillNormals(raw)
	require.NoError(t, err)
	assert.InDelta(t, air.SaturationKPa(21), n.Months[0].VapourKPa, 1e-12)
	raw.VapourKPa, raw.SunFraction, raw.Days1MM = flat(2.4), flat(1.2), flat(9)
	n, err = FillNormals(raw)
	require.NoError(t, err)
	assert.Equal(t, []float64{2.4, 1, 9}, []float64{n.Months[0].VapourKPa, n.Months[0].SunFraction, n.Months[0].RainDays})
	assert.Empty(t, n.Filled)
	raw.VapourKPa = flat(9)
	n, err = FillNormals(raw)
	require.NoError(t, err)
	assert.InDelta(t, air.SaturationKPa(23), n.Months[0].VapourKPa, 1e-12, "no more than air a degree above the lowest holds")
	raw.TminC = flat(30)
	_, err = FillNormals(raw)
	require.ErrorContains(t, err, "tmin 30 is not below tmax 30")
}

// Rain of the four wettest months in a row over the others, by hand and over New Year.
func TestSeasonality(t *testing.T) {
	var n Normals
	for m, mm := range []float64{200, 100, 10, 10, 10, 10, 10, 10, 10, 10, 300, 400} {
		n.Months[m].RainMM = mm
	}
	assert.InDelta(t, 25, n.seasonality(), 1e-12)
	for m := range n.Months {
		n.Months[m].RainMM = math.Mod(float64(m), 2) // 0 1 0 1 …
	}
	assert.InDelta(t, 1, n.seasonality(), 1e-12)
}

// The wind of a day over its month's mean is gamma of shape 4: mean 1, variance 1/4, to which the
// straight line of the table's last step adds 3 %.
func TestWindOfADay(t *testing.T) {
	rng := rand.New(rand.NewPCG(9, 1))
	x := make([]float64, 200_000)
	for i := range x {
		x[i] = gammaFour(rng)
	}
	mean, variance := stat.MeanVariance(x, nil)
	assert.InDelta(t, 1, mean, 0.005)
	assert.InDelta(t, 0.2565, variance, 0.005)
}

// A degree on the equator is 1/360 of the circumference of a sphere of 6,371 km, and a quarter of a
// meridian lies between it and a pole.
func TestDistances(t *testing.T) {
	assert.InDelta(t, 2*math.Pi*6371/360, DistanceKm(0, 10, 0, 11), 1e-6)
	assert.InDelta(t, math.Pi*6371/2, DistanceKm(0, 10, 90, 50), 1e-6)
	assert.InDelta(t, math.Pi*6371/3, DistanceKm(60, 0, 60, 180), 1e-6)
}

// Halving by hand: to the binary digit asked for, from either end.
func TestBisect(t *testing.T) {
	below := func(limit float64) func(float64) bool { return func(x float64) bool { return x < limit } }
	assert.Equal(t, 0.5, bisect(0, 1, 0, below(0.7)))
	assert.Equal(t, 0.75, bisect(0, 1, 1, below(0.7)))
	assert.Equal(t, 0.625, bisect(0, 1, 2, below(0.7)))
	assert.InDelta(t, 0.7, bisect(0, 1, 40, below(0.7)), 1e-11)
	assert.InDelta(t, 5, bisect(2, 5, 40, below(9)), 1e-10)
	// Sunshine beyond 0.02 to 0.98 is taken as these.
	assert.Equal(t, unclipped(0.02, 0.2), unclipped(0, 0.2))
	assert.Equal(t, unclipped(0.98, 0.2), unclipped(1, 0.2))
	assert.InDelta(t, 0.02, clippedMean(unclipped(0, 0.2), 0.2), 1e-9)
	assert.InDelta(t, 0.98, clippedMean(unclipped(1, 0.2), 0.2), 1e-9)
}

// Stand-ins of normals that cannot be had, and sunshine from the range of temperature on a coast and
// inland (FAO-56 eq. 50: 0.19 to 0.16), held in 0 to 1.
func TestMissingNormals(t *testing.T) {
	flat := func(x float64) *[12]float64 {
		var v [12]float64
		for m := range v {
			v[m] = x
		}
		return &v
	}
	whole := func() RawNormals {
		return RawNormals{Station: "test", Place: Place{LatitudeDeg: 14}, RainMM: flat(100), Days1MM: flat(10), TmaxC: flat(30), TminC: flat(22)}
	}
	for name, drop := range map[string]func(*RawNormals){
		"rain, tmax and tmin are needed": func(r *RawNormals) { r.RainMM = nil },
		"tmin are needed for all":        func(r *RawNormals) { r.TmaxC = nil },
		"are needed for all 12 months":   func(r *RawNormals) { r.TminC = nil },
		"days with at least 1 mm":        func(r *RawNormals) { r.Days1MM = nil },
		"days with at least 1 mm of":     func(r *RawNormals) { r.Days1MM, r.Days03MM = nil, flat(3) },
		"1 mm of rain are needed":        func(r *RawNormals) { r.Days1MM, r.Days25MM = nil, flat(3) },
		"month 12: tmin 23 is not below": func(r *RawNormals) { r.TmaxC = flat(30); r.TmaxC[11] = 23; r.TminC = flat(23) },
	} {
		raw := whole()
		drop(&raw)
		_, err := FillNormals(raw)
		require.ErrorContains(t, err, name)
	}
	sun := func(coast bool, tmaxC, tminC, elevationM float64) float64 {
		raw := whole()
		raw.Place.Coast, raw.Place.ElevationM, raw.TmaxC, raw.TminC = coast, elevationM, flat(tmaxC), flat(tminC)
		n, err := FillNormals(raw)
		require.NoError(t, err)
		return n.Months[3].SunFraction
	}
	assert.InDelta(t, (0.16*math.Sqrt(8)-0.25)/0.5, sun(false, 30, 22, 0), 1e-9)
	assert.InDelta(t, (0.19*math.Sqrt(8)-0.25)/0.5, sun(true, 30, 22, 0), 1e-9)
	assert.Zero(t, sun(false, 24, 22, 0), "Rs below a quarter of Ra")
	assert.InDelta(t, 1, sun(false, 40, 10, 2000), 1e-9, "a clear sky at most")
	n, err := FillNormals(whole())
	require.NoError(t, err)
	require.Len(t, n.Filled, 3)
	for i, want := range []string{"Vapour pressure: not recorded", "Sunshine: not recorded", "Wind: no record"} {
		assert.Contains(t, n.Filled[i], want)
	}
	assert.InDelta(t, air.SaturationKPa(22-DewDepressionC(10.0/31)), n.Months[0].VapourKPa, 1e-12)
	raw := whole()
	raw.DewPointC = flat(20)
	n, err = FillNormals(raw)
	require.NoError(t, err)
	assert.Contains(t, n.Filled[0], "from the dew point")
}

// The sun of a month is that of its 15th (FAO-56, annex 2, table 2.5; day of 2001 by the standard
// library).
func TestMiddleOfMonths(t *testing.T) {
	for m, doy := range midDOY {
		assert.Equal(t, time.Date(2001, time.Month(m+1), 15, 0, 0, 0, 0, time.UTC).YearDay(), doy)
	}
}
