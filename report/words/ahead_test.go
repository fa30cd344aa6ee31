package words

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drystalk/report/internal/sample"
	"drystalk/sim/ahead"
	"drystalk/sim/decide"
	"drystalk/sim/trials"
)

// What lies ahead in words, by hand.
func TestAheadInWords(t *testing.T) {
	a := sample.Ahead()
	assert.Equal(t, "From what lies there on 14 July, working as now, July is met in 90 of 100 trial seasons (85 to 94) and the worst month ahead, August, in 50 of 100 (43 to 57); 90 were asked for.", AheadSentence(a))
	said := strings.Join(AheadParagraph(a, "coins"), " ")
	assert.Contains(t, said, "What helps most is fires until 22 h: all months ahead are met in 73 of 100 instead of 48.")
	assert.Contains(t, said, "On 31 July, after delivery, 9,000 good stalks should be left for the months after; as now half of the seasons have 4,000 or more.")
	assert.Contains(t, said, "Today a fire is worth it at Heron Point; the table says what to load.")
	notes := fmt.Sprint(AheadNotes(a, "coins"))
	assert.Contains(t, notes, "9,000 stalks lie wet in the yards, 800 dried in the dryers, 2,000 dry at the sites and 12,000 good ones at the hub; 5,000 went to the buyer this month.")
	assert.Contains(t, notes, "Fires between 22 and 6 h were not tried")
	assert.Contains(t, notes, "their dust harms lungs")
	assert.Contains(t, notes, "The rent of a dryer is not in it: it is worth up to 100 coins (")
	assert.Contains(t, notes, "Today's row counts what lies at the hub and, by the share that is accepted there, what lies dry at the sites.")
	assert.NotContains(t, notes, "would be ready only after")
	assert.Contains(t, notes, "Nothing of this season is behind the odds but the stock")
	fits(t, "ahead", AheadSentence(a), AheadParagraph(a, "coins"), decide.HubAir{})

	a = sample.AheadWithTruck()
	said = strings.Join(AheadParagraph(a, "coins"), " ")
	assert.Contains(t, said, "The truckload pays: a stalk of it is worth 0.1100 coins to the region and costs 0.0900.")
	notes = fmt.Sprint(AheadNotes(a, "coins"))
	assert.Contains(t, notes, "are worth 41 of equal weight, which the intervals go by. That is few: run more seasons (--seasons).")
	assert.Contains(t, notes, "From 12 tallied days of cutting at 2 sites, all sites bring 90 % of what the plan states (80 to 101 %); before, 70 to 135 % was thought possible.")
	assert.Contains(t, notes, "The rain of 3 days from today on is taken as it was foreseen")
	assert.Contains(t, notes, "20,000 dry good stalks bought once, at the hub on 20 July")
	fits(t, "ahead, truckload", AheadSentence(a), AheadParagraph(a, "coins"), decide.HubAir{})
}

// Where nothing helps, one month is left, or all is met, that is what is said.
func TestAheadAtTheEdges(t *testing.T) {
	a := sample.Ahead()
	for k := range a.Ways {
		a.Ways[k].Gain = trials.Mean{Mean: 0.01, Low: -0.02, High: 0.04}
		for m := range a.Ways[k].Months {
			a.Ways[k].Months[m].Gain = a.Ways[k].Gain
		}
	}
	assert.Equal(t, "No way of working that was tried meets the months ahead clearly more often.", AheadParagraph(a, "")[0])
	a.Ways[3].Months[0].Gain = trials.Mean{Mean: 0.02, Low: 0.01, High: 0.03}
	assert.Equal(t, "No way that was tried meets all months ahead clearly more often; what helps July most is one dryer rented at Old Sluice: 92 of 100 instead of 90.", AheadParagraph(a, "")[0])
	for k := range a.Ways {
		a.Ways[k].Months, a.Ways[k].Worst, a.Ways[k].All = a.Ways[k].Months[:1], 0, trials.NewOdds(200, 200)
		a.Ways[k].Months[0].Odds = trials.NewOdds(200, 200)
	}
	a.Stock, a.Load = a.Stock[:1], nil
	assert.Equal(t, "From what lies there on 14 July, working as now, July is met in all of the trial seasons; 90 of 100 were asked for.", AheadSentence(a))
	assert.Empty(t, strings.Join(AheadParagraph(a, ""), ""))
}

// Where a rented dryer helps most and another way cannot be told from it, that way is said too: it needs no
// rent. One that clearly lies behind is not said.
func TestWhatHelpsWithoutRent(t *testing.T) {
	a := sample.Ahead()
	a.Ways[1].Gain = trials.Mean{Mean: 0.15, Low: 0.1, High: 0.2}
	a.Ways[3].Gain = trials.Mean{Mean: 0.16, Low: 0.11, High: 0.21}
	a.Ways[1].Behind = &trials.Mean{Mean: 0.01, Low: -0.02, High: 0.04}
	a.Ways[2].Behind = &trials.Mean{Mean: 0.26, Low: 0.2, High: 0.32}
	assert.Equal(t, "What helps most is one dryer rented at Old Sluice: all months ahead are met in 57 of 100 instead of 48. Fires until 22 h help about as much and need no rent.", AheadParagraph(a, "")[0])
	fits(t, "ahead, without rent", AheadSentence(a), AheadParagraph(a, "coins"), decide.HubAir{})
	a.Ways[1].Key = ahead.ShipEarly
	assert.Contains(t, AheadParagraph(a, "")[0], " Collections twice as often help about as much and need no rent.")
	a.Ways[1].Key = ahead.StopCut
	assert.Contains(t, AheadParagraph(a, "")[0], " No cutting for a week helps about as much and needs no rent.")
	a.Ways[1].Behind.Low = 0.001
	assert.NotContains(t, AheadParagraph(a, "")[0], "rent.")
}

// Days are said by site, an empty yard as one, and a dryer that would come too late.
func TestAheadOfDaysYardsAndLateDryers(t *testing.T) {
	assert.Equal(t, "24 tallied days of cutting", tallied(&ahead.Output{Days: 24, Sites: 1, Fewest: 24, Most: 24}))
	assert.Equal(t, "13 tallied days of cutting at 6 sites", tallied(&ahead.Output{Days: 78, Sites: 6, Fewest: 13, Most: 13}))
	assert.Equal(t, "9 to 13 tallied days of cutting at 2 sites", tallied(&ahead.Output{Days: 22, Sites: 2, Fewest: 9, Most: 13}))
	a := sample.Ahead()
	a.Load, a.RentLate = a.Load[1:], true
	assert.Contains(t, AheadParagraph(a, ""), "Today no dryer need be fired: the sun may do it.")
	a.Lies.Wet = 0
	assert.Contains(t, AheadParagraph(a, ""), "Today no dryer need be fired: nothing lies wet.")
	assert.Contains(t, fmt.Sprint(AheadNotes(a, "")), "A dryer rented now would be ready only after the last month that asks for stalks (--rent-ready), so that it is not listed.")
}

// Every way has its words.
func TestEveryWayAheadHasWords(t *testing.T) {
	require.Len(t, wayAhead, 6)
	for _, k := range []ahead.Key{ahead.AsNow, ahead.Evening, ahead.NightFire, ahead.StopCut, ahead.ShipEarly, ahead.RentDryer} {
		assert.NotEmpty(t, wayAhead[k][0])
		assert.NotEmpty(t, wayAhead[k][1])
	}
	a := sample.Ahead()
	a.NightLeft, a.Ways[1].Key = false, ahead.NightFire
	assert.Contains(t, fmt.Sprint(AheadNotes(a, "")), "Fires at night need two people awake")
}
