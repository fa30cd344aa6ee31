package decide

import (
	"drystalk/sim"
	"drystalk/sim/goal"
	"drystalk/sim/money"
	"drystalk/sim/trials"
)

// What a goal asks of the seasons of a plan are events, each reached or not season by season. The
// odds of a plan are those of the event reached in the fewest seasons.

// events returns by event and season whether it is reached.
func (p *seasons) events() [][]bool {
	if p.aimed != nil {
		return p.aimed
	}
	return p.met
}

// least returns the event reached in the fewest seasons, the earliest of equals. Of the worst
// month that is the month met in the fewest.
func (p *seasons) least() []bool {
	events := p.events()
	least := events[0]
	for _, e := range events[1:] {
		if count(e) < count(least) {
			least = e
		}
	}
	return least
}

// lived is a plan with the region and the table of the seasons that hold it.
type lived struct {
	region *sim.Region // nil where the goal does not go by income
	table  *trials.Table
	plan   []int
}

// playFor returns what a plan did season by season, with the events of a goal.
func playFor(g goal.Goal, l lived) seasons {
	p := play(l.table, l.plan)
	if g.ByMonth() || len(p.asked) == 0 {
		return p
	}
	s := newScorerFor(g, l.region, l.table)
	reached := make([]bool, l.table.Seasons)
	for i := range reached {
		l.table.Hub(s.months, &s.sums, l.plan, i)
		reached[i] = g.Reached(s.months, s.income(l.plan, i))
	}
	p.aimed = [][]bool{reached}
	return p
}

// strictly returns how a plan would do without the tolerance of its contract, nil where it has
// none or the goal does not go by months met.
func strictly(g goal.Goal, t *trials.Table, plan []int) *WithoutTolerance {
	gate := t.Gate()
	if gate.Tolerance == 0 || (g.Kind != goal.WorstMonth && g.Kind != goal.AllMonths) {
		return nil
	}
	p := play(t.WithoutTolerance(), plan)
	worst := p.worst()
	s := &WithoutTolerance{
		Tolerance: gate.Tolerance, WorstName: gate.Months[p.asked[worst]].String(),
		Worst: trials.NewOdds(count(p.met[worst]), t.Seasons), AllMonths: trials.NewOdds(count(p.allMet), t.Seasons),
	}
	s.Odds = s.Worst
	if g.Kind == goal.AllMonths {
		s.Odds = s.AllMonths
	}
	return s
}

// incomes tells quickly what a region earns in a season under any plan that a table holds, as
// EarnsOf does with the pay of members on top: what each site spends by itself is worked out once.
type incomes struct {
	prices *money.Prices
	region *sim.Region
	table  *trials.Table
	sites  map[[2]int][]money.Amount // by site and dryers: by season
	second [][]int32                 // reused
}

func newIncomes(p *money.Prices, r *sim.Region, t *trials.Table) *incomes {
	return &incomes{p, r, t, map[[2]int][]money.Amount{}, make([][]int32, len(r.Sites))}
}

// of returns what the region earns in season i, whose months at the hub are given, in units of
// the currency.
func (x *incomes) of(plan []int, i int, months []sim.HubMonth) float64 {
	sum := money.Amount(0)
	for site, dryers := range plan {
		at := [2]int{site, dryers}
		if x.sites[at] == nil {
			for k := range x.table.Seasons {
				x.sites[at] = append(x.sites[at], x.prices.SiteNet(x.region, x.table, site, dryers, k))
			}
		}
		sum += x.sites[at][i]
		x.second[site] = x.table.MonthFigures(sim.Second, site, dryers, i)
	}
	return (sum + x.prices.HubNet(months, x.second)).Units() - DryersYearly(x.prices, plan)
}

// DryersYearly returns what the dryers of a plan cost by the year, less their grant, in units of
// the currency.
func DryersYearly(p *money.Prices, plan []int) float64 {
	return p.Yearly(money.Of(p.DryerCost), p.DryerYears) * float64(total(plan))
}
