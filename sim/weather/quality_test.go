package weather

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Doubts of rain by hand, at each limit: amounts of 60 wet days, all alike or some apart.
func TestDoubtsOfRain(t *testing.T) {
	amounts := func(most, other float64, apart int) []float64 {
		mm := make([]float64, 60)
		for i := range mm {
			mm[i] = other
			if i < apart {
				mm[i] = most
			}
		}
		return mm
	}
	const inches, tenths, hundredths, decimal = "inches?", "tenths of a millimetre?", "Most amounts have hundredths", "a decimal shifted?"
	for _, tt := range []struct {
		name string
		mm   []float64
		want []string
	}{
		{"plain", amounts(60, 8.5, 1), nil},
		{"half have hundredths", amounts(8.25, 8.5, 30), nil},
		{"more than half", amounts(8.25, 8.5, 31), []string{inches, hundredths}},
		{"30 mm are not inches", amounts(30, 8.25, 1), []string{hundredths}},
		{"29.9 may be", amounts(29.9, 8.25, 1), []string{inches, hundredths}},
		{"700 mm among large", amounts(700, 31, 1), nil},
		{"701 mm among large", amounts(701, 31, 1), []string{tenths}},
		{"701 mm among small", amounts(701, 20, 1), nil},
		{"mean of 90", amounts(90, 90, 0), nil},
		{"mean above", amounts(91, 90, 1), []string{tenths}},
		{"small with 18 of 60 hundredths", amounts(2.25, 1.5, 18), nil},
		{"small with 19", amounts(2.25, 1.5, 19), []string{decimal}},
		{"not so small with 19", amounts(2.75, 2.5, 19), nil},
		{"small but for 40 mm", append(amounts(2.25, 1.5, 25), 40), nil},
		{"small but for 39.9 mm", append(amounts(2.25, 1.5, 25), 39.9), []string{decimal}},
	} {
		var r Record
		r.doubtRain(tt.mm)
		require.Len(t, r.Findings, len(tt.want), "%s: %v", tt.name, r.Findings)
		for i, want := range tt.want {
			assert.Contains(t, r.Findings[i], want, tt.name)
		}
	}
	r := Record{Findings: []string{"Columns not used: x.", string(unitDoubt) + ": a.", "2 negative rainfalls were taken as missing.", string(unitDoubt) + ": b."}}
	assert.Equal(t, []string{string(unitDoubt) + ": a.", string(unitDoubt) + ": b."}, r.Doubt())
	assert.Empty(t, (&Record{Findings: []string{"Columns not used: x."}}).Doubt())
}

// What cannot be is missing afterwards, and what can is kept.
func TestExaminedValues(t *testing.T) {
	r := dailyRecord(1, func(_, d int, x *Reading) {
		switch d {
		case 0:
			x.RainMM = -0.1
		case 1:
			x.RainMM = 2000
		case 2:
			x.RainMM, x.TmaxC, x.TminC = 0, 20, 21
		case 3:
			x.RainMM, x.TmaxC, x.TminC = 1900, 20, 20
		}
	})
	r.examine()
	y := r.Years[0]
	assert.False(t, has(y[0].RainMM))
	assert.False(t, has(y[1].RainMM))
	assert.Equal(t, 0.0, y[2].RainMM)
	assert.False(t, has(y[2].TmaxC))
	assert.False(t, has(y[2].TminC))
	assert.Equal(t, []float64{1900, 20, 20}, []float64{y[3].RainMM, y[3].TmaxC, y[3].TminC})
	assert.Equal(t, []string{
		"1 negative rainfalls were taken as missing.",
		"1 rainfalls above 1900 mm in a day were taken as missing.",
		"1 days with the lowest temperature above the highest were taken as missing.",
	}, r.Findings)
}

// A trace of rain is a report that is neither dry nor wet; a year without any is said to have none;
// a year of rain days only is not complete. A record of which nothing can be used has no means.
func TestYearsOfPoorRecords(t *testing.T) {
	r := dailyRecord(3, func(y, d int, x *Reading) {
		switch y {
		case 0:
			x.RainMM = []float64{0, 0.9, 1}[d%3]
		case 1:
			x.RainMM = 0.5
		}
	})
	q := r.Quality()
	require.Len(t, q, 3)
	assert.Equal(t, YearQuality{Year: 2001, Reports: 365, Wet: 121, RainMM: q[0].RainMM, Complete: true}, q[0])
	assert.InDelta(t, 122*0.9+121, q[0].RainMM, 1e-9)
	assert.Equal(t, YearQuality{Year: 2002, Reports: 365, RainMM: 182.5, Refused: "only 0 of 365 reports are dry: a list of rain days"}, q[1])
	assert.Equal(t, YearQuality{Year: 2003, Refused: "no rain report"}, q[2])
	s := (&Record{Station: "x", FirstYear: 1999, Years: r.Years[2:], Findings: []string{"a"}}).Summary()
	assert.Equal(t, Summary{Station: "x", FirstYear: 1999, LastYear: 1999, Refused: []YearQuality{{Year: 1999, Refused: "no rain report"}}, Findings: []string{"a"}}, s)
}

// Temperatures of a record count where both are there.
func TestShareOfTemperatures(t *testing.T) {
	r := dailyRecord(1, func(_, d int, x *Reading) {
		x.RainMM = 0
		if d < 73 {
			x.TmaxC = 30
		}
		if d >= 36 && d < 109 {
			x.TminC = 20
		}
	})
	assert.InDelta(t, 37.0/365, r.Summary().HasTemps, 1e-12)
}
