package trials

import (
	"slices"
	"sort"
	"sync"
	"sync/atomic"

	"drystalk/sim"
)

// window is how many seasons of a long table are written side by side; when all of a window are, their
// rows are packed. Shorter tables stay as they are: searches read them again and again.
const window = 256

// rows are the rows of seasons that were run together: one for each site, number of dryers and
// season.
type rows struct {
	most    int     // seasons for which there is room
	levels  [][]int // by site: the numbers of dryers run
	block   [][]int // by site and number of dryers: index of its block of rows; -1 if not run
	season  grid    // figures of a site-season: accepted by month, totals, what is kept by month, hours of each dryer
	every   grid    // every figure by month, one figure after the other; no wide one where they are not kept
	opening [][]float64
	spoils  []bool

	begun   sync.Once
	packs   bool         // when all its seasons are written
	written atomic.Int64 // seasons
}

// grid is the figures of rows, block after block of so many seasons.
type grid struct {
	blocks int
	wide   int      // figures of a row
	open   []int32  // row after row, while they are written
	packed []packed // by block; nil while they are written
	leans  [][]int
}

func newRows(r *sim.Region, n int, levels [][]int) *rows {
	t := &rows{most: n, levels: levels}
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
	t.season, t.every = grid{blocks: blocks, wide: strideOf(r, levels)}, grid{blocks: blocks}
	return t
}

// begin makes room for rows to be written.
func (t *rows) begin() {
	t.begun.Do(func() {
		t.season.open = make([]int32, t.season.blocks*t.most*t.season.wide)
		t.every.open = make([]int32, t.every.blocks*t.most*t.every.wide)
		t.opening, t.spoils = make([][]float64, t.most), make([]bool, t.most)
	})
}

// wrote says that all rows of season i are written. The last of a window packs it.
func (t *Table) wrote(i int) {
	p, _ := t.part(i)
	p.wrote()
}

func (t *rows) wrote() {
	if t.season.packed != nil { // written once more after an interruption
		return
	}
	if t.written.Add(1) != int64(t.most) || !t.packs {
		return
	}
	t.season.pack()
	t.every.pack()
	if !slices.ContainsFunc(t.opening, func(shares []float64) bool { return shares != nil }) {
		t.opening = nil
	}
	if !slices.Contains(t.spoils, true) {
		t.spoils = nil
	}
}

func (g *grid) pack() {
	size := len(g.open) / max(1, g.blocks)
	g.packed = make([]packed, g.blocks)
	for k := range g.packed {
		if g.wide > 0 {
			g.packed[k] = pack(g.open[k*size:(k+1)*size], g.wide, g.leans)
		}
	}
	g.open = nil
}

// row returns the figures of a row that is written, or may be.
func (g *grid) row(block, i, most int) []int32 {
	at := (block*most + i) * g.wide
	return g.open[at : at+g.wide]
}

// list returns n figures of a row from one on.
func (g *grid) list(block, i, most, from, n int) []int32 {
	if g.packed == nil {
		return g.row(block, i, most)[from : from+n]
	}
	out := make([]int32, n)
	for k := range out {
		out[k] = g.packed[block].at(i, from+k)
	}
	return out
}

// one returns a figure of a row.
func (g *grid) one(block, i, most, at int) int32 {
	if g.packed == nil {
		return g.row(block, i, most)[at]
	}
	return g.packed[block].at(i, at)
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

// partsOf returns rows for n seasons, in windows of so many where they are to be packed; 0: they are not.
func partsOf(r *sim.Region, n int, levels [][]int, window int) []part {
	if window == 0 || n <= window {
		return []part{{0, newRows(r, n, levels)}}
	}
	var out []part
	leans := leansOf(len(r.Gate().Months), strideOf(r, levels))
	for from := 0; from < n; from += window {
		p := newRows(r, min(window, n-from), levels)
		p.packs, p.season.leans = true, leans
		out = append(out, part{from, p})
	}
	return out
}

// keepEveryMonth makes room for every figure by month.
func (t *Table) keepEveryMonth() {
	for _, p := range t.parts {
		p.every.wide = figures * t.Months()
	}
}

// part returns the rows of season i, and its place among them.
func (t *Table) part(i int) (p *rows, at int) {
	k := sort.Search(len(t.parts), func(k int) bool { return t.parts[k].from > i }) - 1
	return t.parts[k].rows, i - t.parts[k].from
}

// row returns all figures of a site-season.
func (t *Table) row(site, dryers, i int) []int32 {
	p, at := t.part(i)
	return p.season.list(p.block[site][dryers], at, p.most, 0, p.season.wide)
}

// list returns n figures of a site-season from one on.
func (t *Table) list(site, dryers, i, from, n int) []int32 {
	p, at := t.part(i)
	return p.season.list(p.block[site][dryers], at, p.most, from, n)
}

// one returns a figure of a site-season.
func (t *Table) one(site, dryers, i, from int) int32 {
	p, at := t.part(i)
	return p.season.one(p.block[site][dryers], at, p.most, from)
}

// levels returns, by site, the numbers of dryers that the table holds in all its seasons.
func (t *Table) levels() [][]int { return t.parts[len(t.parts)-1].levels }

// runTo says that the seasons before one have been run and no others: what was written of others
// does not count.
func (t *Table) runTo(seasons int) {
	t.Seasons = seasons
	for _, p := range t.parts {
		p.written.Store(int64(max(0, min(p.most, seasons-p.from))))
	}
}

// Join returns the seasons of a followed by those of b as one table, which shares their rows. It
// holds what b holds, and a must hold that too; draws, rain and rules are those of one region.
func Join(a, b *Table) *Table {
	t := *b
	t.First, t.Seasons = a.First, a.Seasons+b.Seasons
	t.parts = slices.Clone(a.Before(a.Seasons).parts)
	for _, p := range b.parts {
		t.parts = append(t.parts, part{a.Seasons + p.from, p.rows})
	}
	t.years = slices.DeleteFunc(slices.Clone(a.years), func(y yearsFrom) bool { return y.from >= a.Seasons })
	for _, y := range b.years {
		t.years = append(t.years, yearsFrom{a.Seasons + y.from, y.years})
	}
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
