package money

import (
	"gonum.org/v1/gonum/floats"

	"drystalk/sim/trials"
	"drystalk/tongue"
)

// Purchase is one plan bought over another, judged over many futures: sequences of seasons
// that share one draw of what nobody has measured. For members the gain is all that they have of
// the group, and their hours count at their worth; for groups that hire their hands it is the
// surplus.
type Purchase struct {
	Futures    int          `json:"futures"`
	Years      int          `json:"horizon_years"`
	Verdict    Verdict      `json:"verdict"`
	Funding                 // of what is bought, of all sites
	YearGain   trials.Mean  `json:"gain_a_year"`    // before own part and instalments
	Never      trials.Odds  `json:"never_pays"`     // futures in which what is paid for it, own part and loan, does not come back in the years
	PaysIn     trials.Band  `json:"pays_in_months"` // of those in which it does; months from the start of the first season
	BeforeEnd  trials.Odds  `json:"pays_before_loan_ends"`
	NotCovered *trials.Odds `json:"instalment_not_covered,omitempty"`  // futures in which some site finds too little cash for an instalment, over the life of the loan or, if that is longer, the years; nil where nothing is borrowed
	Missed     *trials.Mean `json:"instalments_not_covered,omitempty"` // of a future, of all sites; nil where nothing is borrowed
	NPV        trials.Mean  `json:"net_present_value"`                 // after own part and instalments
	NPVBand    trials.Band  `json:"net_present_value_band"`
	Positive   trials.Odds  `json:"net_present_value_above_0"`
	LevelGain  trials.Mean  `json:"gain_a_year_after_purchase"`    // the net present value spread evenly over the years
	Price      *trials.Mean `json:"break_even_price,omitempty"`    // of a good stalk, at which the mean net present value is 0; nil where there is none above 0
	AtMost     *trials.Mean `json:"break_even_purchase,omitempty"` // cost at which it is; nil where there is none above 0
	Gains      []PartGain   `json:"gain_by_part"`                  // of a year; without what is paid to members
	SoFar      []trials.Fan `json:"money_so_far_by_year"`          // what it has brought by the end of each year, less own part and instalments until then, hours at their worth; the first before the first season
	WhatIfs    []WhatIf     `json:"what_ifs"`
	Items      []Item       `json:"items"`
	Cash       []SiteCash   `json:"cash"` // of each site, without the purchase and with it

	Livelihood *Livelihood `json:"-"` // nil where the hands are hired
}

// Change is an assumption that a what-if changes.
type Change string

// The what-ifs of a purchase.
const (
	PaysLess    Change = "buyer_pays_a_fifth_less"
	WoodTwice   Change = "wood_costs_twice"
	BuyerLeaves Change = "buyer_leaves_after_two_years"
	SecondGoes  Change = "nobody_buys_second_grade"
)

// Changes returns the what-ifs of a purchase, in their order. That of second grade is tried where it
// has a price.
func Changes() []Change { return []Change{PaysLess, WoodTwice, BuyerLeaves, SecondGoes} }

// WhatIf is a purchase under one changed assumption.
type WhatIf struct {
	Change     Change       `json:"change"`
	Verdict    Verdict      `json:"verdict"`
	NPV        trials.Mean  `json:"net_present_value"`
	NPVBand    trials.Band  `json:"net_present_value_band"`
	Positive   trials.Odds  `json:"net_present_value_above_0"`
	Never      trials.Odds  `json:"never_pays"`
	PaysIn     trials.Band  `json:"pays_in_months"`
	NotCovered *trials.Odds `json:"instalment_not_covered,omitempty"` // as in Purchase
}

// HangsOnSecond returns the what-if in which nobody buys second grade, where that alone turns what
// is said of the purchase: that it pays, that it loses money, or that neither can be told.
func (b *Purchase) HangsOnSecond() (WhatIf, bool) {
	for _, w := range b.WhatIfs {
		if w.Change == SecondGoes {
			other := Purchase{NPV: w.NPV}
			return w, other.Pays() != b.Pays() || other.Loses() != b.Loses()
		}
	}
	return WhatIf{}, false
}

// Pays tells whether the purchase pays on average: the interval of its net present value lies
// above nothing. Loses tells the opposite.
func (b *Purchase) Pays() bool { return b.NPV.Low > 0 }

// Loses tells whether the purchase loses money on average, beyond chance.
func (b *Purchase) Loses() bool { return b.NPV.High < 0 }

// ErrFutures is returned where the seasons do not make whole futures.
var ErrFutures = tongue.Fault("seasons do not make whole futures: want at least two futures of at least one year")

// Judge judges the purchase of items: with against without, whose seasons must be the same
// futures of so many years. Money of the first year comes in its months; the own part is paid
// before the first season and the instalments when they are due, those after the years too, and
// what lasts less than the years is bought again without grant or loan. Whether the instalments are
// covered is told by the accounts of the sites, which run through the years of a future.
func Judge(p Prices, without, with Ledger, years int, items []Item) (Purchase, error) {
	if years < 1 || without.Lived() != with.Lived() || with.Lived() < 2*years {
		return Purchase{}, ErrFutures
	}
	b := Purchase{Futures: with.Lived() / years, Years: years, Items: items}
	bills, err := p.Bills(with.Groups(), items, years)
	if err != nil {
		return Purchase{}, err
	}
	b.Funding = InAll(bills)
	c := course{without, with, years, bills}
	now := c.futures(&p, years)
	b.Cash = append(now.before.cash(without.Groups(), false), now.after.cash(with.Groups(), true)...)
	stated := now.whatIf("")
	b.Verdict, b.NPV, b.NPVBand, b.Positive, b.Never, b.PaysIn, b.NotCovered = stated.Verdict, stated.NPV, stated.NPVBand, stated.Positive, stated.Never, stated.PaysIn, stated.NotCovered
	if b.NotCovered != nil {
		missed := trials.NewAmount(now.after.missed)
		b.Missed = &missed
	}
	b.YearGain = trials.NewMean(now.year)
	level := append([]float64(nil), now.npv...)
	floats.Scale(LevelPayment(p.Discount, years), level)
	b.LevelGain = trials.NewMean(level)
	b.BeforeEnd = trials.NewOdds(floats.Count(func(m float64) bool { return m <= float64(p.LoanMonths) }, now.months), b.Futures)
	b.breakEven(&p, &c, now)
	b.Gains = now.gains(&p)
	for _, futures := range now.soFar {
		b.SoFar = append(b.SoFar, trials.NewFan(futures))
	}
	b.Livelihood = c.livelihood(&p, now)

	less, wood := p, p
	less.PerGoodStalk *= 0.8
	wood.WoodPerKg, wood.WoodRainsPerKg = 2*wood.WoodPerKg, 2*wood.WoodRainsPerKg
	b.add(PaysLess, c.futures(&less, years))
	b.add(WoodTwice, c.futures(&wood, years))
	b.add(BuyerLeaves, c.futures(&p, min(2, years)))
	if p.PerSecondStalk > 0 {
		unsold := p
		unsold.PerSecondStalk = 0
		b.add(SecondGoes, c.futures(&unsold, years))
	}
	return b, nil
}

func (b *Purchase) add(change Change, f outcome) { b.WhatIfs = append(b.WhatIfs, f.whatIf(change)) }

// breakEven finds the price of a good stalk and the cost of the purchase at which the mean
// net present value is nothing. It is linear in both. The interval of the price is that of a
// ratio of means. A price or a cost of nothing or less is none.
func (b *Purchase) breakEven(p *Prices, c *course, now outcome) {
	free := *p
	free.PerGoodStalk = 0
	none := c.futures(&free, b.Years)
	gains, costs := make([]float64, len(now.npv)), make([]float64, len(now.npv))
	for f := range now.npv {
		costs[f] = -none.npv[f]
		if p.PerGoodStalk > 0 {
			gains[f] = (now.npv[f] - none.npv[f]) / p.PerGoodStalk
		}
	}
	if price := trials.NewRatio(costs, gains); price.Mean > 0 && trials.NewMean(gains).Low > 0 {
		b.Price = &price
	}
	each := c.firstNow(p) / b.Cost.Units() // what is paid for one of the currency that it costs
	worth := make([]float64, len(now.npv))
	for f := range worth {
		worth[f] = (now.npv[f] + c.firstNow(p)) / each
	}
	if cost := trials.NewMean(worth); each > 0 && cost.Mean > 0 {
		b.AtMost = &cost
	}
}
