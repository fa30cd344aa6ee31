package measured

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drystalk/sim/knowledge"
)

// tallied makes a tally of two cutters over some days: output of a day varies, and that of a cutter.
func tallied(perH, daySD float64, days int, rng *rand.Rand) (list []Tally) {
	for d := range days {
		luck := math.Exp(daySD*rng.NormFloat64() - daySD*daySD/2)
		for k := range 2 {
			hours := 3 + rounded(4*rng.Float64(), 0.25)
			own := math.Exp(0.1*rng.NormFloat64()) * []float64{0.9, 1.1}[k]
			list = append(list, Tally{Line: 2*d + k + 2, Day: time.Date(2026, 6, 1+d, 0, 0, 0, 0, time.UTC), PersonH: hours, Stalks: math.Round(perH * luck * own * hours)})
		}
	}
	return list
}

// Tallies with known output and spread between days are fitted; intervals hold the truth as often as
// they say, that of the factor when output of seasons varies as stated.
func TestOutputIsRecovered(t *testing.T) {
	const logs = 400
	rate, sd, factor, carried := 0, 0, 0, 0
	for n := range logs {
		rng := rand.New(rand.NewPCG(9, uint64(n)))
		season := math.Exp(0.15 * rng.NormFloat64())
		fit, err := FitOutput(OutputLog{Tallies: tallied(126*season, 0.25, 12, rng), StatedPerH: 117, SeasonSD: 0.15, Range: knowledge.Of(knowledge.OutputFactor)})
		require.NoError(t, err)
		require.Len(t, fit.Estimates, 1)
		e := fit.Estimates[0]
		if e.Carried {
			carried++
			require.Less(t, e.Range.High/e.Range.Low, 1.5/0.6, "narrower than what is documented")
		}
		if fit.LowPerH <= 126*season && 126*season <= fit.HighPerH {
			rate++
		}
		if e.Low <= 126.0/117 && 126.0/117 <= e.High {
			factor++
		}
		if fit.DaySDLow <= 0.26 && 0.26 <= fit.DaySDHigh {
			sd++
		}
	}
	assert.Greater(t, carried, logs/4)
	assert.Less(t, carried, logs, "some tallies of twelve days say no more than what is documented")
	for name, held := range map[string]int{"rate": rate, "factor": factor, "spread of days": sd} {
		t.Logf("%s: %d of %d", name, held, logs)
		assert.InDelta(t, 0.95, float64(held)/logs, 0.035, name)
	}
}

// By hand: six days of 10 person-hours and 90, 110, 90, 110, 90 and 110 stalks an hour are 100 an hour;
// the error of a ratio of sums is √(6·10²·10²·6/5)/60; a day of a tenth is left out; four days are too few.
func TestOutputByHand(t *testing.T) {
	var list []Tally
	for d, perH := range []float64{90, 110, 90, 110, 90, 110} {
		list = append(list, Tally{Line: d + 2, Day: time.Date(2026, 6, 1+d, 0, 0, 0, 0, time.UTC), PersonH: 10, Stalks: 10 * perH})
	}
	log := OutputLog{Tallies: list, StatedPerH: 100, Range: knowledge.Of(knowledge.OutputFactor)}
	fit, err := FitOutput(log)
	require.NoError(t, err)
	assert.InDelta(t, 100, fit.PerH, 1e-9)
	half := 2.570582 * math.Sqrt(6*100*100*6.0/5) / 60 / 100
	assert.InDelta(t, 100*math.Exp(half), fit.HighPerH, 1e-3)
	assert.InDelta(t, math.Log(110.0/90)/2*math.Sqrt(6.0/5), fit.DaySD, 1e-9)
	assert.Empty(t, fit.Estimates[0].Why)

	log.Tallies = append(list, Tally{Line: 8, Day: time.Date(2026, 6, 9, 0, 0, 0, 0, time.UTC), PersonH: 10, Stalks: 150})
	again, err := FitOutput(log)
	require.NoError(t, err)
	require.Len(t, again.Odd, 1)
	assert.Equal(t, 8, again.Odd[0].Line)
	assert.Equal(t, fit.PerH, again.PerH)
	log.Tallies = list[:4]
	_, err = FitOutput(log)
	require.EqualError(t, err, "found 4 days with hours and stalks, allowed: 5 or more")
}

// The example tally is made by simulation, and its fit finds what it was made with.
func TestExampleTally(t *testing.T) {
	lines := []string{
		"# Made up by simulation, seed 2026: two cutters at Lake Tavari, which is no place, who bring 126 stalks an hour, days differing by 0.25",
		"# (standard deviation of the logarithm). 11 June is missing.",
		"date,cutter,hours,stalks",
	}
	var list []Tally
	for _, x := range tallied(126, 0.25, 20, rand.New(rand.NewPCG(2026, 2026))) {
		if x.Day.Day() == 11 {
			continue
		}
		list = append(list, x)
		h, minutes := math.Modf(x.PersonH)
		lines = append(lines, fmt.Sprintf("%s,%s,%.0f:%02.0f,%.0f", x.Day.Format("2006-01-02"), []string{"A", "B"}[x.Line%2], h, 60*minutes, x.Stalks))
	}
	example(t, "lake_tavari_output.csv", lines)
	fit, err := FitOutput(OutputLog{Tallies: list, StatedPerH: 117, Range: knowledge.Of(knowledge.OutputFactor)})
	require.NoError(t, err)
	assert.True(t, fit.LowPerH <= 126 && 126 <= fit.HighPerH, "%+v", fit)
}

// A line of twice the mean is pointed at and counted; where seasons differ so much that a scenario's
// range is no narrower than the documented one, that one stands.
func TestFarLinesAndWideSeasons(t *testing.T) {
	var list []Tally
	for d, perH := range []float64{90, 110, 90, 110, 90, 240} {
		list = append(list, Tally{Line: d + 2, Day: time.Date(2026, 6, 1+d, 0, 0, 0, 0, time.UTC), PersonH: 10, Stalks: 10 * perH})
	}
	log := OutputLog{Tallies: list, StatedPerH: 100, SeasonSD: 0.5, Range: knowledge.Of(knowledge.OutputFactor)}
	fit, err := FitOutput(log)
	require.NoError(t, err)
	require.Empty(t, fit.Odd)
	require.Len(t, fit.FarLines, 0, "240 is less than twice the mean of 121.7")
	log.Tallies[5].Stalks = 2470 // 247 of (90+110+90+110+90+247)/6 = 122.8
	fit, err = FitOutput(log)
	require.NoError(t, err)
	require.Len(t, fit.FarLines, 1)
	assert.Equal(t, 7, fit.FarLines[0].Line)
	assert.InDelta(t, 247/122.8333, fit.FarLines[0].Times, 1e-4)
	require.Len(t, fit.Estimates, 1)
	e := fit.Estimates[0]
	assert.False(t, e.Carried)
	assert.Equal(t, Triangle{0.6, 1, 1.5}, e.Range)
	assert.Contains(t, e.Why, "which stands")
}
