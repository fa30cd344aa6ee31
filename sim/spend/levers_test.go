package spend

import (
	"fmt"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drystalk/sim"
	"drystalk/sim/money"
	"drystalk/sim/trials"
)

// allPrices are different for everything, so that no two things can be taken for one another.
func allPrices() *money.Prices {
	return &money.Prices{
		DryerCost: 6000, DryerYears: 8, RackPerM2: 7, RoofPerM2: 19, SheetPerM2: 3, SealPerSite: 310, RoomPer1000: 41,
		PerCutter: 210, PerShiftH: 83, PerStock: 0.13, OtherYears: 4,
	}
}

// village is a region of two sites of which the first has nothing of what can be had once.
func village() *sim.Region {
	return &sim.Region{
		Calendar: sim.Calendar{StartMonth: time.June, StartDay: 1, Days: 61},
		Contract: sim.Contract{StalksByMonth: map[time.Month]int{time.June: 1000, time.July: 2000}},
		Hub:      sim.Hub{OpeningStock: 500, Speaks: sim.SpeaksByCutters},
		Dryer:    sim.Dryer{ShiftStartH: 6, ShiftEndH: 18},
		Sites: []sim.Site{
			{Name: "Heron Point", Cutters: 5, OpenRackM2: 100, ClearRoofM2: 10, StoreStalks: 8000},
			{Name: "Old Sluice", Cutters: 20, OpenRackM2: 60, Dryers: 2, Sheets: true, SealedStore: true, LongerShiftH: 9},
		},
	}
}

func searchOf(r *sim.Region, p *money.Prices) *search {
	return newSearch(Question{Setup: trials.Setup{Region: r}, MaxDryers: []int{3, 4}, Prices: p, Budget: money.Of(1e9), Target: 0.9, SearchSeasons: 10, Seasons: 10})
}

// Each lever against a hand count: two steps of it, what they cost, what they change, and how
// many steps each site takes.
func TestEachLeverByHand(t *testing.T) {
	s := searchOf(village(), allPrices())
	hands := []struct {
		key        Lever
		step       Quantity
		cost       float64 // of one step at the first site, or of the region
		more       float64 // of a second step
		most       []int   // by site; of the region last
		from, to   any     // before and after one step at the first site
		what       func(r *sim.Region) any
		atOldCosts float64 // one step at the second site
	}{
		{Dryers, Quantity{Dryers, 1, ""}, 6000, 6000, []int{3, 2}, 0, 1, func(r *sim.Region) any { return r.Sites[0].Dryers }, 6000},
		{OpenRacks, Quantity{OpenRacks, 50, "m²"}, 350, 350, []int{6, 6}, 100.0, 150.0, func(r *sim.Region) any { return r.Sites[0].OpenRackM2 }, 500},
		{ClearRoofs, Quantity{ClearRoofs, 20, "m²"}, 380, 380, []int{6, 6}, 10.0, 30.0, func(r *sim.Region) any { return r.Sites[0].ClearRoofM2 }, 380},
		{Sheets, Quantity{Sheets, 1, ""}, 300, 300, []int{1, 0}, false, true, func(r *sim.Region) any { return r.Sites[0].Sheets }, 180},
		{SealedBags, Quantity{SealedBags, 1, ""}, 310, 310, []int{1, 0}, false, true, func(r *sim.Region) any { return r.Sites[0].SealedStore }, 310},
		{Cutters, Quantity{Cutters, 2, ""}, 420, 420, []int{3, 6}, 5, 7, func(r *sim.Region) any { return r.Sites[0].Cutters }, 420},
		{LongerShifts, Quantity{LongerShifts, 2, "h"}, 166, 166, []int{2, 0}, 0.0, 2.0, func(r *sim.Region) any { return r.Sites[0].LongerShiftH }, 166},
		{StoreRoom, Quantity{StoreRoom, 5000, "stalks"}, 205, 205, []int{6, 0}, 8000, 13_000, func(r *sim.Region) any { return r.Sites[0].StoreStalks }, 205},
		{StockAhead, Quantity{StockAhead, 20_000, "stalks"}, 2600, 2600, []int{6}, 500, 20_500, func(r *sim.Region) any { return r.Hub.OpeningStock }, 0},
	}
	require.Len(t, hands, len(Levers()))
	require.Len(t, s.levers, len(hands))
	for l, h := range hands {
		require.Equal(t, h.key, s.levers[l].key)
		assert.Equal(t, h.step, StepOf(h.key))
		at, places := 0, []int{0, 1}
		if h.key == StockAhead {
			at, places = 2, []int{2}
		}
		require.Len(t, h.most, len(places))
		none := s.start()
		one, two := none.with(at, l, 1), none.with(at, l, 2)
		assert.Zero(t, s.cost(none))
		assert.InDelta(t, h.cost, s.cost(one).Units(), 1e-9, h.key)
		assert.InDelta(t, h.cost+h.more, s.cost(two).Units(), 1e-9, h.key)
		assert.Equal(t, h.from, h.what(s.region(none)), h.key)
		assert.Equal(t, h.to, h.what(s.region(one)), h.key)
		for k, place := range places {
			assert.True(t, s.allowed(none.with(place, l, h.most[k])), "%s at %d", h.key, place)
			assert.False(t, s.allowed(none.with(place, l, h.most[k]+1)), "%s at %d", h.key, place)
			assert.False(t, s.allowed(none.with(place, l, -1)), h.key)
		}
		if h.key != StockAhead {
			assert.InDelta(t, h.atOldCosts, s.cost(none.with(1, l, 1)).Units(), 1e-9, "%s at the second site", h.key)
			assert.Equal(t, village().Sites[1], s.region(one).Sites[1], "nothing changes elsewhere")
		}
	}
	assert.Equal(t, *village(), *s.Setup.Region, "the plan as written stays")
	assert.Equal(t, Quantity{Of: "boats"}, StepOf("boats"))
}

// A list with each lever at once, against a hand count: sheets cover the racks that are there
// in the end, and what is there already stays.
func TestAllLeversByHand(t *testing.T) {
	s := searchOf(village(), allPrices())
	d := s.start()
	for l := range s.levers {
		switch s.levers[l].key {
		case StockAhead:
			d[2][l] = 1
		case Dryers, OpenRacks, ClearRoofs, Sheets, SealedBags, Cutters, LongerShifts, StoreRoom:
			d[0][l] = 1
		}
	}
	racks := 1
	require.Equal(t, OpenRacks, s.levers[racks].key)
	d[0][racks], d[1][racks] = 2, 1
	r := s.region(d)
	assert.Equal(t, sim.Site{
		Name: "Heron Point", Cutters: 7, OpenRackM2: 200, ClearRoofM2: 30, StoreStalks: 13_000, Dryers: 1, Sheets: true, SealedStore: true, LongerShiftH: 2,
	}, r.Sites[0])
	old := village().Sites[1]
	old.OpenRackM2 = 110
	assert.Equal(t, old, r.Sites[1])
	assert.Equal(t, 20_500, r.Hub.OpeningStock)
	// Dryer, racks, roof, sheets over 200 m², bags, cutters, shift, room, racks with sheets at
	// the second site, stock.
	assert.InDelta(t, 6000+2*350+380+600+310+420+166+205+500+2600, s.cost(d).Units(), 1e-9)

	site, what := s.describe(s.start().with(1, racks, 1), s.start().with(1, racks, 3))
	assert.Equal(t, "Old Sluice", site)
	assert.Equal(t, []Quantity{{OpenRacks, 100, "m²"}}, what)
	site, what = s.describe(s.start(), s.start().with(2, len(s.levers)-1, 2))
	assert.Empty(t, site)
	assert.Equal(t, []Quantity{{StockAhead, 40_000, "stalks"}}, what)

	all := s.inAll(d)
	require.Len(t, all, 9)
	assert.Equal(t, InAll{Of: Dryers, PerSite: []float64{1, 0, 0}}, all[0])
	assert.Equal(t, InAll{Of: OpenRacks, Unit: "m²", PerSite: []float64{100, 50, 0}}, all[1])
	assert.Equal(t, InAll{Of: StockAhead, Unit: "stalks", PerSite: []float64{0, 0, 20_000}}, all[len(all)-1])
	assert.Empty(t, s.inAll(s.start()))
}

// What has no price is not tried and is named; racks without a price of sheets cost the racks
// alone.
func TestLeversWithoutPrice(t *testing.T) {
	levers, without := leversOf(&money.Prices{})
	assert.Empty(t, levers)
	assert.Equal(t, Levers(), without)
	p := allPrices()
	p.SheetPerM2 = 0
	p.PerStock = -1
	s := searchOf(village(), p)
	_, without = leversOf(p)
	assert.Equal(t, []Lever{Sheets, StockAhead}, without)
	require.Len(t, s.levers, len(Levers())-2)
	assert.Equal(t, money.Of(350), s.cost(s.start().with(1, 1, 1)))
}

// What may be bought in one go, counted: of three levers at a site 3 alone, 3 by two, 1 by
// three; of n levers n + n(n−1)/2 + n(n−1)(n−2)/6 and all together; the step of the region alone.
func TestBundlesCounted(t *testing.T) {
	p := &money.Prices{DryerCost: 1, RackPerM2: 1, RoofPerM2: 1, PerStock: 1}
	bundles := searchOf(village(), p).bundles()
	require.Len(t, bundles, 1+2*(3+3+1))
	assert.Equal(t, bundle{2, []int{3}}, bundles[0])
	assert.Equal(t, [][]int{{0}, {0, 1}, {0, 1, 2}, {0, 2}, {1}, {1, 2}, {2}}, upTo(3, []int{0, 1, 2}))

	s := searchOf(village(), allPrices())
	bundles = s.bundles()
	n := len(Levers()) - 1
	require.Len(t, bundles, 1+2*(n+n*(n-1)/2+n*(n-1)*(n-2)/6+1))
	seen := map[string]bool{}
	for _, b := range bundles {
		d := b.in(s.start())
		total := 0
		for at := range d {
			for l, steps := range d[at] {
				total += steps
				assert.True(t, steps == 0 || steps == 1 && s.sold(at, l))
			}
		}
		assert.Equal(t, len(b.levers), total)
		assert.True(t, total <= 3 || total == n)
		seen[fmt.Sprint(s.namesOf(d).asked)] = true
	}
	assert.Len(t, seen, len(bundles), "no bundle twice")
}
