package spend

import (
	"cmp"
	"context"
	"slices"

	"drystalk/sim/decide"
)

// firstPruneSeason is where the seasons begin on which steps are dropped: neither those that
// chose the list nor those behind the figures.
const firstPruneSeason = 2 * decide.FirstSearchSeason

// pruneSeasons is how many seasons of pruning there are for each of the search. Assumption.
const pruneSeasons = 4

// clearly is how far from nothing, in widths of its interval to one side, must be what is missing
// without a step in the search seasons for it to be needed without being asked on those of
// pruning. Assumption.
const clearly = 2

// step is one step of a lever at a place.
type step struct{ at, lever int }

// steps lists what is bought of a design: each lever at each place once.
func (d design) steps() []step {
	var out []step
	for at := range d {
		for l, n := range d[at] {
			if n > 0 {
				out = append(out, step{at, l})
			}
		}
	}
	return out
}

// without returns a design with a step less.
func (d design) without(x step) design { return d.with(x.at, x.lever, -1) }

// pruning is the same search on the seasons of pruning.
func (s *search) pruning() *search {
	if s.pruner == nil {
		p := newSearch(s.Question)
		p.first, p.n, p.Progress = firstPruneSeason, pruneSeasons*s.n, nil
		s.pruner = p
	}
	return s.pruner
}

// thinned returns the path to what is left of a design when it is pruned, a step at a time. An
// interrupted search returns the path as far as it is.
func (s *search) thinned(ctx context.Context, d design) ([]design, error) {
	unclear, err := s.unclear(ctx, d)
	if err != nil {
		return nil, err
	}
	goal, err := s.pruning().pruned(ctx, d, unclear)
	if err != nil {
		return nil, err
	}
	return s.inOrder(ctx, goal)
}

// unclear lists the steps of a design that are not clearly needed in the seasons of the search.
func (s *search) unclear(ctx context.Context, d design) ([]step, error) {
	steps := d.steps()
	if err := s.runAll(ctx, append(s.oneLess(d, steps), d)); err != nil {
		return nil, err
	}
	now := s.play(d).short
	return slices.DeleteFunc(steps, func(x step) bool {
		more := fewer(now, s.play(d.without(x)).short)
		return more.Mean > clearly*(more.Mean-more.Low)
	}), nil
}

// pruned drops every step of a design whose removal costs nothing in the seasons of the search,
// that is, no season of the worst month and no stalk: the dearest first, one after another. What
// is needed now is asked again only in the end, when all is gone that is not.
func (s *search) pruned(ctx context.Context, d design, asked []step) (design, error) {
	for left, dropped := asked, false; ; {
		free, err := s.free(ctx, d, left)
		switch {
		case err != nil:
			return d, err
		case len(free) > 0:
			dearest := slices.MinFunc(free, func(a, b step) int { return cmp.Compare(s.cost(d.without(a)), s.cost(d.without(b))) })
			d, left, dropped = d.without(dearest), free, true
		case dropped:
			left, dropped = asked, false
		default:
			return d, nil
		}
	}
}

// free lists the steps of some whose removal from a design costs nothing.
func (s *search) free(ctx context.Context, d design, of []step) ([]step, error) {
	of = slices.DeleteFunc(slices.Clone(of), func(x step) bool { return d[x.at][x.lever] == 0 })
	if err := s.runAll(ctx, append(s.oneLess(d, of), d)); err != nil {
		return nil, err
	}
	now, spent := s.score(d), s.cost(d)
	return slices.DeleteFunc(of, func(x step) bool {
		sc := s.score(d.without(x))
		return sc.WorstMet < now.WorstMet || sc.Shortfall > now.Shortfall || s.cost(d.without(x)) >= spent
	}), nil
}

// oneLess lists the designs without one of some steps each.
func (s *search) oneLess(d design, of []step) []design {
	var out []design
	for _, x := range of {
		out = append(out, d.without(x))
	}
	return out
}
