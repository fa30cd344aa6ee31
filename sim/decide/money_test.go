package decide

import (
	"context"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drystalk/sim/money"
	"drystalk/sim/trials"
)

// By hand: where good stalks earn a tenth each and nothing costs but the dryer, 8,000 over 8
// years without interest, a plan earns a tenth of its stalks less 1,000 for each of its dryers.
func TestEarnsByHand(t *testing.T) {
	s, set := small(t)
	const seasons = 12
	table := tableOf(t, set, seasons, 1)
	p := money.Prices{PerGoodStalk: 0.1, DryerCost: 8000, DryerYears: 8}
	e, net, err := EarnsOf(&p, &s.Region, table, []int{1})
	require.NoError(t, err)
	judged, err := Judge(table, []int{1})
	require.NoError(t, err)
	delivered := judged.Flow.Delivered.Mean
	require.Positive(t, delivered)
	assert.Equal(t, 1, e.Dryers)
	assert.InDelta(t, delivered/10-1000, e.Net.Mean, 0.01)
	assert.InDelta(t, 1000/delivered, e.PerGood.Mean, 1e-9, "the dryer is all it costs")
	require.Len(t, net, seasons)
	require.Len(t, e.Parts, len(money.PartNames)+1)
	sum, perGood := 0.0, 0.0
	for _, part := range e.Parts {
		sum += part.Year.Mean
		perGood += part.PerGood.Mean
	}
	assert.InDelta(t, e.Net.Mean, sum, 1e-6, "the parts add up")
	assert.InDelta(t, e.Net.Mean/delivered, perGood, 1e-6)
	assert.InDelta(t, -1000, e.Parts[len(e.Parts)-1].Year.Mean, 1e-9)
	mean := 0.0
	for _, x := range net {
		mean += x / seasons
	}
	assert.InDelta(t, e.Net.Mean, mean, 1e-6)
}

// Every plan of an answer has its money, of its own number of dryers; what knowing more is
// worth is said where something is not known, and only there.
func TestAnswerWithMoney(t *testing.T) {
	s, set := small(t)
	p := money.Prices{PerGoodStalk: 0.1, DryerCost: 8000, DryerYears: 8}
	ask := func(set trials.Setup) Answer {
		a, err := Dryers(context.Background(), Question{
			Setup: set, MaxDryers: []int{2}, Target: 0.9, SearchSeasons: 20, Seasons: 160, Limit: 160, ShortSeasons: 2, Prices: &p,
		})
		require.NoError(t, err)
		return a
	}
	a := ask(set)
	require.Len(t, a.Plans, 3)
	require.Len(t, a.Money, 3)
	for k, e := range a.Money {
		assert.Equal(t, a.Plans[k].Dryers, e.Dryers)
		assert.InDelta(t, a.Plans[k].Flow.Delivered.Mean/10-1000*float64(k), e.Net.Mean, 0.01)
	}
	require.NotNil(t, a.Worth)
	assert.Len(t, a.Worth.Each, len(s.Knowledge.Ranges))
	best := 0
	for k := range a.Money {
		if a.Money[k].Net.Mean > a.Money[best].Net.Mean {
			best = k
		}
	}
	assert.Equal(t, best, a.Worth.Chosen)

	set.Knowledge.Fixed = true
	a = ask(set)
	assert.Nil(t, a.Worth, "everything is known")
	assert.Empty(t, a.Swings)
	assert.Len(t, a.Money, len(a.Plans))
}
