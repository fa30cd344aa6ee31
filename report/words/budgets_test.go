package words

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"drystalk/sim/decide"
	"drystalk/sim/money"
	"drystalk/sim/spend"
	"drystalk/sim/trials"
)

// listOf is a list of one purchase after which the worst month, July, is met in so many of 1,000
// seasons; of nothing where it costs nothing.
func listOf(budget, cost float64, met int) spend.Answer {
	odds := trials.NewOdds(met, 1000)
	at := spend.Bought{Spent: money.Of(cost), Odds: odds, Worst: decide.MonthResult{Name: "July", Odds: odds}}
	s := spend.Answer{Budget: money.Of(budget), Seasons: 1000, Sites: []string{"Heron Point"}, Start: at}
	if cost > 0 {
		s.Start.Odds = trials.NewOdds(500, 1000)
		s.Steps, s.All = []spend.Bought{at}, []spend.InAll{{Of: spend.Dryers, PerSite: []float64{1}}}
	}
	return s
}

// The cheapest list is named with its cost and how sure it is; where nothing reaches the target,
// that is said first.
func TestCheapestByHand(t *testing.T) {
	assert.Equal(t, "The cheapest list found that is enough costs 6,000 coins: 1 dryer (at Heron Point); then the worst month, July, is met in 93 of 100 trial seasons (91 to 95), 50 before.", CheapestSentence(listOf(0, 6000, 930), 0.9, "coins"))
	assert.Contains(t, CheapestSentence(listOf(0, 6000, 905), 0.9, "coins"), "The cheapest list found that may be enough costs 6,000 coins")
	assert.Equal(t, "Nothing that was found for 7,000 coins is enough. The best list costs 6,000 coins: 1 dryer (at Heron Point); then the worst month, July, is met in 80 of 100 trial seasons (77 to 82).", CheapestSentence(listOf(7000, 6000, 800), 0.9, "coins"))
	assert.Contains(t, CheapestSentence(listOf(0, 0, 800), 0.9, "coins"), "Nothing that was found in all that can be bought is enough, and nothing helps: as it is,")
	assert.Contains(t, CheapestSentence(listOf(0, 0, 950), 0.9, "coins"), "Nothing need be bought: as it is, the worst month, July, is met in 95 of 100")
}

// Of several budgets the smallest that reaches the target is named, and where a larger one found
// none as good whose list stands in its place.
func TestBudgetsByHand(t *testing.T) {
	each := []spend.Answer{listOf(5000, 0, 500), listOf(7000, 6000, 930), listOf(9000, 6000, 930)}
	assert.Equal(t, "Of three budgets 7,000 coins is the smallest that is enough. Its list takes 6,000: 1 dryer (at Heron Point); then the worst month, July, is met in 93 of 100 trial seasons (91 to 95).", BudgetsSentence(each, 0.9, "coins"))
	assert.Equal(t, "None of the three budgets is enough: with the largest, 9,000 coins, the worst month, July, is met in 93 of 100 trial seasons (91 to 95).", BudgetsSentence(each, 0.99, "coins"))
	assert.Equal(t, []string{"90 of 100 were asked for.", "9,000 coins buy the same as 7,000.", "What members earn by their work may fall: see drystalk compare."}, BudgetsParagraph(each, 0.9, "coins"))
	each[2].Smaller = money.Of(7000)
	assert.Contains(t, BudgetsParagraph(each, 0.9, "coins"), "For 9,000 coins no list was found as good as that for 7,000, which stands in its place.")
}

// Where the plan as it is reaches the target, that is said before what is bought, and what a larger
// budget buys no more; what members earn is not left out.
func TestBudgetsThatNeedNotBeSpent(t *testing.T) {
	each := []spend.Answer{listOf(5000, 0, 970), listOf(7000, 6000, 1000), listOf(9000, 6000, 1000)}
	for k := range each {
		each[k].Start.Odds, each[k].Hands = trials.NewOdds(970, 1000), money.Members
	}
	assert.Equal(t, "The plan as it is reaches the 90 of 100 asked for already: the worst month, July, is met in 97 of 100 trial seasons (96 to 98).", BudgetsSentence(each, 0.9, "coins"))
	const still = "For 7,000 coins there is still a list that takes 6,000: 1 dryer (at Heron Point); then every contract month is met in all of the trial seasons."
	assert.Equal(t, []string{still, "9,000 coins buy the same as 7,000.", "What members earn by their work may fall: see drystalk compare."}, BudgetsParagraph(each, 0.9, "coins"))
	assert.Equal(t, []string{still, "9,000 coins buy the same as 7,000."}, BudgetsBrief("here", each, 0.9, "coins").Answer, "what members earn stands once, with what is left over")
	assert.Contains(t, BudgetsBrief("here", each, 0.9, "coins").Left[0], "What members earn by their work may fall")
	assert.Contains(t, BudgetsSentence(each, 0.965, "coins"), "The plan as it is may reach the 96.5 of 100 asked for already: ")
	assert.Equal(t, "Nothing that these budgets buy helps.", mayStillBuy(each[:1], "coins"))
	assert.Contains(t, BudgetsSentence(each, 0.98, "coins"), "Of three budgets 7,000 coins is the smallest that is enough.")
	assert.Contains(t, BudgetsParagraph(each, 0.98, "coins"), "98 of 100 were asked for.")
	each[2].Smaller = money.Of(7000)
	assert.NotContains(t, BudgetsParagraph(each, 0.9, "coins"), "9,000 coins buy the same as 7,000.", "it is said that its own list was left out")
}

// What does harm is named, and what is of no use apart from it.
func TestDroppedByHand(t *testing.T) {
	s := listOf(1, 1, 1)
	assert.Empty(t, DroppedNotes(s))
	s.Dropped = []spend.Dropped{{Site: "Heron Point", What: []spend.Quantity{{Of: spend.Cutters, Size: 2}}, Harm: true}}
	assert.Equal(t, []Note{{"Left out", "Left out, as doing harm in the fresh seasons: 2 cutters at Heron Point."}}, DroppedNotes(s))
	s.Dropped = append(s.Dropped, spend.Dropped{What: []spend.Quantity{{Of: spend.StockAhead, Size: 20_000}}})
	assert.Equal(t, []Note{{"Left out", "Left out, as doing harm in the fresh seasons: 2 cutters at Heron Point. Left out, as doing no good in the fresh seasons: 20,000 stalks in stock at the start."}}, DroppedNotes(s))
	s.Dropped = s.Dropped[1:]
	assert.Equal(t, []Note{{"Left out", "Left out, as doing no good in the fresh seasons: 20,000 stalks in stock at the start."}}, DroppedNotes(s))
}
