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
