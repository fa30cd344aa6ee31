package table

import (
	"slices"
	"strings"

	"drystalk/report/words"
	"drystalk/sim"
	"drystalk/sim/decide"
	"drystalk/sim/goal"
	"drystalk/sim/spend"
	"drystalk/sim/trials"
	"drystalk/tongue"
)

// Small tables of a paper of two pages: few rows, few columns, whole words.

// metIn is the column of the odds of a goal: of the worst month with its name.
func metIn(g goal.Goal, month string, o trials.Odds) Cell {
	c := odds(o)
	if !ownColumn(g) && g.Kind == goal.WorstMonth {
		c.Text += ", " + worstMonth(month, o).Text
	}
	return c
}

// DryersBrief lists the number of dryers that is spoken of, at, beside its neighbours and those
// with the fewest and the most.
func DryersBrief(a decide.Answer, at int, currency string) Table {
	t := Table{Title: tongue.Say("The number of dryers, and what each would do"), Head: []string{tongue.Say("dryers"), words.MetIn(a.Goal), tongue.Say("of the contract delivered")}, Left: 1}
	priced := len(a.Money) == len(a.Plans)
	if priced {
		t.Head = append(t.Head, tongue.Sayf("to buy, %s", currency), tongue.Sayf("%s a year, %s", words.LeftOver(a.Money[at].Cutters), currency))
		t.Title += words.NotMembersPay(a.Money[at].Cutters)
	}
	last := len(a.Plans) - 1
	rows := []int{0, max(0, at-1), at, min(last, at+1), last}
	for _, n := range slices.Compact(rows) {
		p := a.Plans[n]
		name := plain(p.Dryers, "")
		if n == at && a.Needed >= 0 {
			note := tongue.Say("enough")
			if a.Proof.Enough != p.Dryers {
				note = tongue.Say("may do")
			}
			name = name.noted(name.Text+"\u00a0("+strings.ReplaceAll(note, " ", "\u00a0")+")", note) // one line
		}
		row := []Cell{name, metIn(a.Goal, p.WorstMonth().Name, p.Odds), percent(p.Share.Mean)}
		if priced {
			e := a.Money[n]
			cost := text(tongue.Say("none"))
			if e.ToFund != nil && e.ToFund.Cost > 0 {
				cost = amount(e.ToFund.Cost, currency)
			}
			row = append(row, cost, meanAmount(e.Net.Mean, currency))
		}
		t.Rows = append(t.Rows, row)
	}
	return t
}

// mostBriefSteps is how many steps of a list a small table names: the first and the last.
const mostBriefSteps = 5

// SpendBrief lists what to buy: the first steps and the last.
func SpendBrief(s spend.Answer, currency string) Table {
	t := Table{Title: tongue.Say("What to buy, in this order"), Head: []string{tongue.Say("buy"), tongue.Sayf("cost, %s", currency), tongue.Say("spent so far"), words.MetIn(s.Goal)}, Left: 1}
	row := func(what string, b spend.Bought) {
		t.Rows = append(t.Rows, []Cell{text(what), amount(b.Cost, currency), amount(b.Spent, currency), metIn(s.Goal, b.Worst.Name, b.Odds)})
	}
	row(tongue.Say("(the plan as it is)"), s.Start)
	for k, b := range s.Steps {
		switch between := len(s.Steps) - mostBriefSteps; {
		case between <= 0 || k < mostBriefSteps-2 || k == len(s.Steps)-1:
			row(words.StepNameAt(b), b)
		case k == mostBriefSteps-2:
			t.Rows = append(t.Rows, texts(tongue.Sayf("(%s more, in the annex)", words.Grouped(between+1)), "", "", ""))
		}
	}
	return t
}

// BudgetsBrief lists what each budget buys in few words.
func BudgetsBrief(each []spend.Answer, currency string) Table {
	t := Table{Title: tongue.Say("What each budget buys"), Head: []string{tongue.Sayf("budget, %s", currency), tongue.Say("buy"), tongue.Sayf("cost, %s", currency), words.MetIn(each[0].Goal)}, Left: 2}
	for k, s := range each {
		last := words.LastBought(s)
		t.Rows = append(t.Rows, []Cell{amount(s.Budget, currency), text(buys(each, k, words.BoughtOrNot)), amount(last.Spent, currency), metIn(s.Goal, last.Worst.Name, last.Odds)})
	}
	return t
}

// briefTotals are the figures of a season that a small table of two plans has.
var briefTotals = []string{decide.DeliveredKey, sim.Second.String(), sim.WoodKg.String()}

// CompareBrief sets the few figures of both plans side by side that a decision hangs on.
func CompareBrief(c words.Compared) Table {
	t := Table{Title: tongue.Say("An average year of both plans"), Head: append([]string{""}, append(slices.Clone(headingsOf(c)), tongue.Say("difference (95 % sure)"))...), Left: 1}
	a, b := c.Result.A.WorstMonth(), c.Result.B.WorstMonth()
	t.Rows = append(t.Rows, []Cell{text(worstOf(a, b)), oddsOrNone(a), oddsOrNone(b), text("")})
	for _, d := range c.Result.Totals {
		if slices.Contains(briefTotals, d.Of) {
			t.Rows = append(t.Rows, []Cell{text(words.CompareLine(d.Of) + inUnit(d.Unit)), mean(d.A, ""), mean(d.B, ""), more(d.More, "")})
		}
	}
	if m := c.Result.Members; m != nil {
		t.Rows = append(t.Rows,
			[]Cell{text(tongue.Sayf("each member earns, %s", c.Currency)), mean(m.EachMoney.A, ""), mean(m.EachMoney.B, ""), more(m.EachMoney.More, "")},
			[]Cell{text(tongue.Say("each member works, hours")), mean(m.EachHours.A, ""), mean(m.EachHours.B, ""), more(m.EachHours.More, "")})
	} else if n := len(c.Result.Money); n > 0 {
		d := c.Result.Money[n-1]
		t.Rows = append(t.Rows, []Cell{text(words.CompareLine(d.Of) + ", " + c.Currency), mean(d.A, ""), mean(d.B, ""), more(d.More, "")})
	}
	return t
}

// worstOf names the worst month of two plans; a plan that misses none has no worst.
func worstOf(today, then decide.MonthResult) string {
	switch a, b := missesNone(today.Odds), missesNone(then.Odds); {
	case a && b:
		return words.MetIn(goal.Goal{})
	case b || !a && today.Name == then.Name:
		return tongue.Sayf("worst month, %s, met in", today.Name)
	case a:
		return tongue.Sayf("worst month, %s, met in", then.Name)
	}
	return tongue.Sayf("worst month (%s, then %s) met in", today.Name, then.Name)
}

// oddsOrNone says the odds of a plan's worst month, or that it misses none.
func oddsOrNone(m decide.MonthResult) Cell {
	if missesNone(m.Odds) {
		return text(tongue.Say("none missed"))
	}
	return odds(m.Odds)
}

// headingsOf are the headings of both plans.
func headingsOf(c words.Compared) []string {
	h := headings(c)
	return h[:]
}

// inUnit writes a unit behind a name.
func inUnit(unit string) string {
	if unit == "" {
		return ""
	}
	return ", " + unit
}

// PromiseBrief lists what is promised, the next larger that is not, and the contract as written.
func PromiseBrief(p decide.Promise) Table {
	t := Table{Title: tongue.Say("What was tried, good stalks in every contract month"), Head: []string{"", tongue.Say("stalks a month"), words.MetIn(p.Goal), tongue.Say("trial seasons")}, Left: 1}
	if p.Flat > 0 {
		t.Rows = append(t.Rows, []Cell{text(tongue.Say("can be promised")), count(p.Flat, stalks), metIn(p.Goal, p.Worst.Name, p.Odds), count(p.Odds.Seasons, "")})
	}
	if p.Next > 0 {
		t.Rows = append(t.Rows, []Cell{text(tongue.Say("the next that was tried, not proven")), count(p.Next, stalks), odds(p.NextOdds), count(p.NextOdds.Seasons, "")})
	}
	return t
}
