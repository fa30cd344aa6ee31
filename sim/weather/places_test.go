package weather

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/stat"
	"gonum.org/v1/gonum/stat/distuv"
)

// levelNormals are normals whose every month has the same share of rain days and the same rain a
// wet day, mm.
func levelNormals(share, wetDayMM float64) Normals {
	var n Normals
	for m := range n.Months {
		days := share * monthLength[m]
		n.Months[m] = MonthNormal{RainMM: days * wetDayMM, RainDays: days, TmaxC: 32, TminC: 24, SunFraction: 0.5, VapourKPa: 2.6, WindMS: 2}
	}
	return n
}

// placesOf draws two places by normals, so many years from 1 January.
func placesOf(t *testing.T, a, b Normals, correlation float64, years int) (first, second [][]Day) {
	t.Helper()
	var sources []Source
	for _, n := range []Normals{a, b} {
		s, err := newNormalsSource(n, 500)
		require.NoError(t, err)
		sources = append(sources, s)
	}
	m := [][]float64{{1, correlation}, {correlation, 1}}
	f, err := NewField(sources, m, m)
	require.NoError(t, err)
	for y := range years {
		out := f.Days(1, 365, rand.New(rand.NewPCG(11, uint64(y))))
		require.Len(t, out, 2)
		first, second = append(first, out[0]), append(second, out[1])
	}
	return first, second
}

// bothBelow returns the chance that two normals with a correlation are below a and b, by adding up
// over the first.
func bothBelow(a, b, correlation float64) float64 {
	const step = 0.002
	n := distuv.UnitNormal
	sum := 0.0
	for x := a - step/2; x > -8; x -= step {
		sum += step * n.Prob(x) * n.CDF((b-correlation*x)/math.Sqrt(1-correlation*correlation))
	}
	return sum
}

// chainPhi returns how wet and dry at two places agree in the long run, as the phi coefficient:
// the stationary law of the chain of the four states of both, whose steps have the chances of
// Geng et al. 1986 at each and correlated normals behind them.
func chainPhi(shareA, shareB, correlation float64) float64 {
	after := func(wet int, share float64) float64 {
		if wet == 1 {
			return 1 - 0.75*(1-share)
		}
		return 0.75 * share
	}
	law := [2][2]float64{{0.25, 0.25}, {0.25, 0.25}}
	for range 200 {
		var next [2][2]float64
		for a := range 2 {
			for b := range 2 {
				pa, pb := after(a, shareA), after(b, shareB)
				both := bothBelow(distuv.UnitNormal.Quantile(pa), distuv.UnitNormal.Quantile(pb), correlation)
				next[1][1] += law[a][b] * both
				next[1][0] += law[a][b] * (pa - both)
				next[0][1] += law[a][b] * (pb - both)
				next[0][0] += law[a][b] * (1 - pa - pb + both)
			}
		}
		law = next
	}
	return phiOf(law)
}

// ranks returns the rank of each value, ties in their order.
func ranks(x []float64) []float64 {
	sorted, at := slices.Clone(x), make([]int, len(x))
	floats.Argsort(sorted, at)
	out := make([]float64, len(x))
	for rank, i := range at {
		out[i] = float64(rank)
	}
	return out
}

// Two places with normals of their own, 5 km and 120 km apart: their wet days agree as the theory
// of the chain says for the correlation of that distance, and the amounts of days wet at both have
// the rank correlation of two normals with it, 6/π arcsin(ρ/2) (Pearson 1907). Each keeps the wet
// days and the rain of its own normals.
func TestPlacesRainTogetherByDistance(t *testing.T) {
	const shareA, shareB = 0.6, 0.35
	a, b := levelNormals(shareA, 18), levelNormals(shareB, 9)
	var seen []float64
	for _, km := range []float64{5, 120} {
		rho := CorrelationAt(km, 1, 115)
		first, second := placesOf(t, a, b, rho, 150)
		var n [2][2]float64
		var x, y []float64
		rainA, rainB := 0.0, 0.0
		for i := range first {
			for d := range first[i] {
				mmA, mmB := first[i][d].RainMM, second[i][d].RainMM
				n[wetOrDry(mmA)][wetOrDry(mmB)]++
				rainA, rainB = rainA+mmA/150, rainB+mmB/150
				if mmA >= 1 && mmB >= 1 {
					x, y = append(x, mmA), append(y, mmB)
				}
			}
		}
		want := chainPhi(shareA, shareB, rho)
		t.Logf("%g km: phi %.3f, by theory %.3f", km, phiOf(n), want)
		assert.InDelta(t, want, phiOf(n), 0.02, "%g km", km)
		assert.InDelta(t, 6/math.Pi*math.Asin(rho/2), stat.Correlation(ranks(x), ranks(y), nil), 0.03, "%g km", km)
		days := 150.0 * 365
		assert.InDelta(t, shareA, (n[1][0]+n[1][1])/days, 0.012)
		assert.InDelta(t, shareB, (n[0][1]+n[1][1])/days, 0.012)
		assert.InEpsilon(t, 365*shareA*18, rainA, 0.04)
		assert.InEpsilon(t, 365*shareB*9, rainB, 0.04)
		seen = append(seen, phiOf(n))
	}
	require.Len(t, seen, 2)
	assert.Greater(t, seen[0], seen[1]+0.2)
}

// sharpNormals has its rains from June to September.
func sharpNormals(on Monsoon) Normals {
	n := levelNormals(0.02, 4)
	for m := 5; m < 9; m++ {
		n.Months[m].RainMM, n.Months[m].RainDays = 500, 22
	}
	n.Onset = on
	return n
}

// setsIn returns for each year the day on which a week with 100 mm ends for the first time.
func setsIn(years [][]Day) (dates []float64) {
	for _, days := range years {
		for d := 6; d < len(days); d++ {
			mm := 0.0
			for _, x := range days[d-6 : d+1] {
				mm += x.RainMM
			}
			if mm >= 100 {
				dates = append(dates, float64(d))
				break
			}
		}
	}
	return dates
}

// Each place keeps its own clock: where its rains set in at a date that varies by 12 days, the
// dates found vary by the more that this adds to those of a place whose clock stands still; and
// whatever clock and rain another place has, its own days are the same to the last digit. The luck
// of the year is shared: where both clocks move, a late year is late at both.
func TestPlacesKeepTheirOwnClock(t *testing.T) {
	const years = 150
	moving := Monsoon{OnsetDOY: 160, OnsetSD: 12, WithdrawalDOY: 270}
	moves, stands := placesOf(t, sharpNormals(moving), sharpNormals(Monsoon{}), 0.35, years)
	a, b := setsIn(moves), setsIn(stands)
	require.Len(t, a, years)
	require.Len(t, b, years)
	added := math.Sqrt(stat.Variance(a, nil) - stat.Variance(b, nil))
	t.Logf("onset found: sd %.1f and %.1f days, added %.1f", stat.StdDev(a, nil), stat.StdDev(b, nil), added)
	assert.InDelta(t, 12, added, 2.5)
	assert.InDelta(t, stat.Mean(a, nil), stat.Mean(b, nil), 4)

	_, again := placesOf(t, levelNormals(0.3, 5), sharpNormals(Monsoon{}), 0.35, 3)
	require.Len(t, again, 3)
	assert.Equal(t, stands[:3], again)

	late := moving
	late.OnsetDOY, late.OnsetSD = 185, 12
	early, later := placesOf(t, sharpNormals(moving), sharpNormals(late), 0, years)
	a, b = setsIn(early), setsIn(later)
	require.Len(t, a, years)
	require.Len(t, b, years)
	assert.Greater(t, stat.Correlation(a, b, nil), 0.6)
}

// A place by normals and one by a fitted climate whose years begin on other days are drawn
// together, each by its own calendar.
func TestNormalsAndAFittedClimateTogether(t *testing.T) {
	c := rainyBlock() // rain on days 110 to 119 of the year alone
	byNormals, err := NewNormalsSource(levelNormals(0.5, 10))
	require.NoError(t, err)
	m := [][]float64{{1, 0.8}, {0.8, 1}}
	f, err := NewField(append(sourcesOf(t, c), byNormals), m, m)
	require.NoError(t, err)
	out := f.Days(105, 30, rand.New(rand.NewPCG(1, 1)))
	require.Len(t, out, 2)
	assert.Equal(t, ten(5), wetDays(out[0]))
	wet := len(wetDays(out[1]))
	assert.True(t, wet > 5 && wet < 25, "%d wet days of 30", wet)
}

// Storms pass over places far apart on the same days: in the rains of a climate without any other
// rain than that of ten days, three storms a year of 400 mm bring 1,200 mm at each place more than
// the same without, and the days of heavy rain are the same ones.
func TestStormsPassOverAllPlaces(t *testing.T) {
	const years = 400
	m := [][]float64{{1, 0.1}, {0.1, 1}}
	mean := func(perYear float64) (mm [2]float64, heavy [2][]int) {
		c := rainyBlock()
		c.OnsetDay, c.WithdrawalDay = 60, 200
		c.Storms = Storms{PerYear: perYear, TotalMM: 400}
		f, err := NewField(sourcesOf(t, c, c), m, m)
		require.NoError(t, err)
		for y := range years {
			out := f.Days(100, 365, rand.New(rand.NewPCG(4, uint64(y))))
			require.Len(t, out, 2)
			for k, days := range out {
				for d := range days {
					mm[k] += days[d].RainMM / years
					if d >= 60 && days[d].RainMM >= 99 {
						heavy[k] = append(heavy[k], 365*y+d)
					}
				}
			}
		}
		return mm, heavy
	}
	none, dry := mean(0)
	with, heavy := mean(3)
	assert.Empty(t, dry[0])
	require.Greater(t, len(heavy[0]), 2*years)
	assert.Equal(t, heavy[0], heavy[1])
	for k := range with {
		assert.InDelta(t, 1200, with[k]-none[k], 4*400*math.Sqrt(3.0/years)) // four standard errors of a Poisson mean
	}
}
