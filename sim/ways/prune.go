package ways

import (
	"context"
	"slices"
)

// What may be lost of a way that is pruned: of the seasons that reach the goal, as part of those
// that judge, and of what it gains, as part of that. Common practice, no source: a point of the
// odds is less than the seasons of an answer tell apart.
const (
	lostOdds = 0.01
	lostGain = 0.1
)

// carries tells whether a way keeps what another has gained on what is written, but for what may be
// lost.
func (s *search) carries(now, full score) bool {
	start := s.judged.score(s.space.written)
	if s.ByIncome {
		return now.met >= start.met && now.income-start.income >= (1-lostGain)*(full.income-start.income)
	}
	return float64(full.met-now.met) <= lostOdds*float64(s.JudgeSeasons) && start.missing-now.missing >= (1-lostGain)*(start.missing-full.missing)
}

// prune takes back one change after another, the one least missed first, while the rest carries.
func (s *search) prune(ctx context.Context, best design) (design, error) {
	full, prefers := s.judged.score(best), s.prefers(s.judged)
	for {
		var tries []design
		for _, l := range s.space.changed(best) {
			tries = append(tries, best.with(l, s.space.written[l]))
		}
		if err := s.judged.need(ctx, tries...); err != nil {
			return nil, err
		}
		var next design
		for _, d := range tries {
			if s.carries(s.judged.score(d), full) && (next == nil || prefers(s.judged.score(d), s.judged.score(next))) {
				next = d
			}
		}
		if next == nil {
			return best, nil
		}
		best = next
	}
}

// order puts the changes of a way in the order in which they bring most, each on top of those
// before it.
func (s *search) order(ctx context.Context, best design) ([]int, error) {
	prefers := s.prefers(s.judged)
	var order []int
	now, rest := s.space.written, s.space.changed(best)
	for len(rest) > 0 {
		var tries []design
		for _, l := range rest {
			tries = append(tries, now.with(l, best[l]))
		}
		if err := s.judged.need(ctx, tries...); err != nil {
			return nil, err
		}
		at := 0
		for k := range tries {
			if prefers(s.judged.score(tries[k]), s.judged.score(tries[at])) {
				at = k
			}
		}
		now, order = tries[at], append(order, rest[at])
		rest = slices.Delete(rest, at, at+1)
	}
	return order, nil
}
