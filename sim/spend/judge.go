package spend

import (
	"context"
	"slices"
	"sort"

	"drystalk/sim"
	"drystalk/sim/decide"
	"drystalk/sim/money"
	"drystalk/sim/trials"
)

// marginal says what one more step of each lever would do at the answer.
func (s *search) marginal(ctx context.Context, d design) ([]Marginal, error) {
	now, spent := s.score(d), s.cost(d)
	var tries []design
	var out []Marginal
	for l := range s.levers {
		for at := range d {
			if !s.sold(at, l) {
				continue
			}
			if t := d.with(at, l, 1); s.allowed(t) {
				tries = append(tries, t)
				out = append(out, Marginal{Site: s.nameOf(at), What: s.levers[l].quantity(1), Cost: s.cost(t) - spent})
			}
		}
	}
	if err := s.runAll(ctx, tries); err != nil {
		return nil, err
	}
	for k := range tries {
		sc := s.score(tries[k])
		out[k].Gain = float64(sc.WorstMet-now.WorstMet) / float64(s.n)
		out[k].Fewer = float64(now.Shortfall-sc.Shortfall) / float64(s.n)
	}
	sort.SliceStable(out, func(i, j int) bool { return out[i].perMoney() > out[j].perMoney() })
	return out, nil
}

// perMoney is how many stalks fewer are missing for a unit of the currency.
func (m *Marginal) perMoney() float64 { return m.Fewer / m.Cost.Units() }

// judge lives through fresh seasons with each plan of the list and drops what does harm there. The
// plan as written and that with the whole list are judged on all seasons that are stated.
func (j *judging) judge(ctx context.Context, out *Answer, path []design) error {
	path, stands, dropped, err := j.lines().harmless(ctx, path)
	if err != nil {
		return err
	}
	last := path[len(path)-1]
	ends, err := j.all(ctx, []design{path[0], last})
	if err != nil {
		return err
	}
	out.Dropped, out.Start = dropped, ends[0].bought
	out.LineSeasons = stands[0].bought.Odds.Seasons
	for k := 1; k < len(path); k++ {
		b, before := stands[k].bought, &stands[k-1]
		if k == len(path)-1 {
			b = ends[1].bought
		}
		b.Cost = b.Spent - before.bought.Spent
		b.Gain, b.Fewer = decide.PairedGain(stands[k].reached, before.reached), fewer(stands[k].short, before.short)
		b.Site, b.What = j.describe(path[k-1], path[k])
		out.Steps = append(out.Steps, b)
	}
	j.last = last
	out.Before, out.After, out.GrantShare = trials.NewMean(ends[0].net), trials.NewMean(ends[1].net), j.Prices.GrantShare
	out.More, out.Hands = more(ends[0].net, ends[1].net), j.Prices.Hands
	out.Reached = reachedAfter(append([]Bought{out.Start}, out.Steps...), j.Target)
	out.All, out.Best = j.inAll(last), j.region(last)
	out.Hub, err = j.hub(ctx, last)
	return err
}

// reachedAfter returns after how many steps the target is first reached, -1 if
// after none; the first of the list is the plan as written.
func reachedAfter(list []Bought, target float64) int {
	return slices.IndexFunc(list, func(b Bought) bool { return b.Odds.Share >= target })
}

// fewer is how many stalks fewer are missing a season than before, in the same seasons.
func fewer(now, before []float64) trials.Mean {
	diff := make([]float64, len(now))
	for i := range diff {
		diff[i] = before[i] - now[i]
	}
	return trials.NewMean(diff)
}

// more is how much more is left of a year now than before, in the same seasons.
func more(before, now []float64) trials.Mean { return fewer(before, now) }

// standing is how a design stands: its odds, what it did season by season, and what it
// earns a year, with what is bought by the year.
type standing struct {
	bought  Bought
	reached []bool // the goal
	short   []float64
	net     []float64 // left of the year of each season
}

// standing says how a design stands whose region has lived through the seasons of a table.
func (s *search) standing(d design, r *sim.Region, t *trials.Table) (standing, error) {
	plan := decide.PlanOf(r)
	result, err := decide.JudgeFor(s.Goal, r, t, plan)
	if err != nil {
		return standing{}, err
	}
	now := standing{bought: Bought{Spent: s.cost(d), Worst: result.WorstMonth(), Odds: result.Odds, All: result.AllMonths}}
	if now.reached, now.short, err = decide.BySeason(s.Goal, r, t, plan); err != nil {
		return standing{}, err
	}
	now.net, err = s.income(r, t)
	return now, err
}

// income returns what a plan earns in the year of each season, with its dryers by the year,
// less what else is bought by the year.
func (s *search) income(r *sim.Region, t *trials.Table) ([]float64, error) {
	written := s.Setup.Region
	_, net, err := decide.EarnsOf(s.Prices, r, t, decide.PlanOf(r))
	if err != nil {
		return nil, err
	}
	standing := decide.PlanOf(written) // dryers bought are in the net already
	items, _ := money.Items(s.Prices, written, r, standing, standing)
	yearly := s.Prices.YearlyCost(items)
	for i := range net {
		net[i] -= yearly
	}
	return net, nil
}
