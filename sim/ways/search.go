package ways

import (
	"context"
	"slices"
	"sort"

	"drystalk/sim/decide"
	"drystalk/sim/goal"
	"drystalk/sim/money"
	"drystalk/sim/trials"
	"drystalk/tongue"
)

// Question is "which better ways of working are there?".
type Question struct {
	Setup         trials.Setup
	Goal          goal.Goal
	Target        float64       // odds wanted
	Prices        *money.Prices // nil: nothing is said of money
	Allowed       Allowed
	Levers        []Lever   // nil: all
	SearchSeasons int       // that find ways
	JudgeSeasons  int       // others, that choose among the best five
	Seasons       int       // fresh ones, behind the figures
	ByIncome      bool      // look for what earns most and reaches the goal no less often; needs prices
	Climates      []Climate // others in which the ways found are tried
	Progress      func(stage decide.Stage, done int)
}

// ErrNothingToTry is returned where no lever can be moved.
var ErrNothingToTry = tongue.Fault("no way of working can be changed here")

// The sizes of the search: measured to find what a grid of all values finds in most regions, at a
// small part of its cost (TestSearchFindsWhatAGridFinds).
const (
	climbs  = 2 // from so many of the best single changes
	climbed = 7 // levers that a climb moves, the best alone first
	rounds  = 2 // at most, of a climb through these levers
	finests = 5 // ways that are judged on other seasons
)

// search is the state of a search.
type search struct {
	Question
	space  *space
	found  *stretch // search seasons
	judged *stretch // others
	stage  decide.Stage
	done   int
	rank   []int // levers, the most telling first
	single []int // by lever: the best rung alone
}

// tell tells how many seasons have been lived through.
func (s *search) tell(more int) {
	s.done += more
	if s.Progress != nil {
		s.Progress(s.stage, s.done)
	}
}

// less tells whether a way is better than another by what is looked for.
func (s *search) prefers(t *stretch) func(a, b score) bool {
	if s.ByIncome {
		return richer(t.score(s.space.written))
	}
	return better
}

// newSearch returns a search of which nothing has been run.
func newSearch(q Question) (*search, error) {
	s := &search{Question: q, space: newSpace(q.Setup, q.Allowed, q.Levers), stage: decide.Searching}
	if len(s.space.levers) == 0 {
		return nil, ErrNothingToTry
	}
	s.found = s.stretch(decide.FirstSearchSeason, q.SearchSeasons)
	s.judged = s.stretch(decide.FirstSearchSeason+q.SearchSeasons, q.JudgeSeasons)
	return s, nil
}

// best returns the best way found and judged, what does not carry taken back, its changes in the
// order in which they bring most.
func (s *search) best(ctx context.Context) (best design, order []int, err error) {
	if err = s.alone(ctx); err != nil {
		return nil, nil, err
	}
	for _, l := range s.rank[:min(climbs, len(s.rank))] {
		if err = s.climb(ctx, s.space.written.with(l, s.single[l])); err != nil {
			return nil, nil, err
		}
	}
	if best, err = s.judge(ctx); err != nil {
		return nil, nil, err
	}
	if !s.helps(s.judged.score(best)) {
		best = s.space.written
	}
	return s.prune(ctx, best)
}

// alone tries every value of every lever alone, and ranks the levers by their best.
func (s *search) alone(ctx context.Context) error {
	designs := []design{s.space.written}
	for l, ladder := range s.space.ladders {
		for at := range ladder {
			designs = append(designs, s.space.written.with(l, at))
		}
	}
	if err := s.found.need(ctx, designs...); err != nil {
		return err
	}
	prefers := s.prefers(s.found)
	s.rank = nil
	for l, ladder := range s.space.ladders {
		at := s.space.written[l]
		for k := range ladder {
			if prefers(s.found.score(s.space.written.with(l, k)), s.found.score(s.space.written.with(l, at))) {
				at = k
			}
		}
		s.single, s.rank = append(s.single, at), append(s.rank, l)
	}
	sort.SliceStable(s.rank, func(i, j int) bool {
		a, b := s.rank[i], s.rank[j]
		return prefers(s.found.score(s.space.written.with(a, s.single[a])), s.found.score(s.space.written.with(b, s.single[b])))
	})
	return nil
}

// climb goes up from a way by steps of one lever at a time, to the rungs beside it, to the one that
// is best alone and to what is written, until none is better.
func (s *search) climb(ctx context.Context, from design) error {
	prefers := s.prefers(s.found)
	for range rounds {
		moved := false
		for _, l := range s.rank[:min(climbed, len(s.rank))] {
			tries := s.steps(from, l)
			if err := s.found.need(ctx, tries...); err != nil {
				return err
			}
			for _, d := range tries {
				if prefers(s.found.score(d), s.found.score(from)) {
					from, moved = d, true
				}
			}
		}
		if !moved {
			break
		}
	}
	return nil
}

// steps are the ways that one lever leads to.
func (s *search) steps(from design, l int) []design {
	var out []design
	for _, at := range []int{from[l] - 1, from[l] + 1, s.single[l], s.space.written[l]} {
		if at >= 0 && at < len(s.space.ladders[l]) && at != from[l] {
			if d := from.with(l, at); !slices.ContainsFunc(out, func(o design) bool { return slices.Equal(o, d) }) {
				out = append(out, d)
			}
		}
	}
	return out
}

// judge chooses among the best ways of the search on other seasons; what is written is among them.
func (s *search) judge(ctx context.Context) (design, error) {
	prefers := s.prefers(s.found)
	var list []design
	for _, d := range s.found.designs {
		list = append(list, d)
	}
	slices.SortFunc(list, func(a, b design) int { return slices.Compare(a, b) })
	sort.SliceStable(list, func(i, j int) bool { return prefers(s.found.score(list[i]), s.found.score(list[j])) })
	list = append(list[:min(finests, len(list))], s.space.written)
	if err := s.judged.need(ctx, list...); err != nil {
		return nil, err
	}
	best, prefers := s.space.written, s.prefers(s.judged)
	for _, d := range list {
		if prefers(s.judged.score(d), s.judged.score(best)) {
			best = d
		}
	}
	return best, nil
}
