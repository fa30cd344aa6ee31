package spend

import (
	"context"
	"fmt"

	"drystalk/sim/decide"
	"drystalk/sim/trials"
)

// firstPruneSeason is where the seasons begin on which steps are dropped: neither those that
// chose the list nor those behind the figures.
const firstPruneSeason = 2 * decide.FirstSearchSeason

// pruneSeasons is how many seasons of pruning there are for each of the search. Assumption.
const pruneSeasons = 4

// pruning is the same search on the seasons of pruning.
func (s *search) pruning() *search {
	p := newSearch(s.Question)
	p.first, p.n, p.Progress = firstPruneSeason, pruneSeasons*s.n, nil
	return p
}

// pruned drops every step of a design whose removal costs nothing in the seasons of the search,
// that is, no season of the worst month and no stalk: the dearest first, one after another.
func (s *search) pruned(ctx context.Context, d design) (design, error) {
	for {
		tries := append(s.oneLess(d), d)
		if err := s.runAll(ctx, tries); err != nil {
			return d, err
		}
		now, spent := s.score(d), s.cost(d)
		least, found := d, false
		for _, t := range tries[:len(tries)-1] {
			if sc := s.score(t); sc.WorstMet >= now.WorstMet && sc.Shortfall <= now.Shortfall && s.cost(t) < spent {
				least, spent, found = t, s.cost(t), true
			}
		}
		if !found {
			return d, nil
		}
		d = least
	}
}

// thinned returns the path to what is left of the last design of a path when it is pruned, a
// step at a time. A path that is interrupted stays as it was.
func (s *search) thinned(ctx context.Context, path []design) ([]design, error) {
	goal, err := s.pruning().pruned(ctx, path[len(path)-1])
	if err != nil {
		return path, err
	}
	ordered, err := s.inOrder(ctx, goal)
	if err != nil {
		return path, err
	}
	return ordered, nil
}

// oneLess lists the designs with one step less.
func (s *search) oneLess(d design) []design {
	var out []design
	for at := range d {
		for l, steps := range d[at] {
			if steps > 0 {
				out = append(out, d.with(at, l, -1))
			}
		}
	}
	return out
}

// judging is plans lived through fresh seasons, each once.
type judging struct {
	*search
	stands map[string]standing
	lived  map[string]*trials.Table // of the last plan of a path
	told   int
	run    func(d design) standing // in place of the seasons, where the truth is to be known
}

// harmless returns a path without a step that does harm on the fresh seasons, and how its plans
// stand. A step after which more is missing is bought last, where that is of use, and dropped
// otherwise.
func (j *judging) harmless(ctx context.Context, path []design) ([]design, []standing, error) {
	last := map[string]bool{} // purchases that have been put last
	for {
		stands, err := j.all(ctx, path)
		if err != nil {
			return nil, nil, err
		}
		k := firstHarm(stands)
		if k < 0 {
			return path, stands, nil
		}
		step := path[k].less(path[k-1])
		of := fmt.Sprint(step)
		goal := path[len(path)-1]
		path = without(path, k)
		if k < len(path) && !last[of] {
			last[of] = true
			path = append(path, goal)
		}
	}
}

// firstHarm returns the first step of a list after which more is missing, or the target is
// reached in fewer seasons by more than chance; -1 if there is none.
func firstHarm(stands []standing) int {
	for k := 1; k < len(stands); k++ {
		if now, before := &stands[k], &stands[k-1]; fewer(now.short, before.short).Mean < 0 || decide.PairedGain(now.reached, before.reached).High < 0 {
			return k
		}
	}
	return -1
}

// less returns how many steps more of each lever a design has than another.
func (d design) less(than design) design {
	c := d.clone()
	for at := range c {
		for l := range c[at] {
			c[at][l] -= than[at][l]
		}
	}
	return c
}

// without returns a path without the purchase of its k-th plan.
func without(path []design, k int) []design {
	step := path[k].less(path[k-1])
	out := append([]design(nil), path[:k]...)
	for _, d := range path[k+1:] {
		out = append(out, d.less(step))
	}
	return out
}

// togetherSeasons is how many seasons of plans are kept in memory at once while they are judged.
const togetherSeasons = 8000

// all lives through fresh seasons with each plan of a path, whole, as the odds of a plan are
// found: what is said of a plan here is what is said of it there, to the last digit.
func (j *judging) all(ctx context.Context, path []design) ([]standing, error) {
	var fresh []design
	for _, d := range path {
		if _, known := j.stands[fmt.Sprint(d)]; !known {
			fresh = append(fresh, d)
		}
	}
	atOnce := max(1, togetherSeasons/j.Seasons)
	last := fmt.Sprint(path[len(path)-1])
	for from := 0; from < len(fresh); from += atOnce {
		if err := j.live(ctx, fresh[from:min(len(fresh), from+atOnce)], len(fresh), last); err != nil {
			return nil, err
		}
	}
	var out []standing
	for _, d := range path {
		out = append(out, j.stands[fmt.Sprint(d)])
	}
	return out, nil
}

// live lives through fresh seasons with some of so many plans, and keeps the table of the last.
func (j *judging) live(ctx context.Context, designs []design, of int, last string) error {
	if j.run != nil {
		for _, d := range designs {
			j.stands[fmt.Sprint(d)] = j.run(d)
		}
		return nil
	}
	var variants []trials.Variant
	for _, d := range designs {
		r := j.region(d)
		variants = append(variants, trials.Variant{Region: r, Levels: trials.Only(decide.PlanOf(r))})
	}
	var tell func(done int)
	if j.Progress != nil {
		tell = func(done int) { j.Progress(decide.Judging, j.told%(of*j.Seasons)+done*len(designs), of*j.Seasons) }
	}
	tables, err := j.Setup.Tables(ctx, 0, j.Seasons, variants, tell)
	if err != nil {
		return err
	}
	j.told += len(designs) * j.Seasons
	for v, d := range designs {
		key := fmt.Sprint(d)
		if j.stands[key], err = j.standing(d, variants[v].Region, tables[v]); err != nil {
			return err
		}
		if key == last {
			j.lived = map[string]*trials.Table{key: tables[v]}
		}
	}
	return nil
}
