package table

import (
	"drystalk/report/words"
	"drystalk/sim/money"
	"drystalk/sim/trials"
	"drystalk/tongue"
)

// Purchase says whether a purchase pays, what it costs, gains and risks, and when it comes back.
func Purchase(p money.Purchase, currency string) Table {
	t := Table{Title: tongue.Sayf("The purchase over %s (%s futures: years on end that share what nobody has measured; 95 %% intervals)", words.Years(p.Years), words.Grouped(p.Futures)), Head: []string{"", tongue.Say("value")}, Left: 1}
	amounts := func(m trials.Mean) Cell { return ranged(words.Amounts(m, currency), Money, currency, m) }
	said := func(a money.Amount) Cell { return one(words.Amount(a, currency), Money, currency, a.Units()) }
	t.Rows = [][]Cell{
		{text(tongue.Say("verdict")), text(words.Verdict(p.Verdict))},
		{text(tongue.Say("nearly all futures are")), text(words.Limits())},
		{text(tongue.Say("futures that end above nothing")), odds(p.Positive)},
	}
	if p.NotCovered != nil {
		t.Rows = append(t.Rows, []Cell{text(notCovered.String()), odds(*p.NotCovered)}, []Cell{text(tongue.Say("that is looked at over the")), text(words.LifeOfLoan(p))})
	}
	if p.Missed != nil {
		t.Rows = append(t.Rows, []Cell{text(tongue.Say("instalments not covered in a future")), ranged(tongue.Sayf("%.2f (%.2f to %.2f)", p.Missed.Mean, p.Missed.Low, p.Missed.High), Real, "", *p.Missed)})
	}
	t.Rows = append(
		t.Rows,
		[]Cell{text(tongue.Say("net present value, 5 to 95 % of futures")), amountSpan(p.NPVBand.P5, p.NPVBand.P95, currency)},
		[]Cell{text(tongue.Say("net present value, after own part and loan")), amounts(p.NPV)},
		[]Cell{text(tongue.Say("the same, spread evenly over the years")), amounts(p.LevelGain)},
		[]Cell{text(tongue.Say("gain of a year, before own part and loan")), amounts(p.YearGain)},
		[]Cell{text(tongue.Say("cost")), said(p.Cost)},
		[]Cell{text(tongue.Say("of that grant")), said(p.Grant)},
		[]Cell{text(tongue.Say("own part, paid in cash before the first season")), said(p.Own)},
		[]Cell{text(tongue.Say("borrowed")), said(p.Loan)},
		[]Cell{text(tongue.Sayf("futures in which the money is not back for good within %s", words.Years(p.Years))), odds(p.Never)},
	)
	span := between(tongue.Sayf("%s to %s", words.Months(p.PaysIn.P5), words.Months(p.PaysIn.P95)), Real, tongue.Say("months"), [2]float64{p.PaysIn.P5, p.PaysIn.P95})
	switch {
	case words.TooFew(p.PaysIn):
		t.Rows = append(t.Rows, []Cell{text(tongue.Say("back after, least and most (too few futures for a median)")), span})
	case p.PaysIn.Seasons > 0:
		t.Rows = append(t.Rows, []Cell{text(tongue.Say("back after, median of the futures in which it does")), months(p.PaysIn.Median)},
			[]Cell{text(tongue.Say("5 to 95 % of those")), span})
	}
	if p.Loan > 0 {
		t.Rows = append(t.Rows, []Cell{text(tongue.Say("futures in which it is back before the loan ends")), odds(p.BeforeEnd)})
	}
	if p.Price != nil {
		t.Rows = append(t.Rows, []Cell{text(tongue.Say("breaks even at a price of a good stalk")), ranged(words.Prices(*p.Price, currency), Price, currency, *p.Price)})
	}
	if p.AtMost != nil {
		t.Rows = append(t.Rows, []Cell{text(tongue.Say("breaks even at a cost of the purchase")), amounts(*p.AtMost)})
	}
	return t
}

// notCovered heads the odds that some instalment finds too little cash.
const notCovered tongue.Text = "futures in which an instalment is not covered"

// Gains lists what the gain of a year comes from, before own part and loan.
func Gains(p money.Purchase, currency string) Table {
	t := Table{
		Sheet: tongue.Say("Where the gain comes from"), Title: tongue.Sayf("Where the gain of a year comes from, before own part and loan (%s futures, 95 %% interval)", words.Grouped(p.Futures)),
		Head: []string{"", tongue.Sayf("more a year, %s", currency)}, Left: 1,
	}
	for _, g := range p.Gains {
		if g.Year.Mean != 0 || g.Year.High != 0 {
			t.Rows = append(t.Rows, []Cell{text(words.Part(g.Of)), moreAmount(g.Year, currency)})
		}
	}
	return t
}

// moreAmount is a difference of money with its sign, where the currency stands in the heading.
func moreAmount(m trials.Mean, currency string) Cell {
	return ranged(words.More(m), Money, currency, m)
}

// over says in how many seasons or futures a comparison was lived through.
func over(c words.Compared) string {
	if p := c.Result.Purchase; p != nil {
		return tongue.Sayf("%s futures of %s", words.Grouped(p.Futures), words.Years(p.Years))
	}
	return tongue.Sayf("%s seasons", words.Grouped(c.Result.Seasons))
}

// Members lists the money and hours of members of both plans.
func Members(c words.Compared) Table {
	m, h := c.Result.Members, headings(c)
	t := Table{
		Title: tongue.Sayf("What members have in a year (%s; difference in the same ones with 95 %% interval)", over(c)),
		Head:  []string{"", tongue.Say("unit"), h[0], h[1], tongue.Say("difference")}, Left: 2,
	}
	row := func(name, unit string, p money.Pair, form func(float64) string) {
		kind := Count
		if unit == c.Currency {
			kind = Money
		}
		cell := func(m trials.Mean) Cell { return one(form(m.Mean), kind, unit, m.Mean) }
		difference := ranged(tongue.Sayf("%s (%s to %s)", signed(p.More.Mean, form), signed(p.More.Low, form), signed(p.More.High, form)), kind, unit, p.More)
		t.Rows = append(t.Rows, []Cell{text(name), text(unit), cell(p.A), cell(p.B), difference})
	}
	hour := func(x float64) string { return words.HourMoney(x, "") }
	row(tongue.Say("pay for work and what is left over"), c.Currency, m.Before, words.Whole)
	if m.Costs > 0 {
		row(tongue.Say("the same, own part and loan paid"), c.Currency, m.Money, words.Whole)
	}
	row(tongue.Say("hours of work"), tongue.Say("person-h"), m.Hours, words.Whole)
	row(tongue.Say("money of an hour"), c.Currency, m.PerHour, hour)
	row(tongue.Say("money of each member"), c.Currency, m.EachMoney, words.Whole)
	row(tongue.Say("hours of each member"), "h", m.EachHours, words.Whole)
	return t
}

// signed writes a number with its sign.
func signed(x float64, form func(float64) string) string {
	s := form(x)
	if x > 0 && s != form(0) {
		return "+" + s
	}
	return s
}

// AtWorths lists whether a purchase, or a change that costs nothing, pays at a worth of an hour.
func AtWorths(c words.Compared) Table {
	m := c.Result.Members
	t := Table{
		Sheet: tongue.Say("Worth of an hour of a member"), Title: tongue.Sayf("What an hour of a member's time must be worth elsewhere (%s, 95 %% intervals)", over(c)),
		Head: []string{tongue.Sayf("worth of an hour, %s", c.Currency), tongue.Sayf("gain a year of all members, %s", c.Currency), tongue.Say("above nothing in"), tongue.Say("verdict")}, Left: 1,
	}
	for k, at := range m.AtWorths {
		said := words.HourMoney(at.Worth, "")
		switch {
		case k > 0 && m.Stated:
			said += tongue.Say(", as stated")
		case k > 0:
			said += tongue.Say(", the wage of other work")
		}
		t.Rows = append(t.Rows, []Cell{one(said, Real, c.Currency, at.Worth), moreAmount(at.Gain, c.Currency), odds(at.Positive), text(words.Verdict(at.Verdict))})
	}
	even, gain := text(tongue.Say("no worth of an hour turns it")), text("-")
	if w := m.Even.Worth; w != nil {
		w = words.WorthShown(*w)
		even = ranged(tongue.Sayf("%s (%s to %s)", words.HourMoney(w.Mean, ""), words.HourMoney(w.Low, ""), words.HourMoney(w.High, "")), Real, c.Currency, *w)
		gain = text("0")
	}
	t.Rows = append(t.Rows, []Cell{even, gain, text("-"), text(words.EvenShort(m.Even))})
	return t
}

// MembersBySite lists what each member of each site has, where there are several.
func MembersBySite(c words.Compared) Table {
	h := headings(c)
	t := Table{
		Title: tongue.Sayf("Each member in a year, by site, own part and loan paid (%s; differences with 95 %% interval)", over(c)),
		Head:  []string{tongue.Say("site"), tongue.Sayf("money, %s, %s", c.Currency, h[0]), h[1], tongue.Say("difference"), tongue.Sayf("hours, %s", h[0]), h[1], tongue.Say("difference")}, Left: 1,
		Apart: []string{tongue.Say("site"), tongue.Sayf("money, %s", h[0]), tongue.Sayf("money, %s", h[1]), tongue.Say("money, difference"), tongue.Sayf("hours, %s", h[0]), tongue.Sayf("hours, %s", h[1]), tongue.Say("hours, difference")},
	}
	for _, s := range c.Result.Members.Sites {
		t.Rows = append(t.Rows, []Cell{
			text(s.Site), meanAmount(s.EachMoney.A.Mean, c.Currency), meanAmount(s.EachMoney.B.Mean, c.Currency), moreAmount(s.EachMoney.More, c.Currency),
			whole(s.EachHours.A.Mean, "h"), whole(s.EachHours.B.Mean, "h"), more(s.EachHours.More, "h"),
		})
	}
	return t
}

// WhatIf lists what a purchase is worth if prices and the like were others.
func WhatIf(p money.Purchase, currency string) Table {
	t := Table{Title: tongue.Say("What if"), Head: []string{"", tongue.Say("verdict"), tongue.Say("ends above nothing in"), tongue.Sayf("5 to 95 %% of futures, %s", currency), tongue.Sayf("net present value, %s", currency), tongue.Say("not back for good in"), tongue.Say("back after (median; - of too few futures)")}, Left: 2}
	row := func(name string, w money.WhatIf) {
		back := text("-")
		if w.PaysIn.Seasons > 0 && !words.TooFew(w.PaysIn) {
			back = months(w.PaysIn.Median)
		}
		cells := []Cell{
			text(name), text(words.Verdict(w.Verdict)), odds(w.Positive), amountSpan(w.NPVBand.P5, w.NPVBand.P95, currency),
			ranged(words.Amounts(w.NPV, ""), Money, currency, w.NPV), odds(w.Never), back,
		}
		if w.NotCovered != nil {
			cells = append(cells, odds(*w.NotCovered))
		}
		t.Rows = append(t.Rows, cells)
	}
	if p.NotCovered != nil {
		t.Head = append(t.Head, tongue.Say("an instalment is not covered in"))
	}
	row(tongue.Say("as stated"), money.WhatIf{Verdict: p.Verdict, NPV: p.NPV, NPVBand: p.NPVBand, Positive: p.Positive, Never: p.Never, PaysIn: p.PaysIn, NotCovered: p.NotCovered})
	for _, w := range p.WhatIfs {
		row(words.WhatIf(w.Change), w)
	}
	return t
}
