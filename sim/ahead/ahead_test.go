package ahead

import (
	"context"
	"slices"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drystalk/scenarios"
	"drystalk/sim"
	"drystalk/sim/trials"
)

// idle is one cooperative where nobody cuts, from the first of June: only what lies there is delivered.
func idle(t *testing.T) Question {
	t.Helper()
	b := hard(t)
	r := b.set.Region
	r.Sites[0].Cutters, r.Sites[0].Dryers = 0, 0
	r.Start = sim.Start{Day: 0, Hub: 50_000, Sites: []sim.SiteStart{{Store: 1000}}}
	c, err := b.of.Setup(1)
	require.NoError(t, err)
	return Question{Setup: b.set, Prices: c.Prices, Target: 0.9, Seasons: 30, RentReadyDays: 3}
}

// ask asks and expects an answer.
func ask(t *testing.T, q Question) Answer {
	t.Helper()
	a, err := Ask(context.Background(), q)
	require.NoError(t, err)
	return a
}

// Where nobody cuts, months, stock by date and a truckload can be counted by hand: 38,000 are asked a
// month, of which 36,100 are enough; 50,000 lie at the hub and 1,000 at the site.
func TestMonthsStockAndTruckByHand(t *testing.T) {
	q := idle(t)
	q.Truck = &Truckload{Stalks: 30_000, Day: 40, Price: 0.07}
	a := ask(t, q)
	assert.Equal(t, "1 June", a.Today)
	now := a.Ways[0]
	require.Len(t, now.Months, 4)
	for k, met := range []int{30, 0, 0, 0} {
		assert.Equal(t, met, now.Months[k].Odds.Met, now.Months[k].Name)
		assert.Equal(t, 38_000, now.Months[k].Asked)
	}
	assert.Equal(t, 0, now.All.Met)
	assert.Equal(t, 1, now.Worst)
	assert.InDelta(t, 12_900, now.Months[1].Available.Median, 200, "12,000 left and what the gate takes of 1,000")

	require.Len(t, a.Stock, 4)
	assert.Equal(t, "today", a.Stock[0].Date)
	assert.InDelta(t, 4*36_100, a.Stock[0].Needed, 150, "nobody knows what the gate takes of the 1,000 at the site")
	assert.Equal(t, []int{3 * 36_100, 2 * 36_100, 36_100}, []int{a.Stock[1].Needed, a.Stock[2].Needed, a.Stock[3].Needed})
	assert.Equal(t, "30 June", a.Stock[1].Date)
	assert.InDelta(t, 12_900, a.Stock[1].Expected.Median, 200)
	assert.Equal(t, 0, a.Stock[1].Enough.Met)

	require.NotNil(t, a.Truck)
	assert.Equal(t, "11 July", a.Truck.On)
	assert.Equal(t, 30, a.Truck.Months[1].Odds.Met)
	assert.Equal(t, 1.0, a.Truck.Months[1].Gain.Mean)
	assert.Equal(t, 0.0, a.Truck.Gain.Mean)
	assert.InDelta(t, 30_000, a.Truck.Sold.Mean, 1e-9, "all of it is sold in July and August")
	assert.InDelta(t, q.Prices.PerGoodStalk, a.Truck.Worth.Mean, 1e-9, "no more and no less than the buyer pays")
	assert.InDelta(t, 30_000*(q.Prices.PerGoodStalk-0.07), a.Truck.Money.Mean, 1e-6)
	assert.Equal(t, 30, a.Truck.Pays.Met)
	assert.Empty(t, a.Load)
}

// What was delivered this month is no longer asked; with nothing asked ahead there is no answer.
func TestNothingAhead(t *testing.T) {
	q := idle(t)
	q.Setup.Region.Start.Day, q.Setup.Region.Start.Delivered = 110, 38_000
	_, err := Ask(context.Background(), q)
	require.ErrorIs(t, err, ErrNothingAhead)
	q.Setup.Region.Start.Delivered = 2000
	a := ask(t, q)
	require.Len(t, a.Ways[0].Months, 1)
	assert.Equal(t, 36_000, a.Ways[0].Months[0].Asked)
	assert.Equal(t, 30, a.Ways[0].Months[0].Odds.Met)
	require.Len(t, a.Stock, 1)
}

// Each way changes what it says and nothing else; where it changes nothing it is not tried, and night
// fires only with the word of those who tend them.
func TestEachWayByHand(t *testing.T) {
	b := hard(t)
	r := b.set.Region
	r.Start = sim.Start{Day: 50, Sites: []sim.SiteStart{{}}}
	q := Question{Setup: b.set, RentReadyDays: 5}
	seen := map[Key]bool{}
	for _, w := range table {
		c := r.Clone()
		require.True(t, w.apply(c, &q), w.key)
		seen[w.key] = true
		end := c.Dryer.ShiftEndH + c.Sites[0].LongerShiftH
		switch w.key {
		case Evening:
			assert.Equal(t, 22.0, end)
		case NightFire:
			assert.Equal(t, 30.0, end)
			assert.True(t, w.night)
		case StopCut:
			assert.Equal(t, []sim.Closure{{Why: "cutting is stopped", FirstDay: 50, LastDay: 56}}, c.Sites[0].Closed)
		case ShipEarly:
			assert.Equal(t, 2*r.Hub.CollectionsPerMonth, c.Hub.CollectionsPerMonth)
		case RentDryer:
			assert.Equal(t, r.Sites[0].Dryers+1, c.Sites[0].Dryers)
			assert.Equal(t, sim.SiteStart{New: 1, NewOnDay: 55}, c.Start.Sites[0])
		}
		assert.Equal(t, w.key == NightFire, w.night)
	}
	assert.Len(t, seen, 5)
	r.Sites[0].LongerShiftH, r.Hub.CollectionsPerMonth = 12, 8
	for _, w := range table[:2] {
		assert.False(t, w.apply(r.Clone(), &q), w.key)
	}
	assert.False(t, shipEarly(r.Clone(), &q))
	assert.False(t, rentDryer(r.Clone(), &Question{rentAt: -1}))
	var a Answer
	_, ways := q.variants(&a)
	assert.Len(t, ways, 3, "as now, no cutting, a rented dryer")
}

// A rented dryer stands where it leaves the fewest stalks missing, works from its day, and makes up for
// none that lies idle; more dryers burn more wood.
func TestRentedDryer(t *testing.T) {
	b := hard(t)
	b.set.Region.Start = sim.Start{Day: 30, Hub: 5000, Sites: []sim.SiteStart{{Known: true, Yard: []sim.Lying{{Stalks: 6000, CutDay: 27}}}}}
	a := ask(t, Question{Setup: b.set, Target: 0.9, Seasons: 30, RentReadyDays: 3})
	rented := a.Ways[len(a.Ways)-1]
	require.Equal(t, RentDryer, rented.Key)
	assert.Equal(t, "Heron Point", rented.Site)
	assert.Less(t, rented.Missed.Mean, a.Ways[0].Missed.Mean)
	assert.Nil(t, rented.Money)
	assert.True(t, a.NightLeft)
	require.Len(t, a.Load, 1)
	l := a.Load[0]
	assert.Equal(t, 1.0, l.Fired.Share, "6,000 wet stalks, three days old, in the rains")
	require.NotEmpty(t, l.Of)
	sum := 0.0
	for _, of := range l.Of {
		sum += of.Stalks
	}
	assert.InDelta(t, l.Stalks, sum, 1e-9)
	assert.Equal(t, 3, l.Of[0].DaysAgo)
	assert.LessOrEqual(t, l.Stalks, float64(b.set.Region.Dryer.HoldsPredried))
}

// What was cut narrows what output is thought possible, and moves it; seasons then count differently.
func TestTalliesNarrowOutput(t *testing.T) {
	b := hard(t)
	b.set.Region.Start = sim.Start{Day: 30, Hub: 5000, Sites: []sim.SiteStart{{Known: true}}}
	b.set.Known = &trials.Known{Day: 30, Output: []trials.CutSoFar{{Days: 24, LogMean: -0.3}}}
	a := ask(t, Question{Setup: b.set, Target: 0.9, Seasons: 60, RentReadyDays: 3})
	require.NotNil(t, a.Output)
	assert.Equal(t, []int{24, 1, 24, 24}, []int{a.Output.Days, a.Output.Sites, a.Output.Fewest, a.Output.Most})
	assert.Less(t, a.Output.Now.P95-a.Output.Now.P5, 0.7*(a.Output.Before.P95-a.Output.Before.P5))
	assert.Less(t, a.Output.Now.Median, a.Output.Before.Median)
	assert.True(t, a.Weighted)
	assert.Less(t, a.Effective, 60.0)
	assert.Equal(t, int(a.Effective+0.5), a.Ways[0].All.Seasons)
}

// A rented dryer that would be ready only after the last month that asks for stalks is not listed; one
// that is ready on the last day of that month is.
func TestRentedDryerTooLate(t *testing.T) {
	q := idle(t)
	r := q.Setup.Region
	gate := r.Gate()
	last := r.Calendar.Months()[gate.LastAsked()].LastDay
	for after, listed := range map[int]bool{0: true, 1: false} {
		q.RentReadyDays = last + after
		a := ask(t, q)
		assert.Equal(t, listed, slices.ContainsFunc(a.Ways, func(w Way) bool { return w.Key == RentDryer }), after)
		assert.Equal(t, !listed, a.RentLate)
	}
}

// By how much a way lies behind the best is counted season by season.
func TestBehindTheBest(t *testing.T) {
	w := run{weights: []float64{1, 1, 1, 1}}
	ways := []Way{{Key: AsNow}, {Key: Evening, Gain: trials.Mean{Mean: 0.5, Low: 0.1}}, {Key: RentDryer, Gain: trials.Mean{Mean: 0.75, Low: 0.2}}}
	lived := []*judged{{all: make([]bool, 4)}, {all: []bool{true, true, false, false}}, {all: []bool{true, false, true, true}}}
	w.behind(ways, lived)
	require.NotNil(t, ways[1].Behind)
	assert.Equal(t, 0.25, ways[1].Behind.Mean)
	assert.Less(t, ways[1].Behind.Low, 0.0)
	assert.Nil(t, ways[0].Behind)
	assert.Nil(t, ways[2].Behind)
	assert.Equal(t, 2, Best(ways))
	assert.Equal(t, -1, Best(ways[:1]))
}

// A scenario of several sites looks for the best site of a rented dryer among those that cut most for
// each dryer.
func TestRentSites(t *testing.T) {
	s, err := scenarios.Demo(scenarios.LakeTavari)
	require.NoError(t, err)
	r := s.Region.Clone()
	r.Sites[1].Dryers = 2
	assert.Equal(t, []int{0, 2, 3, 4}, rentSites(r), "Heron Point has two for its six cutters")
	assert.Equal(t, time.March, r.Calendar.StartMonth)
}
