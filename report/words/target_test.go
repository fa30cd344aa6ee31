package words

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"drystalk/report/internal/sample"
	"drystalk/sim/decide"
	"drystalk/sim/goal"
	"drystalk/sim/money"
	"drystalk/sim/trials"
)

// What was asked is said in plain words, with what may be missing of a month where that is
// something.
func TestTargetsInWords(t *testing.T) {
	for _, tt := range []struct {
		goal           goal.Goal
		happens, metIn string
	}{
		{goal.Goal{}, "the worst month, August, is met", "worst month met in"},
		{goal.Goal{Tolerance: 0.05}, "the worst month, August, is met (at least 95 % of its contract)", "worst month met in"},
		{goal.Goal{Kind: goal.AllMonths, Tolerance: 0.1}, "every contract month of a season is met (at least 90 % of its contract)", "all months met in"},
		{goal.Goal{Kind: goal.ShareDelivered, Share: 0.95, Tolerance: 0.05}, "at least 95 % of a season's contract is delivered", "95 % delivered in"},
		{goal.Goal{Kind: goal.PenaltyAtMost, MostPenalty: money.Of(1500), Currency: "coins"}, "the penalty of a season is at most 1,500 coins", "penalty at most 1,500 coins in"},
		{goal.Goal{Kind: goal.IncomeAtLeast, LeastIncome: money.Of(20_000), Currency: "coins"}, "a season earns the members at least 20,000 coins", "at least 20,000 coins earned in"},
	} {
		assert.Equal(t, tt.happens, Happens(tt.goal, "August"))
		assert.Equal(t, tt.metIn, MetIn(tt.goal))
		a := sample.Answer()
		a.Goal = tt.goal
		if !tt.goal.ByMonth() {
			assert.NotContains(t, DryersSentence(a), "worst month", "another target was asked")
		}
		assert.Contains(t, DryersSentence(a), Happens(tt.goal, "July"))
	}
}

// Whatever is asked, the others stand beside it.
func TestOtherTargetsStandBeside(t *testing.T) {
	p := sample.Plan(2, []int{1, 1}, 960, 790)
	const delivered = " On average 90 % (88 to 92 %) of a season's contract is delivered."
	assert.Equal(t, "All contract months of a season are met in 78 % (75 to 81 %) of 1,000 seasons."+delivered, Beside(goal.Goal{}, p))
	assert.Equal(t, "The worst month, July, is met in 79 % (76 to 81 %)."+delivered, Beside(goal.Goal{Kind: goal.AllMonths}, p))
	assert.Equal(t, "The worst month, July, is met in 79 % (76 to 81 %), every contract month of a season in 78 % (75 to 81 %)."+delivered, Beside(goal.Goal{Kind: goal.ShareDelivered}, p))
}

// What it would take without the tolerance is one short sentence, and none where nothing changes.
func TestWithoutToleranceInWords(t *testing.T) {
	a := sample.Answer()
	assert.Empty(t, WithoutTolerance(a), "there is no tolerance")
	strict := func(k, met int) {
		a.Plans[k].Strict = &decide.WithoutTolerance{Tolerance: 0.05, WorstName: "July", Odds: trials.NewOdds(met, 1000)}
	}
	strict(3, a.Plans[3].Odds.Met)
	strict(4, 930)
	a.NeededStrictly = 3
	assert.Empty(t, WithoutTolerance(a), "nothing changes")
	strict(3, 920)
	assert.Equal(t, "If nothing of a month might be missing, what is asked would be met in 92 of 100 trial seasons (90 to 94).", WithoutTolerance(a))
	strict(3, 870)
	a.NeededStrictly = 4
	assert.Equal(t, "If nothing of a month might be missing, it may take 4 dryers.", WithoutTolerance(a))
	a.NeededStrictly = -1
	assert.Equal(t, "If nothing of a month might be missing, no number tried, up to 4, would do.", WithoutTolerance(a))
	a.Needed = -1
	assert.Empty(t, WithoutTolerance(a), "nothing does with it either")
}
