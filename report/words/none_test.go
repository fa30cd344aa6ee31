package words

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"drystalk/sim/decide"
	"drystalk/sim/money"
	"drystalk/sim/spend"
	"drystalk/sim/trials"
)

// TestNoSeasonsAreSaidInEnglish counts what never happens as a person says it.
func TestNoSeasonsAreSaidInEnglish(t *testing.T) {
	assert.Equal(t, "no trial season instead of 2 of 100", insteadOfOdds(trials.NewOdds(0, 100), trials.NewOdds(2, 100)))
	assert.Equal(t, "99 of 100 trial seasons instead of 92", insteadOfOdds(trials.NewOdds(99, 100), trials.NewOdds(92, 100)))
}

// TestStepsBeyondAListSayWhatIsWanting looks at the step after a list: money only where a budget is
// used up, and "nothing need be bought" only where that is sure.
func TestStepsBeyondAListSayWhatIsWanting(t *testing.T) {
	m := spend.Marginal{Site: "Old Sluice", What: spend.Quantity{Of: spend.Dryers, Size: 1}, Cost: money.Of(400), Fewer: 9}
	s := spend.Answer{Budget: money.Of(300), Ends: spend.NothingHelps}
	assert.Equal(t, "With more money, next would come 1 dryer at Old Sluice for 400 coins.", nextInShort(s, m, "coins"))
	s.Budget = money.Of(500)
	assert.Equal(t, "What is left would pay for 1 dryer at Old Sluice for 400 coins, but that helps too little to tell.", nextInShort(s, m, "coins"))
	s.Budget, s.Ends = 0, spend.TargetMet
	assert.Equal(t, "The next step, if you wish to do more, would be 1 dryer at Old Sluice for 400 coins.", nextInShort(s, m, "coins"))
	for met, want := range map[int]string{93: "Perhaps nothing need be bought: ", 100: "Nothing need be bought: "} {
		o := trials.NewOdds(met, 100)
		s.Start = spend.Bought{Odds: o, Worst: decide.MonthResult{Name: "July", Odds: o}}
		assert.Regexp(t, "^"+want, CheapestSentence(s, 0.9, "coins"))
	}
}

// A search that was stopped before it found anything does not say that nothing helps.
func TestStoppedSearchClaimsNothing(t *testing.T) {
	s := spend.Answer{Budget: money.Of(300), Ends: spend.NothingHelps, Start: spend.Bought{Worst: decide.MonthResult{Name: "July", Odds: trials.NewOdds(50, 100)}, Odds: trials.NewOdds(50, 100)}}
	assert.Regexp(t, "^Nothing that 300 coins buys helps: ", SpendSentence(s, "coins"))
	s.Stopped = true
	assert.Regexp(t, "^The search for what 300 coins buys was stopped before it found anything: ", SpendSentence(s, "coins"))
	const soFar = "The search was stopped: this is the list so far."
	assert.NotContains(t, SpendParagraph(s, 0.9, "coins"), soFar, "there is no list")
	s.Steps = []spend.Bought{s.Start}
	assert.Contains(t, SpendParagraph(s, 0.9, "coins"), soFar)
}
