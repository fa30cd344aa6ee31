package money

import (
	"errors"
	"math"

	"gonum.org/v1/gonum/floats"

	"drystalk/sim/trials"
)

// Purchase is one plan bought over another, judged over many futures: sequences of seasons
// that share one draw of what nobody has measured.
type Purchase struct {
	Futures    int          `json:"futures"`
	Years      int          `json:"horizon_years"`
	Funding                 // of what is bought, of all sites
	YearGain   trials.Mean  `json:"gain_a_year"`
	Never      trials.Odds  `json:"never_pays"`     // futures in which it is not paid back in the years
	PaysIn     trials.Band  `json:"pays_in_months"` // of those in which it is; months from the start of the first season
	BeforeEnd  trials.Odds  `json:"pays_before_loan_ends"`
	NotCovered *trials.Odds `json:"instalment_not_covered,omitempty"` // futures in which some site finds too little cash for an instalment, over the life of the loan or, if that is longer, the years; nil where nothing is borrowed
	NPV        trials.Mean  `json:"net_present_value"`
	NPVBand    trials.Band  `json:"net_present_value_band"`
	Positive   trials.Odds  `json:"net_present_value_above_0"`
	Price      trials.Mean  `json:"break_even_price"`    // of a good stalk, at which the mean net present value is 0
	AtMost     trials.Mean  `json:"break_even_purchase"` // cost at which it is
	WhatIfs    []WhatIf     `json:"what_ifs"`
	Items      []Item       `json:"items"`
	Cash       []SiteCash   `json:"cash"` // of each site, without the purchase and with it
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
	NPV        trials.Mean  `json:"net_present_value"`
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
var ErrFutures = errors.New("seasons do not make whole futures: want at least two futures of at least one year")

// Judge judges the purchase of items: with against without, whose seasons must be the same
// futures of so many years. Money of the first year comes in its months; purchase and grant
// come before the first season, and what lasts less than the years is bought again without a
// grant. The loan is a way to pay for it, not a part of the gain: whether its instalments are
// covered is told by the accounts of the sites, which run through the years of a future.
func Judge(p Prices, without, with *Play, years int, items []Item) (Purchase, error) {
	if years < 1 || without.Table.Seasons != with.Table.Seasons || with.Table.Seasons < 2*years {
		return Purchase{}, ErrFutures
	}
	b := Purchase{Futures: with.Table.Seasons / years, Years: years, Items: items}
	bills, err := p.Bills(with.Region, items, years)
	if err != nil {
		return Purchase{}, err
	}
	b.Funding = InAll(bills)
	c := course{without, with, years, bills}
	now := c.futures(&p, years)
	b.Cash = append(now.before.cash(without.Region, false), now.after.cash(with.Region, true)...)
	b.NotCovered = now.after.notCovered()
	b.YearGain = trials.NewMean(now.year)
	b.Never, b.PaysIn, b.NPV = now.never(), trials.NewBand(now.months), trials.NewMean(now.npv)
	b.NPVBand = trials.NewBand(now.npv)
	b.Positive = trials.NewOdds(floats.Count(func(x float64) bool { return x > 0 }, now.npv), b.Futures)
	b.BeforeEnd = trials.NewOdds(floats.Count(func(m float64) bool { return m <= float64(p.LoanMonths) }, now.months), b.Futures)
	b.breakEven(&p, &c, now)

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

func (b *Purchase) add(change Change, f outcome) {
	b.WhatIfs = append(b.WhatIfs, WhatIf{change, trials.NewMean(f.npv), f.never(), trials.NewBand(f.months), f.after.notCovered()})
}

// course is what a purchase is judged by: the seasons of both plans and what each site pays.
type course struct {
	without, with *Play
	years         int // of a future
	bills         []Bill
}

// outcome is what became of a purchase, by future.
type outcome struct {
	npv           []float64
	year          []float64 // mean gain of a year
	months        []float64 // of the futures in which it was paid back
	before, after *tally    // accounts without and with it
}

func (o *outcome) never() trials.Odds { return trials.NewOdds(len(o.npv)-len(o.months), len(o.npv)) }

// futures plays all futures; the buyer buys in the first so many years.
func (c *course) futures(p *Prices, buys int) outcome {
	sites := len(c.with.Plan)
	o := outcome{before: newTally(len(c.without.Plan), c.years, nil), after: newTally(sites, c.years, c.bills)}
	for f := range c.with.Table.Seasons / c.years {
		without, with := c.without.seasons(p, f*c.years, buys), c.with.seasons(p, f*c.years, buys)
		o.before.add(accounts(p, without, c.years, nil))
		o.after.add(accounts(p, with, c.years, c.bills))
		o.add(p, c.gains(p, without, with), c.years)
	}
	return o
}

// gains returns what a purchase costs and brings month by month; month 0 is before the first
// season. After the buyer has left nothing is bought again.
func (c *course) gains(p *Prices, without, with [][][]Parts) []float64 {
	flows := make([]float64, 12*c.years+13+p.PaidAfter)
	for k := range c.bills {
		flows[0] -= c.bills[k].AfterGrant().Units()
		for y := range with {
			flows[12*y] -= c.bills[k].Again[y].Units()
		}
	}
	for y := range with {
		gain(flows[12*y:], p, without[y], with[y])
	}
	return flows
}

// add counts one more future by its flows.
func (o *outcome) add(p *Prices, flows []float64, years int) {
	yearly := make([]float64, years+1)
	yearly[0] = flows[0]
	for m := 1; m < len(flows); m++ {
		yearly[min(years, (m+11)/12)] += flows[m]
	}
	o.npv = append(o.npv, PresentValue(p.Discount, yearly))
	sum := 0.0
	for _, x := range yearly[1:] {
		sum += x
	}
	o.year = append(o.year, sum/float64(years))
	if m, ok := Payback(flows); ok {
		o.months = append(o.months, m)
	}
}

// gain adds the gain of a season to months: the first month of the season is month 1, and
// what is sold is paid later.
func gain(months []float64, p *Prices, without, with [][]Parts) {
	for n, sites := range [][][]Parts{with, without} {
		sign := float64(1 - 2*n)
		for _, site := range sites {
			for k := range site {
				sold := site[k][Sales]
				months[k+1] += sign * (site[k].Net() - sold).Units()
				months[k+1+p.PaidAfter] += sign * sold.Units()
			}
		}
	}
}

// breakEven finds the price of a good stalk and the cost of the purchase at which the mean
// net present value is nothing. It is linear in both. The interval of the price is that of a
// ratio of means.
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
	b.Price = trials.NewRatio(costs, gains)
	worth := make([]float64, len(now.npv))
	own := 1 - p.GrantShare
	for f := range worth {
		worth[f] = now.npv[f] + b.AfterGrant().Units()
		if own > 0 {
			worth[f] /= own
		} else {
			worth[f] = math.Inf(1)
		}
	}
	b.AtMost = trials.NewMean(worth)
}
