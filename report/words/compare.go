package words

import (
	"fmt"
	"strings"

	"drystalk/sim"
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

// CompareSentence is the answer in one sentence; what loses money says so first.
func CompareSentence(c Compared) string {
	var b strings.Builder
	d := c.Result.Totals[0]
	p := c.Result.Purchase
	switch {
	case p != nil && p.Loses():
		fmt.Fprintf(&b, "It does not pay: over %d years it loses %s on average (net present value, %s futures); ", p.Years,
			Amounts(trials.Mean{Mean: -p.NPV.Mean, Low: -p.NPV.High, High: -p.NPV.Low}, c.Currency), Grouped(p.Futures))
	case p != nil && p.Pays():
		fmt.Fprintf(&b, "It pays: over %d years it gains %s on average (net present value, %s futures)%s; ", p.Years, Amounts(p.NPV, c.Currency), Grouped(p.Futures), butShort(p))
	case p != nil:
		fmt.Fprintf(&b, "Whether it pays cannot be told: over %d years it gains %s on average (net present value, %s futures); ", p.Years, Amounts(p.NPV, c.Currency), Grouped(p.Futures))
	}
	worst := c.Result.A.WorstMonth()
	then := oddsOf(c.Result.B, worst.Name)
	fmt.Fprintf(&b, "%s good stalks a season in the same weather, and the month that is worst now, %s, is met in %s of %s seasons against %s.",
		More(d.More), worst.Name, Odds(then), Grouped(c.Result.Seasons), Odds(worst.Odds))
	if low := c.Result.B.WorstMonth(); low.Odds.Met < then.Met {
		fmt.Fprintf(&b, " The worst month would be %s, met in %s.", low.Name, Odds(low.Odds))
	}
	return b.String()
}

// butShort says beside "it pays" how often there is no cash for an instalment.
func butShort(p *money.Purchase) string {
	if p.NotCovered == nil || p.NotCovered.Met == 0 {
		return ""
	}
	return fmt.Sprintf(", but in %s of them there is too little cash for an instalment", Odds(*p.NotCovered))
}

// CompareParagraph says when the purchase is paid back, which months change, what the dryers do,
// and what that means for people and cash.
func CompareParagraph(c Compared) []string {
	var out []string
	if p := c.Result.Purchase; p != nil {
		out = append(out, purchaseWords(*p, c)...)
	}
	out = append(out, monthWords(c.Result)...)
	out = append(out, dryerWords(c.Result)...)
	if d := c.Result.PerPerson; d != nil {
		out = append(out, fmt.Sprintf("The income of a person, pay and share of what is left before the loan, goes from %s to %s a year.", Amounts(d.A, c.Currency), Amounts(d.B, c.Currency)))
	}
	out = append(out, cashWords(c)...)
	if len(c.Result.Unpriced) > 0 {
		out = append(out, "No price is stated for "+Items(c.Result.Unpriced)+": it is in no figure of money.")
	}
	return out
}

// CompareNotes are what stands beside a comparison.
func CompareNotes(c Compared) []Note {
	return notes(note("In full", CompareParagraph(c)...), note("The hub", HubSentence(c.Result.Hub)))
}

// CompareWarnings says what makes the comparison of two plans less than fair or less than sharp.
func CompareWarnings(c Compared) []string {
	var out []string
	for _, o := range c.Outside {
		out = append(out, fmt.Sprintf("%s is %s in the first and %s in the second: that lies outside the plan, and what it does is in the differences.", o.Key, OrNone(o.A), OrNone(o.B)))
	}
	if x := c.Result.Correlation; x != nil && *x <= 0 {
		out = append(out, fmt.Sprintf("The good stalks of the plans do not rise and fall together (correlation %.2f): the same seasons do not sharpen the comparison.", *x))
	}
	return out
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
	out := []string{fmt.Sprintf("What is bought costs %s: %s.", Amount(p.Cost, cur), Funding(p.Funding, cur))}
	if p.PaysIn.Seasons > 0 {
		out = append(out, fmt.Sprintf("It is paid back in %s of %s futures, half of those within %s (5 to 95 %%: %s to %s).",
			Odds(trials.NewOdds(p.Futures-p.Never.Met, p.Futures)), Grouped(p.Futures), Months(p.PaysIn.Median), Months(p.PaysIn.P5), Months(p.PaysIn.P95)))
	}
	out = append(out, fmt.Sprintf("It never pays within %d years in %s.", p.Years, Odds(p.Never)))
	if p.NotCovered != nil {
		out = append(out, fmt.Sprintf("In %s of %s futures there is too little cash for an instalment at least once in the %s, even if nothing of what is earned is shared out.",
			Odds(*p.NotCovered), Grouped(p.Futures), LifeOfLoan(p)))
	}
	if c.LoanEnds > 0 {
		out = append(out, fmt.Sprintf("It is paid back before the loan ends, in %s, in %s of futures.", Months(float64(c.LoanEnds)), Odds(p.BeforeEnd)))
	}
	if !p.Pays() {
		out = append(out, notPaid(p, c)...)
	}
	if w, hangs := p.HangsOnSecond(); hangs {
		out = append(out, fmt.Sprintf("That hangs on the sale of second grade: if nobody buys it, the net present value is %s.", Amounts(w.NPV, cur)))
	}
	if p.Price.Mean <= 0 {
		return append(out, fmt.Sprintf("At any price of stalks it would pay, because what it saves is worth more than it costs; it breaks even at a purchase of %s.", Amounts(p.AtMost, cur)))
	}
	return append(out, fmt.Sprintf("It breaks even at a price of %s a good stalk, or at a purchase of %s.", Prices(p.Price, cur), Amounts(p.AtMost, cur)))
}

// notPaid says why a purchase does not pay, from what the dryers do with their hours.
func notPaid(p money.Purchase, c Compared) []string {
	var reasons []string
	d := c.Result.Totals[0]
	if d.More.High < 1 {
		reasons = append(reasons, "it brings no more good stalks that the contract takes")
	} else if worst := c.Result.A.WorstMonth(); worst.Odds.Share > 0.9 {
		reasons = append(reasons, fmt.Sprintf("the contract is met in %s of seasons without it already, so there is little more to sell", Percent(worst.Odds.Share)))
	}
	most, why := 0.0, ""
	for _, u := range c.Result.Dryers {
		if !u.Second {
			continue
		}
		for _, h := range u.Hours {
			if Stands(h.On) && h.Hours.Mean > most {
				most, why = h.Hours.Mean, FigureName(h.On)
			}
		}
	}
	if why != "" {
		reasons = append(reasons, fmt.Sprintf("a dryer of the second plan stands up to %s h a season for this: %s", Whole(most), why))
	}
	if len(reasons) == 0 {
		reasons = append(reasons, "what it brings is worth less than what it costs")
	}
	return []string{"Why: " + And(reasons) + ".", "What the money would do instead: drystalk spend --budget " + fmt.Sprint(Round(p.Cost.Units())) + "."}
}

// Stands tells whether a dryer has no charge and could have one in a state: it stands for want
// of something, or is broken.
func Stands(id sim.FigureID) bool {
	state, ok := id.State()
	return ok && (id.Figure().Kind == sim.Stands || state == sim.DryerBroken)
}

// monthWords names the months that change by more than chance, for better and for worse.
func monthWords(c decide.Comparison) []string {
	var better, worse []string
	for _, m := range c.Months {
		said := fmt.Sprintf("%s %s points", m.Name, Points(m.Gain))
		switch {
		case m.Gain.Low > 0:
			better = append(better, said)
		case m.Gain.High < 0:
			worse = append(worse, said)
		}
	}
	var out []string
	if len(better) > 0 {
		out = append(out, "Met more often, in the same seasons: "+And(better)+".")
	}
	if len(worse) > 0 {
		out = append(out, "Met less often, in the same seasons: "+And(worse)+".")
	}
	if len(out) == 0 {
		return []string{"No month is met more or less often by more than chance."}
	}
	return out
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
				if h.On == sim.DryerFiring.Figure() {
					fire += h.Hours.Mean
				}
				if h.On == sim.DryerNoStalks.Figure() || h.On == sim.DryerNotWanted.Figure() {
					idle += h.Hours.Mean
				}
			}
		}
		if n > 0 && all > 0 {
			plan := map[bool]string{false: "first", true: "second"}[second]
			out = append(out, fmt.Sprintf("In the %s plan the dryers (%d) fire in %s of their shift hours and stand in %s for want of stalks or of need.", plan, n, Percent(fire/all), Percent(idle/all)))
		}
	}
	return out
}

// LifeOfLoan says over which time instalments are looked at: the loan's, or that of the futures
// where the loan is longer.
func LifeOfLoan(p money.Purchase) string {
	if p.Months > 12*p.Years {
		return fmt.Sprintf("first %d years of the loan", p.Years)
	}
	return Months(float64(p.Months)) + " of the loan"
}

// cashWords names the sites whose cash falls low in the first year, or in the years after it.
func cashWords(c Compared) []string {
	var out []string
	for _, a := range c.Result.Accounts {
		if a.Second && (a.Lowest.Median < 0 || a.Uncovered.Mean > 0) {
			s := fmt.Sprintf("In the first year the cash of %s is lowest in %s, at %s in a middling season and %s in one of twenty, own part and instalments paid",
				a.Site, a.At, Money(a.Lowest.Median, c.Currency), Money(a.Lowest.P5, c.Currency))
			if a.Uncovered.Mean > 0.05 {
				s += fmt.Sprintf("; %.1f instalments of that year find too little cash (%.1f to %.1f)", a.Uncovered.Mean, a.Uncovered.Low, a.Uncovered.High)
			}
			out = append(out, s+".")
		}
	}
	if p := c.Result.Purchase; p != nil {
		out = append(out, belowWords(*p)...)
	}
	return out
}

// belowWords says how often the cash of a site that pays for a purchase falls below nothing, with
// the purchase and without it.
func belowWords(p money.Purchase) []string {
	var out []string
	for _, with := range p.Cash {
		if with.Funding == nil || with.Below.Met == 0 {
			continue
		}
		s := fmt.Sprintf("Over %d years the cash of %s falls below nothing in %s of futures", p.Years, with.Site, Odds(with.Below))
		for _, without := range p.Cash {
			if !without.Second && without.Site == with.Site {
				s += fmt.Sprintf(", without the purchase in %s", Odds(without.Below))
			}
		}
		out = append(out, s+".")
	}
	return out
}
