package money

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drystalk/sim"
)

// owner is a region that has some of everything that may be bought.
func owner(t *testing.T) *sim.Region {
	t.Helper()
	r, _ := small(t, 1, 0)
	for i := range r.Sites {
		s := &r.Sites[i]
		s.OpenRackM2, s.ClearRoofM2, s.SolidRoofM2, s.Sheets, s.SealedStore = 300, 40, 25, true, false
		s.StoreStalks, s.Cutters, s.LongerShiftH, s.OpeningStock = 3000, 5, 1, 700
	}
	r.Hub.OpeningStock = 900
	r.Moves = []sim.Move{{From: "Stone Weir", To: "Ferry Bank", Day: 3, Cost: 5000}}
	return r
}

// Each thing bought alone is one item: what is more than before, at its price, for the years it
// lasts. Where no price is stated it is listed as such, at no cost. What there was before, and
// what there is less of, is no item.
func TestEachItemByHand(t *testing.T) {
	p := Prices{
		DryerCost: 4000, DryerYears: 9, RackPerM2: 6, RoofPerM2: 18, SheetPerM2: 2, SealPerSite: 30, RoomPer1000: 40, PerCutter: 200, PerShiftH: 80, PerStock: 0.125, OtherYears: 5,
	}
	const weir, bank = "Stone Weir", "Ferry Bank"
	checked := []Thing{OpenRack, Sheets, MovedDryer} // in the tests below
	for of, tt := range map[Thing]struct {
		buy  func(r *sim.Region, dryers []int)
		want Item
	}{
		Dryer:       {func(_ *sim.Region, d []int) { d[0] += 2 }, Item{Dryer, 2, weir, "", Of(8000), 9}},
		ClearRoof:   {func(r *sim.Region, _ []int) { r.Sites[1].ClearRoofM2 += 10 }, Item{ClearRoof, 10, bank, "", Of(180), 5}},
		SolidRoof:   {func(r *sim.Region, _ []int) { r.Sites[1].SolidRoofM2 += 10 }, Item{SolidRoof, 10, bank, "", Of(0), 0}},
		SealedBags:  {func(r *sim.Region, _ []int) { r.Sites[1].SealedStore = true }, Item{SealedBags, 1, bank, "", Of(30), 1}},
		StoreRoom:   {func(r *sim.Region, _ []int) { r.Sites[0].StoreStalks += 1 }, Item{StoreRoom, 1, weir, "", Of(0.04), 5}},
		Cutter:      {func(r *sim.Region, _ []int) { r.Sites[0].Cutters += 3 }, Item{Cutter, 3, weir, "", Of(600), 5}},
		LongerShift: {func(r *sim.Region, _ []int) { r.Sites[1].LongerShiftH += 0.5 }, Item{LongerShift, 0.5, bank, "", Of(40), 5}},
		SiteStock:   {func(r *sim.Region, _ []int) { r.Sites[1].OpeningStock += 100 }, Item{SiteStock, 100, bank, "", Of(12.5), 1}},
		HubStock:    {func(r *sim.Region, _ []int) { r.Hub.OpeningStock += 80 }, Item{HubStock, 80, "", "", Of(10), 1}},
	} {
		checked = append(checked, of)
		from, before := owner(t), []int{1, 1}
		to, after := from.Clone(), []int{1, 1}
		tt.buy(to, after)
		items, unpriced := Items(&p, from, to, before, after)
		if of == SolidRoof { // has no price to state
			assert.Empty(t, items)
			assert.Equal(t, []Item{tt.want}, unpriced)
			continue
		}
		assert.Equal(t, []Item{tt.want}, items, of)
		assert.Empty(t, unpriced, of)
		items, unpriced = Items(&p, to, from, after, before)
		assert.Empty(t, items, "%s: fewer", of)
		assert.Empty(t, unpriced, "%s: fewer", of)
		items, unpriced = Items(&Prices{DryerYears: 9, OtherYears: 5}, from, to, before, after)
		assert.Empty(t, items, "%s: no price", of)
		tt.want.Cost = 0
		assert.Equal(t, []Item{tt.want}, unpriced, of)
	}
	require.ElementsMatch(t, Things(), checked, "every thing is bought by hand")
	from := owner(t)
	items, unpriced := Items(&p, from, from.Clone(), []int{3, 1}, []int{3, 1})
	assert.Empty(t, items, "nothing is bought")
	assert.Empty(t, unpriced)
}

// Racks with sheets need more sheet when they grow; bags are bought once; a store that takes
// any number needs no room.
func TestItemsThatGoTogether(t *testing.T) {
	p := Prices{RackPerM2: 6, SheetPerM2: 2, SealPerSite: 30, RoomPer1000: 40, OtherYears: 5}
	from := owner(t)
	to := from.Clone()
	to.Sites[0].OpenRackM2 += 10
	from.Sites[1].SealedStore, to.Sites[1].SealedStore = true, true
	from.Sites[1].StoreStalks, to.Sites[1].StoreStalks = 0, 5000
	items, unpriced := Items(&p, from, to, []int{0, 0}, []int{0, 0})
	assert.Equal(t, []Item{{OpenRack, 10, "Stone Weir", "", Of(60), 5}, {Sheets, 10, "Stone Weir", "", Of(20), 5}}, items)
	assert.Empty(t, unpriced)
	from.Sites[1].SealedStore, to.Sites[1].SealedStore, from.Sites[0].Sheets, to.Sites[0].OpenRackM2 = true, false, false, 300
	from.Sites[1].StoreStalks, to.Sites[1].StoreStalks = 1, 2
	items, _ = Items(&p, from, to, []int{0, 0}, []int{0, 0})
	assert.Equal(t, []Item{{Sheets, 300, "Stone Weir", "", Of(600), 5}, {StoreRoom, 1, "Ferry Bank", "", Of(0.04), 5}}, items)
}

// A dryer that is moved costs its move, where that costs anything and was not in the plan
// before.
func TestMovedDryersAsItems(t *testing.T) {
	first := sim.Move{From: "Stone Weir", To: "Ferry Bank", Day: 3, Cost: 5000}
	free, cent, dear := first, first, first
	free.Cost, cent.Cost, dear.Cost, dear.Day = 0, 1, 7000, 9
	bought := func(cost float64) Item { return Item{MovedDryer, 1, "Stone Weir", "Ferry Bank", Of(cost), 1} }
	for name, tt := range map[string]struct {
		from, to []sim.Move
		want     []Item
	}{
		"the same":          {[]sim.Move{first}, []sim.Move{first}, nil},
		"new":               {nil, []sim.Move{first}, []Item{bought(50)}},
		"one more":          {[]sim.Move{first}, []sim.Move{first, dear}, []Item{bought(70)}},
		"another":           {[]sim.Move{first}, []sim.Move{dear}, []Item{bought(70)}},
		"no longer":         {[]sim.Move{first, dear}, []sim.Move{first}, nil},
		"at no cost":        {nil, []sim.Move{free}, nil},
		"another at none":   {[]sim.Move{first}, []sim.Move{free}, nil},
		"at a minor unit":   {nil, []sim.Move{cent}, []Item{bought(0.01)}},
		"two, one of which": {[]sim.Move{first, free}, []sim.Move{first, dear}, []Item{bought(70)}},
	} {
		from := owner(t)
		to := from.Clone()
		from.Moves, to.Moves = tt.from, tt.to
		items, unpriced := Items(&Prices{}, from, to, []int{1, 1}, []int{1, 1})
		assert.Equal(t, tt.want, items, name)
		assert.Empty(t, unpriced, "%s: a move has its own price", name)
	}
}

// What is bought adds up, in all and by the year.
func TestSumsOfItems(t *testing.T) {
	items := []Item{{Cost: Of(1000), Years: 5}, {Cost: Of(200.5), Years: 1}, {Cost: Of(99.5), Years: 1}}
	require.Len(t, Things(), 12)
	assert.Equal(t, Of(1300), Total(items))
	assert.Zero(t, Total(nil))
	p := Prices{Discount: 0.12, GrantShare: 0.25}
	assert.InDelta(t, 0.75*(277.409731941049+300*1.12), p.YearlyCost(items), 1e-9, "PMT(0.12;5;-1000), and 300 a year on; less the grant")
	assert.Zero(t, p.YearlyCost(nil))
}
