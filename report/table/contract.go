package table

import (
	"fmt"
	"slices"

	"drystalk/report/words"
	"drystalk/sim/decide"
	"drystalk/sim/spend"
	"drystalk/tongue"
)

// Promise lists what each month alone could take.
func Promise(p decide.Promise) Table {
	t := Table{
		Title: tongue.Sayf("Each month alone raised, the others at %s (shares of %s seasons, not proven)", words.Grouped(p.Flat), words.Grouped(p.MonthSeasons)),
		Head:  []string{tongue.Say("month"), tongue.Say("good stalks"), tongue.Sayf("then %s", words.MetIn(p.Goal))}, Left: 1,
	}
	for _, m := range p.Months {
		t.Rows = append(t.Rows, []Cell{text(tongue.Month(m.Name)), count(m.Stalks, stalks), odds(m.Odds)})
	}
	return t
}

// Spending lists what to buy, step by step, and what that does.
func Spending(s spend.Answer, currency string) Table {
	t := Table{
		Title: tongue.Sayf("What to buy, by gain for its money (%s fresh seasons, 95 %% intervals)", words.Grouped(s.Seasons)),
		Head:  []string{tongue.Say("buy"), tongue.Say("at"), tongue.Sayf("cost, %s", currency), tongue.Say("so far"), tongue.Say("worst month"), tongue.Say("met in"), tongue.Say("gain, points"), tongue.Say("fewer missing stalks")}, Left: 2,
		Apart: []string{tongue.Say("buy"), tongue.Say("at"), tongue.Say("cost"), tongue.Say("so far"), tongue.Say("worst month"), tongue.Say("met in"), tongue.Say("gain of the share"), tongue.Say("fewer missing stalks")},
	}
	t.Head, t.Apart = withGoalHead(s.Goal, t.Head), withGoalHead(s.Goal, t.Apart)
	several := s.LinesHaveFewer()
	if several {
		t.Title = tongue.Sayf("What to buy, by gain for its money (fresh seasons, 95 %% intervals; gains in the first %s of them)", words.Grouped(s.LineSeasons))
		t.Head, t.Apart = append(t.Head, tongue.Say("seasons")), append(t.Apart, tongue.Say("seasons"))
	}
	row := func(what, site string, b spend.Bought, gain, fewer Cell) {
		cells := withGoal(s.Goal, b.Odds, []Cell{text(what), text(site), amount(b.Cost, currency), amount(b.Spent, currency), worstMonth(b.Worst.Name, b.Worst.Odds), odds(b.Worst.Odds), gain, fewer})
		if several {
			cells = append(cells, count(b.Odds.Seasons, ""))
		}
		t.Rows = append(t.Rows, cells)
	}
	row(tongue.Say("(the plan as written)"), "", s.Start, text(""), text(""))
	for _, b := range s.Steps {
		row(words.StepName(b), b.Site, b, points(b.Gain), wholly(b.Fewer, stalks))
	}
	return t
}

// Marginal lists what one step more would do; it has no rows where none of the steps does anything.
func Marginal(s spend.Answer, currency string) Table {
	t := Table{
		Title: tongue.Sayf("What one step more would do (%s search seasons; these chose the list, so they flatter it)", words.Grouped(s.SearchSeasons)),
		Head:  []string{tongue.Say("step"), tongue.Say("at"), tongue.Sayf("cost, %s", currency), tongue.Say("target, points"), tongue.Say("fewer missing stalks"), tongue.Sayf("per 100 %s", currency)}, Left: 2,
		Apart: []string{tongue.Say("step"), tongue.Say("at"), tongue.Say("cost"), tongue.Say("gain of the share of the target"), tongue.Say("fewer missing stalks"), tongue.Sayf("fewer missing stalks per 100 %s", currency)},
	}
	if !slices.ContainsFunc(s.Marginal, doesSomething) {
		return t
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

// doesSomething tells whether one step more changes a figure that is shown.
func doesSomething(m spend.Marginal) bool {
	return words.Round(100*m.Gain) != 0 || words.Round(m.Fewer) != 0
}
