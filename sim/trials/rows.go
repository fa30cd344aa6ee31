package trials

import (
	"slices"

	"drystalk/sim"
)

// rows are the rows of seasons that were run together: one for each site, number of dryers and
// season, in one piece of memory.
type rows struct {
	most    int     // seasons for which there is room
	levels  [][]int // by site: the numbers of dryers run
	block   [][]int // by site and number of dryers: index of its block of rows; -1 if not run
	stride  int
	figures []int32
	every   []int32 // every figure of each row by month, one figure after the other; nil where they are not kept
}

func newRows(r *sim.Region, n int, levels [][]int) *rows {
	t := &rows{most: n, levels: levels, stride: strideOf(r, levels)}
	blocks := 0
	for _, l := range levels {
		var index []int
		for _, dryers := range l {
			for len(index) <= dryers {
				index = append(index, -1)
			}
			index[dryers] = blocks
			blocks++
		}
		t.block = append(t.block, index)
	}
	t.figures = make([]int32, blocks*n*t.stride)
	return t
}

// row returns the figures of one site-season: accepted by month, totals, what is kept by
// month, hours of each dryer.
func (t *rows) row(site, dryers, i int) []int32 {
	at := (t.block[site][dryers]*t.most + i) * t.stride
	return t.figures[at : at+t.stride]
}

// keepEveryMonth makes room for every figure by month.
func (t *rows) keepEveryMonth(months int) {
	t.every = make([]int32, len(t.figures)/t.stride*figures*months)
}

// everyMonth returns all figures of a site-season by month, by FigureID; nil where they are not kept.
func (t *Table) everyMonth(site, dryers, i int) []int32 {
	k := len(t.parts) - 1
	for t.parts[k].from > i {
		k--
	}
	p := t.parts[k]
	if p.every == nil {
		return nil
	}
	wide := figures * len(t.gate.Months)
	at := (p.block[site][dryers]*p.most + i - p.from) * wide
	return p.every[at : at+wide]
}

// holds tells whether there are rows for a number of dryers at a site.
func (t *rows) holds(site, dryers int) bool {
	return site < len(t.levels) && slices.Contains(t.levels[site], dryers)
}

// part is some seasons of a table, from one on, in rows that it may share with other tables.
type part struct {
	from int
	*rows
}

// row returns the figures of one site-season: see rows.row.
func (t *Table) row(site, dryers, i int) []int32 {
	k := len(t.parts) - 1
	for t.parts[k].from > i {
		k--
	}
	return t.parts[k].row(site, dryers, i-t.parts[k].from)
}

// levels returns, by site, the numbers of dryers that the table holds in all its seasons.
func (t *Table) levels() [][]int { return t.parts[len(t.parts)-1].levels }

// Join returns the seasons of a followed by those of b as one table, which shares their rows. It
// holds what b holds, and a must hold that too; draws, rain and rules are those of one region.
func Join(a, b *Table) *Table {
	t := *b
	t.First, t.Seasons = a.First, a.Seasons+b.Seasons
	t.parts = slices.Clone(a.parts)
	for _, p := range b.parts {
		t.parts = append(t.parts, part{a.Seasons + p.from, p.rows})
	}
	t.Draws = slices.Concat(a.Draws[:a.Seasons], b.Draws[:b.Seasons])
	t.RainMM = slices.Concat(a.RainMM[:a.Seasons], b.RainMM[:b.Seasons])
	t.AheadMM = slices.Concat(a.AheadMM[:a.Seasons], b.AheadMM[:b.Seasons])
	t.opening = slices.Concat(a.opening[:a.Seasons], b.opening[:b.Seasons])
	t.spoils = slices.Concat(a.spoils[:a.Seasons], b.spoils[:b.Seasons])
	return &t
}

// Before returns the seasons of a table before the n-th, which share its rows.
func (t *Table) Before(n int) *Table {
	out := *t
	out.Seasons = max(0, min(n, t.Seasons))
	k := 1
	for k < len(t.parts) && t.parts[k].from < out.Seasons {
		k++
	}
	out.parts = t.parts[:k:k]
	return &out
}

// Holding returns the seasons of a table that hold a plan, the first ones: where tables were joined of
// which the later hold fewer numbers of dryers, a plan may end sooner than others.
func (t *Table) Holding(plan []int) *Table {
	for k := range t.parts {
		for site, dryers := range plan {
			if !t.parts[k].holds(site, dryers) {
				return t.Before(t.parts[k].from)
			}
		}
	}
	return t
}
