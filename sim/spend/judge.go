package spend

import (
	"context"
	"slices"
	"sort"

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

// judge runs the designs of the list through fresh seasons. Only what changes from one to the
// next is run.
func (s *search) judge(ctx context.Context, out *Answer, path []design) error {
	path = s.together(path)
	fresh := s.fresh()
	if err := fresh.runAll(ctx, path); err != nil {
		return err
	}
	var before standing
	for k := range path {
		now, err := fresh.standing(path[k])
		if err != nil {
			return err
		}
		b := now.bought
		b.Cost = b.Spent - before.bought.Spent
		if k == 0 {
			out.Start = b
		} else {
			b.Gain, b.Fewer = decide.PairedGain(now.worstMet, before.worstMet), fewer(now.short, before.short)
			b.Site, b.What = s.describe(path[k-1], path[k])
			out.Steps = append(out.Steps, b)
		}
		before = now
	}
	out.Reached = reachedAfter(append([]Bought{out.Start}, out.Steps...), s.Target)
	last := path[len(path)-1]
	out.All = s.inAll(last)
	var err error
	out.GrantShare = s.Prices.GrantShare
	if out.Before, err = s.income(ctx, path[0]); err != nil {
		return err
	}
	out.After, err = s.income(ctx, last)
	return err
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

// standing is how a design stands: its worst month, and what it did season by season.
type standing struct {
	bought   Bought
	worstMet []bool
	short    []float64
}

// standing serves the contract under a design.
func (s *search) standing(d design) (standing, error) {
	g, p := s.gate(d), s.play(d)
	worst := -1
	all := make([]bool, s.n)
	for i := range all {
		all[i] = true
	}
	for k := range g.Months {
		if g.Asked[k] == 0 {
			continue
		}
		if worst < 0 || count(p.met[k]) < count(p.met[worst]) {
			worst = k
		}
		for i := range all {
			all[i] = all[i] && p.met[k][i]
		}
	}
	if worst < 0 {
		return standing{}, decide.ErrNoContract
	}
	month := decide.MonthResult{Month: g.Months[worst], Name: g.Months[worst].String(), Asked: g.Asked[worst], Odds: trials.NewOdds(count(p.met[worst]), s.n)}
	return standing{Bought{Spent: s.cost(d), Worst: month, All: trials.NewOdds(count(all), s.n)}, p.met[worst], p.short}, nil
}

func count(met []bool) int {
	n := 0
	for _, m := range met {
		if m {
			n++
		}
	}
	return n
}

// income returns what a design earns a year on fresh seasons, with what is bought by the year.
func (s *search) income(ctx context.Context, d design) (trials.Mean, error) {
	r := s.region(d)
	plan := decide.PlanOf(r)
	set := s.Setup
	set.Region = r
	t, err := set.Table(ctx, 0, s.Seasons, trials.Only(plan), nil)
	if err != nil {
		return trials.Mean{}, err
	}
	items, _ := money.Items(s.Prices, s.Setup.Region, r, decide.PlanOf(s.Setup.Region), plan)
	y, err := money.NewPlay(r, t, plan)
	if err != nil {
		return trials.Mean{}, err
	}
	yearly := s.Prices.YearlyCost(items)
	net := make([]float64, t.Seasons)
	for i := range net {
		year := y.Year(s.Prices, i)
		net[i] = year.Net().Units() - yearly
	}
	return trials.NewMean(net), nil
}
