package table

import (
	"fmt"

	"drystalk/report/words"
	"drystalk/sim/decide"
	"drystalk/sim/spend"
)

// Promise lists what each month alone could take.
func Promise(p decide.Promise) Table {
	t := Table{
		Title: fmt.Sprintf("Each month alone raised, the others at %s (shares of %s seasons, not proven)", words.Grouped(p.Flat), words.Grouped(p.MonthSeasons)),
		Head:  []string{"month", "good stalks", "then " + words.MetIn(p.Goal)}, Left: 1,
	}
	for _, m := range p.Months {
		t.Rows = append(t.Rows, []Cell{text(m.Name), count(m.Stalks, stalks), odds(m.Odds)})
	}
	return t
}

// Spending lists what to buy, step by step, and what that does.
func Spending(s spend.Answer, currency string) Table {
	t := Table{
		Title: fmt.Sprintf("What to buy, by gain for its money (%s fresh seasons, 95 %% intervals)", words.Grouped(s.Seasons)),
		Head:  []string{"buy", "at", "cost, " + currency, "so far", "worst month", "met in", "gain, points", "fewer missing stalks"}, Left: 2,
		Apart: []string{"buy", "at", "cost", "so far", "worst month", "met in", "gain of the share", "fewer missing stalks"},
	}
	t.Head, t.Apart = withGoalHead(s.Goal, t.Head), withGoalHead(s.Goal, t.Apart)
	several := s.LinesHaveFewer()
	if several {
		t.Title = fmt.Sprintf("What to buy, by gain for its money (fresh seasons, 95 %% intervals; gains in the first %s of them)", words.Grouped(s.LineSeasons))
		t.Head, t.Apart = append(t.Head, "seasons"), append(t.Apart, "seasons")
	}
	row := func(what, site string, b spend.Bought, gain, fewer Cell) {
		cells := withGoal(s.Goal, b.Odds, []Cell{text(what), text(site), amount(b.Cost, currency), amount(b.Spent, currency), worstMonth(b.Worst.Name, b.Worst.Odds), odds(b.Worst.Odds), gain, fewer})
		if several {
			cells = append(cells, count(b.Odds.Seasons, ""))
		}
		t.Rows = append(t.Rows, cells)
	}
	row("(the plan as written)", "", s.Start, text(""), text(""))
	for _, b := range s.Steps {
		row(words.OfLevers(b.What), b.Site, b, points(b.Gain), wholly(b.Fewer, stalks))
	}
	return t
}

// Marginal lists what one step more would do.
func Marginal(s spend.Answer, currency string) Table {
	t := Table{
		Title: fmt.Sprintf("What one step more would do (%s search seasons; these chose the list, so they flatter it)", words.Grouped(s.SearchSeasons)),
		Head:  []string{"step", "at", "cost, " + currency, "target, points", "fewer missing stalks", "per 100 " + currency}, Left: 2,
		Apart: []string{"step", "at", "cost", "gain of the share of the target", "fewer missing stalks", "fewer missing stalks per 100 " + currency},
	}
	for k, m := range s.Marginal {
		if k == 12 {
			break
		}
		per := 0.0
		if m.Cost > 0 {
			per = 100 * m.Fewer / m.Cost.Units()
		}
		t.Rows = append(t.Rows, []Cell{
			text(words.OfLever(m.What)), text(m.Site), amount(m.Cost, currency), one(fmt.Sprintf("%+d", words.Round(100*m.Gain)), Share, "", m.Gain), whole(m.Fewer, stalks), whole(per, stalks),
		})
	}
	return t
}
