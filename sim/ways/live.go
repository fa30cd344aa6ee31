package ways

import (
	"context"

	"drystalk/sim"
	"drystalk/sim/trials"
)

// together are designs that may live through the same drawn seasons side by side: their parameters
// as written are the same.
type together struct {
	set      trials.Setup
	designs  []int // of the list asked
	variants []trials.Variant
}

// live lets designs live through seasons, from the first on, and returns them in their order.
func (s *space) live(ctx context.Context, first, n int, designs []design, tell func(done int)) ([]lived, error) {
	out := make([]lived, len(designs))
	once, places := distinct(designs)
	done := 0
	for _, g := range s.grouped(once) {
		tables, err := g.set.Tables(ctx, first, n, g.variants, nil)
		if err != nil {
			return nil, err
		}
		for k, d := range g.designs {
			for _, at := range places[d] {
				out[at] = lived{g.variants[k].Region, g.set, tables[k]}
			}
		}
		if done += len(g.designs); tell != nil {
			tell(done)
		}
	}
	return out, nil
}

// walk is a design on its way through the seasons from number 0 on.
type walk struct {
	of     *space
	design design
	lived  lived // so far; a nil table: none
}

// onward lives through the seasons of designs of one space up to so many, each from where it has come
// to; those that have come as far live side by side.
func onward(ctx context.Context, upto int, list ...*walk) error {
	for {
		from, to := upto, upto
		for _, w := range list {
			from = min(from, w.seasons())
		}
		if from >= upto {
			return nil
		}
		var group []*walk
		var designs []design
		for _, w := range list {
			if n := w.seasons(); n > from {
				to = min(to, n)
			} else {
				group, designs = append(group, w), append(designs, w.design)
			}
		}
		more, err := list[0].of.live(ctx, from, to-from, designs, nil)
		if err != nil {
			return err
		}
		for k, w := range group {
			if w.lived.table != nil {
				more[k].table = trials.Join(w.lived.table, more[k].table)
			}
			w.lived = more[k]
		}
	}
}

// seasons returns how many seasons a design has lived through.
func (w *walk) seasons() int {
	if w.lived.table == nil {
		return 0
	}
	return w.lived.table.Seasons
}

// distinct returns the designs of a list, each once, and the places at which each stands.
func distinct(list []design) (once []design, places [][]int) {
	at := map[string]int{}
	for i, d := range list {
		k, known := at[d.key()]
		if !known {
			k = len(once)
			at[d.key()] = k
			once, places = append(once, d), append(places, nil)
		}
		places[k] = append(places[k], i)
	}
	return once, places
}

// mostTogether is how many designs live side by side: more would only take memory.
const mostTogether = 16

// grouped sorts designs by the parameters that their seasons are drawn around.
func (s *space) grouped(designs []design) []*together {
	var groups []*together
	open := map[sim.Parameters]*together{}
	for k, d := range designs {
		region, base := s.apply(d)
		g := open[base]
		if g == nil || len(g.variants) == mostTogether {
			g = &together{set: s.set}
			g.set.Base = base
			groups, open[base] = append(groups, g), g
		}
		g.designs = append(g.designs, k)
		g.variants = append(g.variants, trials.Variant{Region: region, Levels: trials.Only(s.plan)})
	}
	return groups
}
