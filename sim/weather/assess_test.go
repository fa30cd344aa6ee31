package weather

import (
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/stat"
)

// The statistics of eleven years by hand: rain falls on 1 to 3 July only, a tenth, two tenths and
// seven tenths of 100, 200 … 1,100 mm. Quantiles of eleven values are values themselves.
func TestStatisticsByHand(t *testing.T) {
	const july = 181 // days before 1 July
	var years [][]float64
	for i := range 11 {
		year := make([]float64, 365)
		for k, share := range []float64{0.1, 0.2, 0.7} {
			year[july+k] = share * 100 * float64(i+1)
		}
		years = append(years, year)
	}
	season := [12]bool{6: true}
	got := map[string]float64{}
	for _, l := range statistics(years, 1, season) {
		got[l.Name] = l.Observed
	}
	require.Len(t, got, 31)
	for name, want := range map[string]float64{
		"mean rain of Jul":                       600,
		"share of wet days in Jul":               3.0 / 31,
		"spread of the rain of Jul":              331.6625, // 100 √11
		"spread of the wet days of Jul":          0,
		"mean rain of the rains":                 600,
		"rain of the driest season of ten":       200,
		"rain of the wettest season of ten":      1000,
		"longest wet spell of the median season": 3,
		"longest dry spell of the median season": 28,
		"wet spells of at least 3 days":          1,
		"wet spells of at least 5 days":          0,
		"dry spells of at least 10 days":         1,
		"chances of three dry days in a row":     26,
		"wettest 1 days of the median year":      420,
		"wettest 3 days of the median year":      600,
		"wettest 5 days of one year in ten":      1000,
		"rain that 50 % of wet days do not pass": 110, // the seventeenth of 33 in order
	} {
		value, ok := got[name]
		require.True(t, ok, name)
		assert.InDelta(t, want, value, 1e-3, name)
	}
}

// Spells by hand: three Junes. Wet and dry runs of 3, 5, 7 and 10
// days are at their limits; a missing day ends a run and is neither.
func TestSpellsByHand(t *testing.T) {
	runs := func(pattern string) []float64 {
		year := make([]float64, 365)
		for d := range year {
			year[d] = 7 // outside the season all is wet
		}
		for i, c := range pattern {
			year[151+i] = map[rune]float64{'w': 1, '.': 0.9, '?': missing}[c]
		}
		return year
	}
	var season [12]bool
	season[5] = true
	years := [][]float64{
		runs("wwwww.......www..........www?w"), // wet 5 3 3 1; dry 7 10
		runs("wwwwwwwwww.....wwwwwwwwwwwwwww"), // wet 10 15; dry 5
		runs("...?...?..w.?www.?.w..w.w.w..w"), // wet 1 3 1 1 1 1 1; dry 3 3 2 1 1 1 2 1 1 2
	}
	got := map[string]Line{}
	for _, l := range statistics(years, 1, season) {
		got[l.Name] = l
	}
	require.Len(t, got, 31)
	for name, want := range map[string]struct {
		value    float64
		unit     string
		decisive bool
	}{
		"longest wet spell of the median season": {5, "days", true},
		"longest wet spell of one season in ten": {5 + 0.8*10, "days", false},
		"longest dry spell of the median season": {5, "days", true},
		"longest dry spell of one season in ten": {5 + 0.8*5, "days", false},
		"wet spells of at least 3 days":          {6.0 / 3, "a season", false},
		"wet spells of at least 5 days":          {3.0 / 3, "a season", true},
		"wet spells of at least 7 days":          {2.0 / 3, "a season", false},
		"wet spells of at least 10 days":         {2.0 / 3, "a season", false},
		"wet spells of at least 15 days":         {1.0 / 3, "a season", false},
		"dry spells of at least 3 days":          {5.0 / 3, "a season", false},
		"dry spells of at least 5 days":          {3.0 / 3, "a season", true},
		"dry spells of at least 7 days":          {2.0 / 3, "a season", false},
		"dry spells of at least 10 days":         {1.0 / 3, "a season", false},
		"chances of three dry days in a row":     {18.0 / 70 * 28, "a season", true}, // 5 8 3 1 1 of 26 28 16 that were reported, of 28
		"wettest 1 days of one year in ten":      {7, "mm", false},
		"wettest 3 days of the median year":      {21, "mm", true},
		"wettest 5 days of the median year":      {35, "mm", false},
		"rain that 50 % of wet days do not pass": {7, "mm", false},
		"rain that 99 % of wet days do not pass": {7, "mm", true},
		"share of wet days in Jun":               {(12 + 25 + 9) / 85.0, "", true},
		"mean rain of Jun":                       {30 * (12 + 25 + 9) / 85.0, "mm", true},
		"spread of the wet days of Jun":          {stat.StdDev([]float64{12 * 30 / 29.0, 25, 9 * 30 / 26.0}, nil), "days", false},
	} {
		l, ok := got[name]
		require.True(t, ok, name)
		assert.InDelta(t, want.value, l.Observed, 1e-9, name)
		assert.Equal(t, want.unit, l.Unit, name)
		assert.Equal(t, want.decisive, l.Weight, name)
	}
}

// The band of a line against theory: the mean of n years of N simulated ones lies within 1.96
// deviations of a year times √(1/n + 1/N), 95 of 100 times; a difference of 2.80 such deviations
// would be seen in four cases of five (the power of a two-sided test of 5 %). A record lies inside if
// it lies between.
func TestBandsAgainstTheory(t *testing.T) {
	fitted, err := colaba()
	require.NoError(t, err)
	const n, years = 69, 3*69 + 40
	r, err := Assess(fitted.rec, fitted.c, AssessOptions{Years: years, Seed: 2})
	require.NoError(t, err)
	s, err := NewClimateSource(fitted.c)
	require.NoError(t, err)
	season := [12]bool{5: true, 6: true, 7: true, 8: true}
	var totals []float64
	for _, year := range s.SimulatedYears(years, 2) {
		sum := 0.0
		for d, mm := range year {
			if season[monthOf((d+fitted.c.StartDOY-1)%365)] {
				sum += mm
			}
		}
		totals = append(totals, sum)
	}
	l := r.LineOf("mean rain of the rains")
	assert.Equal(t, 100, r.Blocks)
	assert.Equal(t, years, r.Years)
	sd := stat.StdDev(totals, nil) * math.Sqrt(1.0/n+1.0/years)
	assert.InDelta(t, stat.Mean(totals, nil), l.Simulated, 2)
	assert.InDelta(t, stat.Mean(totals, nil), (l.Low+l.High)/2, 0.5*sd)
	assert.InEpsilon(t, 1.96*sd, (l.High-l.Low)/2, 0.25, "100 blocks")
	assert.InEpsilon(t, 2.802/1.96*(l.High-l.Low)/2, l.Shows, 1e-6)
	assert.InEpsilon(t, 0.1*l.Observed, l.Tolerance, 1e-9)
	require.Len(t, r.Lines, 43)
	inside := 0
	for _, l := range r.Lines {
		assert.Equal(t, l.Observed >= l.Low-1e-9 && l.Observed <= l.High+1e-9, l.Inside, l.Name)
		assert.Equal(t, l.Weight, l.State != "", l.Name)
		if l.Inside {
			inside++
		}
	}
	assert.Greater(t, inside, 10)
	assert.Less(t, inside, 43)
	_, err = Assess(fitted.rec, fitted.c, AssessOptions{Years: 2*n - 1, Seed: 2})
	require.ErrorContains(t, err, "at least 138 simulated years")
	holes := &Record{Station: "holes", FirstYear: 1901, Years: slices.Clone(fitted.rec.Years)}
	holes.Years[30] = emptyYear()
	_, err = Assess(holes, fitted.c, AssessOptions{Years: 1, Seed: 2})
	require.ErrorContains(t, err, "its 67 years need at least 134", "the year without a report lies in two years of the clock")
	_, err = Assess(fitted.rec, Climate{}, AssessOptions{Years: 2 * n, Seed: 2})
	require.Error(t, err)
	assert.Panics(t, func() { r.LineOf("no such line") })
}
