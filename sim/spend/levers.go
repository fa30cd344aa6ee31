package spend

import (
	"drystalk/sim"
	"drystalk/sim/money"
)

// Lever is the key of something a budget buys in steps.
type Lever string

// The levers.
const (
	Dryers       Lever = "dryers"
	OpenRacks    Lever = "open_racks"
	ClearRoofs   Lever = "clear_roofs"
	Sheets       Lever = "sheets"
	SealedBags   Lever = "sealed_bags"
	Cutters      Lever = "cutters"
	LongerShifts Lever = "longer_shifts"
	StoreRoom    Lever = "store_room"
	StockAhead   Lever = "stock_ahead"
)

// MostSteps is how many steps of one lever are bought at most at one place, where nothing
// else bounds them.
const MostSteps = 6

// The steps of the levers that do not go by single things.
const (
	rackStepM2 = 50
	roofStepM2 = 20
	cutterStep = 2
	shiftStepH = 2
	roomStep   = 5000
	stockStep  = 20_000
)

// place is where a lever is bought: a site, or the region where site is nil.
type place struct {
	region     *sim.Region
	site       *sim.Site
	mostDryers int // that may stand at the site
}

// lever is all that there is to know of one lever. A new one is an entry of the table, and its
// words in package report.
type lever struct {
	key    Lever
	step   float64 // size of one step
	unit   string  // of the size; "" where it is counted
	region bool    // bought for the region, not at a site
	atHub  bool    // of what it buys, which lies at the hub, sites know by the word of the hub alone
	fires  bool    // it is nothing to a site without a dryer

	// price is that of one step, or of a square metre where cost is given; without one above 0
	// the lever is not tried.
	price func(p *money.Prices) float64
	// cost is that of so many steps at a place of the plan as written and of the plan with all
	// that is bought, in units of the currency; nil for steps that cost the same each.
	cost func(p *money.Prices, written, bought place, steps int) float64
	// most is how many steps a place of the plan as written takes; nil for MostSteps.
	most func(at place) int
	// apply buys so many steps.
	apply func(at place, steps int)
}

// table lists the levers, those of the region last.
var table = []lever{
	{
		key: Dryers, step: 1,
		price: func(p *money.Prices) float64 { return p.DryerCost },
		most:  func(at place) int { return max(0, at.mostDryers-at.site.Dryers) },
		apply: func(at place, n int) { at.site.Dryers += n },
	},
	{
		key: OpenRacks, step: rackStepM2, unit: "m²",
		price: func(p *money.Prices) float64 { return p.RackPerM2 },
		cost:  racksCost,
		apply: func(at place, n int) { at.site.OpenRackM2 += rackStepM2 * float64(n) },
	},
	{
		key: ClearRoofs, step: roofStepM2, unit: "m²",
		price: func(p *money.Prices) float64 { return roofStepM2 * p.RoofPerM2 },
		apply: func(at place, n int) { at.site.ClearRoofM2 += roofStepM2 * float64(n) },
	},
	{
		key: Sheets, step: 1,
		price: func(p *money.Prices) float64 { return p.SheetPerM2 },
		cost: func(p *money.Prices, _, bought place, n int) float64 { // over the racks that are there in the end
			return float64(n) * bought.site.OpenRackM2 * p.SheetPerM2
		},
		most:  func(at place) int { return onceUnless(at.site.Sheets) },
		apply: func(at place, n int) { at.site.Sheets = at.site.Sheets || n > 0 },
	},
	{
		key: SealedBags, step: 1,
		price: func(p *money.Prices) float64 { return p.SealPerSite },
		most:  func(at place) int { return onceUnless(at.site.SealedStore) },
		apply: func(at place, n int) { at.site.SealedStore = at.site.SealedStore || n > 0 },
	},
	{
		key: Cutters, step: cutterStep,
		price: func(p *money.Prices) float64 { return cutterStep * p.PerCutter },
		most: func(at place) int { // more than twice as many people are rarely there
			return min(MostSteps, (at.site.Cutters+1)/cutterStep)
		},
		apply: func(at place, n int) { at.site.Cutters += cutterStep * n },
	},
	{
		key: LongerShifts, step: shiftStepH, unit: "h", fires: true,
		price: func(p *money.Prices) float64 { return shiftStepH * p.PerShiftH },
		most: func(at place) int { // a shift ends before the next one starts, and night work is nobody's to sell
			start, end := at.region.Dryer.ShiftStartH, at.region.Dryer.ShiftEndH+at.site.LongerShiftH
			return max(0, min(2, int((min(start+24, sim.NightFromH)-end)/shiftStepH)))
		},
		apply: func(at place, n int) { at.site.LongerShiftH += shiftStepH * float64(n) },
	},
	{
		key: StoreRoom, step: roomStep, unit: "stalks",
		price: func(p *money.Prices) float64 { return roomStep / 1000 * p.RoomPer1000 },
		most: func(at place) int {
			if at.site.StoreStalks == 0 {
				return 0 // there is room for any number
			}
			return MostSteps
		},
		apply: func(at place, n int) { at.site.StoreStalks += roomStep * n },
	},
	{
		key: StockAhead, step: stockStep, unit: "stalks", region: true, atHub: true,
		price: func(p *money.Prices) float64 { return stockStep * p.PerStock },
		apply: func(at place, n int) { at.region.Hub.OpeningStock += stockStep * n },
	},
}

// racksCost is that of open racks: new ones get sheets where the others have them.
func racksCost(p *money.Prices, written, _ place, n int) float64 {
	m2 := rackStepM2 * float64(n)
	if written.site.Sheets && p.SheetPerM2 > 0 {
		return m2*p.RackPerM2 + m2*p.SheetPerM2
	}
	return m2 * p.RackPerM2
}

func onceUnless(has bool) int {
	if has {
		return 0
	}
	return 1
}

// Levers lists the keys of all levers.
func Levers() []Lever {
	var keys []Lever
	for i := range table {
		keys = append(keys, table[i].key)
	}
	return keys
}

// StepOf returns how much one step of a lever is; nothing for a key that is none.
func StepOf(key Lever) Quantity {
	for i := range table {
		if table[i].key == key {
			return table[i].quantity(1)
		}
	}
	return Quantity{Of: key}
}

// leversOf returns the levers that have a price, and the keys of those that have none.
func leversOf(p *money.Prices) (levers []lever, without []Lever) {
	for _, l := range table {
		if l.price(p) > 0 {
			levers = append(levers, l)
		} else {
			without = append(without, l.key)
		}
	}
	return levers, without
}

// quantity returns how much so many steps are.
func (l *lever) quantity(steps int) Quantity { return Quantity{l.key, l.step * float64(steps), l.unit} }

// costs returns the cost of so many steps.
func (l *lever) costs(p *money.Prices, written, bought place, steps int) money.Amount {
	if l.cost == nil {
		return money.Of(l.price(p) * float64(steps))
	}
	return money.Of(l.cost(p, written, bought, steps))
}

// takes returns how many steps a place of the plan as written takes.
func (l *lever) takes(at place) int {
	if l.most == nil {
		return MostSteps
	}
	return l.most(at)
}
