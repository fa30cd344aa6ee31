package sim

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drystalk/sim/stalk"
)

// A charge goes to the store as far as that has room; the rest lies on a rack, closed up, as
// stalks of that day.
func TestAFullStore(t *testing.T) {
	r := small(landing1(1))
	r.Sites[0].StoreStalks = 100
	y := calmRooms(r, 1)
	s := y.freshState()
	s.Moisture = y.p.Cabinet.Target.DryBasis()
	d := &y.dryers.cabinets[0]
	d.charge = append(d.charge, lot{stalks: 150, kept: 1, state: s})
	d.coldFromH = 57
	y.unload(0, 57)
	assert.Equal(t, 100, y.store.stalks())
	assert.Zero(t, y.store.room())
	require.Len(t, y.yard.batches, 1)
	b := y.yard.batches[0]
	assert.Equal(t, []int{50, 2}, []int{b.stalks, b.cutDay})
	assert.True(t, b.state.Predried)
	assert.Empty(t, d.charge)
	y.storeFinished(58)
	assert.Equal(t, 50, y.yard.stalks(), "still no room")
	y.store.lots = y.store.lots[:0]
	y.storeFinished(59)
	assert.Equal(t, []int{0, 50}, []int{y.yard.stalks(), y.store.stalks()})
}

// Half of a batch is hauled and the rest stays; the site of the dryers lays it out the same
// day, an hour later.
func TestHaulingByHand(t *testing.T) {
	a, b := landing1(0), landing1(1)
	b.Name, b.Cutters = "Old Sluice", 0
	a.HaulTo, a.HaulStalksPerDay = b.Name, 150
	r := small(a, b)
	r.People.HaulHPer1000 = 4
	y := calmRooms(r, 0)
	for range 3 {
		y.yard.lay(batch{at: openRack, stalks: 100, kept: 0.8, state: y.freshState()})
	}
	y.haulAway(3)
	require.Len(t, y.road.sent, 2)
	assert.Equal(t, []int{3, 100, 3, 50}, []int{y.road.sent[0].day, y.road.sent[0].stalks, y.road.sent[1].day, y.road.sent[1].stalks})
	require.Len(t, y.yard.batches, 2)
	assert.Equal(t, []int{50, 100}, []int{y.yard.batches[0].stalks, y.yard.batches[1].stalks})
	assert.Equal(t, 150, y.month.MovedOut)
	assert.InDelta(t, 0.6, y.month.Tasks.Hauling, 1e-12)
	assert.InDelta(t, y.dryKg(150)*float64(y.freshState().Moisture), y.water.Left, 1e-12)

	y.road.coming = y.road.sent
	y.receive(2)
	assert.Zero(t, y.month.MovedIn)
	y.receive(3)
	assert.Equal(t, 150, y.month.MovedIn)
	assert.Equal(t, 300, y.yard.stalks())
	assert.InDelta(t, 0.8, y.yard.batches[2].kept, 1e-12)
	assert.InDelta(t, y.water.Left, y.water.MovedIn, 1e-12)
}

// A rotten batch is thrown out, one at the limit itself is not.
func TestThrowingOut(t *testing.T) {
	y := &calmRooms(small(landing1(0)), 0).yard
	for _, index := range []float64{y.rottenAbove, y.rottenAbove + 1e-9, 0} {
		y.lay(batch{at: heap, stalks: 10, kept: 1, state: stalk.State{Moisture: 1, PeakIndex: index}})
	}
	y.throwOutRotten()
	require.Len(t, y.batches, 2)
	assert.Equal(t, 10, y.month.ThrownOut)
	assert.InDelta(t, y.dryKg(10), y.water.Left, 1e-12)
	assert.InDelta(t, 0.1, stalk.FullShare(y.rottenAbove, y.p.Stalk.MouldSpread), 1e-6, "a tenth is of full grade there")
}

// The gate of a site and the desk of its share of the hub, by hand: of 100 stalks 92 are accepted,
// or with twice the refused share 84; there is enough when what lies at the hub and, by the share
// accepted so far, in the store makes up the month and the stock ahead.
func TestShareAtTheHub(t *testing.T) {
	r := small(landing1(0), landing1(0))
	r.Hub.OpeningStock, r.Hub.Speaks = 600, SpeaksByCutters
	r.Contract.StalksByMonth[time.June], r.Contract.TargetStock[time.June] = 700, 176
	y := calmRooms(r, 0)
	k := y.road.desk
	assert.Equal(t, []int{300, 350, 88}, []int{k.stock, k.gate.Asked[0], k.target[0]}, "half of all")
	y.road.deliver(18, lot{stalks: 100, state: stalk.State{Moisture: 0.15}}, 100)
	assert.Equal(t, []int{100, 8}, []int{y.month.ToHub, y.month.RefusedAtGate})
	assert.Equal(t, 392, k.stock)
	state := y.freshState()
	state.Moisture = y.p.Cabinet.Target.DryBasis()
	y.store.put(18, 49, state)
	says(k, 1, false)
	assert.False(t, y.road.enough, "392 + 45.08 of 438")
	y.store.put(18, 1, state)
	says(k, 1, false)
	assert.True(t, y.road.enough, "392 + 46")
	y.road.serve(&y.spans[0])
	nightAfter(k, 29)
	assert.Equal(t, 42, k.stock)
	assert.Equal(t, []int{350, 350}, []int{k.months[0].Delivered, k.months[0].Asked})

	days, hours := calm(61)
	s := season(r, parameters(), days, hours)
	s.Refused = []float64{2, 1}
	y = roomsOf(r, 0, s)
	assert.InDelta(t, 0.84, y.road.accepted, 1e-12)
}

// The vehicle comes for the minimum and not for one stalk less; it is full with what it holds;
// of a lot that does not fit whole goes what fits.
func TestVehicle(t *testing.T) {
	r := small(landing1(0))
	r.Road = Road{MinimumStalks: 100, VehicleStalks: 250}
	y := calmRooms(r, 0)
	assert.True(t, y.road.worthIt(100))
	assert.False(t, y.road.worthIt(0))
	assert.Zero(t, y.month.Skipped, "nothing to fetch is no collection skipped")
	assert.False(t, y.road.worthIt(99))
	assert.Equal(t, 1, y.month.Skipped)
	s := y.freshState()
	s.Moisture = y.p.Cabinet.Target.DryBasis()
	for i, n := range []int{150, 100, 1, 30} {
		y.store.put(float64(i), n, s)
	}
	assert.Equal(t, 250, y.road.load(&y.store, &y.people).stalks)
	require.Len(t, y.store.lots, 2)
	assert.Equal(t, 31, y.store.stalks())
	assert.Equal(t, 31, y.road.load(&y.store, &y.people).stalks)
}

// Stalks that come into the store together lie together: moisture and index are the mean by
// stalks; those of another hour lie apart.
func TestLotsOfTheStore(t *testing.T) {
	y := calmRooms(small(landing1(0)), 0)
	wet, dry := stalk.State{Moisture: 0.2, MouldIndex: 0.4, PeakIndex: 0.8, StillH: 10, AgeH: 100}, stalk.State{Moisture: 0.1}
	y.store.put(5, 100, wet)
	y.store.put(5, 300, dry)
	y.store.put(5, 0, wet)
	y.store.put(6, 10, dry)
	require.Len(t, y.store.lots, 2)
	l := y.store.lots[0]
	assert.Equal(t, 400, l.stalks)
	got := []float64{float64(l.state.Moisture), l.state.MouldIndex, l.state.PeakIndex, l.state.StillH, l.state.AgeH}
	assert.InDeltaSlice(t, []float64{0.125, 0.1, 0.2, 2.5, 25}, got, 1e-12)
	assert.InDelta(t, stalk.FullShare(0.2, y.p.Stalk.MouldSpread), l.kept, 1e-12)
	assert.InDelta(t, y.dryKg(400)*0.125+y.dryKg(10)*0.1+3, y.store.addWater(3), 1e-12)
	y.store.age(5, 0)
	assert.Equal(t, l, y.store.lots[0], "nothing happens in no time")
	y.store.age(7, 0)
	y.store.put(7, 10, dry)
	require.Len(t, y.store.lots, 3, "stalks of an hour in which others were looked at are a lot of their own")
	y.store.age(29, 0) // in air of 80 %, where stalks come to rest at more
	assert.Greater(t, y.store.lots[0].state.Moisture, l.state.Moisture)
	assert.InDelta(t, 29, y.store.lots[0].sinceH, 0)
}
