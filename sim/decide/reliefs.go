package decide

import (
	"slices"

	"drystalk/sim"
)

// Relief is the key of one thing that may have been short: made plentiful, it shows whether a
// missed month would have been met.
type Relief string

// The reliefs.
const (
	MoreCutting   Relief = "more_cutting"    // half as many cutting hours again
	MoreRack      Relief = "more_rack"       // half as much open rack again
	RoofOverRacks Relief = "roof_over_racks" // a clear roof over half of the open rack
	LongerShift   Relief = "longer_shift"    // of dryers, by two hours
	StockAhead    Relief = "stock_ahead"     // one month of the contract at the hub from the start
	OtherPeople   Relief = "other_people"    // for all work but cutting
	NoBreakdowns  Relief = "no_breakdowns"   // of dryers
	EnoughWood    Relief = "enough_wood"
	Sheets        Relief = "sheets" // over the open racks
	SealedBags    Relief = "sealed_bags"
	OneDryerMore  Relief = "one_dryer_more" // at every site
	OpenRoad      Relief = "open_road"
	LargeVehicle  Relief = "large_vehicle"
	AnyMoisture   Relief = "any_moisture" // at the gate
	AnyNumber     Relief = "any_number"   // of stalks that the vehicle comes for
	NoPlanting    Relief = "no_planting"
	NoHolidays    Relief = "no_holidays"
	DryStore      Relief = "dry_store"
	EnoughRoom    Relief = "enough_room" // in the stores
	DryWood       Relief = "dry_wood"
	ClearRoofs    Relief = "clear_roofs" // in place of solid ones
	OpenStands    Relief = "open_stands" // never closed
	EnoughPlant   Relief = "enough_plant"
	AnyRain       Relief = "any_rain"        // to cut in
	ThinSpreading Relief = "thin_spreading"  // at one layer, 6 kg per m², where stalks lie thicker
	TwiceTheStock Relief = "twice_the_stock" // wanted ahead of the contract, by month
)

// relief is all that there is to know of one thing made plentiful. A new one is an entry of
// the table, and its words in package report.
type relief struct {
	key Relief
	// short tells whether a region may be short of it at all; nil: every region may be.
	short func(r *sim.Region) bool
	// apply makes it plentiful in a region whose sites are its own; what it points to is shared
	// with the plan as written and is replaced, never changed.
	apply func(r *sim.Region)
}

// reliefs is the table of what is tried: what a plan can buy first.
var reliefs = []relief{
	{MoreCutting, nil, eachSite(func(s *sim.Site) { s.CuttingHPerDay *= 1.5 })},
	{MoreRack, nil, eachSite(func(s *sim.Site) { s.OpenRackM2 *= 1.5 })},
	{RoofOverRacks, nil, eachSite(func(s *sim.Site) {
		s.ClearRoofM2 += s.OpenRackM2 / 2
		s.OpenRackM2 /= 2
	})},
	{LongerShift, nil, func(r *sim.Region) { r.Dryer.ShiftEndH = min(24, r.Dryer.ShiftEndH+2) }},
	{StockAhead, nil, func(r *sim.Region) { r.Hub.OpeningStock += mostOfAMonth(r) }},
	{OtherPeople, func(r *sim.Region) bool { return r.People.Pool }, func(r *sim.Region) { r.People.Pool = false }},
	{
		NoBreakdowns, func(r *sim.Region) bool { return r.Trouble.OutForSeason > 0 || r.Trouble.FiringHPerFail > 0 },
		func(r *sim.Region) { r.Trouble.Ignore = true },
	},
	{EnoughWood, func(r *sim.Region) bool { return r.Dryer.WoodLimited }, func(r *sim.Region) { r.Dryer.WoodLimited = false }},
	{Sheets, func(r *sim.Region) bool { return !anySite(hasSheets)(r) }, eachSite(func(s *sim.Site) { s.Sheets = true })},
	{SealedBags, anySite(func(s *sim.Site) bool { return !s.SealedStore }), eachSite(func(s *sim.Site) { s.SealedStore = true })},
	{OneDryerMore, nil, eachSite(func(s *sim.Site) { s.Dryers++ })},
	{OpenRoad, func(r *sim.Region) bool { return r.Road.ClosedAboveMM > 0 }, func(r *sim.Region) { r.Road.ClosedAboveMM = 0 }},
	{LargeVehicle, func(r *sim.Region) bool { return r.Road.VehicleStalks > 0 }, func(r *sim.Region) { r.Road.VehicleStalks = 0 }},
	{AnyMoisture, func(r *sim.Region) bool { return r.Road.MoistureLimit > 0 }, func(r *sim.Region) { r.Road.MoistureLimit = 0 }},
	{AnyNumber, func(r *sim.Region) bool { return r.Road.MinimumStalks > 0 }, func(r *sim.Region) { r.Road.MinimumStalks = 0 }},
	{NoPlanting, func(r *sim.Region) bool { return r.People.Planting.Days > 0 }, func(r *sim.Region) { r.People.Planting.Days = 0 }},
	{NoHolidays, func(r *sim.Region) bool { return len(r.People.Away) > 0 }, func(r *sim.Region) { r.People.Away = nil }},
	{
		DryStore, func(r *sim.Region) bool { return r.Store.Humidity == 0 || r.Store.Humidity > dryStore },
		func(r *sim.Region) { r.Store.Humidity = dryStore },
	},
	{EnoughRoom, anySite(func(s *sim.Site) bool { return s.StoreStalks > 0 }), eachSite(func(s *sim.Site) { s.StoreStalks = 0 })},
	{DryWood, func(r *sim.Region) bool { return r.Dryer.WetWood > 0 }, func(r *sim.Region) { r.Dryer.WetWood = 0 }},
	{ClearRoofs, anySite(func(s *sim.Site) bool { return s.SolidRoofM2 > 0 }), eachSite(func(s *sim.Site) {
		s.ClearRoofM2, s.SolidRoofM2 = s.ClearRoofM2+s.SolidRoofM2, 0
	})},
	{OpenStands, anySite(func(s *sim.Site) bool { return len(s.Closed) > 0 }), eachSite(func(s *sim.Site) { s.Closed = nil })},
	{EnoughPlant, anySite(func(s *sim.Site) bool { return s.StandM2 > 0 }), eachSite(func(s *sim.Site) { s.StandM2 = 0 })},
	{AnyRain, nil, func(r *sim.Region) { r.Yard.MaxCutRainMM = 1e6 }},
	{ThinSpreading, anySite(func(s *sim.Site) bool { return s.LoadingKgPerM2 > oneLayer }), eachSite(func(s *sim.Site) { s.LoadingKgPerM2 = min(oneLayer, s.LoadingKgPerM2) })},
	{TwiceTheStock, func(r *sim.Region) bool { return len(r.Contract.TargetStock) > 0 }, func(r *sim.Region) {
		for month, n := range r.Contract.TargetStock {
			r.Contract.TargetStock[month] = 2 * n
		}
	}},
}

// Reliefs lists the keys of all reliefs.
func Reliefs() []Relief {
	var keys []Relief
	for i := range reliefs {
		keys = append(keys, reliefs[i].key)
	}
	return keys
}

// reliefsFor lists what a region may be short of.
func reliefsFor(r *sim.Region) []relief {
	return slices.DeleteFunc(slices.Clone(reliefs), func(what relief) bool { return what.short != nil && !what.short(r) })
}

// with returns a region with things made plentiful; the plan as written stays.
func with(r *sim.Region, list ...relief) *sim.Region {
	region := r.Clone()
	for _, what := range list {
		what.apply(region)
	}
	return region
}

// oneLayer is the load of a rack that one layer of stalks covers, kg per m², as documented for
// one_layer_kg_per_m2.
const oneLayer = 6

// dryStore is the humidity at which dry stalks keep: no mould grows below.
const dryStore = 0.65

// mostOfAMonth is the largest month of the contract within the season, good stalks.
func mostOfAMonth(r *sim.Region) int {
	most := 0
	for _, s := range r.Calendar.Months() {
		most = max(most, r.Contract.StalksByMonth[s.Month])
	}
	return most
}

// eachSite returns a change of every site.
func eachSite(do func(*sim.Site)) func(*sim.Region) {
	return func(r *sim.Region) {
		for i := range r.Sites {
			do(&r.Sites[i])
		}
	}
}

// anySite tells whether any site has something.
func anySite(has func(*sim.Site) bool) func(*sim.Region) bool {
	return func(r *sim.Region) bool {
		for i := range r.Sites {
			if has(&r.Sites[i]) {
				return true
			}
		}
		return false
	}
}

func hasSheets(s *sim.Site) bool { return s.Sheets }
