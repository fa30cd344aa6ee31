package words

import (
	"math"
	"strconv"

	"drystalk/sim/decide"
	"drystalk/sim/money"
	"drystalk/sim/trials"
	"drystalk/tongue"
)

// verdictWords are the verdicts on a purchase, as a heading has them.
var verdictWords = map[money.Verdict]tongue.Text{
	money.PaysInNearlyAll: "pays in nearly all futures",
	money.PaysOnAverage:   "pays on average, with a risk",
	money.CannotBeTold:    "may pay or not: too close to tell",
	money.DoesNotPay:      "does not pay",
}

// Verdict returns a verdict in words.
func Verdict(v money.Verdict) string { return verdictWords[v].String() }

// Limits says what nearly all futures are.
func Limits() string {
	return tongue.Sayf("%d of %d above nothing, and every instalment covered in %d of %d", money.NearlyAll, money.NearlyAllOf, money.NearlyAll, money.NearlyAllOf)
}

// ofTwenty counts futures by twenties: "4 of 20", and never none or 20 of what is neither.
func ofTwenty(met, of int) string {
	n := Round(20 * float64(met) / float64(max(1, of)))
	switch {
	case met == 0:
		return tongue.Say("none of 20")
	case met == of:
		return tongue.Say("all")
	case n == 0:
		return tongue.Say("fewer than 1 of 20")
	case met < of && n == 20:
		return tongue.Say("more than 19 of 20")
	}
	return tongue.Sayf("%s of 20", strconv.Itoa(n))
}

// VerdictSentence says whether a purchase pays, and what is risked.
func VerdictSentence(c Compared) string {
	p := c.Result.Purchase
	lost := p.Positive.Seasons - p.Positive.Met
	risks := []string{tongue.Sayf("loses in %s", ofTwenty(lost, p.Positive.Seasons))}
	if p.NotCovered != nil {
		risks = append(risks, tongue.Sayf("misses an instalment in %s", ofTwenty(p.NotCovered.Met, p.NotCovered.Seasons)))
		if p.Verdict == money.PaysOnAverage && p.NotCovered.Share > 1-p.Positive.Share {
			risks[0], risks[1] = risks[1], risks[0] // what speaks against it comes first
		}
	}
	if p.Verdict == money.PaysOnAverage && lost == 0 {
		risks = risks[:len(risks)-1]
	}
	risks[0] += tongue.Sayf(" futures of %s", Years(p.Years))
	s := tongue.Sayf("it pays on average, but %s", And(risks))
	switch p.Verdict {
	case money.PaysInNearlyAll:
		s = tongue.Sayf("it pays in nearly all futures: it %s", And(risks))
	case money.CannotBeTold:
		s = tongue.Sayf("whether it pays cannot be told: it %s", And(risks))
	case money.DoesNotPay:
		s = tongue.Sayf("it does not pay: it %s", And(risks))
	}
	if at := countedAt(c); at != "" {
		return at + s + "."
	}
	return Upper(s) + "."
}

// countedAt begins a verdict with the worth of an hour at which members' time is counted; "" for
// hired hands.
func countedAt(c Compared) string {
	switch m := c.Result.Members; {
	case m == nil:
		return ""
	case m.Worth == 0:
		return tongue.Say("Counting a member's hour as worth nothing elsewhere, ")
	case m.Stated:
		return tongue.Sayf("Counting a member's hour at %s, as stated, ", HourMoney(m.Worth, c.Currency))
	default:
		return tongue.Sayf("Counting a member's hour at %s, the wage of other work, ", HourMoney(m.Worth, c.Currency))
	}
}

// HourCounts says what a member's hour counts in a purchase; "" for hired hands.
func HourCounts(c Compared) string {
	switch m := c.Result.Members; {
	case m == nil:
		return ""
	case m.Worth == 0:
		return tongue.Say("An hour of a member counts nothing here.")
	case m.Stated:
		return tongue.Sayf("An hour of a member counts %s, as was stated.", HourMoney(m.Worth, c.Currency))
	default:
		return tongue.Sayf("An hour of a member counts %s, the wage of other work.", HourMoney(m.Worth, c.Currency))
	}
}

// HourMoney writes money of an hour, small amounts with decimals.
func HourMoney(x float64, currency string) string {
	digits := 2
	switch a := math.Abs(x); {
	case math.IsInf(x, 0) || math.IsNaN(x):
		return tongue.Say("no limit")
	case a >= 100:
		digits = 0
	case a >= 2:
		digits = 1
	}
	return of(tongue.Decimal(strconv.FormatFloat(math.Round(x*100)/100, 'f', whole(x, digits), 64)), currency)
}

// whole returns no digits for what has none after the point.
func whole(x float64, digits int) int {
	if math.Abs(x-math.Round(x)) < 0.005 {
		return 0
	}
	return digits
}

// evenWords says at which worth of an hour it pays for members.
func evenWords(c Compared) string {
	m := c.Result.Members
	if m == nil || len(c.Result.Unpriced) > 0 {
		return ""
	}
	about := func(more string, w *trials.Mean) string {
		w = WorthShown(*w)
		return tongue.Sayf("It pays on average if an hour of yours is worth %s than %s elsewhere (%s to %s).", more, HourMoney(w.Mean, c.Currency), HourMoney(w.Low, ""), HourMoney(w.High, ""))
	}
	switch w := m.Even.Worth; {
	case m.Even.Pays == money.AboveWorth && w.Mean <= 0:
		return tongue.Sayf("On average it pays whatever an hour of your time is worth, and beyond chance from %s on.", HourMoney(w.High, c.Currency))
	case m.Even.Pays == money.AboveWorth:
		return about(tongue.Say("more"), w)
	case m.Even.Pays == money.BelowWorth && w.Mean <= 0:
		return tongue.Say("It takes hours, and brings no money for them that can be told.")
	case m.Even.Pays == money.BelowWorth:
		return about(tongue.Say("less"), w)
	case m.Even.Pays == money.AnyWorth:
		return tongue.Say("On average it brings money and frees hours, whatever an hour of your time is worth.")
	case m.Even.Pays == money.NoWorth:
		return tongue.Say("It takes money and hours: it pays at no worth of an hour.")
	}
	return tongue.Say("Hours hardly change, so that what an hour of your time is worth does not decide.")
}

// WorthShown returns a worth of an hour as sentences and tables show it: no hour is worth less than nothing,
// so that the interval of one that is worth something ends there.
func WorthShown(w trials.Mean) *trials.Mean {
	if w.Mean > 0 {
		w.Low = max(0, w.Low)
	}
	return &w
}

// evenShorts say in a table at which worth of an hour it pays.
var evenShorts = map[money.Pays]tongue.Text{
	money.AboveWorth: "pays on average if an hour is worth more", money.BelowWorth: "pays on average if an hour is worth less",
	money.AnyWorth: "brings money and frees hours on average", money.NoWorth: "takes money and hours", money.SameHours: "hours hardly change",
}

// EvenShort says in a table at which worth of an hour it pays.
func EvenShort(e money.Even) string { return evenShorts[e.Pays].String() }

// costWords says what is bought costs. It names that, for what costs nothing may stand before it.
func costWords(p money.Purchase, currency string) string {
	return tongue.Sayf("What is bought costs %s.", Amount(p.Cost, currency))
}

// brought and taken say what there is more of, and what less, where a part of the money gains or
// loses.
var (
	brought = map[string]tongue.Text{
		money.Sales.String(): "more good stalks sold", money.SecondGrade.String(): "more second grade sold", money.Surplus.String(): "more good stalks left over",
		money.Cutting.String(): "less pay for cutting", money.Wages.String(): "less pay for other work", money.Night.String(): "less work at night", money.Crew.String(): "less work for the crew",
		money.Wood.String(): "less wood", money.Collections.String(): "cheaper collections", money.Bags.String(): "fewer bags", money.Upkeep.String(): "less upkeep",
		money.Rent.String(): "less rent", money.Penalty.String(): "fewer penalties", money.FreedHours: "fewer hours of work",
	}
	taken = map[string]tongue.Text{
		money.Sales.String(): "good stalks to sell", money.SecondGrade.String(): "second grade to sell", money.Surplus.String(): "good stalks left over",
		money.Cutting.String(): "pay for cutting", money.Wages.String(): "pay for other work", money.Night.String(): "pay for work at night", money.Crew.String(): "pay for the crew",
		money.Wood.String(): "money for wood", money.Collections.String(): "money for collections", money.Bags.String(): "money for bags", money.Upkeep.String(): "money for upkeep",
		money.Rent.String(): "rent", money.Penalty.String(): "penalties", money.FreedHours: "hours of work",
	}
)

// driveWords says what the gain comes from where no price of stalks and no cost turns the verdict;
// otherwise the break-evens of the table say it.
func driveWords(p money.Purchase) string {
	if p.Price != nil && p.AtMost != nil {
		return ""
	}
	var most, least, sales money.PartGain
	for _, g := range p.Gains {
		switch {
		case sign(g.Year) > 0 && g.Year.Mean > most.Year.Mean:
			most = g
		case sign(g.Year) < 0 && g.Year.Mean < least.Year.Mean:
			least = g
		}
		if g.Of == money.Sales.String() {
			sales = g
		}
	}
	switch {
	case most.Of == "" && least.Of == "":
		return tongue.Say("It changes nothing in the money that can be told from chance.")
	case most.Of == "":
		return tongue.Sayf("It brings nothing that can be told from chance, and it takes %s.", taken[least.Of].String())
	case p.YearGain.Mean <= 0 && least.Of != "":
		return tongue.Sayf("What it brings most is %s; what it takes most is %s.", brought[most.Of].String(), taken[least.Of].String())
	case most.Of == sales.Of:
		return tongue.Sayf("The gain comes from %s.", brought[most.Of].String())
	case sign(sales.Year) > 0:
		return tongue.Sayf("The gain comes from %s more than from sales.", brought[most.Of].String())
	}
	return tongue.Sayf("The gain comes from %s, not from more sales.", brought[most.Of].String())
}

// purchaseNotes say in full how a purchase is paid for, when it comes back, and why not.
func purchaseNotes(p money.Purchase, c Compared) []Note {
	cur := c.Currency
	out := note(tongue.Say("The purchase"), tongue.Sayf("What is bought costs %s: %s.", Amount(p.Cost, cur), Funding(p.Funding, cur)))
	back := backWords(p)
	if c.LoanEnds > 0 {
		back = append(back, tongue.Sayf("The money is back within the %s of the loan in %s of futures.", Term(c.LoanEnds), Odds(p.BeforeEnd)))
	}
	out = append(out, note(tongue.Say("When the money comes back"), back...)...)
	if p.NotCovered != nil {
		loan := []string{tongue.Sayf("In %s of %s futures there is too little cash for an instalment at least once in the %s. What a year leaves is taken to be shared out at its end, all but the opening cash and what the next year's instalments need.",
			Odds(*p.NotCovered), Grouped(p.Futures), LifeOfLoan(p))}
		out = append(out, note(tongue.Say("The loan"), append(loan, cushionWords(p, c.Currency)...)...)...)
	}
	if p.Verdict == money.DoesNotPay || p.Verdict == money.CannotBeTold {
		out = append(out, note(tongue.Say("Why"), notPaid(p, c)...)...)
	}
	if w, hangs := p.HangsOnSecond(); hangs {
		out = append(out, note(tongue.Say("Second grade"), tongue.Sayf("The verdict hangs on the sale of second grade: if nobody buys it, the purchase %s (net present value %s).", Verdict(w.Verdict), Amounts(w.NPV, cur)))...)
	}
	return out
}

// cushionWords say what more cash in the box would do for the instalments of each site that misses some.
func cushionWords(p money.Purchase, currency string) []string {
	var out []string
	for _, s := range p.Cash {
		if s.Cushion == nil {
			continue
		}
		out = append(out, tongue.Sayf("With %s more in the cash box of %s from the first season on, kept there and not shared out, its instalments would find too little in %s of futures.",
			Money(s.Cushion.Cash, currency), s.Site, Odds(s.Cushion.NotCovered)))
	}
	return out
}

// LifeOfLoan says over which time instalments are looked at: the loan's, or that of the futures
// where the loan is longer.
func LifeOfLoan(p money.Purchase) string {
	if p.Months > 12*p.Years {
		if p.Years == 1 {
			return tongue.Say("first year of the loan")
		}
		return tongue.Sayf("first %d years of the loan", p.Years)
	}
	return tongue.Sayf("%s of the loan", Term(p.Months))
}

// belowWords says how often the cash of a site that pays for a purchase falls below nothing and how
// far, with the purchase and without it.
func belowWords(p money.Purchase, currency string) []string {
	var out []string
	for _, with := range p.Cash {
		if with.Funding == nil || with.Below.Met == 0 {
			continue
		}
		s := tongue.Sayf("Over %s the cash of %s falls below nothing in %s of futures%s", Years(p.Years), with.Site, Odds(with.Below), howLow(with, currency))
		for _, without := range p.Cash {
			if !without.Second && without.Site == with.Site {
				s += tongue.Sayf("; without the purchase in %s%s", Odds(without.Below), howLow(without, currency))
			}
		}
		out = append(out, s+".")
	}
	return out
}

// howLow says how low cash falls in one future of twenty, as an aside, where that is below nothing.
func howLow(c money.SiteCash, currency string) string {
	if c.Lowest.P5 >= 0 {
		return ""
	}
	return tongue.Sayf(", in one of twenty to %s or lower", Money(c.Lowest.P5, currency))
}

// PaidToMembers marks a part of the money that is the income of members.
func PaidToMembers(of, cutters string) string {
	switch of {
	case money.Cutting.String(), money.Wages.String(), money.Night.String():
		if cutters == money.Members.String() {
			return tongue.Sayf("%s (to members)", Part(of))
		}
	case decide.NetBeforePurchase:
		if cutters == money.Members.String() {
			return tongue.Say("left over, before what is bought")
		}
	}
	return CompareLine(of)
}

// LeftOver names what is left of a year when all is paid: members have been paid then, and share it.
func LeftOver(cutters string) string {
	if cutters == money.Members.String() {
		return tongue.Say("left over when members are paid")
	}
	return tongue.Say("left over")
}

// NotMembersPay says beside what is left over that the pay of members is not in it, which may fall
// while more is left; "" for hired hands.
func NotMembersPay(cutters string) string {
	if cutters == money.Members.String() {
		return tongue.Say("; what members earn by their work is not in what is left over and may fall: see drystalk compare")
	}
	return ""
}
