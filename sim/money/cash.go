package money

import (
	"drystalk/sim"
	"drystalk/sim/trials"
	"drystalk/tongue"
)

// Part is a part of what a plan earns and costs in the course of a season.
type Part int

// The parts; those from Cutting on are costs.
const (
	Sales Part = iota
	SecondGrade
	Surplus
	Cutting
	Wages
	Night
	Crew
	Wood
	Collections
	Bags
	Upkeep
	Rent
	Penalty
	parts
)

// partKeys are the keys of the parts; their words stand in the report.
var partKeys = [parts]string{
	Sales:       "good_stalks_sold",
	SecondGrade: "second_grade_sold",
	Surplus:     "good_stalks_left_over",
	Cutting:     "pay_for_cutting",
	Wages:       "wages_for_other_work",
	Night:       "extra_pay_at_night",
	Crew:        "extra_crew",
	Wood:        "wood_bought",
	Collections: "collections_and_transport",
	Bags:        "bags_and_bundling",
	Upkeep:      "upkeep_of_dryers",
	Rent:        "rent_and_dues",
	Penalty:     "penalties",
}

// Keys of money beside the parts of a season.
const (
	DryersByTheYear   = "dryers_by_the_year"
	NetBeforePurchase = "net_before_what_is_bought"
)

// AllParts returns the parts in their order.
func AllParts() (out []Part) {
	for k := range parts {
		out = append(out, k)
	}
	return out
}

// String returns the key of the part.
func (k Part) String() string { return partKeys[k] }

// MarshalText writes the key.
func (k Part) MarshalText() ([]byte, error) { return []byte(k.String()), nil }

// Parts are amounts by part; costs are negative.
type Parts [parts]Amount

// Net returns their sum.
func (p *Parts) Net() Amount {
	sum := Amount(0)
	for _, a := range p {
		sum += a
	}
	return sum
}

// Cost returns the sum of the costs, positive.
func (p *Parts) Cost() Amount {
	sum := Amount(0)
	for _, a := range p[Cutting:] {
		sum -= a
	}
	return sum
}

func (p *Parts) add(o *Parts) {
	for k := range p {
		p[k] += o[k]
	}
}

// Ledger is the money and the hours of a plan season by season: a purchase is judged by those of
// two plans. Play is one; a program of its own may bring another.
type Ledger interface {
	// Groups returns the region, whose sites pay and are paid.
	Groups() *sim.Region
	// Lived returns how many seasons there are.
	Lived() int
	// Season returns the money of season i by site and month of the season.
	Season(p *Prices, i int) [][]Parts
	// Hours returns the person-hours that a site's own people worked in each month of season i.
	Hours(site, i int) []float64
}

// Groups returns the region.
func (y *Play) Groups() *sim.Region { return y.Region }

// Lived returns how many seasons have been run.
func (y *Play) Lived() int { return y.Table.Seasons }

// Play is a plan whose seasons have been run.
type Play struct {
	Region *sim.Region
	Table  *trials.Table // of the region, holding the plan
	Plan   []int         // dryers by site
	shares []float64
	months []sim.HubMonth
	sums   trials.Arriving
	paid   []Amount
}

// NewPlay returns a play; the table must hold the plan.
func NewPlay(r *sim.Region, t *trials.Table, plan []int) (*Play, error) {
	if !t.Has(plan) {
		return nil, tongue.Errorf("the seasons that were run do not hold the plan %v", plan)
	}
	n := t.Months()
	return &Play{r, t, plan, r.Shares(), make([]sim.HubMonth, n), trials.Arriving{}, make([]Amount, len(plan))}, nil
}

// Delivered returns the good stalks delivered in season i, those made good included.
func (y *Play) Delivered(i int) int {
	y.Table.Hub(y.months, &y.sums, y.Plan, i)
	n := 0
	for k := range y.months {
		n += y.months[k].Delivered + y.months[k].MadeGood
	}
	return n
}

// Season returns the money of season i by site and month of the season, in the month it is
// earned or spent. What the buyer pays for a month is shared among the sites by the good
// stalks they have brought so far, to the last minor unit.
func (y *Play) Season(p *Prices, i int) [][]Parts {
	out := make([][]Parts, len(y.Plan))
	n := y.Table.Months()
	for site := range out {
		out[site] = make([]Parts, n)
		y.siteSeason(p, site, i, out[site])
	}
	y.sellSecond(p, i, out)
	y.Table.Hub(y.months, &y.sums, y.Plan, i)
	brought := make([]float64, len(y.Plan))
	for site := range brought {
		brought[site] = y.shares[site] * float64(y.Table.Gate().Opening)
	}
	for k := range n {
		m := &y.months[k]
		for site := range brought {
			brought[site] += float64(y.Table.Accepted(site, y.Plan[site], i)[k])
		}
		y.share(Of(float64(m.Delivered+m.MadeGood)*p.PerGoodStalk), brought, func(site int, a Amount) { out[site][k][Sales] += a })
		y.share(-p.PenaltyOf(m), y.shares, func(site int, a Amount) { out[site][k][Penalty] += a })
	}
	y.share(Of(float64(y.months[n-1].Closing)*p.SurplusPerStalk), brought, func(site int, a Amount) { out[site][n-1][Surplus] += a })
	return out
}

// sellSecond writes what second grade brings. Of more than the ceiling of a month each site sells
// its share by what it has; what is left over nobody buys, then or later.
func (y *Play) sellSecond(p *Prices, i int, out [][]Parts) {
	n := y.Table.Months()
	have, all := make([][]float64, n), make([]int, n) // by month, and site
	for site := range out {
		for k, second := range y.Table.MonthFigures(sim.Second, site, y.Plan[site], i) {
			out[site][k][SecondGrade] = Of(float64(second) * p.PerSecondStalk)
			have[k], all[k] = append(have[k], float64(second)), all[k]+int(second)
		}
	}
	for k := range n {
		if p.SecondMost < 0 || all[k] <= p.SecondMost {
			continue
		}
		for site, sold := range split(Of(float64(p.SecondMost)*p.PerSecondStalk), have[k]) {
			out[site][k][SecondGrade] = sold
		}
	}
}

// siteSeason writes what a site spends by itself.
func (y *Play) siteSeason(p *Prices, site, i int, out []Parts) {
	figures := func(f sim.FigureID) []int32 { return y.Table.MonthFigures(f, site, y.Plan[site], i) }
	paid, work, night := figures(sim.Cut), y.ownMinutes(site, i), figures(sim.NightH)
	if p.PayFor == ForGood {
		paid = y.Table.Accepted(site, y.Plan[site], i)
	}
	firing, wood, trips, sent := figures(sim.FiringH), figures(sim.WoodKg), figures(sim.Trips), figures(sim.ToHub)
	dryers, rainMM := float64(y.Plan[site]), y.Table.RainMM(i)
	for k, span := range y.Table.Spans() {
		days := float64(span.LastDay - span.FirstDay + 1)
		o := &out[k]
		o[Cutting] = -Of(float64(paid[k]) * p.PerStalkCut)
		o[Wages] = -Of(work[k] / 60 * p.WagePerH)
		o[Night] = -Of(float64(night[k]) / 60 * p.NightExtraPerH)
		o[Crew] = -Of(y.crewH(site, k) * p.CrewPerH)
		o[Wood] = -Of(float64(wood[k]) / 10 * p.woodPerKg(rainMM[k]))
		o[Collections] = -Of(float64(trips[k])*p.PerTrip + float64(sent[k])*p.CarryPerStalk)
		o[Bags] = -Of(float64(sent[k]) * p.BagPerStalk)
		year := days / float64(y.Region.Calendar.Days) // what is paid by the year falls into the season
		o[Upkeep] = -Of(float64(firing[k])/60*p.UpkeepPerH + dryers*p.UpkeepPerDryer*year)
		o[Rent] = -Of(p.RentPerYear * year)
	}
}

// share splits an amount by weights and gives each site its part.
func (y *Play) share(a Amount, weights []float64, give func(site int, a Amount)) {
	if a == 0 {
		return
	}
	splitInto(y.paid, a, weights)
	for site, part := range y.paid {
		give(site, part)
	}
}

// split returns the parts of an amount by weights.
func split(a Amount, weights []float64) []Amount {
	out := make([]Amount, len(weights))
	splitInto(out, a, weights)
	return out
}

// splitInto splits an amount by weights to the last minor unit; the rest of rounding goes to the
// part with the largest weight. Without any weight all parts are equal.
func splitInto(out []Amount, a Amount, weights []float64) {
	sum, largest := 0.0, 0
	for k, w := range weights {
		sum += w
		if w > weights[largest] {
			largest = k
		}
	}
	left := a
	for k, w := range weights {
		part := 1 / float64(len(weights))
		if sum > 0 {
			part = w / sum
		}
		out[k] = Amount(float64(a) * part) // towards zero
		left -= out[k]
	}
	out[largest] += left
}

// Year returns the money of season i in all, by part.
func (y *Play) Year(p *Prices, i int) Parts {
	var sum Parts
	for _, months := range y.Season(p, i) {
		for k := range months {
			sum.add(&months[k])
		}
	}
	return sum
}
