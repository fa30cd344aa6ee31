package report

import (
	"fmt"
	"math"
	"strings"

	"drystalk/sim/decide"
	"drystalk/sim/money"
	"drystalk/sim/trials"
)

// Compared is what is said of two plans in the same seasons.
type Compared struct {
	Region   string
	Changes  []Change // of the plan
	Outside  []Change // that lie outside the plan
	Result   decide.Comparison
	LoanEnds int // months
	Currency string
}

// Change is a key in which the plans differ.
type Change struct{ Key, A, B string }

// signed writes a number of stalks or the like with its sign.
func signed(x float64) string {
	n := round(x)
	if n > 0 {
		return "+" + grouped(n)
	}
	return grouped(n)
}

func more(m trials.Mean) string {
	return fmt.Sprintf("%s (%s to %s)", signed(m.Mean), signed(m.Low), signed(m.High))
}

func points(m trials.Mean) string {
	return fmt.Sprintf("%+d (%+d to %+d)", round(100*m.Mean), round(100*m.Low), round(100*m.High))
}

// ForCompare lays out the comparison of two plans.
func ForCompare(c Compared) (Report, error) {
	r := Report{Title: "Two plans in the same seasons: " + c.Region, Sentence: compareSentence(c)}
	if p := c.Result.Purchase; p != nil {
		r.Paragraph = append(r.Paragraph, purchaseWords(*p, c)...)
	}
	r.Paragraph = append(r.Paragraph, monthWords(c.Result)...)
	r.Paragraph = append(r.Paragraph, dryerWords(c.Result)...)
	if d := c.Result.PerPerson; d != nil {
		r.Paragraph = append(r.Paragraph, fmt.Sprintf("The income of a person, pay and share of what is left before the loan, goes from %s to %s a year.", amounts(d.A, c.Currency), amounts(d.B, c.Currency)))
	}
	r.Paragraph = append(r.Paragraph, cashWords(c)...)
	for _, o := range c.Outside {
		r.Warnings = append(r.Warnings, fmt.Sprintf("%s is %s in the first and %s in the second: that lies outside the plan, and what it does is in the differences.", o.Key, orNone(o.A), orNone(o.B)))
	}
	if len(c.Result.Unpriced) > 0 {
		r.Paragraph = append(r.Paragraph, "No price is stated for "+and(c.Result.Unpriced)+": it is in no figure of money.")
	}
	if x := c.Result.Correlation; x != nil && *x <= 0 {
		r.Warnings = append(r.Warnings, fmt.Sprintf("The good stalks of the plans do not rise and fall together (correlation %.2f): the same seasons do not sharpen the comparison.", *x))
	}
	tables := []Table{changesTable(c), differencesTable("In an average season", c.Result.Totals, c.Result.Seasons)}
	r.Sections = append(r.Sections, Section{Title: "What differs", Tables: tables})
	if p := c.Result.Purchase; p != nil {
		chart, err := PaybackChart(*p, c.LoanEnds, c.Currency)
		if err != nil {
			return Report{}, err
		}
		r.Sections = append(r.Sections, Section{Title: "Does it pay?", Charts: []Chart{chart}, Tables: []Table{purchaseTable(*p, c.Currency), whatIfTable(*p, c.Currency), itemsTable(*p, c.Currency)}})
	}
	r.Sections = append(r.Sections, Section{Title: "Month by month", Tables: []Table{monthDifferences(c.Result)}})
	if len(c.Result.Dryers) > 0 {
		r.Sections = append(r.Sections, Section{Title: "What each dryer does", Tables: []Table{dryerTable(c.Result)}})
	}
	if len(c.Result.Money) > 0 {
		r.Sections = append(r.Sections, Section{Title: "Money", Tables: []Table{differencesTable("Money a year, "+c.Currency, c.Result.Money, c.Result.Seasons), accountsTable(c), cashTable(c)}})
	}
	return r, nil
}

func orNone(s string) string {
	if s == "" {
		return "not stated"
	}
	return s
}

// compareSentence is the answer in one sentence; what loses money says so first.
func compareSentence(c Compared) string {
	var b strings.Builder
	d := c.Result.Totals[0]
	p := c.Result.Purchase
	switch {
	case p != nil && p.Loses():
		fmt.Fprintf(&b, "It does not pay: over %d years it loses %s on average (net present value, %s futures); ", p.Years,
			amounts(trials.Mean{Mean: -p.NPV.Mean, Low: -p.NPV.High, High: -p.NPV.Low}, c.Currency), grouped(p.Futures))
	case p != nil && p.Pays():
		fmt.Fprintf(&b, "It pays: over %d years it gains %s on average (net present value, %s futures); ", p.Years, amounts(p.NPV, c.Currency), grouped(p.Futures))
	case p != nil:
		fmt.Fprintf(&b, "Whether it pays cannot be told: over %d years it gains %s on average (net present value, %s futures); ", p.Years, amounts(p.NPV, c.Currency), grouped(p.Futures))
	}
	worst := c.Result.A.WorstMonth()
	then := oddsOf(c.Result.B, worst.Name)
	fmt.Fprintf(&b, "%s good stalks a season in the same weather, and the month that is worst now, %s, is met in %s of %s seasons against %s.",
		more(d.More), worst.Name, odds(then), grouped(c.Result.Seasons), odds(worst.Odds))
	if low := c.Result.B.WorstMonth(); low.Odds.Met < then.Met {
		fmt.Fprintf(&b, " The worst month would be %s, met in %s.", low.Name, odds(low.Odds))
	}
	return b.String()
}

func oddsOf(p decide.PlanResult, month string) trials.Odds {
	for _, m := range p.Months {
		if m.Name == month {
			return m.Odds
		}
	}
	return p.WorstMonth().Odds
}

// purchaseWords says when the purchase is paid back, and why not.
func purchaseWords(p money.Purchase, c Compared) []string {
	cur := c.Currency
	out := []string{fmt.Sprintf("What is bought costs %s, of which %s is grant.", amount(p.Cost, cur), amount(p.Cost-p.Own, cur))}
	if l := c.Result.Loan; l != nil {
		out = append(out, fmt.Sprintf("A loan of %s is paid back by %d monthly instalments of %s, with %s of interest in all.", amount(l.Principal, cur), l.Months, amount(l.Instalment, cur), amount(l.Interest, cur)))
	}
	if p.PaysIn.Seasons > 0 {
		out = append(out, fmt.Sprintf("It is paid back in %s of %s futures, half of those within %s (5 to 95 %%: %s to %s).",
			odds(trials.NewOdds(p.Futures-p.Never.Met, p.Futures)), grouped(p.Futures), months(p.PaysIn.Median), months(p.PaysIn.P5), months(p.PaysIn.P95)))
	}
	out = append(out, fmt.Sprintf("It never pays within %d years in %s.", p.Years, odds(p.Never)))
	if c.LoanEnds > 0 {
		out = append(out, fmt.Sprintf("It is paid back before the loan ends, in %s, in %s of futures.", months(float64(c.LoanEnds)), odds(p.BeforeEnd)))
	}
	if !p.Pays() {
		out = append(out, notPaid(p, c)...)
	}
	if p.Price.Mean <= 0 {
		return append(out, fmt.Sprintf("At any price of stalks it would pay, because what it saves is worth more than it costs; it breaks even at a purchase of %s.", amounts(p.AtMost, cur)))
	}
	return append(out, fmt.Sprintf("It breaks even at a price of %s a good stalk, or at a purchase of %s.", prices(p.Price, cur), amounts(p.AtMost, cur)))
}

// notPaid says why a purchase does not pay, from what the dryers do with their hours.
func notPaid(p money.Purchase, c Compared) []string {
	var reasons []string
	d := c.Result.Totals[0]
	if d.More.High < 1 {
		reasons = append(reasons, "it brings no more good stalks that the contract takes")
	} else if worst := c.Result.A.WorstMonth(); worst.Odds.Share > 0.9 {
		reasons = append(reasons, fmt.Sprintf("the contract is met in %s of seasons without it already, so there is little more to sell", percent(worst.Odds.Share)))
	}
	most, why := 0.0, ""
	for _, u := range c.Result.Dryers {
		if !u.Second {
			continue
		}
		for _, h := range u.Hours {
			if stands[h.On] && h.Hours.Mean > most {
				most, why = h.Hours.Mean, h.On
			}
		}
	}
	if why != "" {
		reasons = append(reasons, fmt.Sprintf("a dryer of the second plan stands up to %s h a season for this: %s", grouped(round(most)), why))
	}
	if len(reasons) == 0 {
		reasons = append(reasons, "what it brings is worth less than what it costs")
	}
	return []string{"Why: " + and(reasons) + ".", "What the money would do instead: drystalk spend --budget " + fmt.Sprint(round(p.Cost)) + "."}
}

// stands are the states in which a dryer that works has no charge.
var stands = map[string]bool{
	"no stalks to load": true, "no need: the sun may do it": true, "too late in the shift for a charge": true, "nobody to tend the fire": true, "no wood": true, "broken or out": true,
}

func months(x float64) string {
	switch n := round(x); {
	case n == 1:
		return "1 month"
	case n < 24:
		return fmt.Sprintf("%d months", n)
	}
	return fmt.Sprintf("%.1f years", x/12)
}

// monthWords names the months that change.
func monthWords(c decide.Comparison) []string {
	var parts []string
	for _, m := range c.Months {
		if m.Gain.Low > 0 || m.Gain.High < 0 {
			parts = append(parts, fmt.Sprintf("%s %s points", m.Name, points(m.Gain)))
		}
	}
	if len(parts) == 0 {
		return []string{"No month is met more or less often by more than chance."}
	}
	return []string{"Met more often, in the same seasons: " + and(parts) + "."}
}

// dryerWords says what the dryers do with their hours.
func dryerWords(c decide.Comparison) []string {
	var out []string
	for _, second := range []bool{false, true} {
		var fire, all, idle float64
		n := 0
		for _, u := range c.Dryers {
			if u.Second != second {
				continue
			}
			n++
			for _, h := range u.Hours {
				all += h.Hours.Mean
				if h.On == "firing" {
					fire += h.Hours.Mean
				}
				if h.On == "no stalks to load" || strings.HasPrefix(h.On, "no need") {
					idle += h.Hours.Mean
				}
			}
		}
		if n > 0 && all > 0 {
			plan := map[bool]string{false: "first", true: "second"}[second]
			out = append(out, fmt.Sprintf("In the %s plan the dryers (%d) fire in %s of their shift hours and stand in %s for want of stalks or of need.", plan, n, percent(fire/all), percent(idle/all)))
		}
	}
	return out
}

// cashWords names the sites whose cash falls low.
func cashWords(c Compared) []string {
	var out []string
	for _, a := range c.Result.Accounts {
		if a.Second && (a.Lowest.Median < 0 || a.Uncovered.Mean > 0) {
			s := fmt.Sprintf("The cash of %s is lowest in %s, at %s in a middling season and %s in one of twenty", a.Site, a.At, amount(a.Lowest.Median, c.Currency), amount(a.Lowest.P5, c.Currency))
			if a.Uncovered.Mean > 0.05 {
				s += fmt.Sprintf("; %.1f instalments a year find too little cash (%.1f to %.1f)", a.Uncovered.Mean, a.Uncovered.Low, a.Uncovered.High)
			}
			out = append(out, s+".")
		}
	}
	return out
}

func changesTable(c Compared) Table {
	t := Table{Title: "The plans", Head: []string{"key", "first", "second"}, Left: 3}
	for _, d := range c.Changes {
		t.Rows = append(t.Rows, []string{d.Key, orNone(d.A), orNone(d.B)})
	}
	for _, d := range c.Outside {
		t.Rows = append(t.Rows, []string{d.Key + " (outside the plan)", orNone(d.A), orNone(d.B)})
	}
	return t
}

func differencesTable(title string, list []decide.Difference, seasons int) Table {
	t := Table{Title: fmt.Sprintf("%s (mean of %s seasons; difference in the same seasons with 95 %% interval)", title, grouped(seasons)), Head: []string{"", "unit", "first", "second", "second less first"}, Left: 2}
	for _, d := range list {
		if d.A.Mean == 0 && d.B.Mean == 0 {
			continue
		}
		t.Rows = append(t.Rows, []string{d.Of, d.Unit, grouped(round(d.A.Mean)), grouped(round(d.B.Mean)), more(d.More)})
	}
	return t
}

func monthDifferences(c decide.Comparison) Table {
	t := Table{
		Title: fmt.Sprintf("Months of the contract (%s seasons)", grouped(c.Seasons)),
		Head:  []string{"month", "first met in", "second met in", "gain, points", "good stalks more"}, Left: 1,
	}
	for _, m := range c.Months {
		t.Rows = append(t.Rows, []string{m.Name, odds(m.OddsA), odds(m.OddsB), points(m.Gain), more(m.Stalks)})
	}
	return t
}

func dryerTable(c decide.Comparison) Table {
	t := Table{Title: fmt.Sprintf("Hours of each dryer in its shifts (mean of %s seasons, 95 %% interval)", grouped(c.Seasons)), Head: []string{"hours"}, Left: 1}
	for _, u := range c.Dryers {
		plan := map[bool]string{false: "first", true: "second"}[u.Second]
		t.Head = append(t.Head, fmt.Sprintf("%s plan: %s, dryer %d", plan, u.Site, u.Dryer))
	}
	for k, name := range trials.DryerStates {
		row := []string{name}
		sum := 0.0
		for _, u := range c.Dryers {
			h := u.Hours[k].Hours
			sum += h.Mean
			row = append(row, fmt.Sprintf("%s (%s to %s)", grouped(round(h.Mean)), grouped(round(h.Low)), grouped(round(h.High))))
		}
		if sum > 0 {
			t.Rows = append(t.Rows, row)
		}
	}
	return t
}

func purchaseTable(p money.Purchase, currency string) Table {
	t := Table{Title: fmt.Sprintf("The purchase over %d years (%s futures, 95 %% intervals)", p.Years, grouped(p.Futures)), Head: []string{"", "value"}, Left: 1}
	t.Rows = [][]string{
		{"cost", amount(p.Cost, currency)},
		{"of that grant", amount(p.Cost-p.Own, currency)},
		{"gain of a year", amounts(p.YearGain, currency)},
		{"net present value", amounts(p.NPV, currency)},
		{"5 to 95 % of futures", bareAmount(p.NPVBand.P5) + " to " + bareAmount(p.NPVBand.P95)},
		{"futures in which it is above nothing", odds(p.Positive)},
		{"futures in which it never pays", odds(p.Never)},
	}
	if p.PaysIn.Seasons > 0 {
		t.Rows = append(t.Rows, []string{"paid back after, median of the futures that pay", months(p.PaysIn.Median)},
			[]string{"5 to 95 % of those", months(p.PaysIn.P5) + " to " + months(p.PaysIn.P95)})
	}
	return Table{t.Title, t.Head, append(t.Rows,
		[]string{"futures in which it is paid back before the loan ends", odds(p.BeforeEnd)},
		[]string{"break-even price of a good stalk", prices(p.Price, currency)},
		[]string{"break-even cost of the purchase", amounts(p.AtMost, currency)}), 1}
}

func whatIfTable(p money.Purchase, currency string) Table {
	t := Table{Title: "What if", Head: []string{"", "net present value, " + currency, "never pays in", "paid back after (median)"}, Left: 1}
	row := func(name string, npv trials.Mean, never trials.Odds, in trials.Band) {
		back := "-"
		if in.Seasons > 0 {
			back = months(in.Median)
		}
		t.Rows = append(t.Rows, []string{name, amounts(npv, ""), odds(never), back})
	}
	row("as stated", p.NPV, p.Never, p.PaysIn)
	for _, w := range p.WhatIfs {
		row(w.Change, w.NPV, w.Never, w.PaysIn)
	}
	return t
}

func itemsTable(p money.Purchase, currency string) Table {
	t := Table{Title: "What is bought", Head: []string{"", "cost, " + currency, "lasts, years"}, Left: 1}
	for _, i := range p.Items {
		t.Rows = append(t.Rows, []string{i.Name, bareAmount(i.Cost), fmt.Sprint(i.Years)})
	}
	return t
}

// cashTable lists the cash of each site at the end of each month.
func cashTable(c Compared) Table {
	t := Table{Title: fmt.Sprintf("Cash at the end of each month, %s (median and 5 %% of %s seasons; instalments are taken off, the own part of a purchase is not)", c.Currency, grouped(c.Result.Seasons)), Head: []string{"month"}, Left: 1}
	for k, a := range c.Result.Accounts {
		plan := map[bool]string{false: "first", true: "second"}[a.Second]
		t.Head = append(t.Head, fmt.Sprintf("%s plan: %s, median", plan, a.Site), "one of twenty below")
		for i, m := range a.Months {
			if k == 0 {
				t.Rows = append(t.Rows, []string{m.Month})
			}
			t.Rows[i] = append(t.Rows[i], bareAmount(m.Cash.Median), bareAmount(m.Cash.P5))
		}
	}
	return t
}

func accountsTable(c Compared) Table {
	t := Table{
		Title: fmt.Sprintf("Cash of each site through the year, instalments of its dryers included (%s seasons)", grouped(c.Result.Seasons)),
		Head:  []string{"site", "plan", "lowest, median, " + c.Currency, "5 to 95 % of seasons", "most often in", "instalments not covered a year"}, Left: 2,
	}
	for _, a := range c.Result.Accounts {
		plan := map[bool]string{false: "first", true: "second"}[a.Second]
		t.Rows = append(t.Rows, []string{
			a.Site, plan, bareAmount(a.Lowest.Median), bareAmount(a.Lowest.P5) + " to " + bareAmount(a.Lowest.P95), a.At,
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
		out = append(out, [5]string{m.Name, grouped(asked), odds(m.OddsA), odds(m.OddsB), more(m.Stalks)})
	}
	return out
}
