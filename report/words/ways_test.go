package words

import (
	"maps"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drystalk/report/internal/sample"
	"drystalk/sim/money"
	"drystalk/sim/trials"
	"drystalk/sim/ways"
)

// Every lever of working has a name, words for its values and what it asks of people, up and down.
func TestEveryLeverOfWorkingHasWords(t *testing.T) {
	require.Len(t, ways.Levers(), len(wayWords))
	for _, l := range ways.Levers() {
		require.Contains(t, wayWords, l)
		up, down := ways.Change{Lever: l, From: 1, To: 2}, ways.Change{Lever: l, From: 2, To: 1}
		if of := wayWords[l].of; of != nil {
			keys := slices.Sorted(maps.Keys(of))
			up.Choice, up.Before = keys[0], keys[1]
		}
		assert.NotEmpty(t, WayName(l))
		assert.NotEmpty(t, WayAt(up), l)
		assert.NotEmpty(t, WayFrom(up), l)
		assert.NotEmpty(t, WayAsks(up), l)
		assert.NotEmpty(t, WayAsks(down), l)
	}
}

// What is said of ways of working that help, by hand.
func TestWaysInWords(t *testing.T) {
	a := sample.Ways()
	assert.Equal(t, "With stalks spread at 6 kg per m² and twice the stock ahead, the worst month, July, is met in 96 of 100 trial seasons (94 to 97), 80 before; 90 were asked for.", WaysSentence(a))
	said := strings.Join(WaysParagraph(a, "coins"), " ")
	assert.Contains(t, said, "Each member earns 100 coins less a year and works 100 hours less.")
	assert.Contains(t, said, "The first alone gives 92 of 100.")
	assert.NotContains(t, said, "Beware")
	a.Cutters = money.Hired.String()
	assert.Contains(t, strings.Join(WaysParagraph(a, "coins"), " "), "The groups have 600 coins less left a year, and each cutter works 100 hours less.")
	a.Cutters = ""
	assert.Contains(t, strings.Join(WaysParagraph(a, ""), " "), "Each cutter works 100 hours less.")
}

// A gain that fresh seasons do not give is called luck.
func TestLuckIsNamed(t *testing.T) {
	a := sample.Ways()
	a.Gains = ways.Gains{Search: sample.Mean(0.16), Judge: sample.Mean(0.1), Fresh: trials.Mean{Mean: 0.07, Low: 0.04, High: 0.1, Seasons: 1000}}
	assert.Equal(t, "Beware: where it was found it gained 16 of 100 seasons, on fresh ones 7: the rest was luck.", WaysParagraph(a, "coins")[0])
	a.Gains.Fresh = trials.Mean{Mean: 0.13, Low: 0.1, High: 0.15}
	assert.Empty(t, WaysParagraph(a, "coins")[0])
}

// Where nothing helps, that is the answer.
func TestNoBetterWay(t *testing.T) {
	a := sample.Ways()
	a.Together, a.Best, a.Gains = nil, a.Start, ways.Gains{}
	assert.Equal(t, "No change of working that was tried does more: as it is, the worst month, July, is met in 80 of 100 trial seasons (77 to 82); 90 were asked for.", WaysSentence(a))
	fits(t, "ways, none", WaysSentence(a), WaysParagraph(a, "coins"), a.Hub)
	for _, n := range WaysNotes(a) {
		assert.NotContains(t, n.Says, "It gained", n.About)
	}
}

// Where fresh seasons cannot tell a gain, the sentence says so.
func TestTooCloseToTell(t *testing.T) {
	a := sample.Ways()
	a.Together[1].Gain.Low = -0.01
	assert.True(t, strings.HasPrefix(WaysSentence(a), "Whether stalks spread at 6 kg per m² and twice the stock ahead would do more is too close to tell: the worst month, July, is met in 96 of 100 trial seasons (94 to 97), 80 as it is;"), WaysSentence(a))
}

// A rule that does not do well elsewhere does not travel; one that does is said to.
func TestTravels(t *testing.T) {
	a := sample.Ways()
	good := ways.There{Station: "Dhaka", Gain: sample.Mean(0.2), Regret: sample.Mean(0.02), Best: a.Together[0].Changes}
	bad := ways.There{Station: "Pakse", Gain: sample.Mean(0.1), Regret: sample.Mean(0.2), Best: a.Together[0].Changes}
	for want, list := range map[string][]ways.There{
		"It does well in all 2 other climates tried.":                   {good, good},
		"It does not travel: it does well in one of 2 other climates.":  {good, bad},
		"It does not travel: it does well in none of 2 other climates.": {bad, bad},
	} {
		a.Elsewhere = list
		assert.Equal(t, want, WaysParagraph(a, "coins")[1])
		fits(t, want, WaysSentence(a), WaysParagraph(a, "coins"), a.Hub)
	}
	a.Elsewhere = []ways.There{good, bad}
	assert.Contains(t, travelsWords(a), "Not so in Pakse (gain +10 (+10 to +10), best there stalks spread at 6 kg per m²)")
	a.Elsewhere = nil
	assert.Empty(t, travelsWords(a))
}
