package ways

import (
	"fmt"
	"math"
	"slices"
	"strconv"

	"drystalk/sim"
	"drystalk/sim/stalk"
)

// Lever is the key of a way of working that can be changed.
type Lever string

// The levers.
const (
	Loading     Lever = "loading"
	HubSpeaks   Lever = "hub_speaks"
	WetLoading  Lever = "loading_in_wet_weeks"
	Spreading   Lever = "spreading"
	CuttingRule Lever = "cutting_rule"
	StockAhead  Lever = "stock_ahead"
	Collections Lever = "collections"
	CuttingH    Lever = "cutting_hours"
	Heap        Lever = "heap"
	ThrowOut    Lever = "throwing_out"
	ClosingUp   Lever = "closing_up"
	FiredFirst  Lever = "fired_first"
	FiredAt     Lever = "fired_at_index"
	AtRisk      Lever = "at_risk"
	LeastCharge Lever = "least_charge"
	Temperature Lever = "temperature"
	ShiftStart  Lever = "shift_start"
	ShiftEnd    Lever = "shift_end"
)

// working is a region with how it works: what a lever changes.
type working struct {
	region *sim.Region
	base   *sim.Parameters
}

// Allowed is what those who work have agreed to beyond the present.
type Allowed struct {
	Night bool    // fires may be tended between 22 and 6 h
	MostC float64 // the dryer may be set as hot; below the present temperature: no hotter than now
}

// change is a key of a scenario and its new value, as an edit of a scenario takes them.
type change struct {
	site  string // "" for a key of the region
	key   string // of a site, or a path such as dryer.shift_end_h
	value string
}

// lever is all that there is to know of one lever but its words, which are in package report.
type lever struct {
	key    Lever
	dryers bool      // means nothing where no dryer stands
	factor bool      // its values multiply what is written, which is 1
	values []float64 // tried, around the present one
	choice []string  // keys of the values 0, 1, ... where they are no numbers

	now     func(w working) (present float64, offered bool)
	set     func(w working, x float64)
	changes func(w working) []change // after set: what a scenario says then
	safe    func(w working, x float64, a Allowed) bool
}

// mostWorkH is the hours a day in open water that people bear: the usual most of the scenario's key.
const mostWorkH = 8

// table lists the levers. A new one is an entry here, and its words in package report.
var table = []lever{
	{
		key: HubSpeaks, values: []float64{0}, choice: []string{"daily", "at_collections", "by_cutters"},
		now: func(w working) (float64, bool) {
			return float64(w.region.Hub.Speaks), w.region.Hub.Speaks != sim.SpeaksDaily && len(w.region.Sites) > 1
		},
		set:     func(w working, x float64) { w.region.Hub.Speaks = sim.Speaks(x) },
		changes: func(working) []change { return []change{{key: "hub.speaks", value: "daily"}} },
	},
	{
		key: Loading, values: []float64{4, 5, 6, 8, 10, 12},
		now: func(w working) (float64, bool) {
			return meanOf(w, func(s *sim.Site) float64 { return s.LoadingKgPerM2 }), true
		},
		set: func(w working, x float64) { eachSite(w, func(s *sim.Site) { s.LoadingKgPerM2 = x }) },
		changes: func(w working) []change {
			return siteChanges(w, "loading_kg_per_m2", func(s *sim.Site) float64 { return s.LoadingKgPerM2 })
		},
	},
	{
		key: WetLoading, values: []float64{0, 4, 6, 8},
		now: func(w working) (float64, bool) {
			return meanOf(w, func(s *sim.Site) float64 { return s.LoadingInWetWeeksKgPerM2 }), true
		},
		set: func(w working, x float64) { eachSite(w, func(s *sim.Site) { s.LoadingInWetWeeksKgPerM2 = x }) },
		changes: func(w working) []change {
			return siteChanges(w, "loading_in_wet_weeks_kg_per_m2", func(s *sim.Site) float64 { return s.LoadingInWetWeeksKgPerM2 })
		},
	},
	{
		key: Spreading, values: []float64{0, 1}, choice: []string{"at_full_load", "over_free_rack"},
		now: func(w working) (float64, bool) { return float64(w.region.Yard.Spreading), true },
		set: func(w working, x float64) { w.region.Yard.Spreading = sim.Spreading(x) },
		changes: func(w working) []change {
			return []change{{key: "yard.stalks_are_spread", value: []string{"at_full_load", "over_free_rack"}[w.region.Yard.Spreading]}}
		},
	},
	{
		key: CuttingRule, values: []float64{0, 1}, choice: []string{"full_yard", "what_can_dry"},
		now: func(w working) (float64, bool) { return float64(w.region.Yard.CutUntil), true },
		set: func(w working, x float64) { w.region.Yard.CutUntil = sim.CutLimit(x) },
		changes: func(w working) []change {
			return []change{{key: "yard.cutting_stops_at", value: []string{"full_yard", "what_can_dry"}[w.region.Yard.CutUntil]}}
		},
	},
	{
		key: StockAhead, factor: true, values: []float64{0.5, 1, 1.5, 2, 3, 4},
		now: func(w working) (float64, bool) { return 1, len(w.region.Contract.TargetStock) > 0 },
		set: func(w working, x float64) {
			for m, n := range w.region.Contract.TargetStock {
				w.region.Contract.TargetStock[m] = int(math.Round(float64(n) * x))
			}
		},
		changes: stockChanges,
	},
	{
		key: Collections, values: []float64{1, 2, 3, 4, 6},
		now: func(w working) (float64, bool) { return float64(w.region.Hub.CollectionsPerMonth), true },
		set: func(w working, x float64) { w.region.Hub.CollectionsPerMonth = int(x) },
		changes: func(w working) []change {
			return []change{{key: "hub.collections_per_month", value: strconv.Itoa(w.region.Hub.CollectionsPerMonth)}}
		},
	},
	{
		key: CuttingH, factor: true, values: []float64{0.75, 1, 1.25},
		now: func(w working) (float64, bool) { return 1, true },
		set: func(w working, x float64) { eachSite(w, func(s *sim.Site) { s.CuttingHPerDay *= x }) },
		changes: func(w working) []change {
			return siteChanges(w, "cutting_h_per_day", func(s *sim.Site) float64 { return s.CuttingHPerDay })
		},
		safe: func(w working, x float64, _ Allowed) bool { // more is cut only in hours that people work anyway
			most := mostOf(w, func(s *sim.Site) float64 { return s.CuttingHPerDay })
			return x <= 1 || most*x <= math.Min(w.region.People.WorkHPerDay, mostWorkH)
		},
	},
	{
		key: Heap, values: []float64{0, 0.5, 1},
		now: func(w working) (float64, bool) { return w.region.Yard.HeapDaysOfCut, true },
		set: func(w working, x float64) { w.region.Yard.HeapDaysOfCut = x },
		changes: func(w working) []change {
			return []change{{key: "yard.heap_holds_days_of_cut", value: plain(w.region.Yard.HeapDaysOfCut)}}
		},
		safe: func(w working, x float64, _ Allowed) bool { return x <= w.region.Yard.HeapDaysOfCut }, // nobody cuts into a rotting heap
	},
	{
		key: ThrowOut, values: []float64{0, 0.1, 0.3},
		now: func(w working) (float64, bool) { return w.region.Yard.DiscardBelowFullShare, true },
		set: func(w working, x float64) { w.region.Yard.DiscardBelowFullShare = x },
		changes: func(w working) []change {
			return []change{{key: "yard.thrown_out_below_full_share", value: plain(w.region.Yard.DiscardBelowFullShare)}}
		},
	},
	{
		key: ClosingUp, values: []float64{0.5, 0.7, 0.9},
		now: func(w working) (float64, bool) { return float64(w.base.Stalk.PredriedMoisture), true },
		set: func(w working, x float64) { w.base.Stalk.PredriedMoisture = stalk.DryBasis(x) },
		changes: func(w working) []change {
			return []change{{key: "yard.predried_moisture_dry_basis", value: plain(float64(w.base.Stalk.PredriedMoisture))}}
		},
	},
	{
		key: FiredFirst, dryers: true, values: []float64{0, 1, 2, 3}, choice: []string{"most_at_risk", "driest", "wettest", "oldest"},
		now: func(w working) (float64, bool) { return float64(w.region.Dryer.LoadingRule), true },
		set: func(w working, x float64) { w.region.Dryer.LoadingRule = sim.LoadingRule(x) },
		changes: func(w working) []change {
			rule := []string{"most_at_risk", "driest", "wettest", "oldest"}[w.region.Dryer.LoadingRule]
			return []change{{key: "dryer.loads_first", value: rule}}
		},
	},
	{
		key: FiredAt, dryers: true, values: []float64{0.1, 0.2, 0.3, 0.5},
		now: func(w working) (float64, bool) { return w.region.Dryer.FireAtIndex, true },
		set: func(w working, x float64) { w.region.Dryer.FireAtIndex = x },
		changes: func(w working) []change {
			return []change{{key: "dryer.fire_at_mould_index", value: plain(w.region.Dryer.FireAtIndex)}}
		},
	},
	{
		key: AtRisk, dryers: true, values: []float64{0, 0.1, 0.2, 0.3},
		now: func(w working) (float64, bool) { return w.region.Dryer.AtRiskFraction, true },
		set: func(w working, x float64) { w.region.Dryer.AtRiskFraction = x },
		changes: func(w working) []change {
			return []change{{key: "dryer.at_risk_fraction", value: plain(w.region.Dryer.AtRiskFraction)}}
		},
	},
	{
		key: LeastCharge, dryers: true, values: []float64{0.2, 0.3, 0.5},
		now: func(w working) (float64, bool) { return w.region.Dryer.MinimumFill, true },
		set: func(w working, x float64) { w.region.Dryer.MinimumFill = x },
		changes: func(w working) []change {
			return []change{{key: "dryer.minimum_fill_fraction", value: plain(w.region.Dryer.MinimumFill)}}
		},
	},
	{
		key: Temperature, dryers: true, values: []float64{65, 70, 75, 80, 85, 90},
		now: func(w working) (float64, bool) { return w.base.Cabinet.SetC, true },
		set: func(w working, x float64) { w.base.Cabinet.SetC = x },
		changes: func(w working) []change {
			return []change{{key: "dryer.set_temperature_c", value: plain(w.base.Cabinet.SetC)}}
		},
		safe: func(w working, x float64, a Allowed) bool { return x <= math.Max(w.base.Cabinet.SetC, a.MostC) },
	},
	{
		key: ShiftStart, dryers: true, values: []float64{4, 5, 6, 7, 8},
		now: func(w working) (float64, bool) { return w.region.Dryer.ShiftStartH, true },
		set: func(w working, x float64) { w.region.Dryer.ShiftStartH = x },
		changes: func(w working) []change {
			return []change{{key: "dryer.shift_start_h", value: plain(w.region.Dryer.ShiftStartH)}}
		},
		safe: func(w working, x float64, a Allowed) bool {
			byDay := x >= math.Min(sim.NightToH, w.region.Dryer.ShiftStartH)
			return (byDay || a.Night) && fits(w, x, w.region.Dryer.ShiftEndH)
		},
	},
	{
		key: ShiftEnd, dryers: true, values: []float64{18, 19, 20, 22, 24, 26},
		now: func(w working) (float64, bool) { return w.region.Dryer.ShiftEndH, true },
		set: func(w working, x float64) { w.region.Dryer.ShiftEndH = x },
		changes: func(w working) []change {
			return []change{{key: "dryer.shift_end_h", value: plain(w.region.Dryer.ShiftEndH)}}
		},
		safe: func(w working, x float64, a Allowed) bool {
			longest := mostOf(w, func(s *sim.Site) float64 { return s.LongerShiftH })
			byDay := x <= w.region.Dryer.ShiftEndH || x+longest <= sim.NightFromH
			return (byDay || a.Night) && fits(w, w.region.Dryer.ShiftStartH, x)
		},
	},
}

// fits tells whether a shift has room for a charge and ends before the next one starts, at every
// site and with whatever the other end of the shift may become: four hours are left for that.
func fits(w working, start, end float64) bool {
	const spare = 4
	longest := mostOf(w, func(s *sim.Site) float64 { return s.LongerShiftH })
	if start == w.region.Dryer.ShiftStartH && end == w.region.Dryer.ShiftEndH {
		return true
	}
	return end-start > 2*w.region.Dryer.HandlingH+spare && end+longest-start <= 24-spare
}

// Levers lists the keys of all levers.
func Levers() []Lever {
	var keys []Lever
	for i := range table {
		keys = append(keys, table[i].key)
	}
	return keys
}

func eachSite(w working, do func(*sim.Site)) {
	for i := range w.region.Sites {
		do(&w.region.Sites[i])
	}
}

// meanOf returns the mean of a figure of the sites.
func meanOf(w working, of func(*sim.Site) float64) float64 {
	sum := 0.0
	eachSite(w, func(s *sim.Site) { sum += of(s) })
	return sum / float64(len(w.region.Sites))
}

// mostOf returns the largest of a figure of the sites.
func mostOf(w working, of func(*sim.Site) float64) float64 {
	most := 0.0
	eachSite(w, func(s *sim.Site) { most = max(most, of(s)) })
	return most
}

// plain writes a number as a scenario has it.
func plain(x float64) string { return strconv.FormatFloat(x, 'f', -1, 64) }

// siteChanges are the changes of one key at all sites.
func siteChanges(w working, key string, of func(*sim.Site) float64) []change {
	var out []change
	eachSite(w, func(s *sim.Site) { out = append(out, change{s.Name, key, plain(of(s))}) })
	return out
}

// stockChanges are the target stocks of the months that have one.
func stockChanges(w working) []change {
	var out []change
	for month := range 12 {
		name := monthKeys[month]
		for m, n := range w.region.Contract.TargetStock {
			if int(m) == month+1 {
				out = append(out, change{key: "contract.target_stock_stalks." + name, value: strconv.Itoa(n)})
			}
		}
	}
	return out
}

// monthKeys are the months as a scenario has them.
var monthKeys = [12]string{"jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec"}

// said writes a change as an edit of a scenario takes it.
func (c change) said() string {
	if c.site == "" {
		return fmt.Sprintf("%s=%s", c.key, c.value)
	}
	return fmt.Sprintf("%s: %s=%s", c.site, c.key, c.value)
}

// rung is a value of a lever's ladder.
type rung struct {
	x       float64
	written bool // as the plan has it
}

// ladder returns the values of a lever from the lowest to the highest, the plan's own among them;
// nil where the lever is not offered.
func (l *lever) ladder(w working, a Allowed) []rung {
	present, offered := l.now(w)
	if !offered {
		return nil
	}
	out := []rung{{present, true}}
	for _, x := range l.values {
		if x != present && (l.safe == nil || l.safe(w, x, a)) {
			out = append(out, rung{x, false})
		}
	}
	if len(out) == 1 {
		return nil
	}
	slices.SortStableFunc(out, func(p, q rung) int { return compare(p.x, q.x) })
	return out
}

func compare(a, b float64) int {
	switch {
	case a < b:
		return -1
	case a > b:
		return 1
	}
	return 0
}
