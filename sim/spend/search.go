package spend

import (
	"context"
	"slices"

	"drystalk/sim/decide"
	"drystalk/sim/money"
)

// list is the designs after each purchase, the plan as written first, and why it ends.
type list struct {
	path []design
	ends Ending
}

func (l list) last() design { return l.path[len(l.path)-1] }

// choose finds the list of purchases. An interrupted search returns what it has with an error.
func (s *search) choose(ctx context.Context, start design) (list, error) {
	found, err := s.buy(ctx, []design{start})
	if err != nil {
		return found, err
	}
	dryers := slices.IndexFunc(s.levers, func(l lever) bool { return l.key == Dryers })
	if dryers < 0 {
		return found, nil
	}
	other, err := s.fromMost(ctx, dryers)
	if err != nil {
		return found, err
	}
	if s.score(other.last()).Better(s.score(found.last())) {
		return other, nil
	}
	return found, nil
}

// buy spends what is left of the budget after the last design of a path, bundle by bundle, and
// polishes what it comes to by exchanges.
func (s *search) buy(ctx context.Context, path []design) (list, error) {
	l := list{path, Interrupted}
	ends, err := s.grow(ctx, &l)
	if err != nil {
		return l, err
	}
	for range rounds {
		better, found, err := s.exchange(ctx, l.last())
		if err != nil {
			return l, err
		}
		if !found {
			break
		}
		if l.path, err = s.inOrder(ctx, better); err != nil {
			l.path = []design{s.start(), better}
			return l, err
		}
	}
	l.ends = ends
	return l, nil
}

// grow buys one bundle after another for as long as one helps.
func (s *search) grow(ctx context.Context, l *list) (Ending, error) {
	for {
		d := l.last()
		if now := s.score(d); now.WorstMet == s.n && now.Shortfall == 0 {
			return AllMet, nil
		}
		next, found, err := s.next(ctx, d)
		if err != nil {
			return Interrupted, err
		}
		if !found {
			return NothingHelps, nil
		}
		l.path = append(l.path, next)
	}
}

// fromMost begins with as many steps of one lever as the budget holds, each where it does most,
// and spends the rest as before: small cheap steps first may leave too little for the dryer
// that counts.
func (s *search) fromMost(ctx context.Context, lever int) (list, error) {
	path := []design{s.start()}
	for {
		d := path[len(path)-1]
		var tries []design
		for site := range s.Setup.Region.Sites {
			if t := d.with(site, lever, 1); s.affordable(t) {
				tries = append(tries, t)
			}
		}
		if len(tries) == 0 {
			break
		}
		if err := s.runAll(ctx, tries); err != nil {
			return list{}, err
		}
		best := s.bestOf(tries)
		if !s.score(best).Better(s.score(d)) {
			break
		}
		path = append(path, best)
	}
	return s.buy(ctx, path)
}

// bestOf returns the best of designs that have been run, the first of equals.
func (s *search) bestOf(tries []design) design {
	return slices.MaxFunc(tries, func(a, b design) int {
		switch x, y := s.score(a), s.score(b); {
		case y.Better(x):
			return -1
		case x.Better(y):
			return 1
		}
		return 0
	})
}

// metCounts is the part of a month's contract that a season counts in which the worst month
// is met and was not: missing stalks alone would leave a month just short, met seasons alone
// cannot tell one small step from another. Assumption.
const metCounts = 0.05

// worth returns what a step does for its money: fewer missing stalks a season, and seasons
// more in which the worst month is met.
func (s *search) worth(now, then decide.Score, cost money.Amount) float64 {
	most := 0
	for _, n := range s.Setup.Region.Contract.StalksByMonth {
		most = max(most, n)
	}
	gain := float64(now.Shortfall-then.Shortfall) + metCounts*float64(most)*float64(then.WorstMet-now.WorstMet)
	return gain / max(cost.Units(), 1e-9)
}

// next returns the design with the affordable bundle of the best worth, if any helps.
func (s *search) next(ctx context.Context, d design) (best design, found bool, err error) {
	var tries []design
	for _, b := range s.bundles() {
		if t := b.in(d); s.affordable(t) {
			tries = append(tries, t)
		}
	}
	if err := s.runAll(ctx, tries); err != nil {
		return nil, false, err
	}
	now, spent := s.play(d), s.cost(d)
	top := 0.0
	for _, t := range tries {
		w := s.worth(now.score, s.score(t), s.cost(t)-spent)
		if w > top && s.helps(t, now) {
			best, top, found = t, w, true
		}
	}
	return best, found, nil
}

// mostExchanges bounds the site-plans run for exchanges in one round, and rounds how often.
const (
	mostExchanges = 60
	rounds        = 2
)

// exchange tries to give up one bought step and to buy a bundle for it: from what was found
// one by one, the best such exchange, if any helps.
func (s *search) exchange(ctx context.Context, d design) (design, bool, error) {
	tries := s.fewRuns(s.exchanges(d))
	if err := s.runAll(ctx, tries); err != nil {
		return d, false, err
	}
	best, found := s.score(d), false
	out := d
	for _, t := range tries {
		sc := s.score(t)
		if sc.Better(best) && (sc.WorstMet > best.WorstMet || sc.Shortfall < best.Shortfall) {
			best, out, found = sc, t, true
		}
	}
	return out, found, nil
}

// exchanges lists the affordable designs in which one step at a site is given up for a bundle.
func (s *search) exchanges(d design) []design {
	var tries []design
	for site := range s.Setup.Region.Sites {
		for l := range s.levers {
			if d[site][l] == 0 {
				continue
			}
			without := d.with(site, l, -1)
			for _, b := range s.bundles() {
				if len(b.levers) > exchangeLevers {
					continue
				}
				if t := b.in(without); s.affordable(t) {
					tries = append(tries, t)
				}
			}
		}
	}
	return tries
}

// exchangeLevers is the most levers of a bundle for which a step is given up.
const exchangeLevers = 2

// fewRuns keeps the designs whose rows have all been run, and of the others the first that ask
// for at most mostExchanges runs.
func (s *search) fewRuns(tries []design) []design {
	var keep []design
	runs := 0
	for _, t := range tries {
		missing := 0
		for _, k := range s.keys(t) {
			if _, ok := s.rows[k]; !ok {
				missing++
			}
		}
		if missing > 0 && runs >= mostExchanges {
			continue
		}
		runs += missing
		keep = append(keep, t)
	}
	return keep
}

// inOrder lays out a design as a list of purchases: what is in it is bought again, one step
// after another by its gain for its money.
func (s *search) inOrder(ctx context.Context, goal design) ([]design, error) {
	d := s.start()
	path := []design{d}
	for {
		var tries []design
		for at := range goal {
			for l := range s.levers {
				if d[at][l] < goal[at][l] {
					tries = append(tries, d.with(at, l, 1))
				}
			}
		}
		if len(tries) == 0 {
			return path, nil
		}
		err := s.runAll(ctx, tries)
		if err != nil {
			return path, err
		}
		if d, err = s.nextTowards(ctx, d, goal, tries); err != nil {
			return path, err
		}
		path = append(path, d)
	}
}

// nextTowards returns the step towards a goal with the best worth. Where no step alone is worth
// anything, it is several at one place, if those are; else the best of the steps.
func (s *search) nextTowards(ctx context.Context, d, goal design, steps []design) (design, error) {
	best, top := s.mostWorth(d, steps)
	if top > 0 {
		return best, nil
	}
	var tries []design
	for _, b := range s.bundles() {
		if t := b.in(d); len(b.levers) > 1 && t.within(goal) {
			tries = append(tries, t)
		}
	}
	if len(tries) == 0 {
		return best, nil
	}
	if err := s.runAll(ctx, tries); err != nil {
		return d, err
	}
	if several, worth := s.mostWorth(d, tries); worth > 0 {
		return several, nil
	}
	return best, nil
}

// mostWorth returns the design with the best worth against now, the first of equals.
func (s *search) mostWorth(d design, tries []design) (best design, top float64) {
	now, spent := s.score(d), s.cost(d)
	for k, t := range tries {
		if w := s.worth(now, s.score(t), s.cost(t)-spent); k == 0 || w > top {
			best, top = t, w
		}
	}
	return best, top
}

// within tells whether a design has no more of anything than another.
func (d design) within(goal design) bool {
	for at := range d {
		for l := range d[at] {
			if d[at][l] > goal[at][l] {
				return false
			}
		}
	}
	return true
}

// bundle is a step of each of some levers, bought together at one place.
type bundle struct {
	at     int
	levers []int
}

// in returns a design with the bundle bought.
func (b *bundle) in(d design) design {
	c := d.clone()
	for _, l := range b.levers {
		c[b.at][l]++
	}
	return c
}

// bundleLevers is the most levers in a bundle, besides all of them together.
const bundleLevers = 3

// bundles lists what may be bought in one go: a step of the region, and at each site each step
// alone, by two and by three, and all levers together. A chain of shortages can only begin with
// several at once.
func (s *search) bundles() []bundle {
	var local []int
	var out []bundle
	for l := range s.levers {
		if s.levers[l].region {
			out = append(out, bundle{len(s.Setup.Region.Sites), []int{l}})
		} else {
			local = append(local, l)
		}
	}
	sets := upTo(bundleLevers, local)
	if len(local) > bundleLevers {
		sets = append(sets, local)
	}
	for site := range s.Setup.Region.Sites {
		for _, set := range sets {
			out = append(out, bundle{site, set})
		}
	}
	return out
}

// upTo lists the sets of one to so many of a list, each after those it begins with.
func upTo(most int, of []int) [][]int {
	if most == 0 {
		return nil
	}
	var out [][]int
	for k, x := range of {
		out = append(out, []int{x})
		for _, rest := range upTo(most-1, of[k+1:]) {
			out = append(out, append([]int{x}, rest...))
		}
	}
	return out
}
