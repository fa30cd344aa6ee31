package decide

import (
	"context"
	"fmt"
	"slices"

	"drystalk/sim/trials"
)

// Phase is one dryer more on the way to the plan to fund: every phase keeps what the one before
// has put up. Its figures are of fresh seasons.
type Phase struct {
	AddedAt   string      `json:"added_at_site"`
	Dryers    int         `json:"dryers"` // in all, with this one
	PerSite   []int       `json:"dryers_per_site"`
	WorstName string      `json:"worst_month"`
	Odds      trials.Odds `json:"odds"` // of the worst month
	Reached   trials.Odds `json:"target_odds"`
	AllMonths trials.Odds `json:"all_months"`
	// NestingCosts is by how much the odds of the goal of the best placement of as many
	// dryers are above these, as a fraction, in the same seasons: nothing where it is the same.
	NestingCosts trials.Mean `json:"nesting_costs_share"`
}

// phases writes the order in which the plan to fund can be put up dryer by dryer. An interrupted
// run that would have to run it whole leaves it out.
func (d *dryers) phases(ctx context.Context, a *Answer) error {
	at := a.funded()
	order := nestedOrder(d.scorer, d.plans[0], d.plans[at])
	tables, err := d.nestedTables(ctx, order)
	if err != nil {
		if ctx.Err() != nil {
			return nil
		}
		return err
	}
	before := d.plans[0]
	for k, plan := range order {
		p, err := d.phase(a.Plans[k+1], d.played[k+1], tables[k], plan)
		if err != nil {
			return err
		}
		for site := range plan {
			if plan[site] > before[site] {
				p.AddedAt = a.Sites[site]
			}
		}
		a.Phases = append(a.Phases, p)
		before = plan
	}
	return nil
}

// nestedTables returns a table for each plan of an order: of a plan that is not the best of its
// number the seasons of which there are rows, or those that all plans lived through where it has to
// be run whole.
func (d *dryers) nestedTables(ctx context.Context, order [][]int) ([]*trials.Table, error) {
	tables := make([]*trials.Table, len(order))
	var apart [][]int
	for k, plan := range order {
		switch {
		case slices.Equal(plan, d.plans[k+1]):
			tables[k] = d.judged[k+1].table
		case d.whole:
			apart = append(apart, plan)
		default:
			tables[k] = d.rowsOf(plan)
		}
	}
	if len(apart) == 0 {
		return tables, nil
	}
	n := d.judged[0].seasons()
	for _, c := range d.judged {
		n = min(n, c.seasons())
	}
	ran, err := d.run(ctx, apart, 0, n)
	if err != nil {
		return nil, err
	}
	for k, plan := range order {
		for _, c := range ran {
			if slices.Equal(plan, c.plan) {
				tables[k] = c.table
			}
		}
	}
	return tables, nil
}

// rowsOf returns the most seasons of which there are rows for a plan.
func (d *dryers) rowsOf(plan []int) *trials.Table {
	var most *trials.Table
	for _, c := range d.judged {
		if t := c.table.Holding(plan); most == nil || t.Seasons > most.Seasons {
			most = t
		}
	}
	return most
}

// phase judges a plan of the order beside the best of as many dryers. Where the two are the same
// its figures are those of the best.
func (d *dryers) phase(best PlanResult, bestPlayed seasons, t *trials.Table, plan []int) (Phase, error) {
	if slices.Equal(plan, best.PerSite) {
		m := best.WorstMonth()
		return Phase{
			Dryers: best.Dryers, PerSite: best.PerSite, WorstName: m.Name, Odds: m.Odds, Reached: best.Odds, AllMonths: best.AllMonths,
			NestingCosts: trials.Mean{Seasons: m.Odds.Seasons},
		}, nil
	}
	r, err := JudgeFor(d.Goal, d.Setup.Region, t, plan)
	if err != nil {
		return Phase{}, err
	}
	nested, m := playFor(d.Goal, lived{d.Setup.Region, t, plan}), r.WorstMonth()
	return Phase{
		Dryers: r.Dryers, PerSite: r.PerSite, WorstName: m.Name, Odds: m.Odds, Reached: r.Odds, AllMonths: r.AllMonths,
		NestingCosts: pairedGain(bestPlayed.least(), nested.least()),
	}, nil
}

// widest is how many placements of one number of dryers are followed at most on the way back
// from the plan to fund. Where there are no more the order is the best of all orders.
const widest = 100

// chain is an order of plans, the smallest first, with the scores of all but the last summed up.
type chain struct {
	plan []int
	next *chain
	sum  Score
}

// nestedOrder returns the plans between two, smallest first and the larger one last: each has
// one dryer more than the one before. From the larger plan dryers are taken away one by one, so
// that the scores of the plans on the way are best in sum.
func nestedOrder(s *scorer, from, to []int) [][]int {
	level := []*chain{{plan: to}}
	for range max(0, total(to)-total(from)-1) {
		level = oneFewer(s, from, level)
	}
	var out [][]int
	for c := level[0]; c != nil && total(to) > total(from); c = c.next {
		out = append(out, c.plan)
	}
	return out
}

// oneFewer returns the best order that begins with each plan of one dryer fewer, best first.
func oneFewer(s *scorer, from []int, level []*chain) []*chain {
	var out []*chain
	at := map[string]*chain{}
	for _, c := range level {
		for site := len(from) - 1; site >= 0; site-- { // of equals earlier sites come first
			if c.plan[site] == from[site] {
				continue
			}
			plan := slices.Clone(c.plan)
			plan[site]--
			key := fmt.Sprint(plan)
			found := at[key]
			if found == nil {
				sc := s.score(plan)
				found = &chain{plan, c, sc.plus(c.sum)}
				at[key] = found
				out = append(out, found)
			} // a better order was met first: the level is sorted
		}
	}
	slices.SortStableFunc(out, func(a, b *chain) int {
		switch {
		case a.sum.Better(b.sum):
			return -1
		case b.sum.Better(a.sum):
			return 1
		}
		return 0
	})
	return out[:min(len(out), widest)]
}

// plus adds two scores of the same seasons.
func (s Score) plus(o Score) Score {
	return Score{s.WorstMet + o.WorstMet, s.Shortfall + o.Shortfall, s.Left + o.Left}
}
