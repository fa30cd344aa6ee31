package sim

import (
	"math"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drystalk/sim/stalk"
)

// roomsOf returns a site-season before its first day, to look at its rooms one by one.
func roomsOf(r *Region, dryers int, s *Season) *siteSeason {
	run := NewRunner(r)
	y, desk := run.lane(0), run.openDesk(0, run.shares[0], true)
	desk.sites = append(desk.sites, y)
	y.begin(run, &Lane{0, dryers, s}, desk)
	return y
}

// Looking at the yard changes nothing: batches on every kind of rack and in the heap that are
// looked at every hour, twice a day at odd hours, or once at the end live through the same,
// with sheets over the open racks and nobody to pull them on some days and nights.
func TestLookingAtTheYardChangesNothing(t *testing.T) {
	r := small(landing1(0))
	site := &r.Sites[0]
	site.SolidRoofM2, site.Sheets = 10, true
	s := showers(12, true)
	s.Sheets, s.Nights = [][]bool{make([]bool, 12)}, [][]bool{make([]bool, 12)}
	for d := range 12 {
		s.Sheets[0][d], s.Nights[0][d] = d%3 == 1, d%4 == 2
	}
	r.Calendar.Days = 12
	s.Prepare(s.air, r)
	lived := func(looks ...int) *yard {
		y := &roomsOf(r, 0, s).yard
		for at := clearRack; at <= heap; at++ {
			y.lay(batch{at: at, stalks: 100, kept: 1, state: y.freshState()})
		}
		for _, hour := range looks {
			y.advance(hour)
		}
		return y
	}
	const end = 24 * 12
	var hourly, odd []int
	for h := 1; h <= end; h++ {
		hourly = append(hourly, h)
		if h%12 == 7 {
			odd = append(odd, h, h-2) // looking back is looking at what is there
		}
	}
	once := lived(end)
	require.Len(t, once.batches, 4)
	assert.Less(t, once.batches[openRack].state.Moisture, once.freshState().Moisture)
	for _, looks := range [][]int{hourly, append(odd, end, end)} {
		y := lived(looks...)
		for i := range y.batches {
			assert.Equal(t, once.batches[i].state, y.batches[i].state, "place %d", i)
		}
		assert.InDelta(t, once.water.Rain, y.water.Rain, 1e-12*(1+once.water.Rain))
		assert.InDelta(t, once.water.Evaporated, y.water.Evaporated, 1e-12*once.water.Evaporated)
	}
}

// A stand by hand, kg/m²: the best temperature for one day at 7 % a day from 20 to a capacity
// of 40 is 40/(1 + e^-0.07) = 20.6997; 500 stalks of 0.4 kg from 1,000 m² take 0.2; a flush
// takes three tenths of the 20.4997 left; and a campaign half of that.
func TestStandByHand(t *testing.T) {
	r := small(landing1(0))
	r.Sites[0].StandM2 = 1000
	r.Sites[0].Closed = []Closure{{FirstDay: 2, LastDay: 3, Removed: 0.5}}
	r.Stand = Stand{GrowthPerDay: 0.07, CapacityKgM2: 40, StartKgM2: 20, KgPerStalk: 0.4, ThinAtKgM2: 5, FlushAboveMM: 80, FlushedFraction: 0.3, SiltedFraction: 0.2, SiltedDays: 2}
	days, hours := calm(61)
	for d := range days {
		days[d].TmaxC, days[d].TminC = 33, 25 // 29 °C
	}
	days[1].RainMM = 81
	st := &roomsOf(r, 0, season(r, parameters(), days, hours)).stand
	st.grow(0)
	assert.InDelta(t, 20, st.kgM2, 1e-12)
	assert.InDelta(t, 20.0/25, st.gives, 1e-12)
	r.Stand.ThinAtKgM2 = 0
	st.grow(0)
	assert.InDelta(t, 1, st.gives, 1e-12, "where thin is no matter")
	st.kgM2 = 0
	st.grow(0)
	assert.Zero(t, st.gives, "a bare stand gives nothing")
	assert.Zero(t, st.thinned(1.5))
	st.kgM2, r.Stand.ThinAtKgM2, st.month.NotCutStand = 20, 5, 0

	st.grow(1)
	grown := 40 / (1 + math.Exp(-0.07))
	assert.InDelta(t, grown, st.kgM2, 1e-12)
	assert.InDelta(t, 0.8*grown/(grown+5), st.gives, 1e-12, "it rained that day: a fifth is silted")

	st.kgM2, st.cutYesterday = 20, 500
	st.grow(2)
	left := (grown - 0.2) * 0.7 * 0.5
	assert.InDelta(t, left, st.kgM2, 1e-12)
	assert.InDelta(t, 0.8*left/(left+5), st.gives, 1e-12)
	st.grow(3)
	assert.InDelta(t, st.kgM2/(st.kgM2+5), st.gives, 1e-12, "two days after the flush nothing is silted")

	assert.Equal(t, []bool{false, true, true, false}, []bool{st.closed(1), st.closed(2), st.closed(3), st.closed(4)})
	st.gives = 0.5
	assert.InDelta(t, 0.6, st.thinned(1.2), 1e-12)
	assert.Equal(t, dayCut*6/10, st.month.NotCutStand, "half of 1.2 days' cut is not there")
}

// A stand cut bare gives nothing and grows nothing; no wet spell is flushed twice.
func TestStandAtItsEdges(t *testing.T) {
	r := small(landing1(0))
	r.Sites[0].StandM2 = 10
	r.Stand = Stand{GrowthPerDay: 0.07, CapacityKgM2: 40, StartKgM2: 20, KgPerStalk: 0.4, ThinAtKgM2: 5}
	days, hours := calm(61)
	for d := range 4 {
		days[d].RainMM = 30 // 60, 90 and 90 mm in the three days up to days 1, 2 and 3
	}
	s := season(r, parameters(), days, hours)
	st := &roomsOf(r, 0, s).stand
	st.cutYesterday = 1000
	st.grow(1)
	st.cutYesterday = 0
	st.grow(2)
	assert.Zero(t, st.kgM2)
	assert.Zero(t, st.gives)
	var flushes []int
	for d := range 6 {
		if s.flushes(d, 80) {
			flushes = append(flushes, d)
		}
	}
	assert.Equal(t, []int{2}, flushes)
	assert.True(t, s.flushes(0, 29), "the season may begin with one")
	assert.False(t, s.flushes(0, 30), "as much as the limit flushes nothing")
	assert.False(t, s.flushes(2, 0), "no limit, no flush")
	assert.Equal(t, []bool{false, true, true, false}, []bool{s.flushedWithin(1, 2, 80), s.flushedWithin(2, 2, 80), s.flushedWithin(3, 2, 80), s.flushedWithin(4, 2, 80)})
}

// Why a dryer finds no charge, by hand. A cabinet holds 1,000 fresh stalks and the smallest
// charge is 0.3 of that: with 299 there are no stalks for one, with 300 there are, and at
// 18 h, an hour before the shift ends, it is too late for the close to 8 h they take.
func TestWhyADryerStands(t *testing.T) {
	r := small(landing1(1))
	days, hours := calm(61)
	s := season(r, parameters(), days, hours)
	why := func(nowH float64, stalks ...int) DryerState {
		y := roomsOf(r, 1, s)
		for _, n := range stalks {
			y.yard.lay(batch{at: heap, stalks: n, kept: 1, state: y.freshState()})
		}
		fire, m, state := y.findCharge(nowH)
		if fire != nil {
			require.Positive(t, m.stalks)
			return DryerFiring
		}
		return state
	}
	assert.Equal(t, DryerNoStalks, why(8, 299))
	assert.Equal(t, DryerFiring, why(8, 300))
	assert.Equal(t, DryerFiring, why(8, 150, 150), "two batches of one charge")
	assert.Equal(t, DryerNoTime, why(18, 300))
	assert.Equal(t, DryerNoTime, why(18, 150, 150))
	assert.Equal(t, DryerNoStalks, why(18, 150, 149))
	assert.Equal(t, DryerNoStalks, why(8), "an empty yard")
	r.Dryer.MinimumFill = 0
	assert.Equal(t, DryerNoTime, why(18, 1), "a single stalk where any charge is large enough")
	assert.Equal(t, DryerNoStalks, why(18))
	r.Dryer.MinimumFill = 0.3
	r.People = People{Pool: true, TendsDryers: 1}
	r.Sites[0].Cutters = 0
	assert.Equal(t, DryerNoPeople, why(8, 300))
	r.People.Pool = false
	r.Dryer.WoodLimited = true
	assert.Equal(t, DryerNoWood, why(8, 300))

	y := roomsOf(r, 1, s)
	y.yard.lay(batch{at: clearRack, stalks: 10, kept: 1, state: y.freshState()})
	r.Sites[0].Cutters = 1
	_, _, state := y.findCharge(8)
	assert.Equal(t, DryerNotWanted, state, "a little on a rack, no mould and room enough: the sun may do it")
}

// A dryer that comes from another site has the luck of its new place, after the dryers that
// stand there; and as many are counted as come.
func TestLuckOfAMovedDryer(t *testing.T) {
	a, b := landing1(2), landing1(1)
	b.Name = "Old Sluice"
	r := small(a, b)
	r.Moves = []Move{{From: a.Name, To: b.Name, Day: 20, DaysLost: 5}}
	assert.Equal(t, []int{0, 1}, []int{r.Coming(0), r.Coming(1)})
	days, hours := soaked(61)
	s := season(r, parameters(), days, hours)
	s.Dryers = [][]DryerLuck{{{}, {}}, {{}, {Out: true}}}
	l := ledger(t, r, s)
	require.Len(t, l.Sites[1].Each, 2)
	own, came := l.Sites[1].Each[0], l.Sites[1].Each[1]
	assert.Zero(t, own[DryerBroken])
	assert.InDelta(t, 5*12, came[DryerNotReady], 1e-9)
	assert.InDelta(t, (61-25)*12, came[DryerBroken], 1e-9)
	require.Len(t, l.Sites[0].Each, 2)
	assert.InDelta(t, 61*12, l.Sites[0].Each[0].Sum(), 1e-9, "the first stays")
	assert.InDelta(t, 20*12, l.Sites[0].Each[1].Sum(), 1e-9, "the last leaves")
}

// The days of a season add up to its months, every figure that a day has, in a site whose
// every mechanism is at work.
func TestEveryFigureOfDaysAddsUp(t *testing.T) {
	r := small(landing1(1))
	site := &r.Sites[0]
	site.OpenRackM2, site.ClearRoofM2, site.StandM2 = 25, 2, 1e5
	site.Closed = []Closure{{FirstDay: 24, LastDay: 25}}
	r.Stand = Stand{GrowthPerDay: 0.07, CapacityKgM2: 40, StartKgM2: 20, KgPerStalk: 0.33, ThinAtKgM2: 5}
	r.People = People{Pool: true, WorkHPerDay: 8, TendsDryers: 2, HandlingHPer1000: 1, GradingHPer1000: 1, Away: []Away{{FirstDay: 2, LastDay: 4, Fraction: 0.5}}}
	r.Contract.StalksByMonth[time.July], r.Contract.TargetStock[time.July] = 4000, 0
	r.Hub.OpeningStock = 22_000
	r.Yard.DiscardBelowFullShare = 0.9
	days, hours := mixedDays(61)
	days[44].RainMM = 40
	run := NewRunner(r)
	run.EveryDay = true
	l, err := run.Ledger(season(r, parameters(), days, hours))
	require.NoError(t, err)
	require.Len(t, l.Sites[0].Days, 61)
	require.Len(t, l.Sites[0].Months, 2)
	whole := SiteMonth{}
	for k, span := range r.Calendar.Months() {
		m := &l.Sites[0].Months[k]
		whole.Add(m)
		var sum SiteDay
		for _, d := range l.Sites[0].Days[span.FirstDay : span.LastDay+1] {
			sum.Cut, sum.ToHub, sum.Charges = sum.Cut+d.Cut, sum.ToHub+d.ToHub, sum.Charges+d.Charges
			sum.Lost, sum.NotCut = sum.Lost+d.Lost, sum.NotCut+d.NotCut
			sum.Shift.Add(&d.Shift)
			sum.RainMM += d.RainMM
			assert.Equal(t, days[d.Day].RainMM, d.RainMM)
		}
		lost := m.Second + m.Rejected + m.ThrownOut + m.Broken
		notCut := m.NotCutRain + m.NotCutYardFull + m.NotCutTooWet + m.NotCutPeople + m.NotCutStand + m.NotCutTarget + m.NotCutClosed
		assert.Equal(t, []int{m.Cut, m.ToHub, m.Charges, lost, notCut}, []int{sum.Cut, sum.ToHub, sum.Charges, sum.Lost, sum.NotCut})
		for _, state := range DryerStates() {
			assert.InDelta(t, m.Shift[state], sum.Shift[state], 1e-9, "%s", state.Figure())
		}
		last := l.Sites[0].Days[span.LastDay]
		assert.Equal(t, m.Closing, last.OnRacks+last.InHeap+last.InDryers+last.InStore)
	}
	for _, id := range []FigureID{ThrownOut, Rejected, Second, NotCutRain, NotCutYardFull, NotCutPeople, NotCutStand, NotCutClosed, NotCutTarget, ToHub} {
		assert.Positive(t, id.Figure().Of(&whole), "%s is at work", id)
	}
}

// Stalks laid on racks fill the clear roof first, then open racks, then the solid roof, and
// the heap takes the rest, by hand: 65 g of fresh matter a stalk at 10 kg/m² are 153 stalks a
// square metre; pre-dried batches are closed up.
func TestSpreadByHand(t *testing.T) {
	r := small(landing1(0))
	site := &r.Sites[0]
	site.ClearRoofM2, site.OpenRackM2, site.SolidRoofM2 = 1, 2, 1
	days, hours := calm(61)
	y := &roomsOf(r, 0, season(r, parameters(), days, hours)).yard
	perM2 := 10 / (y.p.Stalk.FreshG / 1000)
	one, two := int(perM2), int(2*perM2)
	assert.Equal(t, 2*one+two, y.roomForFresh())
	assert.Equal(t, 2*one+two+dayCut, y.roomForCut(), "and a day's cut in the heap")
	y.spread(4, 2*one+two+7, 1, y.freshState())
	require.Len(t, y.batches, 4)
	for i, want := range []batch{{at: clearRack, stalks: one}, {at: openRack, stalks: two}, {at: solidRack, stalks: one}, {at: heap, stalks: 7}} {
		assert.Equal(t, []int{int(want.at), want.stalks, 4}, []int{int(y.batches[i].at), y.batches[i].stalks, y.batches[i].cutDay})
	}
	assert.Equal(t, 2*one+two+7, y.stalks())
	assert.Equal(t, 7, y.inHeap())
	assert.Zero(t, y.roomForFresh())
	assert.Equal(t, dayCut-7, y.roomForCut())
	assert.True(t, y.short())

	y.lift(&y.batches[openRack], two)
	y.dropEmpty()
	require.Len(t, y.batches, 3)
	assert.Equal(t, two, y.roomForFresh(), "counted anew after a change")
	y.spreadHeap()
	assert.Zero(t, y.inHeap())
	assert.Equal(t, int(2*perM2-7), y.roomForFresh())
	for i := range y.batches {
		y.batches[i].state.Predried = true
	}
	y.changes++
	assert.Greater(t, y.roomForFresh(), two, "closed up, the racks take more")
}

// What goes into one charge: the driest first, the wettest first, the oldest first or the most
// mouldy first, and among equals the oldest, then the first laid.
func TestLoadingRules(t *testing.T) {
	r := small(landing1(1))
	days, hours := calm(61)
	s := season(r, parameters(), days, hours)
	order := func(rule LoadingRule, batches ...batch) []int {
		r.Dryer.LoadingRule = rule
		y := &roomsOf(r, 1, s).yard
		for _, b := range batches {
			b.stalks, b.kept = 10, 1
			y.lay(b)
		}
		y.orderWet()
		return y.order
	}
	b := func(cutDay int, moisture, index float64) batch {
		return batch{at: heap, cutDay: cutDay, state: stalk.State{Moisture: stalk.DryBasis(moisture), MouldIndex: index, PeakIndex: index}}
	}
	all := []batch{b(5, 3, 0.2), b(4, 1, 0.1), b(3, 2, 0.3), b(2, 2, 0.3), b(2, 0.01, 0.9)} // the last is dry
	assert.Equal(t, []int{3, 2, 0, 1}, order(MostAtRiskFirst, all...))
	assert.Equal(t, []int{1, 3, 2, 0}, order(DriestFirst, all...))
	assert.Equal(t, []int{0, 3, 2, 1}, order(WettestFirst, all...))
	assert.Equal(t, []int{3, 2, 1, 0}, order(OldestFirst, all...))
	assert.Equal(t, []int{0, 1}, order(OldestFirst, b(2, 1, 0), b(2, 1, 0)))
	target := float64(parameters().Cabinet.Target.DryBasis())
	assert.Empty(t, order(OldestFirst, b(2, target, 0)), "at the target it is dry")
}

// Stalks below 8 % wet basis are brittle wherever they dried: 3 of 100 break when they are
// stored from a rack, or at a collection if they fell below in the store, and never twice.
func TestBrittleWhereverTheyDried(t *testing.T) {
	r := small(landing1(1))
	y := calmRooms(r, 1)
	brittle, tough := y.freshState(), y.freshState()
	brittle.Moisture, tough.Moisture = 0.0869, 0.0870 // 8 % is 0.08/0.92
	y.yard.lay(batch{at: openRack, stalks: 100, kept: 1, state: brittle})
	y.yard.lay(batch{at: openRack, stalks: 100, kept: 1, state: tough})
	y.storeFinished(30)
	assert.Equal(t, []int{3, 197}, []int{y.month.Broken, y.store.stalks()})
	assert.InDelta(t, y.dryKg(3)*0.0869, y.water.Left, 1e-12)

	y = calmRooms(r, 1)
	y.store.put(30, 100, brittle) // counted on the way in, or in the dryer
	y.store.put(31, 100, tough)
	y.store.put(32, 100, tough)
	y.store.lots[2].state.Moisture = 0.08 // dried on in the store
	r.Road.VehicleStalks = 250
	assert.Equal(t, 250, y.road.load(&y.store, &y.people).stalks)
	assert.Equal(t, []int{3, 47}, []int{y.month.Broken, y.store.stalks()})
	assert.Equal(t, 47, y.road.load(&y.store, &y.people).stalks)
	assert.Equal(t, 3, y.month.Broken, "once")
}
