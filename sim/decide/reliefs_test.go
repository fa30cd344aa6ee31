package decide

import (
	"slices"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drystalk/sim"
)

// wholeOf is a region short of everything: all that can be made plentiful is limited in it.
func wholeOf() *sim.Region {
	r := &sim.Region{
		Calendar: sim.Calendar{StartMonth: time.June, StartDay: 1, Days: 61},
		Contract: sim.Contract{StalksByMonth: map[time.Month]int{time.June: 1000, time.July: 2000, time.December: 9000}, TargetStock: map[time.Month]int{time.June: 700}},
		Hub:      sim.Hub{OpeningStock: 500},
		Road:     sim.Road{MoistureLimit: 0.16, ClosedAboveMM: 80, VehicleStalks: 9000, MinimumStalks: 300},
		Sites: []sim.Site{
			{CuttingHPerDay: 4, OpenRackM2: 100, ClearRoofM2: 10, SolidRoofM2: 7, Dryers: 1, StoreStalks: 8000, StandM2: 900, LoadingKgPerM2: 10, Closed: []sim.Closure{{Why: "sprayed"}}},
			{CuttingHPerDay: 6, OpenRackM2: 60, Dryers: 2, SealedStore: true, LoadingKgPerM2: 5},
		},
	}
	r.Dryer.ShiftStartH, r.Dryer.ShiftEndH, r.Dryer.WetWood, r.Dryer.WoodLimited = 6, 18, 0.4, true
	r.Yard.MaxCutRainMM = 20
	r.People = sim.People{Pool: true, Planting: sim.Planting{AfterOnsetDays: 5, Days: 10, AwayFraction: 0.5}, Away: []sim.Away{{Name: "feast"}}}
	r.Trouble = sim.Trouble{OutForSeason: 0.1, FiringHPerFail: 300}
	r.Store.Humidity = 0.9
	return r
}

// What each thing made plentiful changes, by hand: that and nothing else, and nothing of the
// plan as written.
func TestEachReliefByHand(t *testing.T) {
	hands := map[Relief]func(r *sim.Region){
		MoreCutting: func(r *sim.Region) { r.Sites[0].CuttingHPerDay, r.Sites[1].CuttingHPerDay = 6, 9 },
		MoreRack:    func(r *sim.Region) { r.Sites[0].OpenRackM2, r.Sites[1].OpenRackM2 = 150, 90 },
		RoofOverRacks: func(r *sim.Region) {
			r.Sites[0].OpenRackM2, r.Sites[0].ClearRoofM2 = 50, 60
			r.Sites[1].OpenRackM2, r.Sites[1].ClearRoofM2 = 30, 30
		},
		LongerShift:   func(r *sim.Region) { r.Dryer.ShiftEndH = 20 },
		StockAhead:    func(r *sim.Region) { r.Hub.OpeningStock = 2500 }, // December is not in the season
		OtherPeople:   func(r *sim.Region) { r.People.Pool = false },
		NoBreakdowns:  func(r *sim.Region) { r.Trouble.Ignore = true },
		EnoughWood:    func(r *sim.Region) { r.Dryer.WoodLimited = false },
		Sheets:        func(r *sim.Region) { r.Sites[0].Sheets, r.Sites[1].Sheets = true, true },
		SealedBags:    func(r *sim.Region) { r.Sites[0].SealedStore = true },
		OneDryerMore:  func(r *sim.Region) { r.Sites[0].Dryers, r.Sites[1].Dryers = 2, 3 },
		OpenRoad:      func(r *sim.Region) { r.Road.ClosedAboveMM = 0 },
		LargeVehicle:  func(r *sim.Region) { r.Road.VehicleStalks = 0 },
		AnyMoisture:   func(r *sim.Region) { r.Road.MoistureLimit = 0 },
		AnyNumber:     func(r *sim.Region) { r.Road.MinimumStalks = 0 },
		NoPlanting:    func(r *sim.Region) { r.People.Planting.Days = 0 },
		NoHolidays:    func(r *sim.Region) { r.People.Away = nil },
		DryStore:      func(r *sim.Region) { r.Store.Humidity = 0.65 },
		EnoughRoom:    func(r *sim.Region) { r.Sites[0].StoreStalks = 0 },
		DryWood:       func(r *sim.Region) { r.Dryer.WetWood = 0 },
		ClearRoofs:    func(r *sim.Region) { r.Sites[0].ClearRoofM2, r.Sites[0].SolidRoofM2 = 17, 0 },
		OpenStands:    func(r *sim.Region) { r.Sites[0].Closed = nil },
		EnoughPlant:   func(r *sim.Region) { r.Sites[0].StandM2 = 0 },
		AnyRain:       func(r *sim.Region) { r.Yard.MaxCutRainMM = 1e6 },
		ThinSpreading: func(r *sim.Region) { r.Sites[0].LoadingKgPerM2 = 6 }, // the other lies thinner already
		TwiceTheStock: func(r *sim.Region) { r.Contract.TargetStock = map[time.Month]int{time.June: 1400} },
	}
	require.Len(t, hands, len(Reliefs()))
	r := wholeOf()
	list := reliefsFor(r)
	require.Len(t, list, len(hands), "the region is short of everything")
	for k, what := range list {
		assert.Equal(t, Reliefs()[k], what.key)
		want := wholeOf()
		require.Contains(t, hands, what.key)
		hands[what.key](want)
		require.NotEqual(t, *wholeOf(), *want, what.key)
		assert.Equal(t, *want, *with(r, what), what.key)
		assert.Equal(t, *wholeOf(), *r, "%s: the plan as written stays", what.key)
	}
	both := with(r, list[0], list[1])
	assert.Equal(t, []float64{6, 150}, []float64{both.Sites[0].CuttingHPerDay, both.Sites[0].OpenRackM2})
}

// What a region cannot be short of is not tried.
func TestReliefsAsked(t *testing.T) {
	keys := func(change func(r *sim.Region)) []Relief {
		r := wholeOf()
		change(r)
		var out []Relief
		for _, what := range reliefsFor(r) {
			out = append(out, what.key)
		}
		return out
	}
	assert.Equal(t, []Relief{MoreCutting, MoreRack, RoofOverRacks, LongerShift, StockAhead, Sheets, SealedBags, OneDryerMore, DryStore, AnyRain},
		keys(func(r *sim.Region) { *r = sim.Region{Calendar: r.Calendar, Sites: make([]sim.Site, 1)} }), "a region without any limit")
	gone := []struct {
		change func(r *sim.Region)
		gone   Relief
	}{
		{func(r *sim.Region) { r.People.Pool = false }, OtherPeople},
		{func(r *sim.Region) { r.Trouble.OutForSeason, r.Trouble.FiringHPerFail = 0, 0 }, NoBreakdowns},
		{func(r *sim.Region) { r.Dryer.WoodLimited = false }, EnoughWood},
		{func(r *sim.Region) { r.Sites[1].Sheets = true }, Sheets},
		{func(r *sim.Region) { r.Sites[0].SealedStore = true }, SealedBags},
		{func(r *sim.Region) { r.Road.ClosedAboveMM = 0 }, OpenRoad},
		{func(r *sim.Region) { r.Road.VehicleStalks = 0 }, LargeVehicle},
		{func(r *sim.Region) { r.Road.MoistureLimit = 0 }, AnyMoisture},
		{func(r *sim.Region) { r.Road.MinimumStalks = 0 }, AnyNumber},
		{func(r *sim.Region) { r.People.Planting.Days = 0 }, NoPlanting},
		{func(r *sim.Region) { r.People.Away = nil }, NoHolidays},
		{func(r *sim.Region) { r.Store.Humidity = 0.65 }, DryStore},
		{func(r *sim.Region) { r.Sites[0].StoreStalks = 0 }, EnoughRoom},
		{func(r *sim.Region) { r.Dryer.WetWood = 0 }, DryWood},
		{func(r *sim.Region) { r.Sites[0].SolidRoofM2 = 0 }, ClearRoofs},
		{func(r *sim.Region) { r.Sites[0].Closed = nil }, OpenStands},
		{func(r *sim.Region) { r.Sites[0].StandM2 = 0 }, EnoughPlant},
		{func(r *sim.Region) { r.Sites[0].LoadingKgPerM2 = 6 }, ThinSpreading},
		{func(r *sim.Region) { r.Contract.TargetStock = nil }, TwiceTheStock},
	}
	conditional := 0
	for _, what := range reliefs {
		if what.short != nil {
			conditional++
		}
	}
	require.Len(t, gone, conditional, "each relief that not every region may be short of")
	all := keys(func(*sim.Region) {})
	for _, tt := range gone {
		assert.Equal(t, slices.DeleteFunc(slices.Clone(all), func(what Relief) bool { return what == tt.gone }), keys(tt.change), "without %s, and the others in their order", tt.gone)
	}
	least := func(r *sim.Region) { // the least of what there may be is limited too
		r.Road.VehicleStalks, r.Road.MinimumStalks, r.People.Planting.Days, r.Sites[0].StoreStalks = 1, 1, 1, 1
		r.Road.ClosedAboveMM, r.Road.MoistureLimit, r.Dryer.WetWood, r.Sites[0].SolidRoofM2, r.Sites[0].StandM2 = 0.1, 0.1, 0.1, 0.1, 0.1
		r.Trouble.OutForSeason, r.Trouble.FiringHPerFail = 0.01, 0.1
	}
	assert.Equal(t, all, keys(least))
	for _, one := range []func(r *sim.Region){ // either kind of trouble is enough
		func(r *sim.Region) { r.Trouble.OutForSeason = 0 },
		func(r *sim.Region) { r.Trouble.FiringHPerFail = 0 },
	} {
		assert.Contains(t, keys(one), NoBreakdowns)
	}
	assert.Contains(t, keys(func(r *sim.Region) { r.Store.Humidity = 0 }), DryStore, "outside air is damp")

	r := wholeOf()
	r.Dryer.ShiftEndH = 23
	assert.Equal(t, 24.0, with(r, reliefs[3]).Dryer.ShiftEndH, "a shift ends by midnight")
}

// Things rank by the missed months they meet, those that meet none are left out, and pairs are
// made of those that meet most.
func TestRankedByHand(t *testing.T) {
	tried := [][]relief{{reliefs[0]}, {reliefs[1]}, {reliefs[2]}, {reliefs[0], reliefs[3]}}
	met := [][]bool{{true, false, false}, {false, false, false}, {true, true, false}, {true, false, false}}
	out := ranked(tried, met, 10)
	require.Len(t, out, 3)
	assert.Equal(t, []Relief{RoofOverRacks}, out[0].Things)
	assert.Equal(t, 2, out[0].Met.Met)
	assert.Equal(t, 10, out[0].Met.Seasons)
	assert.Equal(t, []Relief{MoreCutting}, out[1].Things, "of equals the first tried")
	assert.Equal(t, []Relief{MoreCutting, LongerShift}, out[2].Things)
	assert.True(t, anyOf(met, 1))
	assert.False(t, anyOf(met, 2))

	var some [][]bool
	for k := range 8 { // the last meets most
		some = append(some, monthMet(k, 9))
	}
	pairs := pairsOf(reliefs[:8], some)
	require.Len(t, pairs, 15, "of the six best")
	assert.Equal(t, []Relief{reliefs[7].key, reliefs[6].key}, []Relief{pairs[0][0].key, pairs[0][1].key})
	for _, p := range pairs {
		for _, what := range p {
			assert.NotContains(t, []Relief{reliefs[0].key, reliefs[1].key}, what.key)
		}
	}
}
