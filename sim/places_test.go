package sim

import (
	"encoding/json"
	"math"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drystalk/sim/air"
	"drystalk/sim/charge"
	"drystalk/sim/stalk"
)

// By which air a batch lives from an hour, and until when, by hand: racks with sheets go from
// 6 to 18 h by the luck of the day and in the night by that of its evening; all others are the
// same the whole time.
func TestCoverOfAnHour(t *testing.T) {
	r := small(landing1(0))
	r.Sites[0].Sheets = true
	y := &calmRooms(r, 0).yard
	y.season.Sheets, y.season.Nights = [][]bool{make([]bool, 61)}, [][]bool{make([]bool, 61)}
	y.season.Sheets[0][2], y.season.Nights[0][0], y.season.Nights[0][1] = true, true, true
	for _, tt := range []struct {
		at           place
		from, end    int
		cover, until int
	}{
		{clearRack, 3, 90, int(clearRack), 90},
		{heap, 3, 90, int(heap), 90},
		{openRack, 3, 90, int(sheeted), 6},
		{openRack, 3, 5, int(sheeted), 5},
		{openRack, 6, 90, int(sheeted), 18},
		{openRack, 17, 90, int(sheeted), 18},
		{openRack, 8, 9, int(sheeted), 9},
		{openRack, 18, 90, int(openRack), 24},
		{openRack, 24 + 3, 90, int(openRack), 24 + 6},
		{openRack, 24 + 6, 90, int(sheeted), 24 + 18},
		{openRack, 72 + 18, 99, int(sheeted), 96},
		{openRack, 24 + 18, 90, int(openRack), 48},
		{openRack, 24 + 19, 45, int(openRack), 45},
		{openRack, 48 + 5, 90, int(openRack), 48 + 6},
		{openRack, 48 + 6, 90, int(openRack), 48 + 18},
		{openRack, 48 + 18, 99, int(sheeted), 72}, // missed by day, not in the night
		{openRack, 72 + 5, 90, int(sheeted), 72 + 6},
		{openRack, 72 + 6, 99, int(sheeted), 72 + 18},
	} {
		cover, until := y.coverFrom(tt.at, tt.from, tt.end)
		assert.Equal(t, []int{tt.cover, tt.until}, []int{int(cover), until}, "%+v", tt)
	}
	assert.Equal(t, []bool{false, true, true, false}, []bool{y.nobodyAtNight(-1), y.nobodyAtNight(0), y.nobodyAtNight(1), y.nobodyAtNight(2)})
	r.Yard.SheetsAtNight = true
	assert.False(t, y.nobodyAtNight(1), "they lie there")
	night, _ := y.coverFrom(openRack, 48+5, 90)
	assert.Equal(t, sheeted, night, "every night, before a day on which they are missed too")
	r.Sites[0].Sheets = false
	cover, until := y.coverFrom(openRack, 8, 90)
	assert.Equal(t, []int{int(openRack), 90}, []int{int(cover), until})
}

// Room by hand. Pre-dried stalks are closed up; racks that hold more than they should have no
// room; the yard of the season counts its racks anew also where nothing was laid in the first
// hour.
func TestRoomOfRacks(t *testing.T) {
	r := small(landing1(0))
	site := &r.Sites[0]
	site.ClearRoofM2, site.OpenRackM2 = 0, 10
	y := &calmRooms(r, 0).yard
	each := 0.065 / 10 // 65 g of fresh matter at 10 kg/m²
	full := int(10 / each)
	assert.InDelta(t, each, y.m2PerStalk(false), 1e-12)
	assert.InDelta(t, each*y.p.Stalk.AreaAfterPredry, y.m2PerStalk(true), 1e-12)
	y.advance(1)
	assert.Equal(t, full, y.roomForFresh())
	y.lay(wetBatch(1, 500, 3))
	assert.InDelta(t, 10-500*each, y.freeM2(openRack), 1e-9)
	assert.Equal(t, int((10-500*each)/each), y.roomForFresh())
	y.batches[0].state.Predried, y.free.stale = true, true
	y.advance(2) // wet stalks stay pre-dried
	assert.Equal(t, int((10-500*each*y.p.Stalk.AreaAfterPredry)/each), y.roomForFresh(), "an hour later it is counted anew")
	y.lay(wetBatch(1, 9000, 3))
	assert.Zero(t, y.freeM2(openRack))
	assert.Zero(t, y.roomForFresh())

	y = &calmRooms(r, 0).yard
	y.spread(1, 1e6, 1, stalk.State{Moisture: 0.5, Predried: true})
	require.Len(t, y.batches, 2)
	assert.Equal(t, int(10/(each*y.p.Stalk.AreaAfterPredry)), y.batches[0].stalks)
	assert.Equal(t, []float64{0, 10, 0, 0, 0}, []float64{site.areaM2(clearRack), site.areaM2(openRack), site.areaM2(solidRack), site.areaM2(heap), site.areaM2(sheeted)})
}

// What lies where: in the heap, on racks, and the worst of the yard. An empty yard is in order.
func TestWhatLiesInTheYard(t *testing.T) {
	y := calmRooms(small(landing1(1)), 1)
	day := SiteDay{}
	y.holds(&day)
	assert.Equal(t, SiteDay{}, day)
	assert.False(t, y.yard.wet())
	b := wetBatch(1, 70, y.p.Cabinet.Target.DryBasis())
	b.state.MouldIndex = 0.2
	y.yard.lay(b)
	assert.False(t, y.yard.wet(), "at the target it is dry")
	b.at, b.stalks, b.state.MouldIndex, b.state.Moisture = heap, 30, 0.1, 3
	y.yard.lay(b)
	assert.True(t, y.yard.wet())
	y.store.put(0, 11, stalk.State{Moisture: 0.1})
	y.dryers.cabinets[0].charge = append(y.dryers.cabinets[0].charge, lot{stalks: 5}, lot{stalks: 8, state: stalk.State{Moisture: 2}})
	y.holds(&day)
	assert.Equal(t, SiteDay{OnRacks: 70, InHeap: 30, InStore: 11, InDryers: 13, Mould: 0.2}, day)
	assert.Equal(t, 124, y.held())
	target := float64(y.p.Cabinet.Target.DryBasis())
	assert.InDelta(t, y.dryKg(70)*target+y.dryKg(30)*3+y.dryKg(11)*0.1+y.dryKg(8)*2, y.waterHeld(), 1e-12)
}

// Film is water too, by hand: 0.3 kg on a square metre of rack with 0.9 kg of dry matter is a
// third of it, shaken off when the stalks are lifted.
func TestFilmIsShed(t *testing.T) {
	r := small(landing1(0))
	y := &calmRooms(r, 0).yard
	assert.InDelta(t, 0.9, y.p.Stalk.DryLoadKgPerM2(y.fullKgPerM2), 1e-12)
	b := wetBatch(1, 100, 2)
	b.state.FilmKgPerM2 = 0.3
	y.lay(b)
	assert.InDelta(t, y.dryKg(100)*(2+0.3/0.9), y.addWater(0), 1e-12)
	s := y.lift(&y.batches[0], 40)
	assert.Equal(t, []float64{0, 60}, []float64{s.FilmKgPerM2, float64(y.batches[0].stalks)})
	assert.InDelta(t, y.dryKg(40)/3, y.water.Shed, 1e-12)
	assert.InDelta(t, y.dryKg(60)*(2+0.3/0.9), y.addWater(0), 1e-12)

	y.lay(batch{at: heap, stalks: 50, kept: 1, state: stalk.State{Moisture: 2, FilmKgPerM2: 0.3}})
	before := y.addWater(0) + y.water.Shed
	y.spreadHeap()
	assert.Zero(t, y.inHeap())
	assert.InDelta(t, before, y.addWater(0)+y.water.Shed, 1e-12)
	assert.Zero(t, y.film(&batch{at: heap}))
}

// Batches that stay are no change of the yard.
func TestKeepingAllChangesNothing(t *testing.T) {
	y := &calmRooms(small(landing1(0)), 0).yard
	y.lay(batch{})
	assert.Zero(t, y.changes, "no stalks are no batch")
	y.lay(wetBatch(1, 5, 2))
	y.lay(wetBatch(2, 0, 2))
	y.lay(wetBatch(2, 6, 2))
	assert.Equal(t, []int{2, 2}, []int{len(y.batches), y.changes})
	y.dropEmpty()
	assert.Equal(t, 2, y.changes)
	y.batches[0].stalks = 0
	y.dropEmpty()
	assert.Equal(t, []int{1, 3, 6}, []int{len(y.batches), y.changes, y.batches[0].stalks})
}

// The opening stock lies in the store at the finishing moisture, without mould and past the
// hours in which none grows; a store of 100 has room for what it does not hold, and one without
// a limit for any number.
func TestOpeningStockOfAStore(t *testing.T) {
	r := small(landing1(0))
	r.Sites[0].OpeningStock, r.Sites[0].StoreStalks = 60, 100
	y := calmRooms(r, 0)
	require.Len(t, y.store.lots, 1)
	l := y.store.lots[0]
	assert.Equal(t, []float64{60, 0, 0, 0, 1, y.p.Stalk.LivingH}, []float64{float64(l.stalks), l.sinceH, l.state.MouldIndex, l.state.PeakIndex, l.kept, l.state.AgeH})
	assert.InDelta(t, 0.14/0.86, float64(l.state.Moisture), 1e-12)
	assert.Equal(t, []int{60, 60}, []int{y.month.Opening, y.store.stalks()})
	assert.InDelta(t, 60*0.00585*0.14/0.86, y.water.Opening, 1e-9)
	assert.Equal(t, 40, y.store.room())
	y.store.put(5, 50, l.state)
	assert.Zero(t, y.store.room(), "fuller than full")
	r.Sites[0].StoreStalks = 0
	assert.Equal(t, math.MaxInt, y.store.room())
}

// Stalks in a store near the air by its exchange, the sealed one's a tenth of the open one's, in
// one step from when they came in; the air is that of the day asked for.
func TestAirOfAStore(t *testing.T) {
	r := small(landing1(0))
	days, hours := sunny(61)
	for h := 24; h < 48; h++ {
		hours[h].Humidity, hours[h].TempC = 0.9, 20
	}
	for sealed, exchange := range map[bool]float64{true: 0.005, false: 0.05} {
		r.Sites[0].SealedStore = sealed
		y := roomsOf(r, 0, season(r, parameters(), days, hours))
		want := stalk.State{Moisture: 0.1, AgeH: 500}
		y.store.put(30, 200, want)
		y.store.age(48, 1)
		still := stalk.NewStillAir(20, 0.9, &y.p.Stalk)
		taken := want.Still(&still, exchange, 18, &y.p.Stalk)
		got := y.store.lots[0].state
		assert.InDelta(t, float64(want.Moisture), float64(got.Moisture), 1e-9)
		assert.InDelta(t, want.MouldIndex, got.MouldIndex, 1e-9)
		assert.InDelta(t, -y.dryKg(200)*taken, y.water.Evaporated, 1e-9)
		assert.Positive(t, taken)
	}
}

// The means of the air by hand, and where they are used: stores live in the mean of 24 hours,
// or at their own humidity; fires are lit in that of the hours from 6 to 18.
func TestMeansOfTheAir(t *testing.T) {
	two := []air.Hour{{TempC: 10, Humidity: 0.4, VapourKPa: 1}, {TempC: 20, Humidity: 0.8, VapourKPa: 4}}
	tempC, humidity := meanAir(two)
	assert.InDelta(t, 15, tempC, 1e-12)
	assert.InDelta(t, 0.6, humidity, 1e-12)
	a := ambient(two)
	assert.InDelta(t, 15, a.TempC, 1e-12)
	assert.InDelta(t, 2.5, a.VapourKPa, 1e-12)

	r := small(landing1(1))
	days, hours := calm(61)
	for i := range hours {
		hours[i].TempC, hours[i].VapourKPa, hours[i].Humidity = 18, 1.5, 0.75
		if h := i % 24; i >= 24 && h >= 6 && h < 18 {
			hours[i].TempC, hours[i].VapourKPa, hours[i].Humidity = 30, 3, 0.5
		}
	}
	s := season(r, parameters(), days, hours)
	assert.Equal(t, s.Parameters.Cabinet.Light(charge.Ambient{TempC: 30, VapourKPa: 3}), *s.firesOf(r).on(1))
	assert.Equal(t, s.Parameters.Cabinet.Light(charge.Ambient{TempC: 18, VapourKPa: 1.5}), *s.firesOf(r).on(0))
	assert.Equal(t, stalk.NewStillAir(24, 0.625, &s.Parameters.Stalk), s.storeOf(r)[1])
	assert.Equal(t, stalk.NewStillAir(18, 0.75, &s.Parameters.Stalk), s.storeOf(r)[0])
	assert.Len(t, s.storeOf(r), 61)
	assert.Equal(t, 61, s.firesOf(r).days())
}

// Wood in the rain is never drier than it ever was: stated so, it changes nothing.
func TestWetWoodIsNoDrier(t *testing.T) {
	a, b := small(landing1(1)), small(landing1(1))
	b.Dryer.WetWood = 0.1
	days, hours := soaked(61)
	s := &Season{Parameters: parameters(), Days: days}
	s.Prepare(hours, a, b)
	require.Equal(t, 61, s.firesOf(b).days())
	for d := range 61 {
		assert.Equal(t, *s.firesOf(a).on(d), *s.firesOf(b).on(d))
	}
	b.Dryer.WetWood = 0.3
	s.Prepare(hours, a, b)
	wet := s.Parameters.Cabinet
	wet.WoodMoisture = 0.3
	assert.Equal(t, wet.Light(ambient(hours[24*20+6:24*20+18])), *s.firesOf(b).on(20))
	assert.Equal(t, *s.firesOf(a).on(0), *s.firesOf(b).on(0), "20 mm are no wet week")
}

// A lot at the limit of the gate is taken, a wetter one dries again as stalks of that day,
// closed up; where there is no limit all are taken.
func TestDampAtTheGate(t *testing.T) {
	r := small(landing1(0))
	y := calmRooms(r, 0)
	limit := stalk.DryBasis(0.25)
	wet, dry := stalk.State{Moisture: limit + 1e-6, PeakIndex: 0.3}, stalk.State{Moisture: limit}
	y.store.put(1, 30, wet)
	y.store.put(2, 40, dry)
	kept := y.store.lots[0].kept
	y.returnDamp(4)
	assert.Equal(t, []int{70, 0}, []int{y.store.stalks(), y.month.Redried})
	r.Road.MoistureLimit = limit.WetBasis()
	y.returnDamp(4)
	assert.Equal(t, []int{40, 30}, []int{y.store.stalks(), y.month.Redried})
	require.Len(t, y.yard.batches, 1)
	b := y.yard.batches[0]
	assert.Equal(t, []int{30, 4}, []int{b.stalks, b.cutDay})
	assert.InDelta(t, kept, b.kept, 0)
	assert.True(t, b.state.Predried)
}

// Of the first lot that does not fit whole goes what fits, and what is behind it waits. What
// goes takes its water along.
func TestTheFirstThatDoesNotFit(t *testing.T) {
	r := small(landing1(0))
	r.Road.VehicleStalks = 250
	y := calmRooms(r, 0)
	for i, n := range []int{200, 100, 30} {
		y.store.put(float64(i), n, stalk.State{Moisture: 0.15})
	}
	assert.Equal(t, 250, y.road.load(&y.store, &y.people).stalks)
	require.Len(t, y.store.lots, 2)
	assert.Equal(t, []int{50, 30}, []int{y.store.lots[0].stalks, y.store.lots[1].stalks})
	assert.InDelta(t, 1, y.store.lots[0].sinceH, 0, "as old as it was")
	assert.InDelta(t, y.dryKg(250)*0.15, y.water.Left, 1e-12)
	assert.Equal(t, 80, y.road.load(&y.store, &y.people).stalks)
}

// A collection by hand: stalks live to its hour in the air of the day, the hours and the trip are
// booked, and 92 of 100 are accepted; one that finds the road shut books the day alone.
func TestCollectionByHand(t *testing.T) {
	r := small(landing1(0))
	r.People.CollectionH = 3
	y := calmRooms(r, 0)
	y.store.put(24, 100, stalk.State{Moisture: 0.12, AgeH: 500})
	aged := stalk.State{Moisture: 0.12, AgeH: 500}
	aged.Still(&y.store.air[2], 0.005, 42, &y.p.Stalk)
	y.season.Days[2].RainMM, r.Road.ClosedAboveMM = 31, 30
	y.collect(66, 2)
	assert.Equal(t, SiteMonth{RoadShut: 1}, y.months[0])
	r.Road.ClosedAboveMM = 31
	y.collect(66, 2)
	assert.Equal(t, SiteMonth{RoadShut: 1, Trips: 1, ToHub: 100, RefusedAtGate: 8, OtherH: 3, Tasks: TaskHours{Collection: 3}}, y.months[0])
	assert.InDelta(t, y.dryKg(100)*float64(aged.Moisture), y.water.Left, 1e-9)
	y.collect(90, 3)
	assert.Equal(t, []int{1, 100}, []int{y.month.Trips, y.month.ToHub}, "it does not come for an empty store")
	assert.InDelta(t, 3, y.month.OtherH, 1e-12)
	assert.Zero(t, y.month.Skipped)
	y.store.put(90, 100, stalk.State{Moisture: 0.12, AgeH: 500})
	r.Hub.StoreStalks = 92
	y.collect(90, 3)
	assert.Equal(t, []int{1, 100}, []int{y.month.Trips, y.month.ToHub}, "nor where the hub is full")
}

// Shares of the contract by hand: as the cutters' ordinary output; where nobody cuts all alike.
func TestSharesOfTheContract(t *testing.T) {
	a, b := landing1(0), landing1(0)
	b.Cutters, b.OutputPerPersonH, b.CuttingHPerDay = 2, 60, 4
	r := small(a, b)
	assert.InDeltaSlice(t, []float64{2880.0 / 3360, 480.0 / 3360}, r.Shares(), 1e-12)
	r.Sites[0].Cutters, r.Sites[1].Cutters = 0, 0
	assert.InDeltaSlice(t, []float64{0.5, 0.5}, r.Shares(), 1e-12)
}

// Stalks are hauled where a site is named and a number is stated, and in an order in which
// those who send come first; nobody hauls to himself.
func TestWhoHauls(t *testing.T) {
	a, b, c := landing1(0), landing1(0), landing1(0)
	a.Name, b.Name, c.Name = "a", "b", "c"
	r := small(a, b, c)
	order := func() []int {
		list, err := r.HaulOrder()
		require.NoError(t, err)
		return list
	}
	assert.False(t, r.Hauls())
	assert.Equal(t, []int{0, 1, 2}, order())
	r.Sites[0].HaulTo = "b"
	assert.False(t, r.Hauls(), "none a day")
	r.Sites[0].HaulStalksPerDay = 1
	assert.True(t, r.Hauls())
	r.Sites[0].HaulTo = ""
	assert.False(t, r.Hauls(), "nowhere")
	r.Sites[0].HaulTo, r.Sites[1].HaulTo = "b", "c"
	assert.Equal(t, []int{0, 1, 2}, order())
	r.Sites[0].HaulTo, r.Sites[1].HaulTo, r.Sites[2].HaulTo = "", "a", "b"
	assert.Equal(t, []int{2, 1, 0}, order())
	r.Sites[1].HaulTo, r.Sites[2].HaulTo = "c", ""
	assert.Equal(t, []int{0, 1, 2}, order())
	r.Sites[1].HaulTo = "b"
	_, err := r.HaulOrder()
	assert.ErrorContains(t, err, `b hauls to "b", which is no other site`)
}

// Stalks hauled in one season do not arrive in the next, nor at a site they were not sent to.
func TestParcelsOfASeason(t *testing.T) {
	a, b, c := landing1(0), landing1(0), landing1(0)
	b.Name, b.Cutters, c.Name, c.Cutters = "Old Sluice", 0, "Heron Point", 0
	a.HaulTo, a.HaulStalksPerDay = b.Name, 100
	r := small(a, b, c)
	r.Calendar.Days = 5
	days, hours := calm(5)
	s := season(r, parameters(), days, hours)
	run := NewRunner(r)
	movedIn := func(site int, s *Season) int {
		months, err := run.Site(site, 0, s)
		require.NoError(t, err)
		return months[0].MovedIn
	}
	assert.Zero(t, movedIn(0, s))
	assert.Equal(t, 500, movedIn(1, s))
	assert.Zero(t, movedIn(2, s))
	next := *s
	next.Number++
	assert.Zero(t, movedIn(1, &next))
	assert.Zero(t, movedIn(0, &next))
	assert.Equal(t, 500, movedIn(1, &next))
}

// Sites that lie apart have each their weather.
func TestWeatherOfEachSite(t *testing.T) {
	a, b := wide().Sites[0], wide().Sites[0]
	b.Name = "Old Sluice"
	r := small(a, b)
	r.Hub.Speaks = SpeaksByCutters
	days, hours := sunny(61)
	dry := season(r, parameters(), days, hours)
	days, hours = soaked(61)
	wet := season(r, parameters(), days, hours)
	l, err := NewRunner(r).LedgerOf(func(site int) *Season { return []*Season{dry, wet}[site] })
	require.NoError(t, err)
	assert.Equal(t, ledger(t, r, dry).Sites[0], l.Sites[0])
	assert.Equal(t, ledger(t, r, wet).Sites[1], l.Sites[1])
	assert.NotEqual(t, l.Sites[0].Months, l.Sites[1].Months)
	refused := 0
	for _, s := range l.Sites {
		refused += s.Months[0].RefusedAtGate
	}
	assert.Equal(t, refused, l.Hub[0].RefusedAtGate)
}

// The least that still counts as met: a tenth of a per cent off 9,995 is 9,985.005, so 9,986.
func TestLeastOfAContract(t *testing.T) {
	assert.Equal(t, 9_986, Contract{Tolerance: 0.001}.Least(9_995))
	assert.Equal(t, 100, Contract{}.Least(100))
	assert.Zero(t, Contract{Tolerance: 0.05}.Least(0))
	r := small(landing1(0))
	r.Contract.Tolerance, r.Contract.Grace, r.Hub.OpeningStock = 0.1, true, 7
	delete(r.Contract.StalksByMonth, time.July)
	assert.Equal(t, Gate{Months: []time.Month{time.June, time.July}, Asked: []int{20_000, 0}, Least: []int{18_000, 0}, Opening: 7, Grace: true, Tolerance: 0.1}, r.Gate())
	assert.Equal(t, 12, HubMonth{Opening: 5, Arrived: 10, RefusedAtGate: 3}.Available())
}

// By how much water does not balance, by hand, of what came in; less than a kilogram counts as
// one.
func TestWaterOff(t *testing.T) {
	w := Water{Opening: 10, Cut: 20, MovedIn: 30, Rain: -10, Evaporated: 5, DrivenOff: 6, Shed: 7, Left: 8, Closing: 10}
	assert.InDelta(t, 14.0/70, w.Off(), 1e-12, "50 came and 36 went; 70 were handled")
	assert.InDelta(t, 0.25, (&Water{Cut: 0.25}).Off(), 1e-12)
	assert.InDelta(t, 2, (&Water{Closing: 2}).Off(), 1e-12)
}

// The hours of dryers by state: idle are those of a working dryer without a charge. What is no
// number cannot be written.
func TestHoursByState(t *testing.T) {
	h := DryerHours{DryerHandling: 1, DryerFiring: 2, DryerCooling: 4, DryerWaiting: 8, DryerNoStalks: 16, DryerNotWanted: 32, DryerNoTime: 64, DryerNoPeople: 128, DryerNoWood: 256, DryerBroken: 512, DryerNotReady: 1024}
	assert.InDelta(t, 16+32+64+128+256, h.Idle(), 0)
	assert.InDelta(t, 2047, h.Sum(), 0)
	twice := h
	twice.Add(&h)
	assert.InDelta(t, 4094, twice.Sum(), 0)
	assert.InDelta(t, 1024, twice[DryerBroken], 0)
	h[DryerFiring] = math.NaN()
	_, err := json.Marshal(h)
	assert.Error(t, err)
	for id, want := range map[FigureID]bool{NoFigure: false, Trips: false, HaulingH: false, FigureCount: false, DryerHandling.Figure(): true, FigureCount - 1: true} {
		_, ok := id.State()
		assert.Equal(t, want, ok, "%d", id)
	}
	assert.Equal(t, "not_ready", DryerNotReady.String())
}

// Figures by name: the sum and the largest of some, the first of equals and none of nothing; a
// key is read back, and one that is none is said. Tables keep hours in minutes, kilograms in
// hectograms and all else as it is.
func TestFiguresByName(t *testing.T) {
	m := SiteMonth{NotCutRain: 3, NotCutPeople: 3, NotCutTarget: 2, BrokenH: 0.004}
	id, most := m.Most(notCutInDay)
	assert.Equal(t, NotCutRain, id)
	assert.InDelta(t, 3, most, 0)
	assert.InDelta(t, 8, m.Sum(notCutInDay), 0)
	id, most = m.Most([]FigureID{FiringH, BrokenH})
	assert.Equal(t, BrokenH, id)
	assert.InDelta(t, 0.004, most, 0)
	id, most = m.Most(lostInDay)
	assert.Equal(t, NoFigure, id)
	assert.Zero(t, most)
	assert.Equal(t, []FigureID{Second, Rejected, ThrownOut, Broken}, lostInDay)
	assert.Equal(t, []FigureID{NotCutRain, NotCutYardFull, NotCutTooWet, NotCutPeople, NotCutStand, NotCutClosed, NotCutTarget}, notCutInDay)

	require.Len(t, Figures(), int(FigureCount)-1)
	for _, f := range Figures() {
		var back FigureID
		require.NoError(t, back.UnmarshalText([]byte(f.Key)))
		assert.Equal(t, f.ID, back)
		assert.Equal(t, f.Key, f.ID.Figure().Key)
	}
	var none FigureID
	assert.ErrorContains(t, none.UnmarshalText([]byte("reeds")), `found "reeds"`)
	assert.Equal(t, []float64{60, 10, 1, 1}, []float64{Hours.Fine(), Kilograms.Fine(), Stalks.Fine(), Days.Fine()})
	columns := Columns()
	names := map[string]FigureID{}
	for _, c := range columns {
		names[c.Name] = c.Figure.ID
	}
	require.Len(t, names, len(columns))
	assert.Equal(t, "Opening", columns[0].Name)
	assert.Equal(t, []FigureID{DryerNoStalks.Figure(), HaulingH, WoodKg}, []FigureID{names["Shift NoStalks"], names["Tasks Hauling"], names["WoodKg"]})
}

// A month in which a stalk is too many or missing is said, with both sides.
func TestStalksOfAMonth(t *testing.T) {
	m := SiteMonth{Opening: 5, Cut: 10, MovedIn: 1, MovedOut: 2, ToHub: 3, Second: 4, Rejected: 1, ThrownOut: 1, Broken: 1, Closing: 4, RefusedAtGate: 3, Browned: 1}
	require.NoError(t, m.checkStalks())
	m.Closing++
	assert.ErrorContains(t, m.checkStalks(), "16 lay there or came, but 17 left, were lost or lie there")
}

// Growth by temperature at its corners and between, by hand.
func TestGrowthByTemperature(t *testing.T) {
	for tempC, want := range map[float64]float64{-5: 0, 10: 0, 10.19: 0.01, 29: 1, 34.5: 0.5, 39.89: 0.01, 40: 0, 60: 0} {
		assert.InDelta(t, want, growthResponse(tempC), 1e-9, "%g °C", tempC)
	}
}

// Collections by hand: thirds of June fall on days 10, 20 and 30; a season that ends before the
// first of them has one on its last day, and one that ends on a day of collection has no second.
func TestDaysOfCollections(t *testing.T) {
	june := Calendar{StartMonth: time.June, StartDay: 1, Days: 30}
	assert.Equal(t, []int{9, 19, 29}, june.CollectionDays(3))
	june.Days = 4
	assert.Equal(t, []int{3}, june.CollectionDays(3))
	june.Days = 20
	assert.Equal(t, []int{9, 19}, june.CollectionDays(3))
	june.Days = 21
	assert.Equal(t, []int{9, 19, 20}, june.CollectionDays(3))
	june.StartDay, june.Days = 20, 3
	assert.Equal(t, []int{0, 2}, june.CollectionDays(3), "the season begins on a day of collection")
	assert.Equal(t, []int{2}, june.CollectionDays(0), "none is asked for, but what is left goes")
}

// The people of a site by hand: hours of other work that the crew and the slack of a day do not
// take are owed on, in a day on which half of the cutters are there.
func TestHoursOwed(t *testing.T) {
	r := small(landing1(0))
	r.People = People{Pool: true, WorkHPerDay: 8, CrewHPerDay: 5}
	r.Sites[0].Crew = 2
	p := &calmRooms(r, 0).people
	p.present = 0.5
	p.owedH = 10 + 10
	assert.InDelta(t, 0.5, p.freeShare(), 1e-12, "of 16 h 10 are owed, and 12 would be cut")
	assert.Zero(t, p.owedH)
	p.owedH = 10 + 20
	assert.Zero(t, p.freeShare())
	assert.InDelta(t, 4, p.owedH, 1e-12)
	p.owedH = 3
	assert.InDelta(t, 1, p.freeShare(), 1e-12)
	assert.Zero(t, p.owedH)
	r.People.WorkHPerDay = 0
	p.owedH = 10 + 6
	assert.InDelta(t, 0.5, p.freeShare(), 1e-12, "who cuts six hours works at least six")
	p.present = 0
	assert.InDelta(t, 1, p.freeShare(), 1e-12, "nobody is there to be kept from cutting")
	assert.Equal(t, []bool{true, true, false, true}, []bool{p.rest(6), p.rest(13), p.rest(7), p.rest(20)})
	r.Yard.RestEveryDays = 0
	assert.False(t, p.rest(6))
}

// Grading by hand at a peak index of 2, where an earlier grading left nine tenths in: what is
// not of full grade is second grade, but for rejects beyond the tenth taken before.
func TestGradingByHand(t *testing.T) {
	y := calmRooms(small(landing1(0)), 0)
	full, _, reject := stalk.Grade(2, y.p.Stalk.MouldSpread)
	require.Greater(t, reject, 0.1)
	kept := 0.9
	n := y.people.grade(9000, &kept, &stalk.State{Moisture: 0.5, PeakIndex: 2})
	assert.InDelta(t, 10_000*full, n, 1)
	assert.InDelta(t, 10_000*(reject-0.1), y.month.Rejected, 1)
	assert.Equal(t, 9000-n-y.month.Rejected, y.month.Second)
	assert.InDelta(t, full, kept, 1e-12)
	assert.InDelta(t, y.dryKg(9000-n)*0.5, y.water.Left, 1e-9)
}

// Limits and sizes below one are limits and sizes: a road shut above half a millimetre, a flush
// by as little, a rest every day, half a square metre of stand or rack, and a tenth of an hour
// of cutting.
func TestSmallNumbersCount(t *testing.T) {
	r := small(landing1(0))
	y := calmRooms(r, 0)
	y.season.Days[9].RainMM = 0.6
	r.Road.ClosedAboveMM = 0.5
	assert.Equal(t, []bool{false, true, true, false}, []bool{y.road.shut(8), y.road.shut(9), y.road.shut(11), y.road.shut(12)})
	r.Road.ClosedAboveMM = 0
	assert.False(t, y.road.shut(9), "always open")
	assert.True(t, y.season.flushes(9, 0.5))
	assert.True(t, y.season.flushedWithin(9, 1, 0.5))
	r.Yard.RestEveryDays = 1
	assert.True(t, y.people.rest(0))

	r.Sites[0].StandM2 = 0.5
	r.Stand = Stand{CapacityKgM2: 40, StartKgM2: 5, ThinAtKgM2: 5}
	y.stand.kgM2 = 5
	y.stand.grow(0)
	assert.InDelta(t, 0.5, y.stand.gives, 1e-12)

	r.Sites[0].SolidRoofM2, r.Sites[0].ClearRoofM2, r.Sites[0].OpenRackM2 = 0.5, 0, 0
	assert.Equal(t, []bool{false, false, true, true, false}, []bool{r.uses(clearRack), r.uses(openRack), r.uses(solidRack), r.uses(heap), r.uses(sheeted)})
	assert.Equal(t, int(0.5/y.yard.m2PerStalk(false)), y.yard.roomForFresh())
	r.Sites[0].Sheets = true
	assert.True(t, r.uses(sheeted))

	r.People = People{Pool: true, WorkHPerDay: 8}
	r.Sites[0].CuttingHPerDay = 0.1
	y.people.owedH = 4*8 - 0.2
	assert.InDelta(t, 0.5, y.people.freeShare(), 1e-9, "0.2 of 0.4 h are left")
}
