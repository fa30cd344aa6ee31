package sim

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"drystalk/sim/stalk"
)

// opening returns the region with the state in which it opens stated as that of its first day.
func opening(r *Region) *Region {
	c := r.Clone()
	c.Start = Start{Hub: r.Hub.OpeningStock}
	for i := range r.Sites {
		c.Start.Sites = append(c.Start.Sites, SiteStart{Store: r.Sites[i].OpeningStock})
	}
	return c
}

// anyRegionOfDays draws a region with a season of at most so many days.
func anyRegionOfDays(t *rapid.T, most int) (r *Region, days int) {
	r = anyRegion(t)
	r.Calendar.Days = min(r.Calendar.Days, most)
	return r, r.Calendar.Days
}

// A season taken up on its first day, with what the plan opens with, is the season as ever, to the
// last bit of its ledger.
func TestRandomRegionTakenUpOnItsFirstDayIsAsEver(t *testing.T) {
	days, hours := mixedDays(61)
	rapid.Check(t, func(t *rapid.T) {
		r, n := anyRegionOfDays(t, 8)
		s := season(r, parameters(), days[:n], hours[:24*n])
		run, again := NewRunner(r), NewRunner(opening(r))
		run.EveryDay, again.EveryDay = true, true
		want, err := run.Ledger(s)
		require.NoError(t, err)
		got, err := again.Ledger(s)
		require.NoError(t, err)
		require.Equal(t, want, got)
	})
}

// taken runs a season and returns its ledger and what lay where on a day.
func taken(t require.TestingT, r *Region, s *Season, day int) (RegionLedger, Start) {
	run := NewRunner(r)
	run.TakenOn = day
	l, err := run.Ledger(s)
	require.NoError(t, err)
	require.Len(t, run.Taken(), 1)
	return l, run.Taken()[0]
}

// A season stopped on a day and taken up again from what lay there goes on as it did: without dryers
// and with an empty store, when nobody owes hours and the hub speaks as it did, month by month the same.
func TestTakenUpAgainGoesOn(t *testing.T) {
	days, hours := mixedDays(61)
	r := small(landing1(0), landing1(0))
	r.Sites[1].Name = "Old Sluice"
	r.Hub.CollectionsPerMonth = 10
	for i := range r.Sites {
		r.Sites[i].ClearRoofM2, r.Sites[i].Cutters = 0, 2 // one kind of rack: where stalks lie is not noted
	}
	s := season(r, parameters(), days, hours)
	const day = 30 // the first of the second month: the month before has been collected and served
	whole, start := taken(t, r, s, day)
	require.NotEmpty(t, start.Sites[0].Yard)
	require.Zero(t, start.Sites[0].Store)
	later := r.Clone()
	later.Start = start
	rest, err := NewRunner(later).Ledger(s)
	require.NoError(t, err)
	assert.Equal(t, 0, rest.Hub[0].Asked)
	assert.Equal(t, start.Hub, rest.Hub[1].Opening)
	assert.Equal(t, whole.Hub[1].Delivered, rest.Hub[1].Delivered)
	assert.Equal(t, whole.Hub[1].Closing, rest.Hub[1].Closing)
	for i := range rest.Sites {
		assert.Equal(t, whole.Sites[i].Months[1].Cut, rest.Sites[i].Months[1].Cut)
		assert.Equal(t, whole.Sites[i].Months[1].ToHub, rest.Sites[i].Months[1].ToHub)
		assert.Equal(t, SiteMonth{}, rest.Sites[i].Months[0])
	}
}

// With dryers at work the charge that burned at midnight counts as dried, so months agree to a
// charge or two.
func TestTakenUpAgainWithDryers(t *testing.T) {
	days, hours := mixedDays(61)
	r := small(landing1(2))
	s := season(r, parameters(), days, hours)
	for day := 22; day < 55; day += 4 {
		whole, start := taken(t, r, s, day)
		later := r.Clone()
		later.Start = start
		rest, err := NewRunner(later).Ledger(s)
		require.NoError(t, err)
		assert.InDelta(t, whole.Hub[1].Available(), rest.Hub[1].Available(), 3500, "taken up on day %d", day)
	}
}

// What was delivered this month is no longer asked, and the month is met when the rest of it is.
func TestDeliveredThisMonth(t *testing.T) {
	r := small(landing1(0))
	r.Sites[0].Cutters, r.Contract.Tolerance = 0, 0.05
	days, hours := calm(61)
	s := season(r, parameters(), days, hours)
	for _, c := range []struct {
		delivered, hub int
		met            bool
	}{{0, 18_999, false}, {0, 19_000, true}, {15_000, 3999, false}, {15_000, 4000, true}, {19_000, 0, true}, {20_001, 0, true}} {
		r.Start = Start{Day: 20, Hub: c.hub, Delivered: c.delivered, Sites: make([]SiteStart, 1)}
		l, err := NewRunner(r).Ledger(s)
		require.NoError(t, err)
		assert.Equal(t, c.met, l.Hub[0].Met, "%d delivered, %d at the hub", c.delivered, c.hub)
		assert.Equal(t, max(0, 20_000-c.delivered), l.Hub[0].Asked)
	}
}

// Stalks that come once to the hub fill the contract of their month and what is left the next; to a
// site, they lie in its store and leave with the next collection.
func TestStalksThatComeOnce(t *testing.T) {
	r := small(landing1(0))
	r.Sites[0].Cutters = 0
	days, hours := calm(61)
	s := season(r, parameters(), days, hours)
	r.Start = Start{Day: 12, Sites: []SiteStart{{Store: 100}}, Comes: []Coming{{Day: 20, Site: AtHub, Stalks: 25_000}, {Day: 35, Site: 0, Stalks: 1000}}}
	l, err := NewRunner(r).Ledger(s)
	require.NoError(t, err)
	assert.Equal(t, 25_100, l.Hub[0].Arrived)
	assert.Equal(t, 20_000, l.Hub[0].Delivered)
	assert.Equal(t, 1000, l.Sites[0].Months[1].MovedIn)
	assert.Equal(t, 1000, l.Sites[0].Months[1].ToHub)
	assert.Equal(t, 5092+920, l.Hub[1].Available(), "92 of 100 pass the gate; what comes to the hub has passed")
}

// What waits in the dryers at dawn is in the store when the shift has unloaded it, and a dryer that is
// down fires nothing until the day it works again.
func TestWaitingAndDown(t *testing.T) {
	r := small(landing1(2))
	days, hours := soaked(61)
	s := season(r, parameters(), days, hours)
	s.Dryers = [][]DryerLuck{{{Out: true}, {Out: true}}}
	fires := func(at SiteStart) (first, total int, l RegionLedger) {
		r.Start = Start{Day: 10, Sites: []SiteStart{at}}
		run := NewRunner(r)
		run.EveryDay = true
		l, err := run.Ledger(s)
		require.NoError(t, err)
		first = -1
		for _, d := range l.Sites[0].Days {
			if total += d.Charges; first < 0 && d.Charges > 0 {
				first = d.Day
			}
		}
		return first, total, l
	}
	first, total, l := fires(SiteStart{Waiting: 1801, Known: true})
	assert.Positive(t, total, "dryers known to work are not out for the season")
	assert.Less(t, first, 14)
	assert.Equal(t, 10, l.Sites[0].Days[0].Day)
	assert.Equal(t, 1801, l.Sites[0].Days[0].InStore)
	first, _, _ = fires(SiteStart{Known: true, Down: 2, UpOnDay: 30})
	assert.GreaterOrEqual(t, first, 30)
	_, total, _ = fires(SiteStart{})
	assert.Zero(t, total, "unknown: as the season has them")
}

// Stalks balance exactly from any state on any day, and nothing is negative.
func TestBalanceFromRandomStarts(t *testing.T) {
	days, hours := mixedDays(61)
	rapid.Check(t, func(t *rapid.T) {
		r, n := anyRegionOfDays(t, 14)
		day := rapid.IntRange(0, n-1).Draw(t, "today")
		s := season(r, parameters(), days[:n], hours[:24*n])
		st := Start{Day: day, Hub: rapid.IntRange(0, 40_000).Draw(t, "at the hub"), Delivered: rapid.IntRange(0, 30_000).Draw(t, "delivered")}
		for i := range r.Sites {
			at := SiteStart{
				Store: rapid.IntRange(0, 9000).Draw(t, "store"), StandKgM2: 9, Known: rapid.Bool().Draw(t, "known"),
				Down: rapid.IntRange(0, 2).Draw(t, "down"), WoodKg: 500,
			}
			if r.Sites[i].Dryers > 0 {
				at.Waiting = rapid.IntRange(0, 900).Draw(t, "waiting")
			}
			for range rapid.IntRange(0, 3).Draw(t, "batches") {
				at.Yard = append(at.Yard, Lying{
					Stalks: rapid.IntRange(0, 4000).Draw(t, "stalks"), CutDay: day - rapid.IntRange(1, 12).Draw(t, "days ago"),
					Wet: stalkMoisture(rapid.SampledFrom([]float64{0, 0.2, 0.5, 0.85}).Draw(t, "wet")),
				})
			}
			st.Sites = append(st.Sites, at)
		}
		st.Comes = []Coming{{rapid.IntRange(day, n-1).Draw(t, "comes"), rapid.IntRange(AtHub, 1).Draw(t, "to"), 700}}
		r.Start = st
		run := NewRunner(r)
		run.EveryDay = true
		l, err := run.Ledger(s)
		require.NoError(t, err)
		for _, site := range l.Sites {
			require.Less(t, site.Water.Off(), 1e-9)
			season := SiteMonth{}
			for k := range site.Months {
				requireBalance(t, &site.Months[k])
				season.Add(&site.Months[k])
			}
			require.Len(t, site.Days, n-day)
			requireDays(t, site.Days, &season)
		}
	})
}

// What does not fit the region is an error that says what is allowed.
func TestNonsenseOfAStart(t *testing.T) {
	days, hours := calm(61)
	for want, start := range map[string]Start{
		"the stock of 2 sites, the region has 1":   {Sites: make([]SiteStart, 2)},
		"stock of day 61, the season has the days": {Day: 61, Sites: make([]SiteStart, 1)},
		"stock of day -1":                          {Day: -1, Sites: make([]SiteStart, 1)},
		"allowed: on a day from 3 to 60":           {Day: 3, Sites: make([]SiteStart, 1), Comes: []Coming{{Day: 2}}},
		"to a site or the hub":                     {Sites: make([]SiteStart, 1), Comes: []Coming{{Site: 1}}},
	} {
		r := small(landing1(1))
		r.Start = start
		_, err := NewRunner(r).Ledger(season(r, parameters(), days, hours))
		require.ErrorContains(t, err, want)
	}
}

// stalkMoisture is a wet-basis moisture as the season knows it; 0 where it is not stated.
func stalkMoisture(wet float64) stalk.DryBasis {
	if wet == 0 {
		return 0
	}
	return stalk.WetBasis(wet).DryBasis()
}
