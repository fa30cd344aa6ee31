package table

import (
	"drystalk/report/words"
	"drystalk/sim"
	"drystalk/sim/decide"
	"drystalk/sim/money"
	"drystalk/tongue"
)

// headings returns what the columns of both plans are headed.
func headings(c words.Compared) [2]string { return [2]string{words.Today(), c.With()} }

// heading returns what one of both plans is called.
func heading(c words.Compared, second bool) string {
	if second {
		return c.With()
	}
	return words.Today()
}

// Changes lists the keys in which the plans differ, also those outside the plan.
func Changes(c words.Compared) Table {
	h := headings(c)
	t := Table{Title: tongue.Say("What is changed"), Head: []string{tongue.Say("key"), h[0], h[1]}, Left: 3}
	for _, d := range c.Changes {
		t.Rows = append(t.Rows, texts(d.Key, words.OrNone(d.A), words.OrNone(d.B)))
	}
	for _, d := range c.Outside {
		t.Rows = append(t.Rows, texts(tongue.Sayf("%s (outside the plan)", d.Key), words.OrNone(d.A), words.OrNone(d.B)))
	}
	return t
}

// Differences lists figures of both plans and what the second has more; what is nothing in both is
// no line. Pay to members is marked as such.
func Differences(c words.Compared, title string, list []decide.Difference) Table {
	h := headings(c)
	t := Table{Title: tongue.Sayf("%s (mean of %s seasons; difference in the same seasons with 95 %% interval)", title, words.Grouped(c.Result.Seasons)), Head: []string{"", tongue.Say("unit"), h[0], h[1], tongue.Say("difference")}, Left: 2}
	for _, d := range list {
		if d.A.Mean == 0 && d.B.Mean == 0 {
			continue
		}
		t.Rows = append(t.Rows, []Cell{text(words.PaidToMembers(d.Of, c.Result.Cutters)), text(d.Unit), mean(d.A, ""), mean(d.B, ""), more(d.More, "")})
	}
	return t
}

// MonthDifferences compares how often each contract month is met.
func MonthDifferences(c words.Compared) Table {
	h := headings(c)
	t := Table{
		Title: tongue.Sayf("Months of the contract (%s seasons)", words.Grouped(c.Result.Seasons)),
		Head:  []string{tongue.Say("month"), tongue.Sayf("met in, %s", h[0]), tongue.Sayf("met in, %s", h[1]), tongue.Say("gain, points"), tongue.Say("good stalks more")}, Left: 1,
		Apart: []string{tongue.Say("month"), tongue.Sayf("met in, %s", h[0]), tongue.Sayf("met in, %s", h[1]), tongue.Say("gain of the share"), tongue.Say("good stalks more")},
	}
	for _, m := range c.Result.Months {
		t.Rows = append(t.Rows, []Cell{text(tongue.Month(m.Name)), odds(m.OddsA), odds(m.OddsB), points(m.Gain), more(m.Stalks, stalks)})
	}
	return t
}

// DryerHours lists what each dryer of each plan does with its shift hours.
func DryerHours(c words.Compared) Table {
	t := Table{Sheet: tongue.Say("Hours of each dryer"), Title: tongue.Sayf("Hours of each dryer in its shifts (mean of %s seasons, 95 %% interval)", words.Grouped(c.Result.Seasons)), Head: []string{tongue.Say("hours")}, Left: 1}
	for _, u := range c.Result.Dryers {
		t.Head = append(t.Head, tongue.Sayf("%s: %s, dryer %d", heading(c, u.Second), u.Site, u.Dryer))
	}
	for k, state := range sim.DryerStates() {
		row := []Cell{text(words.FigureRow(state.Figure()))}
		sum := 0.0
		for _, u := range c.Result.Dryers {
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

// Items lists what is bought.
func Items(p money.Purchase, currency string) Table {
	t := Table{Title: tongue.Say("What is bought"), Head: []string{"", tongue.Sayf("cost, %s", currency), tongue.Say("lasts, years")}, Left: 1}
	for _, i := range p.Items {
		t.Rows = append(t.Rows, []Cell{text(words.Item(i)), amount(i.Cost, currency), plain(i.Years, tongue.Say("years"))})
	}
	return t
}

// Cash lists the cash of each site at the end of each month.
func Cash(c words.Compared) Table {
	t := Table{Title: tongue.Sayf("Cash at the end of each month, %s (median and 5 %% of %s seasons; the first year; own part and instalments of what is bought are taken off)", c.Currency, words.Grouped(c.Result.Seasons)), Head: []string{tongue.Say("month")}, Apart: []string{tongue.Say("month")}, Left: 1}
	for k, a := range c.Result.Accounts {
		plan := heading(c, a.Second)
		t.Head = append(t.Head, tongue.Sayf("%s: %s, median", plan, a.Site), tongue.Say("one of twenty below"))
		t.Apart = append(t.Apart, tongue.Sayf("%s: %s, median", plan, a.Site), tongue.Sayf("%s: %s, one of twenty below", plan, a.Site))
		for i, m := range a.Months {
			if k == 0 {
				t.Rows = append(t.Rows, []Cell{text(tongue.Month(m.Month))})
			}
			t.Rows[i] = append(t.Rows[i], meanAmount(m.Cash.Median, c.Currency), meanAmount(m.Cash.P5, c.Currency))
		}
	}
	return t
}

// Accounts lists how low the cash of each site falls through the year.
func Accounts(c words.Compared) Table {
	t := Table{
		Sheet: tongue.Say("Cash of each site, first year"), Title: tongue.Sayf("Cash of each site through the first year, own part and instalments of what is bought taken off (%s seasons)", words.Grouped(c.Result.Seasons)),
		Head: []string{tongue.Say("site"), tongue.Say("plan"), tongue.Sayf("lowest, median, %s", c.Currency), tongue.Say("5 to 95 % of seasons"), tongue.Say("most often in"), tongue.Say("instalments not covered in the year")}, Left: 2,
	}
	for _, a := range c.Result.Accounts {
		t.Rows = append(t.Rows, []Cell{
			text(a.Site), text(heading(c, a.Second)), meanAmount(a.Lowest.Median, c.Currency), amountSpan(a.Lowest.P5, a.Lowest.P95, c.Currency), text(a.At),
			ranged(tongue.Sayf("%.2f (%.2f to %.2f)", a.Uncovered.Mean, a.Uncovered.Low, a.Uncovered.High), Real, "", a.Uncovered),
		})
	}
	return t
}

// SideBySide returns, by contract month, what the first plan is asked and its odds, what the second
// is asked and its odds, and the good stalks more, as text: each plan against its own contract. A
// month that only one contract asks for says so of the other.
func SideBySide(c decide.Comparison) [][6]string {
	not := tongue.Say("not asked")
	var out [][6]string
	at := map[string]int{}
	for _, m := range c.A.Months {
		at[m.Name] = len(out)
		out = append(out, [6]string{tongue.Month(m.Name), words.Grouped(m.Asked), words.Odds(m.Odds), not, not, ""})
	}
	for _, m := range c.B.Months {
		k, both := at[m.Name]
		if !both {
			k = len(out)
			out = append(out, [6]string{tongue.Month(m.Name), not, not, "", "", ""})
		}
		out[k][3], out[k][4] = words.Grouped(m.Asked), words.Odds(m.Odds)
	}
	for _, m := range c.Months {
		out[at[m.Name]][5] = words.More(m.Stalks)
	}
	return out
}
