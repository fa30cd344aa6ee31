package spend

import (
	"context"
	"fmt"

	"drystalk/sim/decide"
	"drystalk/sim/money"
	"drystalk/sim/trials"
)

// Dropped is a step that the search had found and that is not on the list, because after it more
// is missing in the fresh seasons, or the target is reached in fewer of them.
type Dropped struct {
	Site  string       `json:"site"` // "" for the region
	What  []Quantity   `json:"what"`
	Cost  money.Amount `json:"cost"`
	Gain  trials.Mean  `json:"gain_share"`           // of the target's odds, fraction, paired
	Fewer trials.Mean  `json:"fewer_missing_stalks"` // a season, paired
	Harm  bool         `json:"harm_beyond_chance"`
}

// harmless returns a path without a step that does harm on the fresh seasons, how its plans
// stand, and what was dropped. A step after which more is missing is bought last, where that is
// of use, and dropped otherwise.
func (j *judging) harmless(ctx context.Context, path []design) ([]design, []standing, []Dropped, error) {
	last := map[string]bool{} // purchases that have been put last
	var dropped []Dropped
	for {
		stands, err := j.all(ctx, path)
		if err != nil {
			return nil, nil, nil, err
		}
		k := firstHarm(stands)
		if k < 0 {
			return path, stands, dropped, nil
		}
		of := fmt.Sprint(path[k].less(path[k-1]))
		goal, without := path[len(path)-1], without(path, k)
		if k < len(without) && !last[of] {
			last[of] = true
			path = append(without, goal)
			continue
		}
		dropped = append(dropped, j.dropped(path[k-1:k+1], stands[k-1:k+1]))
		path = without
	}
}

// dropped says what was dropped between two plans of a path, and why.
func (s *search) dropped(path []design, stands []standing) Dropped {
	before, now := &stands[0], &stands[1]
	d := Dropped{Cost: now.bought.Spent - before.bought.Spent, Gain: decide.PairedGain(now.reached, before.reached), Fewer: fewer(now.short, before.short)}
	d.Site, d.What = s.describe(path[0], path[1])
	d.Harm = d.Gain.High < 0 || d.Fewer.High < 0
	return d
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
