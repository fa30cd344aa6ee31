package table

import (
	"drystalk/report/words"
	"drystalk/sim/spend"
	"drystalk/tongue"
)

// Budgets sets the lists of several budgets side by side.
func Budgets(each []spend.Answer, currency string) Table {
	goal := each[0].Goal
	t := Table{
		Title: tongue.Sayf("What each budget buys (%s fresh seasons, 95 %% intervals)", words.Grouped(each[0].Seasons)),
		Head:  []string{tongue.Sayf("budget, %s", currency), tongue.Say("buy"), tongue.Say("worst month"), tongue.Say("cost"), tongue.Say("met in"), tongue.Say("all months met in"), tongue.Say("earns a year")}, Left: 3,
		Apart: []string{tongue.Say("budget"), tongue.Say("buy"), tongue.Say("worst month"), tongue.Say("cost"), tongue.Say("met in"), tongue.Say("all months met in"), tongue.Say("earns a year")},
	}
	t.Head, t.Apart = withGoalHead(goal, t.Head), withGoalHead(goal, t.Apart)
	for _, s := range each {
		b := s.Start
		if n := len(s.Steps); n > 0 {
			b = s.Steps[n-1]
		}
		t.Rows = append(t.Rows, withGoal(goal, b.Odds, []Cell{
			amount(s.Budget, currency), text(words.Bought(s)), text(tongue.Month(b.Worst.Name)), amount(b.Spent, currency), odds(b.Worst.Odds), odds(b.All), ranged(words.Amounts(s.After, ""), Money, currency, s.After),
		}))
	}
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
