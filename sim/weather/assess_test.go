package weather

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
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
