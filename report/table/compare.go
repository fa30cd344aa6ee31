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
		t.Rows = append(t.Rows, texts(d.Key, words.OrNone(d.A), words.OrNone(d.B)))
	}
	for _, d := range c.Outside {
		t.Rows = append(t.Rows, texts(d.Key+" (outside the plan)", words.OrNone(d.A), words.OrNone(d.B)))
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
		t.Rows = append(t.Rows, []Cell{text(words.CompareLine(d.Of)), text(d.Unit), mean(d.A, ""), mean(d.B, ""), more(d.More, "")})
	}
	return t
}

// MonthDifferences compares how often each contract month is met.
func MonthDifferences(c decide.Comparison) Table {
	t := Table{
		Title: fmt.Sprintf("Months of the contract (%s seasons)", words.Grouped(c.Seasons)),
		Head:  []string{"month", "first met in", "second met in", "gain, points", "good stalks more"}, Left: 1,
		Apart: []string{"month", "first met in", "second met in", "gain of the share", "good stalks more"},
	}
	for _, m := range c.Months {
		t.Rows = append(t.Rows, []Cell{text(m.Name), odds(m.OddsA), odds(m.OddsB), points(m.Gain), more(m.Stalks, stalks)})
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
		row := []Cell{text(words.FigureRow(state.Figure()))}
		sum := 0.0
		for _, u := range c.Dryers {
			h := u.Hours[k].Hours
			sum += h.Mean
			row = append(row, wholly(h, "h"))
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
	amounts := func(m trials.Mean) Cell { return ranged(words.Amounts(m, currency), Money, currency, m) }
	said := func(a money.Amount) Cell { return one(words.Amount(a, currency), Money, currency, a.Units()) }
	t.Rows = [][]Cell{
		{text("cost"), said(p.Cost)},
		{text("of that grant"), said(p.Grant)},
		{text("own part, paid in cash before the first season"), said(p.Own)},
		{text("borrowed"), said(p.Loan)},
		{text("gain of a year"), amounts(p.YearGain)},
		{text("net present value"), amounts(p.NPV)},
		{text("5 to 95 % of futures"), amountSpan(p.NPVBand.P5, p.NPVBand.P95, currency)},
		{text("futures in which it is above nothing"), odds(p.Positive)},
		{text("futures in which it never pays"), odds(p.Never)},
	}
	if p.NotCovered != nil {
		t.Rows = append(t.Rows, []Cell{text(notCovered), odds(*p.NotCovered)}, []Cell{text("that is looked at over the"), text(words.LifeOfLoan(p))})
	}
	if p.PaysIn.Seasons > 0 {
		t.Rows = append(t.Rows, []Cell{text("paid back after, median of the futures that pay"), months(p.PaysIn.Median)},
			[]Cell{text("5 to 95 % of those"), between(words.Months(p.PaysIn.P5)+" to "+words.Months(p.PaysIn.P95), Real, "months", [2]float64{p.PaysIn.P5, p.PaysIn.P95})})
	}
	t.Rows = append(t.Rows,
		[]Cell{text("futures in which it is paid back before the loan ends"), odds(p.BeforeEnd)},
		[]Cell{text("break-even price of a good stalk"), ranged(words.Prices(p.Price, currency), Price, currency, p.Price)},
		[]Cell{text("break-even cost of the purchase"), amounts(p.AtMost)})
	return t
}

// notCovered heads the odds that some instalment finds too little cash.
const notCovered = "futures in which an instalment is not covered"

// WhatIf lists what a purchase is worth if prices and the like were others.
func WhatIf(p money.Purchase, currency string) Table {
	t := Table{Title: "What if", Head: []string{"", "net present value, " + currency, "never pays in", "paid back after (median)"}, Left: 1}
	row := func(name string, w money.WhatIf) {
		back := text("-")
		if w.PaysIn.Seasons > 0 {
			back = months(w.PaysIn.Median)
		}
		cells := []Cell{text(name), ranged(words.Amounts(w.NPV, ""), Money, currency, w.NPV), odds(w.Never), back}
		if w.NotCovered != nil {
			cells = append(cells, odds(*w.NotCovered))
		}
		t.Rows = append(t.Rows, cells)
	}
	if p.NotCovered != nil {
		t.Head = append(t.Head, "an instalment is not covered in")
	}
	row("as stated", money.WhatIf{NPV: p.NPV, Never: p.Never, PaysIn: p.PaysIn, NotCovered: p.NotCovered})
	for _, w := range p.WhatIfs {
		row(words.WhatIf(w.Change), w)
	}
	return t
}

// Items lists what is bought.
func Items(p money.Purchase, currency string) Table {
	t := Table{Title: "What is bought", Head: []string{"", "cost, " + currency, "lasts, years"}, Left: 1}
	for _, i := range p.Items {
		t.Rows = append(t.Rows, []Cell{text(words.Item(i)), amount(i.Cost, currency), plain(i.Years, "years")})
	}
	return t
}

// Cash lists the cash of each site at the end of each month.
func Cash(c words.Compared) Table {
	t := Table{Title: fmt.Sprintf("Cash at the end of each month, %s (median and 5 %% of %s seasons; the first year; own part and instalments of what is bought are taken off)", c.Currency, words.Grouped(c.Result.Seasons)), Head: []string{"month"}, Apart: []string{"month"}, Left: 1}
	for k, a := range c.Result.Accounts {
		plan := map[bool]string{false: "first", true: "second"}[a.Second]
		t.Head = append(t.Head, fmt.Sprintf("%s plan: %s, median", plan, a.Site), "one of twenty below")
		t.Apart = append(t.Apart, fmt.Sprintf("%s plan: %s, median", plan, a.Site), fmt.Sprintf("%s plan: %s, one of twenty below", plan, a.Site))
		for i, m := range a.Months {
			if k == 0 {
				t.Rows = append(t.Rows, []Cell{text(m.Month)})
			}
			t.Rows[i] = append(t.Rows[i], meanAmount(m.Cash.Median, c.Currency), meanAmount(m.Cash.P5, c.Currency))
		}
	}
	return t
}

// Accounts lists how low the cash of each site falls through the year.
func Accounts(c words.Compared) Table {
	t := Table{
		Title: fmt.Sprintf("Cash of each site through the first year, own part and instalments of what is bought taken off (%s seasons)", words.Grouped(c.Result.Seasons)),
		Head:  []string{"site", "plan", "lowest, median, " + c.Currency, "5 to 95 % of seasons", "most often in", "instalments not covered in the year"}, Left: 2,
	}
	for _, a := range c.Result.Accounts {
		plan := map[bool]string{false: "first", true: "second"}[a.Second]
		t.Rows = append(t.Rows, []Cell{
			text(a.Site), text(plan), meanAmount(a.Lowest.Median, c.Currency), amountSpan(a.Lowest.P5, a.Lowest.P95, c.Currency), text(a.At),
			ranged(fmt.Sprintf("%.2f (%.2f to %.2f)", a.Uncovered.Mean, math.Max(0, a.Uncovered.Low), a.Uncovered.High), Real, "", a.Uncovered),
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
