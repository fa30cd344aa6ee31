package trials

import (
	"crypto/sha256"
	"encoding/binary"
	"encoding/hex"
	"math"
	"slices"

	"drystalk/sim"
	"drystalk/sim/weather"
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
	First   int         // number of the first season
	Seasons int         // that have been run
	Draws   [][]float64 // by season: the parameters drawn, in the order of Knowledge.Ranges
	RainMM  [][]float64 // by season and month, of the first group of sites
	RainAt  string      // the first site, where others have other rain; else ""
	AheadMM []float64   // by season: rain from the day on which the season is taken up, of the first group of sites

	from    int              // the day on which the season is taken up
	loaded  [][][]sim.Loaded // by season and site: charges loaded on that day; nil where the season opens as ever
	gate    sim.Gate
	spans   []sim.Span
	parts   []part      // one after the other; a table that was not joined has one
	opening [][]float64 // by season: share of the hub's opening stock still of full grade at the end of each month
	spoils  []bool      // by season: something does not keep at the hub
}

func newTable(r *sim.Region, first, n int, levels [][]int, ranges int) *Table {
	t := &Table{First: first, gate: r.Gate(), spans: r.Calendar.Months(), parts: []part{{0, newRows(r, n, levels)}}}
	t.opening, t.spoils = make([][]float64, n), make([]bool, n)
	draws := make([]float64, n*ranges)
	for i := range n {
		t.Draws = append(t.Draws, draws[i*ranges:(i+1)*ranges])
	}
	t.from, t.AheadMM = r.Start.Day, make([]float64, n)
	if r.Start.Stated() {
		t.loaded = make([][][]sim.Loaded, n)
		for i := range t.loaded {
			t.loaded[i] = make([][]sim.Loaded, len(r.Sites))
		}
	}
	rain := make([]float64, n*len(t.spans))
	for i := range n {
		t.RainMM = append(t.RainMM, rain[i*len(t.spans):(i+1)*len(t.spans)])
	}
	return t
}

// MonthFigures returns a figure of a site-season by month, in the whole numbers of its unit
// (sim.Unit.Fine). Unless Setup.EveryMonth is set only what money goes by is kept by month; it
// panics for any other figure.
func (t *Table) MonthFigures(id sim.FigureID, site, dryers, i int) []int32 {
	if months := t.everyMonth(site, dryers, i); months != nil {
		n := len(t.gate.Months)
		return months[int(id)*n : int(id)*n+n]
	}
	k := slices.Index(monthly, id)
	if k < 0 {
		panic("trials: not kept by month: " + id.String())
	}
	n := len(t.gate.Months)
	at := n + figures + k*n
	return t.row(site, dryers, i)[at : at+n]
}

// Accepted returns the good stalks that a site-season brought to the hub, by month.
func (t *Table) Accepted(site, dryers, i int) []int32 {
	return t.row(site, dryers, i)[:len(t.gate.Months)]
}

// DryerMinutes returns the minutes of its shifts that a dryer of a site-season spent in each
// state, by sim.DryerState.
func (t *Table) DryerMinutes(site, dryers, i, dryer int) []int32 {
	n := len(t.gate.Months)
	at := keptAt(n) + pairs(n) + dryer*states
	return t.row(site, dryers, i)[at : at+states]
}

// putRain writes the rain of a season by month.
func (t *Table) putRain(i int, days []weather.Day) {
	for k, span := range t.spans {
		sum := 0.0
		for d := span.FirstDay; d <= span.LastDay; d++ {
			sum += days[d].RainMM
		}
		t.RainMM[i][k] = sum
	}
	t.AheadMM[i] = 0
	for d := t.from; d <= t.spans[len(t.spans)-1].LastDay; d++ {
		t.AheadMM[i] += days[d].RainMM
	}
}

// put writes the row of a site-season.
func (t *Table) put(lane sim.Lane, i int, did *sim.Lived) {
	row, months := t.row(lane.Site, lane.Dryers, i), did.Months
	clear(row)
	n := len(months)
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
	if every := t.everyMonth(lane.Site, lane.Dryers, i); every != nil {
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
	at := keptAt(n) + pairs(n)
	for d := range did.Each {
		for s, h := range did.Each[d] {
			row[at+d*states+s] = fine(sim.Hours, h)
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
	for site, dryers := range plan {
		scratch.Add(t.Accepted(site, dryers, i), t.Kept(site, dryers, i))
	}
	scratch.Serve(&t.gate, months, t.opening[i])
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
	for site, dryers := range plan {
		sum += int(t.row(site, dryers, i)[len(t.gate.Months)+int(id)])
	}
	return sum
}

// At returns a figure of a site-season, in its unit.
func (t *Table) At(id sim.FigureID, site, dryers, i int) float64 {
	return float64(t.row(site, dryers, i)[len(t.gate.Months)+int(id)]) / id.Figure().Unit.Fine()
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
	for _, draws := range t.Draws[:t.Seasons] {
		for _, v := range draws {
			binary.LittleEndian.PutUint64(buf, math.Float64bits(v))
			h.Write(buf)
		}
	}
	return hex.EncodeToString(h.Sum(nil)[:8])
}
