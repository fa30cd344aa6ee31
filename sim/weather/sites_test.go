package weather

import (
	"encoding/csv"
	"math"
	"math/rand/v2"
	"os"
	"sort"
	"strconv"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// sourcesOf are the generators of climates.
func sourcesOf(t *testing.T, climates ...Climate) (out []Source) {
	t.Helper()
	for _, c := range climates {
		s, err := NewClimateSource(c)
		require.NoError(t, err)
		out = append(out, s)
	}
	return out
}

// tuneCorrelation returns the correlation of two stations' normal numbers at which their
// simulated wet days agree as often as wanted, measured by the phi coefficient of wet and
// dry in the days from startDOY on: nine halvings of 0 to 0.995, 120 years each.
func tuneCorrelation(t *testing.T, a, b Climate, wantPhi float64, startDOY, days int, seed uint64) (float64, error) {
	t.Helper()
	alone := [][]float64{{1, 0}, {0, 1}}
	f, err := NewField(sourcesOf(t, a, b), alone, alone)
	if err != nil {
		return 0, err
	}
	tuned := bisect(0, 0.995, 9, func(correlation float64) bool {
		m := [][]float64{{1, correlation}, {correlation, 1}}
		if e := f.correlate(m, m); e != nil {
			err = e
			return false
		}
		return phiDrawn(f, startDOY, days, 120, seed) < wantPhi
	})
	return tuned, err
}

// phiDrawn returns the phi coefficient of wet and dry at the first two stations.
func phiDrawn(f *Field, startDOY, days, years int, seed uint64) float64 {
	var n [2][2]float64
	for y := range years {
		out := f.Days(startDOY, days, rand.New(rand.NewPCG(seed, uint64(y))))
		for d := range days {
			n[wetOrDry(out[0][d].RainMM)][wetOrDry(out[1][d].RainMM)]++
		}
	}
	return phiOf(n)
}

func wetOrDry(rain float64) int {
	if rain >= 1 {
		return 1
	}
	return 0
}

// phiOf returns the phi coefficient of a table of dry and wet days.
func phiOf(n [2][2]float64) float64 {
	a, b := n[0][0]+n[0][1], n[1][0]+n[1][1]
	c, d := n[0][0]+n[1][0], n[0][1]+n[1][1]
	return (n[1][1]*n[0][0] - n[1][0]*n[0][1]) / math.Sqrt(a*b*c*d)
}

// pairPhi returns the phi coefficient of wet and dry on the days that both records hold in
// some months (0 to 11).
func pairPhi(a, b []float64, in func(month int) bool) float64 {
	var n [2][2]float64
	for i := range a {
		if has(a[i]) && has(b[i]) && in(monthOf(i%365)) {
			n[wetOrDry(a[i])][wetOrDry(b[i])]++
		}
	}
	return phiOf(n)
}

// Mumbai Colaba and Santacruz, 24 km apart, June to September 1950-70 (NOAA GHCN-Daily): wet
// and dry agree with a phi of 0.62 (computed from the files by an independent script). Two
// stations tuned to it, drawn together, agree as often, and each keeps its own wet days.
func TestMumbaiPair(t *testing.T) {
	fitted, err := colaba()
	require.NoError(t, err)
	santacruz := record(t, "mumbai_santacruz_IN012070800_daily_1950_1970_1980_1998.csv")
	jjas := func(m int) bool { return m >= 5 && m <= 8 }
	a, b := fitted.rec.series(), santacruz.series()
	from := 365 * (santacruz.FirstYear - fitted.rec.FirstYear)
	n := 365 * (1970 - santacruz.FirstYear + 1)
	observed := pairPhi(a[from:from+n], b[:n], jjas)
	assert.InDelta(t, 0.62, observed, 0.02)
	assert.InDelta(t, 24, DistanceKm(18.900, 72.820, 19.117, 72.850), 1)

	c := fitted.c
	omega, err := tuneCorrelation(t, c, c, observed, 152, 122, 3)
	require.NoError(t, err)
	m := [][]float64{{1, omega}, {omega, 1}}
	f, err := NewField(sourcesOf(t, c, c), m, m)
	require.NoError(t, err)
	got := phiDrawn(f, 152, 122, 250, 9)
	t.Logf("correlation %.2f gives phi %.3f", omega, got)
	assert.InDelta(t, observed, got, 0.05)

	alone, err := NewClimateSource(c)
	require.NoError(t, err)
	share := func(days func(rng *rand.Rand) []Day) (wet float64) {
		for y := range 250 {
			for _, d := range days(rand.New(rand.NewPCG(5, uint64(y)))) {
				wet += float64(wetOrDry(d.RainMM)) / 250 / 122
			}
		}
		return wet
	}
	assert.InDelta(t,
		share(func(rng *rand.Rand) []Day { return alone.Days(152, 122, rng) }),
		share(func(rng *rand.Rand) []Day { return f.Days(152, 122, rng)[1] }), 0.015)
}

// Nine gauges on Oahu 2010-17 (NOAA GHCN-Daily): the agreement of wet days falls with
// distance.
func TestOahuGauges(t *testing.T) {
	read := func(name string) [][]string {
		file, err := os.Open("../../testdata/records/" + name)
		require.NoError(t, err)
		defer func() { _ = file.Close() }()
		c := csv.NewReader(file)
		c.Comment = '#'
		rows, err := c.ReadAll()
		require.NoError(t, err)
		return rows
	}
	places := map[string][2]float64{}
	for _, row := range read("oahu_stations.csv")[1:] {
		lat, err := strconv.ParseFloat(row[3], 64)
		require.NoError(t, err)
		lon, err := strconv.ParseFloat(row[4], 64)
		require.NoError(t, err)
		places[row[1]] = [2]float64{lat, lon}
	}
	rows := read("oahu_9_stations_daily_rain_2010_2017.csv")
	rain := make([][]float64, len(rows[0])-1)
	for _, row := range rows[1:] {
		for k := range rain {
			v, err := strconv.ParseFloat(row[k+1], 64)
			if err != nil {
				v = math.NaN()
			}
			rain[k] = append(rain[k], v)
		}
	}
	type pair struct{ km, phi float64 }
	var pairs []pair
	for i := range rain {
		for j := i + 1; j < len(rain); j++ {
			p, q := places[rows[0][i+1]], places[rows[0][j+1]]
			phi := pairPhi(rain[i], rain[j], func(int) bool { return true })
			if !math.IsNaN(phi) {
				pairs = append(pairs, pair{DistanceKm(p[0], p[1], q[0], q[1]), phi})
			}
		}
	}
	require.Greater(t, len(pairs), 15)
	sort.Slice(pairs, func(i, j int) bool { return pairs[i].km < pairs[j].km })
	mean := func(p []pair) (s float64) {
		for _, x := range p {
			s += x.phi / float64(len(p))
		}
		return s
	}
	third := len(pairs) / 3
	near, far := mean(pairs[:third]), mean(pairs[len(pairs)-third:])
	t.Logf("phi of near pairs %.2f, of far pairs %.2f", near, far)
	assert.Greater(t, near, far)
	assert.InDelta(t, 0.81, CorrelationAt(24, 1, 115), 0.005)
	assert.Equal(t, 1.0, CorrelationAt(0, 0.8, 74))
}

// A matrix that no stations can have is refused.
func TestImpossibleField(t *testing.T) {
	fitted, err := colaba()
	require.NoError(t, err)
	c := fitted.c
	m := [][]float64{{1, 0.9, -0.9}, {0.9, 1, 0.9}, {-0.9, 0.9, 1}}
	_, err = NewField(sourcesOf(t, c, c, c), m, m)
	require.ErrorContains(t, err, "positive definite")
}
