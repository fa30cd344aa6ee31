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

// helps tells whether a way does more than what is written in the seasons that judge: it reaches the
// goal more often, or where it is hardly ever reached, a tenth fewer stalks are missing.
func (s *search) helps(now score) bool {
	start := s.judged.score(s.space.written)
	switch {
	case s.ByIncome:
		return now.met >= start.met && now.income > start.income
	case now.met > start.met:
		return true
	}
	return now.met == start.met && 2*now.met < s.JudgeSeasons && now.missing <= 0.9*start.missing
}

// carries tells whether a way keeps what another has gained on what is written, but for what may be
// lost.
func (s *search) carries(now, full score) bool {
	start := s.judged.score(s.space.written)
	if s.ByIncome {
		return now.met >= start.met && now.income-start.income >= (1-lostGain)*(full.income-start.income)
	}
	return float64(full.met-now.met) <= lostOdds*float64(s.JudgeSeasons) && start.missing-now.missing >= (1-lostGain)*(start.missing-full.missing)
}

// prune takes back one change after another, the one least missed first, until none is left. The
// smallest rest that carries what the whole gains is the answer, its changes in the order in which
// they would be missed most.
func (s *search) prune(ctx context.Context, whole design) (best design, order []int, err error) {
	full, prefers := s.judged.score(whole), s.prefers(s.judged)
	now, carried := whole, true
	best = whole
	for left := s.space.changed(now); len(left) > 0; left = s.space.changed(now) {
		var tries []design
		for _, l := range left {
			tries = append(tries, now.with(l, s.space.written[l]))
		}
		if err := s.judged.need(ctx, tries...); err != nil {
			return nil, nil, err
		}
		at := 0
		for k := range tries {
			if prefers(s.judged.score(tries[k]), s.judged.score(tries[at])) {
				at = k
			}
		}
		now, order = tries[at], append(order, left[at])
		if carried = carried && s.carries(s.judged.score(now), full); carried {
			best = now
		}
	}
	slices.Reverse(order)
	return best, order[:len(s.space.changed(best))], nil
}
