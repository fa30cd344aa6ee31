package table

import (
	"fmt"
	"math"

	"drystalk/report/words"
	"drystalk/sim"
	"drystalk/sim/decide"
	"drystalk/sim/money"
	"drystalk/sim/trials"
)

// Changes lists the keys in which the plans differ, also those outside the plan.
func Changes(c words.Compared) Table {
	t := Table{Title: "The plans", Head: []string{"key", "first", "second"}, Left: 3}
	for _, d := range c.Changes {
		t.Rows = append(t.Rows, []string{d.Key, words.OrNone(d.A), words.OrNone(d.B)})
	}
	for _, d := range c.Outside {
		t.Rows = append(t.Rows, []string{d.Key + " (outside the plan)", words.OrNone(d.A), words.OrNone(d.B)})
	}
	return t
}

// Differences lists figures of both plans and the second less the first; what is nothing in
// both is no line.
func Differences(title string, list []decide.Difference, seasons int) Table {
	t := Table{Title: fmt.Sprintf("%s (mean of %s seasons; difference in the same seasons with 95 %% interval)", title, words.Grouped(seasons)), Head: []string{"", "unit", "first", "second", "second less first"}, Left: 2}
	for _, d := range list {
		if d.A.Mean == 0 && d.B.Mean == 0 {
			continue
		}
		t.Rows = append(t.Rows, []string{words.CompareLine(d.Of), d.Unit, words.Whole(d.A.Mean), words.Whole(d.B.Mean), words.More(d.More)})
	}
	return t
}

// MonthDifferences compares how often each contract month is met.
func MonthDifferences(c decide.Comparison) Table {
	t := Table{
		Title: fmt.Sprintf("Months of the contract (%s seasons)", words.Grouped(c.Seasons)),
		Head:  []string{"month", "first met in", "second met in", "gain, points", "good stalks more"}, Left: 1,
	}
	for _, m := range c.Months {
		t.Rows = append(t.Rows, []string{m.Name, words.Odds(m.OddsA), words.Odds(m.OddsB), words.Points(m.Gain), words.More(m.Stalks)})
	}
	return t
}

// DryerHours lists what each dryer of each plan does with its shift hours.
func DryerHours(c decide.Comparison) Table {
	t := Table{Title: fmt.Sprintf("Hours of each dryer in its shifts (mean of %s seasons, 95 %% interval)", words.Grouped(c.Seasons)), Head: []string{"hours"}, Left: 1}
	for _, u := range c.Dryers {
		plan := map[bool]string{false: "first", true: "second"}[u.Second]
		t.Head = append(t.Head, fmt.Sprintf("%s plan: %s, dryer %d", plan, u.Site, u.Dryer))
	}
	for k, state := range sim.DryerStates() {
		row := []string{words.FigureRow(state.Figure())}
		sum := 0.0
		for _, u := range c.Dryers {
			h := u.Hours[k].Hours
			sum += h.Mean
			row = append(row, fmt.Sprintf("%s (%s to %s)", words.Whole(h.Mean), words.Whole(h.Low), words.Whole(h.High)))
		}
		if sum > 0 {
			t.Rows = append(t.Rows, row)
		}
	}
	return t
}

// Purchase says what a purchase costs, gains and when it pays.
func Purchase(p money.Purchase, currency string) Table {
	t := Table{Title: fmt.Sprintf("The purchase over %d years (%s futures, 95 %% intervals)", p.Years, words.Grouped(p.Futures)), Head: []string{"", "value"}, Left: 1}
	t.Rows = [][]string{
		{"cost", words.Amount(p.Cost, currency)},
		{"of that grant", words.Amount(p.Cost-p.Own, currency)},
		{"gain of a year", words.Amounts(p.YearGain, currency)},
		{"net present value", words.Amounts(p.NPV, currency)},
		{"5 to 95 % of futures", words.BareAmount(p.NPVBand.P5) + " to " + words.BareAmount(p.NPVBand.P95)},
		{"futures in which it is above nothing", words.Odds(p.Positive)},
		{"futures in which it never pays", words.Odds(p.Never)},
	}
	if p.PaysIn.Seasons > 0 {
		t.Rows = append(t.Rows, []string{"paid back after, median of the futures that pay", words.Months(p.PaysIn.Median)},
			[]string{"5 to 95 % of those", words.Months(p.PaysIn.P5) + " to " + words.Months(p.PaysIn.P95)})
	}
	return Table{t.Title, t.Head, append(t.Rows,
		[]string{"futures in which it is paid back before the loan ends", words.Odds(p.BeforeEnd)},
		[]string{"break-even price of a good stalk", words.Prices(p.Price, currency)},
		[]string{"break-even cost of the purchase", words.Amounts(p.AtMost, currency)}), 1}
}

// WhatIf lists what a purchase is worth if prices and the like were others.
func WhatIf(p money.Purchase, currency string) Table {
	t := Table{Title: "What if", Head: []string{"", "net present value, " + currency, "never pays in", "paid back after (median)"}, Left: 1}
	row := func(name string, npv trials.Mean, never trials.Odds, in trials.Band) {
		back := "-"
		if in.Seasons > 0 {
			back = words.Months(in.Median)
		}
		t.Rows = append(t.Rows, []string{name, words.Amounts(npv, ""), words.Odds(never), back})
	}
	row("as stated", p.NPV, p.Never, p.PaysIn)
	for _, w := range p.WhatIfs {
		row(words.WhatIf(w.Change), w.NPV, w.Never, w.PaysIn)
	}
	return t
}

// Items lists what is bought.
func Items(p money.Purchase, currency string) Table {
	t := Table{Title: "What is bought", Head: []string{"", "cost, " + currency, "lasts, years"}, Left: 1}
	for _, i := range p.Items {
		t.Rows = append(t.Rows, []string{words.Item(i), words.BareAmount(i.Cost), fmt.Sprint(i.Years)})
	}
	return t
}

// Cash lists the cash of each site at the end of each month.
func Cash(c words.Compared) Table {
	t := Table{Title: fmt.Sprintf("Cash at the end of each month, %s (median and 5 %% of %s seasons; instalments are taken off, the own part of a purchase is not)", c.Currency, words.Grouped(c.Result.Seasons)), Head: []string{"month"}, Left: 1}
	for k, a := range c.Result.Accounts {
		plan := map[bool]string{false: "first", true: "second"}[a.Second]
		t.Head = append(t.Head, fmt.Sprintf("%s plan: %s, median", plan, a.Site), "one of twenty below")
		for i, m := range a.Months {
			if k == 0 {
				t.Rows = append(t.Rows, []string{m.Month})
			}
			t.Rows[i] = append(t.Rows[i], words.BareAmount(m.Cash.Median), words.BareAmount(m.Cash.P5))
		}
	}
	return t
}

// Accounts lists how low the cash of each site falls through the year.
func Accounts(c words.Compared) Table {
	t := Table{
		Title: fmt.Sprintf("Cash of each site through the year, instalments of its dryers included (%s seasons)", words.Grouped(c.Result.Seasons)),
		Head:  []string{"site", "plan", "lowest, median, " + c.Currency, "5 to 95 % of seasons", "most often in", "instalments not covered a year"}, Left: 2,
	}
	for _, a := range c.Result.Accounts {
		plan := map[bool]string{false: "first", true: "second"}[a.Second]
		t.Rows = append(t.Rows, []string{
			a.Site, plan, words.BareAmount(a.Lowest.Median), words.BareAmount(a.Lowest.P5) + " to " + words.BareAmount(a.Lowest.P95), a.At,
			fmt.Sprintf("%.2f (%.2f to %.2f)", a.Uncovered.Mean, math.Max(0, a.Uncovered.Low), a.Uncovered.High),
		})
	}
	return t
}

// SideBySide returns, by contract month, what is asked, the odds of both plans and the good
// stalks more, as text.
func SideBySide(c decide.Comparison) [][5]string {
	var out [][5]string
	for _, m := range c.Months {
		asked := 0
		for _, b := range c.B.Months {
			if b.Name == m.Name {
				asked = b.Asked
			}
		}
		out = append(out, [5]string{m.Name, words.Grouped(asked), words.Odds(m.OddsA), words.Odds(m.OddsB), words.More(m.Stalks)})
	}
	return out
}
