package trials

import (
	"crypto/sha256"
	"encoding/binary"
	"encoding/hex"
	"math"
	"slices"

	"drystalk/sim"
	"drystalk/tongue"
)

// A row keeps every figure of the registry for the season, and those below by month, in the
// whole numbers of sim.Unit.Fine: hours in minutes and wood in hectograms, so that sums are
// exact and do not depend on their order.

// monthly are the figures kept by month: what money goes by.
var monthly = []sim.FigureID{sim.Cut, sim.Second, sim.OtherH, sim.NightH, sim.CutH, sim.FiringH, sim.WoodKg, sim.Trips, sim.ToHub}

// figures and states are how many figures a season and how many states a dryer has.
const (
	figures = int(sim.FigureCount)
	states  = len(sim.DryerHours{})
)

// Table holds one row for each site, number of dryers and season: the good
// stalks accepted at the hub by month, and the season's totals. Any plan of the
// region is put together from it by adding rows at the hub, because sites do
// not touch each other between collections.
type Table struct {
	First   int    // number of the first season
	Seasons int    // that have been run
	RainAt  string // the first site, where others have other rain; else ""

	loaded [][][]sim.Loaded // by season and site: charges loaded on the day on which the season is taken up; nil where it opens as ever
	gate   sim.Gate
	spans  []sim.Span
	parts  []part      // one after the other
	years  []yearsFrom // one after the other

	together bool // the rows of all sites are added up
}

// newTable returns a table of at most n seasons, of which none is written.
func newTable(r *sim.Region, first, n int, levels [][]int) *Table {
	t := &Table{First: first, gate: r.Gate(), spans: r.Calendar.Months(), parts: partsOf(r, n, levels, 0)}
	if r.Start.Stated() {
		t.loaded = make([][][]sim.Loaded, n)
		for i := range t.loaded {
			t.loaded[i] = make([][]sim.Loaded, len(r.Sites))
		}
	}
	return t
}

// MonthFigures returns a figure of a site-season by month, in the whole numbers of its unit
// (sim.Unit.Fine). Unless Setup.EveryMonth is set only what money goes by is kept by month; it
// panics for any other figure.
func (t *Table) MonthFigures(id sim.FigureID, site, dryers, i int) []int32 {
	t.bySite()
	n := len(t.gate.Months)
	if p, at := t.part(i); p.every.wide > 0 {
		return p.every.list(p.block[site][dryers], at, p.most, int(id)*n, n)
	}
	k := slices.Index(monthly, id)
	if k < 0 {
		panic("trials: not kept by month: " + id.String())
	}
	return t.list(site, dryers, i, n+figures+k*n, n)
}

// Accepted returns the good stalks that a site-season brought to the hub, by month.
func (t *Table) Accepted(site, dryers, i int) []int32 {
	t.bySite()
	return t.accepted(site, dryers, i)
}

func (t *Table) accepted(site, dryers, i int) []int32 {
	return t.list(site, dryers, i, 0, len(t.gate.Months))
}

// DryerMinutes returns the minutes of its shifts that a dryer of a site-season spent in each
// state, by sim.DryerState.
func (t *Table) DryerMinutes(site, dryers, i, dryer int) []int32 {
	t.bySite()
	n := len(t.gate.Months)
	return t.list(site, dryers, i, keptAt(n)+pairs(n)+dryer*states, states)
}

// put writes the row of a site-season. One that is packed was written before and is the same again.
func (t *Table) put(lane sim.Lane, i int, did *sim.Lived) {
	p, at := t.part(i)
	if p.begin(); p.season.packed != nil {
		return
	}
	block, months := p.block[lane.Site][lane.Dryers], did.Months
	row, n := p.season.row(block, at, p.most), len(months)
	clear(row)
	for k := range months {
		row[k] = int32(months[k].ToHub - months[k].RefusedAtGate)
	}
	all := sim.Figures()
	for k := range all {
		f := &all[k]
		row[n+int(f.ID)] = fine(f.Unit, f.Season(months))
	}
	for k, id := range monthly {
		f := id.Figure()
		for m := range months {
			row[n+figures+k*n+m] = fine(f.Unit, f.Of(&months[m]))
		}
	}
	if p.every.wide > 0 {
		every := p.every.row(block, at, p.most)
		for k := range all {
			for m := range months {
				every[int(all[k].ID)*n+m] = fine(all[k].Unit, all[k].Of(&months[m]))
			}
		}
	}
	if t.loaded != nil {
		t.loaded[i][lane.Site] = slices.Clone(did.Loaded)
	}
	t.putKept(row, i, did.Kept)
	hours := row[keptAt(n)+pairs(n):]
	for d := range did.Each {
		for s, h := range did.Each[d] {
			hours[d*states+s] = fine(sim.Hours, h)
		}
	}
}

// most is the most of its unit that a row keeps: a repair may last longer than any season.
const most = 1e6

// fine returns a figure in the whole numbers in which rows keep it.
func fine(u sim.Unit, x float64) int32 {
	if u == sim.Stalks {
		return int32(x)
	}
	return int32(math.Round(u.Fine() * min(x, most)))
}

// Months returns the number of months of the season.
func (t *Table) Months() int { return len(t.gate.Months) }

// Spans returns the months of the season.
func (t *Table) Spans() []sim.Span { return t.spans }

// Gate returns the rules of the hub behind the table.
func (t *Table) Gate() sim.Gate { return t.gate }

// Has tells whether the table holds a plan: the dryers of each site.
func (t *Table) Has(plan []int) bool { return t.CheckPlan(plan) == nil }

// CheckPlan tells why the table does not hold a plan: an error names the site, what was found
// and what the table holds.
func (t *Table) CheckPlan(plan []int) error {
	levels := t.levels()
	if len(plan) != len(levels) {
		return tongue.Errorf("a plan of %d sites, the table holds %d", len(plan), len(levels))
	}
	for site, dryers := range plan {
		if !slices.Contains(levels[site], dryers) {
			return tongue.Errorf("a plan of %d dryers at site %d, the table holds %v", dryers, site+1, levels[site])
		}
	}
	return nil
}

// Hub serves the contract of season i under a plan that the table holds (CheckPlan), the
// dryers of each site, into months, which must hold Months() entries. Scratch is reused memory.
// Stalks refused at the gate are already taken off.
func (t *Table) Hub(months []sim.HubMonth, scratch *Arriving, plan []int, i int) {
	scratch.Clear(len(months))
	for site, dryers := range t.apart(plan) {
		scratch.Add(t.accepted(site, dryers, i), t.kept(site, dryers, i))
	}
	scratch.Serve(&t.gate, months, t.OpeningKept(i))
}

// Loaded returns the charges that a site loaded in season i on the day on which the season is taken up.
func (t *Table) Loaded(site, i int) []sim.Loaded {
	if t.loaded == nil {
		return nil
	}
	return t.loaded[i][site]
}

// Sum returns a figure of season i added over the sites of a plan, in the whole numbers of its
// unit (sim.Unit.Fine).
func (t *Table) Sum(id sim.FigureID, plan []int, i int) int {
	sum := 0
	for site, dryers := range t.apart(plan) {
		sum += int(t.one(site, dryers, i, len(t.gate.Months)+int(id)))
	}
	return sum
}

// At returns a figure of a site-season, in its unit.
func (t *Table) At(id sim.FigureID, site, dryers, i int) float64 {
	t.bySite()
	return float64(t.one(site, dryers, i, len(t.gate.Months)+int(id))) / id.Figure().Unit.Fine()
}

// Of returns a figure of season i added over the sites of a plan, in its unit.
func (t *Table) Of(id sim.FigureID, plan []int, i int) float64 {
	return float64(t.Sum(id, plan, i)) / id.Figure().Unit.Fine()
}

// Upto returns the levels 0 to most of each site.
func Upto(most []int) [][]int {
	levels := make([][]int, len(most))
	for i, n := range most {
		for k := 0; k <= n; k++ {
			levels[i] = append(levels[i], k)
		}
	}
	return levels
}

// Only returns the levels of one plan.
func Only(plan []int) [][]int {
	levels := make([][]int, len(plan))
	for i, n := range plan {
		levels[i] = []int{n}
	}
	return levels
}

// digested are the figures of a Digest, in the order of the first version.
var digested = []sim.FigureID{
	sim.Opening, sim.Cut, sim.Second, sim.Rejected, sim.ThrownOut, sim.Broken, sim.RefusedAtGate, sim.Closing,
	sim.NotCutRain, sim.NotCutYardFull, sim.NotCutTarget, sim.Charges, sim.FiringH, sim.WoodKg,
}

// Digest returns a fingerprint of the stalks, charges, hours of fire and wood of all rows,
// and of the draws: equal tables have equal digests.
func (t *Table) Digest() string {
	t.bySite()
	h := sha256.New()
	buf := make([]byte, 8)
	for site, levels := range t.levels() {
		for _, dryers := range levels {
			for i := range t.Seasons {
				row := t.row(site, dryers, i)
				for _, x := range row[:t.Months()] {
					binary.LittleEndian.PutUint32(buf, uint32(x))
					h.Write(buf[:4])
				}
				for _, id := range digested {
					binary.LittleEndian.PutUint32(buf, uint32(row[t.Months()+int(id)]))
					h.Write(buf[:4])
				}
			}
		}
	}
	for i := range t.Seasons {
		for _, v := range t.Draws(i) {
			binary.LittleEndian.PutUint64(buf, math.Float64bits(v))
			h.Write(buf)
		}
	}
	return hex.EncodeToString(h.Sum(nil)[:8])
}
