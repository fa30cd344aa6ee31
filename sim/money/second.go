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
	Futures   int         `json:"futures"`
	Years     int         `json:"horizon_years"`
	Cost      Amount      `json:"cost"`     // of what is bought
	Own       Amount      `json:"own_part"` // of it, what the group pays or borrows: cost less grant
	YearGain  trials.Mean `json:"gain_a_year"`
	Never     trials.Odds `json:"never_pays"`     // futures in which it is not paid back in the years
	PaysIn    trials.Band `json:"pays_in_months"` // of those in which it is; months from the start of the first season
	BeforeEnd trials.Odds `json:"pays_before_loan_ends"`
	NPV       trials.Mean `json:"net_present_value"`
	NPVBand   trials.Band `json:"net_present_value_band"`
	Positive  trials.Odds `json:"net_present_value_above_0"`
	Price     trials.Mean `json:"break_even_price"`    // of a good stalk, at which the mean net present value is 0
	AtMost    trials.Mean `json:"break_even_purchase"` // cost at which it is
	WhatIfs   []WhatIf    `json:"what_ifs"`
	Items     []Item      `json:"items"`
}

// Change is an assumption that a what-if changes.
type Change string

// The what-ifs of a purchase.
const (
	PaysLess    Change = "buyer_pays_a_fifth_less"
	WoodTwice   Change = "wood_costs_twice"
	BuyerLeaves Change = "buyer_leaves_after_two_years"
)

// Changes returns the what-ifs of a purchase, in their order.
func Changes() []Change { return []Change{PaysLess, WoodTwice, BuyerLeaves} }

// WhatIf is a purchase under one changed assumption.
type WhatIf struct {
	Change Change      `json:"change"`
	NPV    trials.Mean `json:"net_present_value"`
	Never  trials.Odds `json:"never_pays"`
	PaysIn trials.Band `json:"pays_in_months"`
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
// grant. The loan is a way to pay for it, not a part of the gain.
func Judge(p Prices, without, with *Play, years int, items []Item) (Purchase, error) {
	if years < 1 || without.Table.Seasons != with.Table.Seasons || with.Table.Seasons < 2*years {
		return Purchase{}, ErrFutures
	}
	cost := Total(items)
	b := Purchase{Futures: with.Table.Seasons / years, Years: years, Cost: cost, Own: Of(cost.Units() * (1 - p.GrantShare)), Items: items}
	now := b.futures(&p, without, with, years)
	b.YearGain = trials.NewMean(now.year)
	b.Never, b.PaysIn, b.NPV = now.never(), trials.NewBand(now.months), trials.NewMean(now.npv)
	b.NPVBand = trials.NewBand(now.npv)
	b.Positive = trials.NewOdds(floats.Count(func(x float64) bool { return x > 0 }, now.npv), b.Futures)
	b.BeforeEnd = trials.NewOdds(floats.Count(func(m float64) bool { return m <= float64(p.LoanMonths) }, now.months), b.Futures)
	b.breakEven(&p, without, with, now)

	less, wood := p, p
	less.PerGoodStalk *= 0.8
	wood.WoodPerKg, wood.WoodRainsPerKg = 2*wood.WoodPerKg, 2*wood.WoodRainsPerKg
	b.add(PaysLess, b.futures(&less, without, with, years))
	b.add(WoodTwice, b.futures(&wood, without, with, years))
	b.add(BuyerLeaves, b.futures(&p, without, with, min(2, years)))
	return b, nil
}

func (b *Purchase) add(change Change, f outcome) {
	b.WhatIfs = append(b.WhatIfs, WhatIf{change, trials.NewMean(f.npv), f.never(), trials.NewBand(f.months)})
}

// outcome is what became of a purchase, by future.
type outcome struct {
	npv    []float64
	year   []float64 // mean gain of a year
	months []float64 // of the futures in which it was paid back
}

func (o *outcome) never() trials.Odds { return trials.NewOdds(len(o.npv)-len(o.months), len(o.npv)) }

// futures plays all futures; the buyer buys in the first so many years.
func (b *Purchase) futures(p *Prices, without, with *Play, buys int) outcome {
	var o outcome
	for f := range b.Futures {
		flows := make([]float64, 12*b.Years+13+p.PaidAfter)
		flows[0] = -b.Own.Units()
		for _, item := range b.Items {
			for y := item.Years; y > 0 && y < b.Years; y += item.Years {
				flows[12*y] -= item.Cost.Units()
			}
		}
		for y := range buys {
			gain(flows[12*y:], p, without, with, f*b.Years+y)
		}
		yearly := make([]float64, b.Years+1)
		yearly[0] = flows[0]
		for m := 1; m < len(flows); m++ {
			yearly[min(b.Years, (m+11)/12)] += flows[m]
		}
		o.npv = append(o.npv, PresentValue(p.Discount, yearly))
		sum := 0.0
		for _, x := range yearly[1:] {
			sum += x
		}
		o.year = append(o.year, sum/float64(b.Years))
		if m, ok := Payback(flows); ok {
			o.months = append(o.months, m)
		}
	}
	return o
}

// gain adds the gain of season i to months: the first month of the season is month 1, and
// what is sold is paid later.
func gain(months []float64, p *Prices, without, with *Play, i int) {
	for n, y := range []*Play{with, without} {
		sign := float64(1 - 2*n)
		for _, site := range y.Season(p, i) {
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
func (b *Purchase) breakEven(p *Prices, without, with *Play, now outcome) {
	free := *p
	free.PerGoodStalk = 0
	none := b.futures(&free, without, with, b.Years)
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
		worth[f] = now.npv[f] + b.Own.Units()
		if own > 0 {
			worth[f] /= own
		} else {
			worth[f] = math.Inf(1)
		}
	}
	b.AtMost = trials.NewMean(worth)
}
