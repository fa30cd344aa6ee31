package table

import (
	"drystalk/report/words"
	"drystalk/sim/money"
	"drystalk/sim/spend"
	"drystalk/tongue"
)

// Budgets sets the lists of several budgets side by side.
func Budgets(each []spend.Answer, currency string) Table {
	goal, hands := each[0].Goal, each[0].Hands.String()
	t := Table{
		Title: tongue.Sayf("What each budget buys (%s fresh seasons, 95 %% intervals)", words.Grouped(each[0].Seasons)),
		Head:  []string{tongue.Sayf("budget, %s", currency), tongue.Say("buy"), tongue.Say("worst month"), tongue.Say("cost"), tongue.Say("met in"), tongue.Say("all months met in"), words.LeftOver(hands) + ", " + currency}, Left: 3,
		Apart: []string{tongue.Say("budget"), tongue.Say("buy"), tongue.Say("worst month"), tongue.Say("cost"), tongue.Say("met in"), tongue.Say("all months met in"), words.LeftOver(hands)},
	}
	t.Head, t.Apart = withGoalHead(goal, t.Head), withGoalHead(goal, t.Apart)
	for k, s := range each {
		b := words.LastBought(s)
		t.Rows = append(t.Rows, withGoal(goal, b.Odds, []Cell{
			amount(s.Budget, currency), text(buys(each, k, words.Bought)), worstMonth(b.Worst.Name, b.Worst.Odds), amount(b.Spent, currency), odds(b.Worst.Odds), odds(b.All), ranged(words.Amounts(s.After, ""), Money, currency, s.After),
		}))
	}
	return t
}

// buys says what the k-th of several budgets buys, in words of their own choice; of the list of a
// smaller one that it is the same.
func buys(each []spend.Answer, k int, inWords func(spend.Answer) string) string {
	if first := words.SameAs(each, k); first != k {
		return tongue.Sayf("the same as for %s", words.BareMoney(each[first].Budget.Units()))
	}
	return inWords(each[k])
}

// With returns a table of a list with the budget in its title, where several stand under each other.
func (t Table) With(budget money.Amount, currency string) Table {
	t.Title = tongue.Sayf("%s, with %s", t.Title, words.Amount(budget, currency))
	return t
}

// Dropped lists what the search had found and what was left out. It is empty where that is
// nothing.
func Dropped(s spend.Answer, currency string) Table {
	t := Table{
		Title: tongue.Sayf("Left out, for in %s fresh seasons it does harm or no good", words.Grouped(s.Seasons)),
		Head:  []string{tongue.Say("step"), tongue.Say("at"), "", tongue.Sayf("cost, %s", currency), tongue.Say("target, points"), tongue.Say("fewer missing stalks")}, Left: 3,
		Apart: []string{tongue.Say("step"), tongue.Say("at"), tongue.Say("harm"), tongue.Say("cost"), tongue.Say("gain of the share of the target"), tongue.Say("fewer missing stalks")},
	}
	for _, d := range s.Dropped {
		harm := tongue.Say("no good")
		if d.Harm {
			harm = tongue.Say("harm")
		}
		t.Rows = append(t.Rows, []Cell{text(words.OfLevers(d.What)), text(d.Site), text(harm), amount(d.Cost, currency), points(d.Gain), wholly(d.Fewer, stalks)})
	}
	return t
}
