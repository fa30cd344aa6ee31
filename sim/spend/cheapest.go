package spend

import (
	"cmp"
	"context"
	"math"
	"slices"

	"drystalk/sim/money"
)

// mostRaised is how often the odds that a list must have in the seasons of pruning are raised at
// most, because it missed the target in the fresh ones. Assumption.
const mostRaised = 3

// cheapest finds the list that reaches the target for least. What is bought until it is reached
// is chosen on the seasons of the search; whether it is, and what may be left out or exchanged for
// something cheaper, on those of pruning. What then misses the target in the fresh seasons must
// have more than it asks in those of pruning. Where nothing reaches it, that is the best list.
func (b *buying) cheapest(ctx context.Context, start design) (list, error) {
	c := cheap{search: b.search, wide: b.pruning(), wanted: b.Target}
	for raised := 0; ; raised++ {
		goal, reached, err := c.reach(ctx, start)
		if err != nil {
			return list{[]design{start}, Interrupted}, err
		}
		path, err := b.inOrder(ctx, goal)
		if err != nil || !reached {
			return list{path, NothingHelps}, err
		}
		if raised == mostRaised {
			return list{path, TargetMet}, nil
		}
		stands, err := b.judging.all(ctx, []design{goal})
		if err != nil {
			return list{path, Interrupted}, err
		}
		missing := b.Target - stands[0].bought.Odds.Share
		if missing <= 0 {
			return list{path, TargetMet}, nil
		}
		c.wanted = min(1, c.wanted+missing)
	}
}

// cheap is a search for the cheapest list with the odds that it must have.
type cheap struct {
	*search
	wide   *search // on the seasons of pruning
	wanted float64 // share of them
}

// enough tells whether a design has the odds wanted, or a little less, in the seasons of a
// search, which it has lived through.
func (c *cheap) enough(s *search, d design, less float64) bool {
	return s.score(d).WorstMet >= int(math.Ceil((c.wanted-less)*float64(s.n)-1e-9))
}

// nearly is how much less than the odds wanted a design may have in the few seasons of the search
// to be asked in those of pruning: about two standard errors there. Assumption.
const nearly = 0.08

// reach returns the cheapest design found that has the odds wanted; the best, where none has.
func (c *cheap) reach(ctx context.Context, start design) (design, bool, error) {
	best, found := start, false
	if err := c.wide.runAll(ctx, []design{start}); err != nil {
		return nil, false, err
	}
	for _, with := range []mode{byWorth, dryersFirst, noDryers} {
		d, reached, err := c.grown(ctx, start, with)
		if err != nil {
			return nil, false, err
		}
		if reached {
			if d, err = c.reduced(ctx, d); err != nil {
				return nil, false, err
			}
		}
		if reached && (!found || c.cost(d) < c.cost(best)) || !found && !reached && c.wide.score(d).Better(c.wide.score(best)) {
			best, found = d, found || reached
		}
	}
	return best, found, nil
}

// mode is how the dearest purchase, a dryer, comes into a list.
type mode int

const (
	byWorth mode = iota
	dryersFirst
	noDryers
)

// grown buys bundles until the odds are reached: each by its worth, after as many dryers as help,
// or without a dryer.
func (c *cheap) grown(ctx context.Context, d design, with mode) (design, bool, error) {
	dryer := slices.IndexFunc(c.levers, func(l lever) bool { return l.key == Dryers })
	if dryer < 0 && with != byWorth {
		return d, false, nil
	}
	look := c.lookFor(c.bundles(), func(t design) bool { return c.affordable(t) && (with != noDryers || !t.has(dryer)) })
	first := with == dryersFirst
	for {
		if reached, err := c.reached(ctx, d, 0); err != nil || reached {
			return d, reached, err
		}
		next, helps, err := d, false, error(nil)
		if first {
			next, helps, err = c.oneMore(ctx, d, dryer)
			first = helps
		}
		if err == nil && !helps {
			next, helps, err = look.next(ctx, d)
		}
		if err != nil {
			return d, false, err
		}
		if !helps {
			reached, err := c.reached(ctx, d, 1)
			return d, reached, err
		}
		d = next
	}
}

// reached tells whether a design has the odds wanted: in the seasons of pruning, which are not
// asked before it has them, or so much less, in those of the search.
func (c *cheap) reached(ctx context.Context, d design, less float64) (bool, error) {
	if err := c.runAll(ctx, []design{d}); err != nil || !c.enough(c.search, d, less) {
		return false, err
	}
	err := c.wide.runAll(ctx, []design{d})
	return err == nil && c.enough(c.wide, d, 0), err
}

// oneMore returns the design with a step more of a lever where it does most, if it helps.
func (s *search) oneMore(ctx context.Context, d design, lever int) (design, bool, error) {
	var tries []design
	for site := range s.Setup.Region.Sites {
		if t := d.with(site, lever, 1); s.affordable(t) {
			tries = append(tries, t)
		}
	}
	if len(tries) == 0 {
		return d, false, nil
	}
	if err := s.runAll(ctx, tries); err != nil {
		return d, false, err
	}
	best := s.bestOf(tries)
	return best, s.score(best).Better(s.score(d)), nil
}

// reduced leaves out of a design, or exchanges for something cheaper, what is not needed for the
// odds wanted, each time what saves most.
func (c *cheap) reduced(ctx context.Context, d design) (design, error) {
	for {
		less, found, err := c.cheapestEnough(ctx, c.oneLess(d, d.steps()))
		if err == nil && !found {
			less, found, err = c.cheapestEnough(ctx, c.fewRuns(c.swaps(d)))
		}
		if err != nil || !found {
			return d, err
		}
		d = less
	}
}

// cheapestEnough returns the cheapest of some designs that has the odds wanted.
func (c *cheap) cheapestEnough(ctx context.Context, tries []design) (design, bool, error) {
	if err := c.runAll(ctx, tries); err != nil {
		return nil, false, err
	}
	tries = slices.DeleteFunc(slices.Clone(tries), func(t design) bool { return !c.enough(c.search, t, nearly) })
	slices.SortStableFunc(tries, func(a, b design) int { return cmp.Compare(c.cost(a), c.cost(b)) })
	for _, t := range tries {
		if reached, err := c.reached(ctx, t, 1); err != nil || reached {
			return t, reached, err
		}
	}
	return nil, false, nil
}

// swaps lists the designs in which one step is given up for a bundle that costs less: first those
// that cost little less, which are likeliest to do as much.
func (c *cheap) swaps(d design) []design {
	spent := c.cost(d)
	costs := map[string]money.Amount{}
	var out []design
	for _, x := range d.steps() {
		without := d.without(x)
		for _, b := range c.bundles() {
			t := b.in(without)
			if len(b.levers) > exchangeLevers || !c.allowed(t) {
				continue
			}
			if cost := c.cost(t); cost < spent {
				costs[t.String()] = cost
				out = append(out, t)
			}
		}
	}
	slices.SortStableFunc(out, func(a, b design) int { return cmp.Compare(costs[b.String()], costs[a.String()]) })
	return out
}
