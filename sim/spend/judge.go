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

// together joins purchases that follow one another at one site.
func (s *search) together(path []design) []design {
	out := path[:1:1]
	last := "" // site of the purchase that leads to the last of out
	for k := 1; k < len(path); k++ {
		site, _ := s.describe(path[k-1], path[k])
		if len(out) > 1 && site == last && site != "" {
			out[len(out)-1] = path[k]
			continue
		}
		out, last = append(out, path[k]), site
	}
	return out
}

// judge lives through fresh seasons with each plan of the list, whole, as the odds of a plan
// are found: what is said of a plan here is what is said of it there, to the last digit.
func (s *search) judge(ctx context.Context, out *Answer, path []design) error {
	path = s.together(path)
	var before standing
	for k := range path {
		now, err := s.standing(ctx, path[k], s.telling(k, len(path)))
		if err != nil {
			return err
		}
		b := now.bought
		b.Cost = b.Spent - before.bought.Spent
		if k == 0 {
			out.Start, out.Before = b, now.net
		} else {
			b.Gain, b.Fewer = decide.PairedGain(now.worstMet, before.worstMet), fewer(now.short, before.short)
			b.Site, b.What = s.describe(path[k-1], path[k])
			out.Steps = append(out.Steps, b)
		}
		before = now
	}
	out.After, out.GrantShare = before.net, s.Prices.GrantShare
	out.Reached = reachedAfter(append([]Bought{out.Start}, out.Steps...), s.Target)
	out.All = s.inAll(path[len(path)-1])
	return nil
}

// telling returns a progress of the k-th of so many plans that are judged.
func (s *search) telling(k, of int) func(done int) {
	if s.Progress == nil {
		return nil
	}
	return func(done int) { s.Progress(decide.Judging, k*s.Seasons+done, of*s.Seasons) }
}

// reachedAfter returns after how many steps the worst month first has the target odds, -1 if
// after none; the first of the list is the plan as written.
func reachedAfter(list []Bought, target float64) int {
	return slices.IndexFunc(list, func(b Bought) bool { return b.Worst.Odds.Share >= target })
}

// fewer is how many stalks fewer are missing a season than before, in the same seasons.
func fewer(now, before []float64) trials.Mean {
	diff := make([]float64, len(now))
	for i := range diff {
		diff[i] = before[i] - now[i]
	}
	return trials.NewMean(diff)
}

// standing is how a design stands: its worst month, what it did season by season, and what it
// earns a year, with what is bought by the year.
type standing struct {
	bought   Bought
	worstMet []bool
	short    []float64
	net      trials.Mean
}

// standing lives through fresh seasons with a design.
func (s *search) standing(ctx context.Context, d design, tell func(done int)) (standing, error) {
	r, set := s.region(d), s.Setup
	set.Region = r
	plan := decide.PlanOf(r)
	t, err := set.Table(ctx, 0, s.Seasons, trials.Only(plan), tell)
	if err != nil {
		return standing{}, err
	}
	result, err := decide.Judge(t, plan)
	if err != nil {
		return standing{}, err
	}
	now := standing{bought: Bought{Spent: s.cost(d), Worst: result.WorstMonth(), All: result.AllMonths}}
	if now.worstMet, now.short, err = decide.WorstBySeason(t, plan); err != nil {
		return standing{}, err
	}
	now.net, err = s.income(r, t)
	return now, err
}

// income returns what the odds of a plan say that it earns a year, with its dryers by the year,
// less what else is bought by the year.
func (s *search) income(r *sim.Region, t *trials.Table) (trials.Mean, error) {
	written := s.Setup.Region
	_, net, err := decide.EarnsOf(s.Prices, r, t, decide.PlanOf(r))
	if err != nil {
		return trials.Mean{}, err
	}
	standing := decide.PlanOf(written) // dryers bought are in the net already
	items, _ := money.Items(s.Prices, written, r, standing, standing)
	yearly := s.Prices.YearlyCost(items)
	for i := range net {
		net[i] -= yearly
	}
	return trials.NewMean(net), nil
}
