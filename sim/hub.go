package sim

import (
	"math"
	"slices"
	"time"

	"drystalk/tongue"
)

// Gate holds what the hub needs to know of the contract, month by month of the
// season.
type Gate struct {
	Months  []time.Month
	Asked   []int // good stalks
	Least   []int // good stalks that still count as met
	Opening int   // good stalks at the hub on the first day
	Grace   bool  // a shortfall may be made good in the next month, before that month is served

	Tolerance float64 // of the contract, which Least goes by

	// CarriesMost is the most that is carried over by month, but for what lay there before; what is
	// more counts as never brought. nil: any number. It stands for the word of the hub where sites
	// live as if alone.
	CarriesMost []int

	// Comes is good stalks that come to the hub by month from outside the region, once; nil: none. They
	// keep as what lay there on the first day does.
	Comes []int
}

// Gate returns the rules by which the hub serves the contract.
func (r *Region) Gate() Gate {
	g := Gate{Opening: r.Hub.OpeningStock, Grace: r.Contract.Grace, Tolerance: r.Contract.Tolerance}
	for _, s := range r.Calendar.Months() {
		asked := r.Contract.StalksByMonth[s.Month]
		g.Months = append(g.Months, s.Month)
		g.Asked = append(g.Asked, asked)
		g.Least = append(g.Least, r.Contract.Least(asked))
	}
	r.Start.takenUp(&g, r.Calendar.Months(), &r.Contract)
	return g
}

// LastAsked returns the last month of the season that asks for stalks; -1 where none does.
func (g *Gate) LastAsked() int {
	for m := len(g.Asked) - 1; m >= 0; m-- {
		if g.Asked[m] > 0 {
			return m
		}
	}
	return -1
}

// Arrivals is what came to the hub in a season, by month.
type Arrivals struct {
	Arrived []int // those refused included
	Refused []int // at the gate; nil: none
	Kept    Kept  // what became of the accepted ones
}

// Serve fills months with what the contract takes of the stalks that arrived at
// the hub less those refused. In each month first what has spoiled at the hub is sorted out.
// Delivered is what is there, at most what is asked, of the oldest first; a month is met when
// that is at least the contract less its tolerance, equality included; what is left is carried
// over and a shortfall is lost, or with grace made good first in the month after.
func (g *Gate) Serve(months []HubMonth, in Arrivals) {
	var room [2 * mostServed]int // on the stack for seasons of usual length
	n := len(months)
	s := shelf{stock: append(room[:0:mostServed], g.Opening), kept: in.Kept, n: n}
	accepted := append(room[mostServed:mostServed], in.Arrived[:n]...)
	for i := range months {
		refused := 0
		if in.Refused != nil {
			refused = in.Refused[i]
			accepted[i] -= refused
		}
		g.serve(months, i, refused, &s, accepted)
	}
}

// serve serves month i of those before it; accepted holds the arrivals less those refused by
// month up to it.
func (g *Gate) serve(months []HubMonth, i, refused int, s *shelf, accepted []int) {
	m := &months[i]
	*m = HubMonth{Month: g.Months[i], Opening: g.Opening, Arrived: accepted[i] + refused, RefusedAtGate: refused, Asked: g.Asked[i]}
	if i > 0 {
		m.Opening = months[i-1].Closing
	}
	s.stock = append(s.stock, accepted[i])
	m.Spoiled = s.spoil(i, accepted)
	if g.Comes != nil {
		m.Arrived += g.Comes[i]
		s.stock[0] += g.Comes[i]
	}
	if g.Grace && i > 0 && !months[i-1].Met {
		late := &months[i-1]
		m.MadeGood = s.take(late.Asked - late.Delivered)
		late.Met = late.Delivered+m.MadeGood >= g.Least[i-1]
	}
	m.Delivered = s.take(m.Asked)
	m.Met = m.Delivered >= g.Least[i]
	m.Closing = m.Available() - m.MadeGood - m.Delivered
	if g.CarriesMost != nil {
		most := max(g.CarriesMost[i], m.Opening-m.Delivered-m.MadeGood)
		s.drop(m.Closing - most)
		m.Closing = min(m.Closing, max(0, most))
	}
}

// mostServed is how many months and the opening stock a shelf holds without asking for memory.
const mostServed = 16

// Least returns the good stalks that still count as the month met.
func (c Contract) Least(asked int) int {
	// A hair is taken off so that 0.95 of 20,000 is 19,000 and not 19,001.
	return int(math.Ceil(float64(asked)*(1-c.Tolerance) - 1e-6))
}

// Ledger runs one whole season of the region with the dryers of its sites, which share
// one weather.
func (run *Runner) Ledger(season *Season) (RegionLedger, error) {
	return run.LedgerOf(func(int) *Season { return season })
}

// LedgerOf is Ledger where sites lie apart: seasonOf gives each its weather.
func (run *Runner) LedgerOf(seasonOf func(site int) *Season) (RegionLedger, error) {
	order, err := run.region.HaulOrder()
	if err != nil {
		return RegionLedger{}, err
	}
	lanes := make([]Lane, len(order))
	for k, i := range order {
		lanes[k] = Lane{i, run.region.Sites[i].Dryers, seasonOf(i)}
	}
	lived, err := run.LivePlans([][]Lane{lanes})
	if err != nil {
		return RegionLedger{}, err
	}
	led := RegionLedger{Season: seasonOf(0).Number, Sites: make([]SiteLedger, len(order))}
	arrived, refused := make([]int, len(run.spans)), make([]int, len(run.spans))
	var kept Kept
	for k := range lived {
		did, s := &lived[k], &run.region.Sites[order[k]]
		for m := range did.Months {
			arrived[m] += did.Months[m].ToHub
			refused[m] += did.Months[m].RefusedAtGate
		}
		kept.Add(did.Kept)
		led.Sites[order[k]] = SiteLedger{s.Name, s.Dryers, slices.Clone(did.Months), did.Days, did.Water, append([]DryerHours{}, did.Each...)}
	}
	gate := run.region.Gate()
	led.Hub = make([]HubMonth, len(run.spans))
	gate.Serve(led.Hub, Arrivals{arrived, refused, kept})
	return led, led.CheckHub()
}

// CheckHub proves that every stalk at the hub is accounted for.
func (l *RegionLedger) CheckHub() error {
	for i := range l.Hub {
		m := &l.Hub[i]
		if m.Opening+m.Arrived != m.RefusedAtGate+m.Spoiled+m.MadeGood+m.Delivered+m.Closing || m.Closing < 0 || m.Spoiled < 0 {
			return tongue.Errorf("season %d: stalks of %s at the hub do not balance: %+v", l.Season, m.Month, *m)
		}
	}
	return nil
}
