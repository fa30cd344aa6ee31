package trials

import (
	"crypto/sha256"
	"encoding/binary"
	"encoding/hex"
	"math"

	"drystalk/sim"
	"drystalk/sim/weather"
)

// Total is a figure of a whole site-season that a table keeps, in whole units.
type Total int

// The totals of a row. Hours are kept in minutes and wood in hectograms, so
// that sums are exact and do not depend on their order.
const (
	Opening Total = iota
	Cut
	Second
	Rejected
	ThrownOut
	Broken
	RefusedAtGate
	Closing
	NotCutRain
	NotCutYardFull
	NotCutTarget
	Charges
	FiringMin
	WoodHg
	IdleMin
	NotCutPeople
	BrokenMin
	CutMin
	OtherMin
	NoWood
	RoadShut
	NotCutStand
	Redried
	NotCutClosed
	Browned
	Skipped
	HandlingMin // of dryers in their shifts, as the states below
	CoolingMin
	WaitingMin
	NoStalksMin
	NotWantedMin
	NoTimeMin
	NoPeopleMin
	NoWoodMin
	DownMin
	NotReadyMin
	TendMin // of people, as the tasks below
	NightMin
	LoadMin
	GradeMin
	SheetMin
	CollectMin
	HaulMin
	totals
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

	gate    sim.Gate
	spans   []sim.Span
	most    int     // seasons for which there is room
	dryers  int     // most dryers of a row
	levels  [][]int // by site: the numbers of dryers run
	block   [][]int // by site and number of dryers: index of its block of rows; -1 if not run
	stride  int
	none    []int // zeros: refused stalks are already taken off a row
	figures []int32
}

func newTable(r *sim.Region, first, n int, levels [][]int, ranges int) *Table {
	t := &Table{First: first, most: n, gate: r.Gate(), spans: r.Calendar.Months(), levels: levels}
	for site, l := range levels {
		for _, dryers := range l {
			t.dryers = max(t.dryers, dryers+r.Coming(site))
		}
	}
	t.stride = len(t.gate.Months)*(1+int(monthlies)) + int(totals) + t.dryers*states
	t.none = make([]int, len(t.gate.Months))
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
	draws := make([]float64, n*ranges)
	for i := range n {
		t.Draws = append(t.Draws, draws[i*ranges:(i+1)*ranges])
	}
	rain := make([]float64, n*len(t.spans))
	for i := range n {
		t.RainMM = append(t.RainMM, rain[i*len(t.spans):(i+1)*len(t.spans)])
	}
	return t
}

// row returns the figures of one site-season: accepted by month, totals, what is kept by
// month, hours of each dryer.
func (t *Table) row(site, dryers, i int) []int32 {
	at := (t.block[site][dryers]*t.most + i) * t.stride
	return t.figures[at : at+t.stride]
}

// Join returns the seasons of a followed by those of b as one table. It holds what b holds,
// and a must hold that too; draws, rain and rules are those of one region.
func Join(a, b *Table) *Table {
	t := *b
	t.First, t.Seasons, t.most = a.First, a.Seasons+b.Seasons, a.Seasons+b.Seasons
	t.Draws = append(append([][]float64(nil), a.Draws[:a.Seasons]...), b.Draws[:b.Seasons]...)
	t.RainMM = append(append([][]float64(nil), a.RainMM[:a.Seasons]...), b.RainMM[:b.Seasons]...)
	t.figures = make([]int32, len(b.figures)/b.most*t.most)
	for site, levels := range t.levels {
		for _, dryers := range levels {
			for i := range t.Seasons {
				from, at := a, i
				if i >= a.Seasons {
					from, at = b, i-a.Seasons
				}
				row := from.row(site, dryers, at)
				n := min(len(row), t.stride) // the tables may hold different numbers of dryers
				copy(t.row(site, dryers, i), row[:n])
			}
		}
	}
	return &t
}

// Monthly is a figure that a table keeps by month, in whole units.
type Monthly int

// The figures by month: what money goes by.
const (
	MonthCut Monthly = iota
	MonthSecond
	MonthWorkMin // of people, all tasks but cutting
	MonthNightMin
	MonthFiringMin
	MonthWoodHg
	MonthTrips
	MonthSent // collected, before the gate
	monthlies
)

// states is how many states a dryer may be in.
const states = 11

// DryerStates names the states in the order of DryerMinutes.
var DryerStates = [states]string{
	"firing", "loading and unloading", "cooling", "cold, loaded, waiting for the morning", "no stalks to load",
	"no need: the sun may do it", "too late in the shift for a charge", "nobody to tend the fire", "no wood", "broken or out", "not yet put up",
}

func statesOf(h *sim.DryerHours) [states]float64 {
	return [states]float64{h.Firing, h.Handling, h.Cooling, h.Waiting, h.NoStalks, h.NotWanted, h.NoTime, h.NoPeople, h.NoWood, h.Broken, h.NotReady}
}

// MonthFigures returns a figure of a site-season by month.
func (t *Table) MonthFigures(f Monthly, site, dryers, i int) []int32 {
	n := len(t.gate.Months)
	at := n + int(totals) + int(f)*n
	return t.row(site, dryers, i)[at : at+n]
}

// Accepted returns the good stalks that a site-season brought to the hub, by month.
func (t *Table) Accepted(site, dryers, i int) []int32 {
	return t.row(site, dryers, i)[:len(t.gate.Months)]
}

// DryerMinutes returns the minutes of its shifts that a dryer of a site-season spent in each
// of the DryerStates.
func (t *Table) DryerMinutes(site, dryers, i, dryer int) []int32 {
	at := len(t.gate.Months)*(1+int(monthlies)) + int(totals) + dryer*states
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
}

// putMonths writes what is kept by month, and the hours of each dryer.
func (t *Table) putMonths(site, dryers, i int, months []sim.SiteMonth, each []sim.DryerHours) {
	row := t.row(site, dryers, i)
	n := len(months)
	for k := range months {
		m := &months[k]
		for f, x := range [monthlies]float64{
			float64(m.Cut), float64(m.Second), 60 * m.OtherH, 60 * m.Tasks.Night, 60 * m.FiringH, 10 * m.WoodKg, float64(m.Trips), float64(m.ToHub),
		} {
			row[n+int(totals)+f*n+k] = int32(math.Round(x))
		}
	}
	at := n*(1+int(monthlies)) + int(totals)
	for d := range each {
		for k, h := range statesOf(&each[d]) {
			row[at+d*states+k] = int32(math.Round(60 * h))
		}
	}
}

// put writes the row of a site-season.
func (t *Table) put(site, dryers, i int, months []sim.SiteMonth, each []sim.DryerHours) {
	defer t.putMonths(site, dryers, i, months, each)
	row := t.row(site, dryers, i)
	for k := range row {
		row[k] = 0
	}
	total := row[len(months):]
	var firingH, idleH, woodKg, brokenH, cutH, otherH float64
	var spent [HaulMin - HandlingMin + 1]float64 // hours
	for k := range months {
		m := &months[k]
		row[k] = int32(m.ToHub - m.RefusedAtGate)
		for _, f := range []struct {
			total Total
			n     int
		}{
			{Cut, m.Cut},
			{Second, m.Second},
			{Rejected, m.Rejected},
			{ThrownOut, m.ThrownOut},
			{Broken, m.Broken},
			{RefusedAtGate, m.RefusedAtGate},
			{NotCutRain, m.NotCutRain},
			{NotCutYardFull, m.NotCutYardFull},
			{NotCutTarget, m.NotCutTarget},
			{Charges, m.Charges},
			{NotCutPeople, m.NotCutPeople},
			{NoWood, m.NoWood},
			{RoadShut, m.RoadShut},
			{NotCutStand, m.NotCutStand},
			{Redried, m.Redried},
			{NotCutClosed, m.NotCutClosed},
			{Browned, m.Browned},
			{Skipped, m.Skipped},
		} {
			total[f.total] += int32(f.n)
		}
		firingH += m.FiringH
		idleH += m.IdleH
		woodKg += m.WoodKg
		brokenH += m.BrokenH
		cutH += m.CutH
		otherH += m.OtherH
		h, p := &m.Shift, &m.Tasks
		for k, x := range [...]float64{
			h.Handling, h.Cooling, h.Waiting, h.NoStalks, h.NotWanted, h.NoTime, h.NoPeople, h.NoWood, h.Broken, h.NotReady,
			p.Tending, p.Night, p.Handling, p.Grading, p.Sheets, p.Collection, p.Hauling,
		} {
			spent[k] += x
		}
	}
	for k, x := range spent {
		total[HandlingMin+Total(k)] = int32(math.Round(60 * x))
	}
	total[Opening] = int32(months[0].Opening)
	total[Closing] = int32(months[len(months)-1].Closing)
	total[FiringMin] = int32(math.Round(60 * firingH))
	total[IdleMin] = int32(math.Round(60 * idleH))
	total[BrokenMin] = int32(math.Round(60 * min(brokenH, 1e6)))
	total[CutMin] = int32(math.Round(60 * cutH))
	total[OtherMin] = int32(math.Round(60 * otherH))
	total[WoodHg] = int32(math.Round(10 * woodKg))
	t.putMonths(site, dryers, i, months, each)
}

// Months returns the number of months of the season.
func (t *Table) Months() int { return len(t.gate.Months) }

// Spans returns the months of the season.
func (t *Table) Spans() []sim.Span { return t.spans }

// Gate returns the rules of the hub behind the table.
func (t *Table) Gate() sim.Gate { return t.gate }

// Has tells whether the table holds a plan: the dryers of each site.
func (t *Table) Has(plan []int) bool {
	for site, dryers := range plan {
		if dryers < 0 || dryers >= len(t.block[site]) || t.block[site][dryers] < 0 {
			return false
		}
	}
	return len(plan) == len(t.block)
}

// Hub serves the contract of season i under a plan, the dryers of each site,
// into months, which must hold Months() entries. Scratch is reused memory of the
// same length. Stalks refused at the gate are already taken off.
func (t *Table) Hub(months []sim.HubMonth, scratch []int, plan []int, i int) {
	accepted := scratch[:len(months)]
	for k := range accepted {
		accepted[k] = 0
	}
	for site, dryers := range plan {
		row := t.row(site, dryers, i)
		for k := range accepted {
			accepted[k] += int(row[k])
		}
	}
	t.gate.Serve(months, accepted, t.none)
}

// Sum returns a total of season i added over the sites of a plan.
func (t *Table) Sum(total Total, plan []int, i int) int {
	sum := 0
	for site, dryers := range plan {
		sum += int(t.row(site, dryers, i)[len(t.gate.Months)+int(total)])
	}
	return sum
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

// Digest returns a fingerprint of the stalks, charges, hours of fire and wood of all rows,
// and of the draws: equal tables have equal digests.
func (t *Table) Digest() string {
	h := sha256.New()
	buf := make([]byte, 8)
	for k := range len(t.figures) / t.stride {
		if k%t.most >= t.Seasons {
			continue
		}
		at := k * t.stride
		for _, f := range t.figures[at : at+t.Months()+int(WoodHg)+1] {
			binary.LittleEndian.PutUint32(buf, uint32(f))
			h.Write(buf[:4])
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
