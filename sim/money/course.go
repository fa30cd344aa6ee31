package money

import (
	"gonum.org/v1/gonum/floats"

	"drystalk/sim/trials"
)

// course is what a purchase is judged by: the seasons of both plans and what each site pays.
type course struct {
	without, with Ledger
	years         int // of a future
	bills         []Bill
}

// outcome is what became of a purchase, by future.
type outcome struct {
	npv           []float64   // after own part and instalments, hours at their worth
	money, freed  []float64   // parts of it: money, and hours freed, both as worth today
	soFar         [][]float64 // by year and future: what it has brought until then, less what was paid for it
	year          []float64   // mean gain of a year before own part and instalments
	months        []float64   // of the futures in which it was paid back
	parts         [parts][]float64
	lived         *livings
	before, after *tally // accounts without and with it
}

func (o *outcome) never() trials.Odds { return trials.NewOdds(len(o.npv)-len(o.months), len(o.npv)) }

// whatIf says what became of it under an assumption.
func (o *outcome) whatIf(change Change) WhatIf {
	w := WhatIf{
		Change: change, NPV: trials.NewMean(o.npv), NPVBand: trials.NewBand(o.npv),
		Positive: trials.NewOdds(floats.Count(func(x float64) bool { return x > 0 }, o.npv), len(o.npv)),
		Never:    o.never(), PaysIn: trials.NewBand(o.months), NotCovered: o.after.notCovered(),
	}
	w.Verdict = verdictOf(w.NPV, w.Positive, w.NotCovered)
	return w
}

// futures plays all futures; the buyer buys in the first so many years.
func (c *course) futures(p *Prices, buys int) outcome {
	sites := len(c.with.Groups().Sites)
	o := outcome{before: newTally(sites, c.years, nil), after: newTally(sites, c.years, c.bills), lived: newLivings(sites)}
	plays := [2]Ledger{c.without, c.with}
	for f := range c.with.Lived() / c.years {
		seasons := [2][][][]Parts{seasonsOf(c.without, p, f*c.years, buys), seasonsOf(c.with, p, f*c.years, buys)}
		o.before.add(accounts(p, seasons[0], c.years, nil))
		o.after.add(accounts(p, seasons[1], c.years, c.bills))
		o.lived.add(p, plays, f*c.years, seasons)
		o.addParts(seasons)
		o.add(p, c, c.gains(p, seasons), c.freed(p, f*c.years, buys))
	}
	return o
}

// gains returns what a purchase brings month by month, and what is bought again; month 0 is before
// the first season. After the buyer has left nothing is bought again.
func (c *course) gains(p *Prices, seasons [2][][][]Parts) []float64 {
	flows := make([]float64, 12*c.years+13+p.PaidAfter)
	for y := range seasons[1] {
		for k := range c.bills {
			flows[12*y] -= c.bills[k].Again[y].Units()
		}
		gain(flows[12*y:], p, seasons[0][y], seasons[1][y])
	}
	return flows
}

// freed returns the hours of members that a purchase frees month by month, as long as the buyer
// buys.
func (c *course) freed(p *Prices, first, buys int) []float64 {
	out := make([]float64, 12*c.years+13+p.PaidAfter)
	if p.Hands != Members {
		return out
	}
	for n, y := range []Ledger{c.without, c.with} {
		for site := range y.Groups().Sites {
			for i := range buys {
				for k, h := range y.Hours(site, first+i) {
					out[12*i+k+1] += float64(1-2*n) * h
				}
			}
		}
	}
	return out
}

// firstNow returns what is paid for the purchase itself, own part and instalments, as worth before
// the first season.
func (c *course) firstNow(p *Prices) float64 {
	sum := 0.0
	for k := range c.bills {
		first := c.bills[k]
		first.Again = nil
		sum += first.now(p.Discount)
	}
	return sum
}

// add counts one more future by its flows and the hours freed.
func (o *outcome) add(p *Prices, c *course, flows, freed []float64) {
	worth, _ := p.WorthOfHour()
	money, hours := c.now(p, flows)-c.firstNow(p), c.now(p, freed)
	o.money, o.freed, o.npv = append(o.money, money), append(o.freed, hours), append(o.npv, money+worth*hours)
	floats.AddScaled(flows, worth, freed)
	o.year = append(o.year, floats.Sum(flows[1:])/float64(c.years))
	o.addSoFar(c, flows)
	for k := range c.bills {
		flows[0] -= c.bills[k].AfterGrant().Units()
	}
	if m, ok := Payback(flows); ok {
		o.months = append(o.months, m)
	}
}

// addSoFar adds what a future has brought by the end of each year, by its flows before own part and
// instalments. What is paid after the years counts as paid at their end, as in now; instalments due
// after them are in no year.
func (o *outcome) addSoFar(c *course, flows []float64) {
	if o.soFar == nil {
		o.soFar = make([][]float64, c.years+1)
	}
	sum := 0.0
	for y := range o.soFar {
		if y == c.years {
			sum += floats.Sum(flows[12*y+1:])
		}
		for m := max(0, 12*(y-1)+1); m <= 12*y; m++ {
			sum += flows[m]
			for k := range c.bills {
				if m == 0 {
					sum -= c.bills[k].Own.Units()
				} else if m <= len(c.bills[k].Instalments) {
					sum -= c.bills[k].Instalments[m-1].Units()
				}
			}
		}
		o.soFar[y] = append(o.soFar[y], sum)
	}
}

// now returns what flows by month are worth before the first season; what is paid after the years
// counts as paid at their end.
func (c *course) now(p *Prices, flows []float64) float64 {
	yearly := make([]float64, c.years+1)
	for m, x := range flows {
		yearly[min(c.years, (m+11)/12)] += x
	}
	return PresentValue(p.Discount, yearly)
}

// gain adds the gain of a season to months: the first month of the season is month 1, and
// what is sold is paid later.
func gain(months []float64, p *Prices, without, with [][]Parts) {
	for n, sites := range [][][]Parts{with, without} {
		sign := float64(1 - 2*n)
		for _, site := range sites {
			for k := range site {
				sold := site[k][Sales]
				months[k+1] += sign * (p.Theirs(&site[k]) - sold).Units()
				months[k+1+p.PaidAfter] += sign * sold.Units()
			}
		}
	}
}

// addParts adds what a future brings more of each part in a mean year.
func (o *outcome) addParts(seasons [2][][][]Parts) {
	var more Parts
	for n, years := range seasons {
		for _, sites := range years {
			for _, months := range sites {
				for k := range months {
					for part, a := range months[k] {
						more[part] += Amount(2*n-1) * a
					}
				}
			}
		}
	}
	for part, a := range more {
		o.parts[part] = append(o.parts[part], a.Units()/float64(len(seasons[1])))
	}
}

// gains returns what the gain of a year is made of. What is paid to members is none of it; hours
// that they have free are, at their worth.
func (o *outcome) gains(p *Prices) (out []PartGain) {
	for part, values := range o.parts {
		if !p.ToMembers(Part(part)) {
			out = append(out, PartGain{Part(part).String(), trials.NewMean(values)})
		}
	}
	if worth, _ := p.WorthOfHour(); worth > 0 {
		freed := less(o.lived.all.hours[0], o.lived.all.hours[1])
		floats.Scale(worth, freed)
		out = append(out, PartGain{FreedHours, trials.NewMean(freed)})
	}
	return out
}

// livelihood tells what members have of both plans, nil where the hands are hired.
func (c *course) livelihood(p *Prices, o outcome) *Livelihood {
	if p.Hands != Members {
		return nil
	}
	level := LevelPayment(p.Discount, c.years)
	costs := make([]float64, len(c.bills))
	for k := range c.bills {
		costs[k] = level * c.bills[k].now(p.Discount)
	}
	l := &o.lived.all
	l.gain, l.freed = append([]float64(nil), o.money...), append([]float64(nil), o.freed...)
	floats.Scale(level, l.gain)
	floats.Scale(level, l.freed)
	out := o.lived.livelihood([2]Ledger{c.without, c.with}, costs)
	l.judged(out, p, o.after.notCovered())
	return out
}
