package sim

import (
	"math"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drystalk/sim/charge"
	"drystalk/sim/stalk"
)

// asked is a charge as a fire is asked for its hours.
type asked struct {
	wettest, mean stalk.DryBasis
	dryKg         float64
}

// takes lets every charge of a site take so many hours, and returns the charges that were asked
// for, in order.
func takes(y *siteSeason, dryingH float64) *[]asked {
	list := &[]asked{}
	y.dryers.hoursOf = func(*charge.Course) float64 {
		var a asked
		for _, l := range y.dryers.load.Lots {
			a.wettest = max(a.wettest, l.Moisture)
			a.mean += stalk.DryBasis(l.DryKg) * l.Moisture
			a.dryKg += l.DryKg
		}
		a.mean /= stalk.DryBasis(a.dryKg)
		*list = append(*list, a)
		return dryingH
	}
	return list
}

// wetBatch is stalks of full grade on an open rack.
func wetBatch(cutDay, stalks int, moisture stalk.DryBasis) batch {
	return batch{at: openRack, cutDay: cutDay, stalks: stalks, kept: 1, state: stalk.State{Moisture: moisture}}
}

// composed returns the charge that a dryer puts together at 7 h of those batches, oldest first.
func composed(y *siteSeason, batches ...batch) (mix, bool) {
	y.yard.batches = y.yard.batches[:0]
	for _, b := range batches {
		y.yard.lay(b)
	}
	y.yard.orderWet()
	return y.dryers.compose(&y.yard, y.dryers.fires.on(0), 7)
}

// A charge of two batches by hand: 200 stalks are no charge for a cabinet that holds 1,430 of
// theirs, and with 300 fresh ones they are, at the moisture of the wettest and the mean by
// stalks. Whole, three quarters and half a cabinet of 1,000 take all 500; a quarter is less
// than the smallest charge.
func TestChargeOfTwoBatches(t *testing.T) {
	r := small(landing1(1))
	r.Dryer.LoadingRule = OldestFirst
	y := calmRooms(r, 1)
	fresh := y.freshState().Moisture
	list := takes(y, 3)
	m, ok := composed(y, wetBatch(1, 200, 2), wetBatch(2, 300, fresh))
	require.True(t, ok)
	assert.Equal(t, []int{1, 500}, []int{m.last, m.stalks})
	assert.InDelta(t, float64(fresh), float64(m.wettest), 1e-12)
	assert.InDelta(t, (200*2+300*float64(fresh))/500, float64(m.mean), 1e-12)
	assert.InDelta(t, 3, m.dryingH, 1e-12)
	require.Len(t, *list, 1, "the same 500 are not worked out again for a smaller fill")
	for _, a := range *list {
		assert.InDelta(t, float64(m.mean), float64(a.mean), 1e-12)
		assert.InDelta(t, 2.925, a.dryKg, 1e-9, "500 stalks of 5.85 g")
	}
	*list = nil
	m, ok = composed(y, wetBatch(1, 500, 2), wetBatch(2, 700, fresh))
	require.True(t, ok)
	assert.Equal(t, []int{1, 1000}, []int{m.last, m.stalks})
	assert.InDelta(t, float64(fresh), float64(m.wettest), 1e-12, "the wettest rules")
	assert.Len(t, *list, 1, "a full cabinet, twice in the day, finishes all 1,200: no other needs to be worked out")
	*list = nil
	_, ok = composed(y, wetBatch(1, 200, fresh), wetBatch(2, 400, 2))
	require.True(t, ok)
	assert.InDelta(t, float64(fresh), float64((*list)[len(*list)-1].wettest), 1e-12, "also where it was loaded first")
}

// Two charges of 3 h fit into the day. Of batches of 300 stalks, one after the other is done as
// well as both at once: the larger load goes in, and never a batch of which nothing is needed.
func TestLargerLoadOfEquals(t *testing.T) {
	r := small(landing1(1))
	r.Dryer.LoadingRule = OldestFirst
	y := calmRooms(r, 1)
	fresh := y.freshState().Moisture
	takes(y, 3)
	m, ok := composed(y, wetBatch(1, 300, fresh), wetBatch(2, 300, fresh))
	require.True(t, ok)
	assert.Equal(t, []int{1, 600}, []int{m.last, m.stalks})
	m, ok = composed(y, wetBatch(1, 1000, fresh), wetBatch(2, 300, fresh))
	require.True(t, ok)
	assert.Equal(t, []int{0, 1000}, []int{m.last, m.stalks}, "the cabinet is full with the first")
	takes(y, 100)
	m, ok = composed(y, wetBatch(1, 1000, fresh))
	assert.False(t, ok, "%+v would not be dry this day", m)
}

// A batch of which no stalk is of full grade makes no charge of stalks that are too few
// without it, though a cabinet with so wet a batch in it holds fewer.
func TestASpoiltBatchMakesNoCharge(t *testing.T) {
	r := small(landing1(1))
	r.Dryer.LoadingRule = OldestFirst
	y := calmRooms(r, 1)
	takes(y, 3)
	spoilt := wetBatch(2, 500, y.freshState().Moisture)
	spoilt.state.PeakIndex = 1e6
	_, ok := composed(y, wetBatch(1, 400, 1), spoilt)
	assert.False(t, ok, "400 of 1,484 are less than three tenths, of 1,000 they would not be")
	spoilt.state.PeakIndex = 0
	_, ok = composed(y, wetBatch(1, 400, 1), spoilt)
	assert.True(t, ok)
}

// Full grade of a batch by hand: at a peak index of 1 half of the stalks are; where a grading
// has already left only 0.8 of them in, 0.5/0.8 of what lies there; where it left 0.4, all.
func TestFullGradeOfTheOrder(t *testing.T) {
	y := calmRooms(small(landing1(1)), 1)
	for i, kept := range []float64{1, 0.8, 0.4} {
		b := wetBatch(i, 801, 3)
		b.kept, b.state.PeakIndex = kept, 1
		y.yard.lay(b)
	}
	y.yard.orderWet()
	assert.Equal(t, 400+500+801, y.yard.gradeOrder())
	assert.Equal(t, []int{400, 500, 801}, y.yard.good)
}

// Wood is enough for a charge down to the last gram, and too little without it; where wood
// never runs out it is always enough.
func TestWoodForACharge(t *testing.T) {
	r := small(landing1(1))
	r.Dryer.WoodLimited = true
	ds := &calmRooms(r, 1).dryers
	fire := ds.fires.on(0)
	m := mix{stalks: 400, mean: 3, dryingH: 5}
	dry := ds.dryKg(400)
	assert.InDelta(t, 2.34, dry, 1e-9)
	needs := fire.WoodKg(charge.WoodBill{WaterKg: 3 * dry, LoadedWaterKg: 3 * dry, DryKg: dry, DryingH: 5})
	require.Positive(t, needs)
	ds.woodKg = needs
	assert.False(t, ds.lacksWood(m, fire))
	ds.woodKg = needs - 0.001
	assert.True(t, ds.lacksWood(m, fire))
	r.Dryer.WoodLimited = false
	assert.False(t, ds.lacksWood(m, fire))
}

// A charge is wanted when a batch has the index at which one is fired, or when the racks take
// one stalk less than an ordinary day brings.
func TestWhenAChargeIsWanted(t *testing.T) {
	r := small(landing1(1))
	y := calmRooms(r, 1)
	b := wetBatch(1, 10, 3)
	b.state.MouldIndex = r.Dryer.FireAtIndex - 1e-9
	y.yard.lay(wetBatch(1, 10, 3))
	y.yard.lay(b)
	assert.False(t, y.wantsFire())
	y.yard.batches[1].state.MouldIndex = r.Dryer.FireAtIndex
	assert.True(t, y.wantsFire())
	y.yard.batches[1].state.MouldIndex = 0

	s := &r.Sites[0]
	s.Cutters, s.CuttingHPerDay, s.OutputPerPersonH = 1, 1, float64(y.yard.roomForFresh())
	assert.False(t, y.wantsFire(), "room for just a day's cut")
	s.OutputPerPersonH++
	assert.True(t, y.wantsFire())
	s.OutputPerPersonH = 0
	assert.False(t, y.wantsFire())
	y.yard.lay(batch{at: heap, stalks: 1, kept: 1})
	assert.True(t, y.wantsFire(), "something lies in the heap")
}

// A look that found no charge for those batches is not repeated for four hours, unless a batch
// came or went; nor is the first look of a season, soon after midnight, taken for a repetition.
func TestALookIsNotRepeated(t *testing.T) {
	r := small(landing1(1))
	r.Dryer.ShiftStartH = 0
	y := calmRooms(r, 1)
	y.yard.lay(batch{at: heap, stalks: 400, kept: 1, state: y.freshState()})
	list := takes(y, 100)
	looks := func(nowH float64) bool {
		*list = nil
		assert.False(t, y.ask(0, nowH))
		assert.Equal(t, DryerNoTime, y.dryers.cabinets[0].why)
		return len(*list) > 0
	}
	assert.True(t, looks(1))
	y.dryers.cabinets[0].why = DryerNoStalks
	assert.False(t, looks(4.9))
	assert.True(t, looks(5))
	y.yard.dropEmpty()
	assert.False(t, looks(6), "nothing was dropped")
	y.yard.lay(batch{at: heap, stalks: 1, kept: 1, state: y.freshState()})
	assert.True(t, looks(6.5))
	y.yard.lift(&y.yard.batches[1], 1)
	y.yard.dropEmpty()
	assert.True(t, looks(7))
	assert.False(t, looks(10.9))
}

// The dryers look one after the other until one finds nothing; what it does not want, no other
// that stands free does. One with a charge is not asked, and one under repair does not look.
func TestDryersLookInTurn(t *testing.T) {
	r := small(landing1(5))
	y := calmRooms(r, 5)
	takes(y, 3)
	y.yard.lay(batch{at: heap, stalks: 1200, kept: 1, state: y.freshState()})
	c := y.dryers.cabinets
	c[0].charge = append(c[0].charge, lot{stalks: 7})
	c[1].worksAtH = math.Inf(1)
	c[4].charge = append(c[4].charge, lot{stalks: 9})
	for i := range c {
		c[i].why = DryerNotReady
	}
	y.lookAround(8)
	require.Len(t, c[2].charge, 1)
	assert.Equal(t, 1000, c[2].charge[0].stalks)
	assert.Empty(t, c[3].charge, "200 are left: too few")
	assert.Equal(t, 1000+7+9, y.dryers.stalks())
	var why []DryerState
	for i := range c {
		why = append(why, c[i].why)
	}
	assert.Equal(t, []DryerState{DryerNotReady, DryerNotReady, DryerNotReady, DryerNoStalks, DryerNotReady}, why)

	y = calmRooms(r, 5)
	c = y.dryers.cabinets
	for i := range c {
		c[i].why = DryerNotReady
	}
	c[0].worksAtH, c[3].charge = 24, append(c[3].charge, lot{stalks: 1})
	y.lookAround(8)
	why = why[:0]
	for i := range c {
		why = append(why, c[i].why)
	}
	assert.Equal(t, []DryerState{DryerNotReady, DryerNoStalks, DryerNoStalks, DryerNotReady, DryerNoStalks}, why)
}

// What is drawn of a batch, by hand. Of 600 stalks half of which are of full grade 200 are
// drawn for 100, whose film goes up with the fire: the others are sorted out with their water and
// their film is shaken off. Nothing more is drawn of one that is drawn whole.
func TestDrawByHand(t *testing.T) {
	y := calmRooms(small(landing1(1)), 1)
	b := wetBatch(1, 600, 3)
	b.state.PeakIndex, b.state.FilmKgPerM2 = 1, 0.2
	draw := func(want int) (lot, float64) {
		y.yard.orderWet()
		y.yard.gradeOrder()
		return y.draw(0, want)
	}
	y.yard.lay(b)
	film := y.yard.film(&y.yard.batches[0])
	require.InDelta(t, 0.2/y.yard.dryLoad(&y.yard.batches[0]), film, 1e-12)
	l, filmKg := draw(100)
	assert.Equal(t, []int{100, 400, 100}, []int{l.stalks, y.yard.batches[0].stalks, y.month.Second + y.month.Rejected})
	assert.InDelta(t, 0.5, l.kept, 1e-6)
	assert.InDelta(t, 1, y.yard.batches[0].kept, 0, "what stays was not graded")
	assert.Zero(t, l.state.FilmKgPerM2)
	assert.InDelta(t, y.dryKg(100)*film, filmKg, 1e-12)
	assert.InDelta(t, y.dryKg(100)*film, y.water.Shed, 1e-12)
	assert.InDelta(t, y.dryKg(100)*3, y.water.Left, 1e-12)
	l, _ = draw(200)
	assert.Equal(t, []int{200, 0}, []int{l.stalks, y.yard.batches[0].stalks})
}

// Whatever the numbers, no more is drawn than is wanted, at most one stalk less, and every stalk
// and the film of what was drawn is in the books: the odd stalk of the rounding stays out.
func TestDrawIsExact(t *testing.T) {
	odd := 0
	for stalks := 500; stalks < 530; stalks++ {
		for want := 90; want < 100; want++ {
			y := calmRooms(small(landing1(1)), 1)
			b := wetBatch(1, stalks, 3)
			b.state.PeakIndex, b.state.FilmKgPerM2 = 1.3, 0.2
			y.yard.lay(b)
			y.yard.orderWet()
			y.yard.gradeOrder()
			l, filmKg := y.draw(0, want)
			sorted, left := y.month.Second+y.month.Rejected, y.yard.batches[0].stalks
			require.Equal(t, stalks, left+l.stalks+sorted)
			require.LessOrEqual(t, l.stalks, want)
			require.GreaterOrEqual(t, l.stalks, want-1)
			drawn := stalks - left
			require.InDelta(t, y.dryKg(drawn)*y.yard.film(&y.yard.batches[0]), filmKg+y.water.Shed, 1e-12)
			odd += int(math.Ceil(float64(want)*float64(stalks)/float64(y.yard.good[0]))) - drawn
		}
	}
	assert.Positive(t, odd, "the case was there")
}

// Loading by hand: 700 stalks of one batch and 300 of the next, by the rule; the rest stays, and
// the racks have the room of what went in. The hours of loading and unloading are booked, the
// fire is that of what was loaded, and it is lit half an hour later.
func TestLoadByHand(t *testing.T) {
	r := small(landing1(1))
	r.Dryer.LoadingRule, r.Dryer.BreakFraction, r.People.HandlingHPer1000 = OldestFirst, 0, 3
	y := calmRooms(r, 1)
	list := takes(y, 4)
	fresh := y.freshState().Moisture
	y.yard.lay(wetBatch(1, 700, 4))
	y.yard.lay(wetBatch(2, 1000, fresh))
	room, changes := y.yard.roomForFresh(), y.yard.changes
	m, ok := y.dryers.compose(&y.yard, y.dryers.fires.on(0), 7)
	assert.False(t, ok, "nothing is in the order yet: %+v", m)
	y.yard.orderWet()
	m, ok = y.dryers.compose(&y.yard, y.dryers.fires.on(0), 7)
	require.True(t, ok)
	require.Equal(t, 1000, m.stalks)
	*list = nil
	y.load(0, m, y.dryers.fires.on(0))
	d := &y.dryers.cabinets[0]
	require.Len(t, d.charge, 2)
	assert.Equal(t, []int{700, 300}, []int{d.charge[0].stalks, d.charge[1].stalks})
	require.Len(t, y.yard.batches, 1)
	assert.Equal(t, 700, y.yard.batches[0].stalks)
	assert.Equal(t, room+1000, y.yard.roomForFresh())
	assert.Greater(t, y.yard.changes, changes)
	assert.InDelta(t, 2*3, y.month.Tasks.Handling, 1e-12)
	require.Len(t, *list, 1)
	assert.InDelta(t, float64(fresh), float64((*list)[0].wettest), 1e-12)
	assert.InDelta(t, (700*4+300*float64(fresh))/1000, float64((*list)[0].mean), 1e-12)
	assert.InDelta(t, 5.85, (*list)[0].dryKg, 1e-9)
	assert.Equal(t, []float64{0.5, 4.5}, []float64{d.lightH, d.fireOutH})

	y = calmRooms(r, 1)
	y.yard.lay(wetBatch(1, 1000, 4))
	room, changes = y.yard.roomForFresh(), y.yard.changes
	y.yard.orderWet()
	y.yard.gradeOrder()
	y.load(0, mix{stalks: 300, wettest: 4, mean: 4}, y.dryers.fires.on(0))
	assert.Equal(t, []int{300, room + 300}, []int{y.dryers.stalks(), y.yard.roomForFresh()}, "a part of a batch makes room too")
	assert.Greater(t, y.yard.changes, changes)
}

// The wood of a charge by hand: the water that goes up, the stalks and the cabinet, which is
// still warm within four hours after its last fire, and cold in its first.
func TestWoodOfACharge(t *testing.T) {
	r := small(landing1(1))
	r.Dryer.OpeningWoodKg = 5000
	burned := func(fireOutH, nowH, warm float64) {
		y := calmRooms(r, 1)
		takes(y, 6)
		d, fire := &y.dryers.cabinets[0], y.dryers.fires.on(0)
		d.fireOutH = fireOutH
		d.charge = append(d.charge, lot{stalks: 1000, kept: 1, state: stalk.State{Moisture: 4}})
		outH := y.dryers.light(0, mix{stalks: 1000, wettest: 4, mean: 4}, fire, nowH)
		assert.InDelta(t, nowH+6.5, outH, 1e-12)
		dry := y.dryKg(1000)
		course := courseOf(y.dryers.p, fire, 1000, 4)
		course.DryingH = 6
		up := dry * (4 - float64(course.After(4)))
		want := fire.WoodKg(charge.WoodBill{WaterKg: up, LoadedWaterKg: 4 * dry, DryKg: dry, DryingH: 6, Warm: warm})
		assert.InDelta(t, want, d.woodKg, 1e-9, "%g h after its fire", nowH-fireOutH)
		assert.InDelta(t, 5000-want, y.dryers.woodKg, 1e-9)
		assert.InDelta(t, up, y.water.DrivenOff, 1e-9)
		assert.True(t, math.IsInf(d.coldFromH, 1) && math.IsInf(d.unloadedH, 1), "nobody knows yet")
	}
	burned(10, 13.5, 0.4)
	burned(10, 13.6, 0)
	burned(0, 1, 0)
	burned(0.5, 1, 0.4)
}

// Fires burn from loading until they are out, each for itself.
func TestFiresThatBurn(t *testing.T) {
	ds := &calmRooms(small(landing1(3)), 3).dryers
	assert.Zero(t, ds.burning(0))
	for i, outH := range []float64{20, 22} {
		ds.cabinets[i].charge = append(ds.cabinets[i].charge, lot{stalks: 1})
		ds.cabinets[i].fireOutH = outH
	}
	ds.cabinets[2].fireOutH = 30
	assert.Equal(t, []int{2, 1, 0}, []int{ds.burning(19.9), ds.burning(20), ds.burning(22)})
}

// A cold charge that lies overnight takes up moisture, hour by hour of the air outside from
// the first whole hour after cooling, at the re-wetting rate; one unloaded at once does not.
func TestOvernightInTheCabinet(t *testing.T) {
	r := small(landing1(1))
	days, hours := sunny(61)
	y := roomsOf(r, 1, season(r, parameters(), days, hours))
	d := &y.dryers.cabinets[0]
	d.charge = append(d.charge, lot{stalks: 300, kept: 1, state: stalk.State{Moisture: 0.1}}, lot{stalks: 100, kept: 1, state: stalk.State{Moisture: 0.12}})
	d.coldFromH, d.why = 20.3, DryerNoTime
	want, taken := []stalk.State{{Moisture: 0.1}, {Moisture: 0.12}}, 0.0
	for h := 21; h < 31; h++ {
		still := stalk.NewStillAir(hours[h].TempC, hours[h].Humidity, &y.p.Stalk)
		rate := y.p.Stalk.RewettingFactor * stalk.DryingRatePerH(hours[h].TempC, y.p.Stalk.RateAt80CPerH, y.p.Stalk.ActivationKJPerMol)
		taken += y.dryKg(300)*want[0].Still(&still, rate, 1, &y.p.Stalk) + y.dryKg(100)*want[1].Still(&still, rate, 1, &y.p.Stalk)
	}
	lots := y.dryers.open(0, 31.5)
	require.Len(t, lots, 2)
	assert.Equal(t, want, []stalk.State{lots[0].state, lots[1].state})
	assert.Greater(t, lots[0].state.Moisture, stalk.DryBasis(0.1))
	assert.InDelta(t, -taken, y.water.Evaporated, 1e-12)
	assert.Empty(t, d.charge)
	assert.Equal(t, DryerNoStalks, d.why)

	d.charge = append(d.charge, lot{stalks: 300, kept: 1, state: stalk.State{Moisture: 0.1}})
	d.coldFromH = 40.2
	assert.InDelta(t, 0.1, float64(y.dryers.open(0, 40.7)[0].state.Moisture), 0)
}

// A charge that needs no drying needs no tending, by day or by night.
func TestAFireOfNoHours(t *testing.T) {
	y := calmRooms(small(landing1(1)), 1)
	d := &y.dryers.cabinets[0]
	d.charge, d.lightH, d.fireOutH = append(d.charge, lot{}), 23, 23
	y.fireGoesOut(0, 23)
	assert.Equal(t, []float64{0, 0}, []float64{y.month.Tasks.Tending, y.month.Tasks.Night})
	assert.Equal(t, 1, y.month.Charges)
}

// The hours of one dryer through two days, by hand: not ready until 8 h, without stalks until
// 9 h, then a charge that is lit at 9.5 h, out at 14, cold at 14.7 and unloaded from 31 to
// 31.5 h, then broken until 36 h and not wanted until it leaves at 40 h. Its shift is 7 to 19 h.
func TestHoursOfOneDryer(t *testing.T) {
	ds := &calmRooms(small(landing1(1)), 1).dryers
	d := &ds.cabinets[0]
	d.readyH, d.goneH = 8, 40
	ds.bookHours(0, 9)
	d.charge = append(d.charge, lot{stalks: 1})
	d.lightH, d.fireOutH, d.coldFromH, d.unloadedH = 9.5, 14, 14.7, 31.5
	ds.bookHours(0, 12)
	ds.bookHours(0, 12)
	ds.bookHours(0, 11)
	ds.bookHours(0, 31.5)
	d.charge = d.charge[:0]
	d.worksAtH = 36
	ds.idle(0, DryerNotWanted, 33)
	ds.bookHours(0, 48)
	want := DryerHours{
		DryerNotReady: 1, DryerNoStalks: 1, DryerHandling: 0.5 + 0.5, DryerFiring: 4.5, DryerCooling: 0.7,
		DryerWaiting: 19 - 14.7, DryerBroken: 36 - 31.5, DryerNotWanted: 4,
	}
	assert.InDeltaSlice(t, want[:], d.spent[:], 1e-9)
	assert.InDeltaSlice(t, want[:], ds.month.Shift[:], 1e-9)
	assert.InDelta(t, 12+9, d.spent.Sum(), 1e-9)
	ds.bookAll(47.99)
	assert.InDelta(t, 1+4, ds.month.IdleH, 1e-9, "without stalks, and not wanted")
}

// A dryer that stays for the same reason has one account for it; hours before another reason
// are those of the first.
func TestWhyADryerStandsChanges(t *testing.T) {
	ds := &calmRooms(small(landing1(1)), 1).dryers
	ds.idle(0, DryerNoStalks, 9)
	assert.Zero(t, ds.cabinets[0].bookedH, "nothing new")
	ds.idle(0, DryerNoWood, 10)
	ds.idle(0, DryerNoPeople, 12)
	ds.bookAll(18.5)
	want := DryerHours{DryerNoStalks: 3, DryerNoWood: 2, DryerNoPeople: 7}
	assert.InDeltaSlice(t, want[:], ds.month.Shift[:], 1e-9)
}

// A site that gives away more dryers than it has gives what it has, the last first, each on
// the day of its move.
func TestMoreMovesThanDryers(t *testing.T) {
	a, b := landing1(2), landing1(1)
	b.Name = "Old Sluice"
	r := small(a, b)
	for _, day := range []int{5, 9, 11} {
		r.Moves = append(r.Moves, Move{From: a.Name, To: b.Name, Day: day, DaysLost: 2})
	}
	r.Dryer.ReadyAfterDays = 3
	ds := &calmRooms(r, 2).dryers
	require.Len(t, ds.cabinets, 2)
	assert.Equal(t, []float64{9 * 24, 5 * 24}, []float64{ds.cabinets[0].goneH, ds.cabinets[1].goneH})
	assert.Equal(t, []float64{72, 72}, []float64{ds.cabinets[0].readyH, ds.cabinets[1].readyH})
	assert.Equal(t, 3, r.Coming(1))
	days, hours := calm(61)
	run := NewRunner(r)
	run.lane(0).begin(run, &Lane{1, 1, season(r, parameters(), days, hours)}, run.openDesk(0, 1, true))
	require.Len(t, run.lane(0).dryers.cabinets, 4)
	for i, want := range []dryer{{readyH: 72}, {bookedH: 5 * 24, readyH: 7 * 24}, {bookedH: 9 * 24, readyH: 11 * 24}, {bookedH: 11 * 24, readyH: 13 * 24}} {
		d := run.lane(0).dryers.cabinets[i]
		assert.Equal(t, []float64{want.bookedH, want.readyH}, []float64{d.bookedH, d.readyH}, "dryer %d", i)
		assert.True(t, math.IsInf(d.goneH, 1))
		assert.Equal(t, DryerNoStalks, d.why)
	}
}

// What keeps everybody from cutting, the first of the reasons that holds: a closed stand, the
// rain of the day or of a flush, the share. A day of just as much rain as allowed is cut.
func TestWhyNobodyCuts(t *testing.T) {
	r := small(landing1(0))
	r.Sites[0].Closed = []Closure{{FirstDay: 3, LastDay: 3}}
	r.Stand = Stand{FlushAboveMM: 40, FlushClosedDays: 2}
	y := calmRooms(r, 0)
	why := func(d int) string {
		at := y.whyNoCut(d)
		if at == nil {
			return ""
		}
		y.months[0] = SiteMonth{}
		*at = 1
		id, _ := y.month.Most(notCutInDay)
		return id.String()
	}
	y.season.Days[3].RainMM, y.season.Days[9].RainMM, y.season.Days[10].RainMM = 26, 25, 25.1
	assert.Equal(t, []string{"not_cut_stand_closed", "", "not_cut_rain"}, []string{why(3), why(9), why(10)})
	assert.Equal(t, []string{"not_cut_rain", ""}, []string{why(11), why(12)}, "50 mm in two days close the water for two")
	r.Contract = Contract{StalksByMonth: map[time.Month]int{time.June: 1000}}
	assert.Empty(t, why(20))
	y.road.enough = true
	assert.Equal(t, []string{"not_cut_target", "not_cut_rain", "not_cut_stand_closed"}, []string{why(20), why(10), why(3)})
}

// A morning by hand. On a day of 1.2 times the luck 4 cutters could bring 3,456 stalks. They
// owe 12 of their 24 hours: half of that is left. The racks take 1,000, and there is no heap.
func TestMorningByHand(t *testing.T) {
	r := small(landing1(0))
	r.People = People{Pool: true, WorkHPerDay: 6}
	r.Yard.HeapDaysOfCut = 0
	y := calmRooms(r, 0)
	r.Sites[0].ClearRoofM2, r.Sites[0].OpenRackM2 = 0, 1000.5*y.yard.m2PerStalk(false)
	y.season.Output[0][8] = 1.2
	y.people.owedH = 12
	assert.Equal(t, 1000, y.decideCut(8))
	assert.Equal(t, []int{1728, 728, 1}, []int{y.month.NotCutPeople, y.month.NotCutYardFull, y.month.WorkDays})
	assert.InDelta(t, 0.5*24*1000/1728, y.month.CutH, 1e-9)

	y.people.owedH = 36
	assert.Zero(t, y.decideCut(13), "the fourteenth day is one of rest")
	assert.InDelta(t, 12, y.people.owedH, 1e-12, "on which other work is done")
	assert.Equal(t, []int{1728, 728, 1}, []int{y.month.NotCutPeople, y.month.NotCutYardFull, y.month.WorkDays})

	y.season.Days[15].RainMM = 30
	y.people.owedH = 0
	assert.Zero(t, y.decideCut(15))
	assert.Equal(t, 2880, y.month.NotCutRain)
	r.People.Away = []Away{{FirstDay: 16, LastDay: 16, Fraction: 0.75}}
	assert.Equal(t, 720, y.decideCut(16))
	assert.Equal(t, 1728+2160, y.month.NotCutPeople)
	assert.InDelta(t, 0.5*24*1000/1728+6, y.month.CutH, 1e-9)
}

// One stalk left over from an old batch fires no charge of fresh ones: what asks is a stated
// part of a cabinet at risk, of full grade and not dry. A cabinet of 1,000 fresh stalks asks at
// a tenth from 100 on.
func TestOneLeftoverStalkFiresNoCharge(t *testing.T) {
	r := small(landing1(1))
	r.Sites[0].OpenRackM2 = 10_000
	r.Dryer.AtRiskFraction = 0.1
	y := calmRooms(r, 1)
	old, fresh := y.freshState(), y.freshState()
	old.MouldIndex, old.PeakIndex = 0.3, 0.3
	y.yard.lay(batch{cutDay: 0, at: openRack, stalks: 1, kept: 1, state: old})
	y.yard.lay(batch{cutDay: 3, at: openRack, stalks: 749, kept: 1, state: fresh})
	assert.False(t, y.wantsFire(), "one stalk of 750")
	n := &y.yard.batches[0].stalks
	least := int(math.Ceil(100 / stalk.FullShare(0.3, y.p.Stalk.MouldSpread))) // 99.9 % of them are of full grade
	*n = least - 1
	assert.False(t, y.wantsFire())
	*n = least
	assert.True(t, y.wantsFire())
	r.Dryer.AtRiskFraction = 0
	*n = 2
	assert.True(t, y.wantsFire(), "where any stalk may ask")
	y.yard.batches[0].state.PeakIndex = 6
	assert.False(t, y.wantsFire(), "not one of them is of full grade")
	y.yard.batches[0].state = old
	y.yard.batches[0].state.Moisture = y.p.Cabinet.Target.DryBasis()
	assert.False(t, y.wantsFire(), "what is dry waits for the store, not for a fire")
	r.Dryer.AtRiskFraction = 1
	y.yard.batches[0].state = old
	*n = 1000
	assert.False(t, y.wantsFire(), "999 of full grade are less than a full cabinet")
	*n = 1100
	assert.True(t, y.wantsFire())
}
