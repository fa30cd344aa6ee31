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
	if dryers < 0 || found.ends == AllMet {
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
		if ends == AllMet {
			break
		}
		better, found, err := s.exchange(ctx, l.last())
		if err != nil {
			return l, err
		}
		if !found {
			break
		}
		l.path = []design{s.start(), better} // it is laid out step by step when it is thinned
	}
	l.ends = ends
	return l, nil
}

// grow buys one bundle after another for as long as one helps.
func (s *search) grow(ctx context.Context, l *list) (Ending, error) {
	look := s.lookFor(s.bundles(), s.affordable)
	for {
		d := l.last()
		if now := s.score(d); now.WorstMet == s.n && now.Shortfall == 0 {
			return AllMet, nil
		}
		next, found, err := look.next(ctx, d)
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
		next, helps, err := s.oneMore(ctx, path[len(path)-1], lever)
		if err != nil {
			return list{path, Interrupted}, err
		}
		if !helps {
			break
		}
		path = append(path, next)
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
		missing := s.unasked(t)
		if missing > 0 && runs >= mostExchanges {
			continue
		}
		runs += missing
		keep = append(keep, t)
	}
	return keep
}
