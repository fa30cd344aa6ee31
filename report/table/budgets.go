package table

import (
	"fmt"

	"drystalk/report/words"
	"drystalk/sim/spend"
)

// Budgets sets the lists of several budgets side by side.
func Budgets(each []spend.Answer, currency string) Table {
	goal := each[0].Goal
	t := Table{
		Title: fmt.Sprintf("What each budget buys (%s fresh seasons, 95 %% intervals)", words.Grouped(each[0].Seasons)),
		Head:  []string{"budget, " + currency, "buy", "worst month", "cost", "met in", "all months met in", "earns a year"}, Left: 3,
		Apart: []string{"budget", "buy", "worst month", "cost", "met in", "all months met in", "earns a year"},
	}
	t.Head, t.Apart = withGoalHead(goal, t.Head), withGoalHead(goal, t.Apart)
	for _, s := range each {
		b := s.Start
		if n := len(s.Steps); n > 0 {
			b = s.Steps[n-1]
		}
		t.Rows = append(t.Rows, withGoal(goal, b.Odds, []Cell{
			amount(s.Budget, currency), text(words.Bought(s)), text(b.Worst.Name), amount(b.Spent, currency), odds(b.Worst.Odds), odds(b.All), ranged(words.Amounts(s.After, ""), Money, currency, s.After),
		}))
	}
	return t
}

// Dropped lists what the search had found and what was left out. It is empty where that is
// nothing.
func Dropped(s spend.Answer, currency string) Table {
	t := Table{
		Title: fmt.Sprintf("Left out, for in %s fresh seasons it does harm or no good", words.Grouped(s.Seasons)),
		Head:  []string{"step", "at", "", "cost, " + currency, "target, points", "fewer missing stalks"}, Left: 3,
		Apart: []string{"step", "at", "harm", "cost", "gain of the share of the target", "fewer missing stalks"},
	}
	for _, d := range s.Dropped {
		harm := "no good"
		if d.Harm {
			harm = "harm"
		}
		t.Rows = append(t.Rows, []Cell{text(words.OfLevers(d.What)), text(d.Site), text(harm), amount(d.Cost, currency), points(d.Gain), wholly(d.Fewer, stalks)})
	}
	return t
}
