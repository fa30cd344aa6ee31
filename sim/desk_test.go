package sim

import (
	"slices"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// deskOf opens the desk of a region of two sites in still air, of which each has its people.
func deskOf(r *Region) (*desk, []*siteSeason) {
	days, hours := calm(r.Calendar.Days)
	s := season(r, parameters(), days, hours)
	run := NewRunner(r)
	k := run.openDesk(0, 1, true)
	for i := range r.Sites {
		y := run.lane(i)
		k.sites = append(k.sites, y)
		y.begin(run, &Lane{i, 0, s}, k)
	}
	return k, k.sites
}

// says has the hub speak of a day, and all sites hear it.
func says(k *desk, d int, begins bool) {
	k.speak(d, begins)
	k.tell()
}

// nightAfter is what the hub does after a day: what ends is served, and all sites hear of the next day.
func nightAfter(k *desk, day int) {
	evenings([]*desk{k}, day)
	hear([]*desk{k})
}

// endOfJune lets June end at all sites and at the hub.
func endOfJune(k *desk) {
	for _, y := range k.sites {
		y.road.serve(&y.spans[0])
	}
	nightAfter(k, 29)
}

// dryAt puts dry stalks into the store of a site.
func dryAt(y *siteSeason, stalks int) {
	s := y.freshState()
	s.Moisture = y.p.Cabinet.Target.DryBasis()
	y.store.put(0, stalks, s)
}

// The word of the hub by hand. June asks for 1,000 and wants 200 ahead, July is the last month: it
// asks for 1,000 and stock is wanted for nobody. Of 500 at the hub and 760 dry at the sites 92 %
// count: 1,199.2. Of 100 that a collection took 80 were accepted: then 80 % count.
func TestTheHubSpeaks(t *testing.T) {
	r := small(landing1(0), landing1(0))
	r.Hub.OpeningStock = 500
	r.Contract.StalksByMonth = map[time.Month]int{time.June: 1000, time.July: 1000}
	r.Contract.TargetStock = map[time.Month]int{time.June: 200, time.July: 5000}
	k, sites := deskOf(r)
	enough := func(d int) bool {
		says(k, d, false)
		require.Equal(t, sites[0].road.enough, sites[1].road.enough, "no site stops before another")
		return sites[0].road.enough
	}
	dryAt(sites[0], 700)
	dryAt(sites[1], 60)
	assert.False(t, enough(0), "500 + 0.92 · 760 = 1,199.2")
	dryAt(sites[1], 1)
	assert.True(t, enough(0), "1,200.1")
	assert.True(t, enough(29))
	sites[0].road.deliver(18, lot{stalks: 87, state: sites[0].store.lots[0].state}, 100)
	assert.False(t, enough(29), "580 + 0.80 · 761 = 1,188.8")
	endOfJune(k)
	assert.Equal(t, []int{580, 0}, []int{k.months[0].Delivered, k.stock})
	assert.False(t, sites[0].road.enough, "608.8 of 1,000")
	dryAt(sites[0], 489)
	assert.True(t, enough(30), "0.80 · 1,250 = 1,000: no stock is wanted ahead in the last month")
	r.Contract.StalksByMonth[time.July] = 0
	r.Contract.Grace = true
	k, sites = deskOf(r)
	assert.Equal(t, []int{0, 0}, k.target, "June is the last month that asks")
	endOfJune(k)
	assert.False(t, enough(30), "500 of June may be made good in July")
	k.arrive(1, 500, 500)
	assert.True(t, enough(30))
}

// Where the hub speaks at collections only, each site may bring all that was missing then, counted
// from what it has brought to lie dry since.
func TestTheHubSpeaksAtCollections(t *testing.T) {
	r := small(landing1(0), landing1(0))
	r.Hub.Speaks, r.Hub.OpeningStock = SpeaksAtCollections, 400
	r.Contract.StalksByMonth = map[time.Month]int{time.June: 1000, time.July: 1000}
	r.Contract.TargetStock = nil
	k, sites := deskOf(r)
	dryAt(sites[0], 100)
	says(k, 0, true)
	enough := func() []bool { return []bool{sites[0].road.enough, sites[1].road.enough} }
	assert.Equal(t, []bool{false, false}, enough(), "508 are missing")
	dryAt(sites[0], 552)
	says(k, 1, false)
	assert.Equal(t, []bool{false, false}, enough(), "507.84 have come")
	dryAt(sites[0], 1)
	says(k, 2, false)
	assert.Equal(t, []bool{true, false}, enough(), "the other has heard of no more than that 508 were missing")
	sites[0].road.deliver(18, lot{stalks: 653}, 653)
	k.stock = 400
	sites[0].store.keep(func(*lot) bool { return false })
	says(k, 3, false)
	assert.Equal(t, []bool{true, false}, enough(), "what was collected was brought too")
	sites[0].road.calledOn = 14
	nightAfter(k, 14)
	assert.Equal(t, []bool{false, false}, enough(), "600 are missing now")
}

// A site to which the vehicle cannot come hears what is missing when it comes at last, and the others
// before it.
func TestThePutOffHearLater(t *testing.T) {
	r := small(landing1(0), landing1(0))
	r.Hub.Speaks, r.Hub.OpeningStock = SpeaksAtCollections, 1000
	r.Contract.StalksByMonth = map[time.Month]int{time.June: 1000, time.July: 1000}
	r.Contract.TargetStock = nil
	k, sites := deskOf(r)
	says(k, 0, true)
	enough := func() []bool { return []bool{sites[0].road.enough, sites[1].road.enough} }
	assert.Equal(t, []bool{true, true}, enough(), "nothing is missing")
	k.stock = 300
	nightAfter(k, 13)
	assert.Equal(t, []bool{true, true}, enough(), "nobody was told")
	sites[1].road.calledOn = 14 // planned for both
	nightAfter(k, 14)
	assert.Equal(t, []bool{true, false}, enough())
	nightAfter(k, 15)
	assert.Equal(t, []bool{true, false}, enough())
	sites[0].road.calledOn = 16
	nightAfter(k, 16)
	assert.Equal(t, []bool{false, false}, enough())
}

// What the hub does not hold it takes of the first site, then nothing of the second.
func TestAFullHubTakesTheFirst(t *testing.T) {
	r := small(landing1(0), landing1(0))
	r.Hub.StoreStalks, r.Hub.OpeningStock = 1000, 540
	k, sites := deskOf(r)
	assert.Equal(t, 460, k.room())
	assert.Equal(t, 500, sites[0].road.most(), "of which 92 % are accepted")
	sites[0].road.deliver(18, lot{stalks: 500}, 500)
	assert.Zero(t, sites[1].road.most())
}

// What came to be accepted counts of all collections so far, by hand: 80 of 100 and then 150 of 400
// are 230 of 500, 46 %, not the 37.5 % of the last alone.
func TestTheHubCountsAllCollections(t *testing.T) {
	k, sites := deskOf(small(landing1(0), landing1(0)))
	assert.Equal(t, 0.92, k.acceptedShare(), "as stated, before the first")
	k.arrive(0, 100, 80)
	k.arrive(0, 400, 150)
	assert.Equal(t, 0.46, k.acceptedShare())
	assert.Equal(t, []int{230}, k.accepted[:1])
	dryAt(sites[1], 1000)
	before := k.missing(0)
	dryAt(sites[0], 50)
	assert.InDelta(t, 23, before-k.missing(0), 1e-9)
}

// Where each site counts for itself it has its share of the room, of the stock and of what is asked, by
// hand: a quarter of 1,000, of which a quarter of 400 is taken, and of 2,000.
func TestAShareOfTheHub(t *testing.T) {
	r := small(landing1(0), landing1(0))
	r.Hub.StoreStalks, r.Hub.OpeningStock = 1000, 400
	r.Contract.StalksByMonth = map[time.Month]int{time.June: 2000, time.July: 1000}
	r.Contract.TargetStock = map[time.Month]int{time.June: 200}
	k := NewRunner(r).openDesk(0, 0.25, true)
	assert.Equal(t, 150, k.room())
	assert.Equal(t, []int{500, 250}, k.gate.Asked)
	assert.Equal(t, []int{50, 0}, k.target)
	k.arrive(0, 200, 149)
	assert.Equal(t, 1, k.room())
	k.arrive(0, 2, 2)
	assert.Zero(t, k.room(), "never less than nothing")
}

// One site hears the same however the hub speaks to it: daily, or of its share, which is all. Where it
// speaks at collections alone roads are open: of one that is put off it speaks when the vehicle comes, which
// may be in another month.
func TestOneSiteHearsTheSame(t *testing.T) {
	days, hours := mixedDays(61)
	rapid.Check(t, func(t *rapid.T) {
		r := anyRegion(t)
		r.Sites, r.Moves = r.Sites[:1], nil
		r.Sites[0].HaulTo = ""
		if r.Hub.Speaks == SpeaksAtCollections {
			r.Road.ClosedAboveMM = 0
		}
		n := r.Calendar.Days
		s := season(r, parameters(), days[:n], hours[:24*n])
		daily := ledgerOf(t, r, s)
		alone := NewRunner(r)
		lived, err := alone.Live([]Lane{{0, r.Sites[0].Dryers, s}})
		require.NoError(t, err)
		require.Equal(t, daily.Sites[0].Months, lived[0].Months)
		r.Hub.Speaks = SpeaksByCutters
		require.Equal(t, daily, ledgerOf(t, r, s))
	})
}

// Where so much is asked that there is never enough, sites live as if alone, and plans that live
// side by side live as each by itself. What the hub has counted is what it serves, to the stalk.
func TestWhatTheHubCountsIsWhatItServes(t *testing.T) {
	days, hours := mixedDays(61)
	rapid.Check(t, func(t *rapid.T) {
		r := anyRegion(t)
		never := rapid.Bool().Draw(t, "never enough")
		if never {
			r.Hub.StoreStalks = 0
			for m := range r.Contract.StalksByMonth {
				r.Contract.StalksByMonth[m] = 1_000_000_000
			}
		}
		n := r.Calendar.Days
		s := season(r, parameters(), days[:n], hours[:24*n])
		order, err := r.HaulOrder()
		require.NoError(t, err)
		run := NewRunner(r)
		var plans [][]Lane
		for more := range 2 {
			var lanes []Lane
			for _, site := range order {
				lanes = append(lanes, Lane{site, r.Sites[site].Dryers + more, s})
			}
			plans = append(plans, lanes)
		}
		lived, err := run.LivePlans(plans)
		require.NoError(t, err)
		var got []Lived
		for i := range lived {
			got = append(got, copied(&lived[i]))
		}
		led := ledgerOf(t, r, s)
		require.Equal(t, led.Sites[order[0]].Months, got[0].Months, "side by side as by itself")
		if r.Coupled() {
			require.True(t, slices.EqualFunc(led.Hub, run.desks[0].months, func(a, b HubMonth) bool {
				return a.Delivered == b.Delivered && a.MadeGood == b.MadeGood && a.Closing == b.Closing && a.Spoiled == b.Spoiled
			}), "%+v\n%+v", led.Hub, run.desks[0].months)
		}
		if shares := r.Shares(); never && min(shares[0], shares[1]) > 0.01 {
			r.Hub.Speaks = SpeaksByCutters
			require.Equal(t, led.Sites, ledgerOf(t, r, s).Sites)
		}
	})
}

func ledgerOf(t require.TestingT, r *Region, s *Season) RegionLedger {
	l, err := NewRunner(r).Ledger(s)
	require.NoError(t, err)
	return l
}

// More to begin with never delivers less by more than a counted exception, in random regions and the
// same season: a dryer more at a site, a tenth more cutters (one at least), or more stock at the hub with
// as much more wanted ahead. The exception, one of 200 regions for cutters and for stock when it was
// counted: what is cut more lies in the way of what was there. In at most one of fifty it is more
// than a hundredth of what is asked.
func TestMoreDeliversNoLess(t *testing.T) {
	days, hours := mixedDays(61)
	drawn := rapid.Custom(anyRegion)
	more := []struct {
		what string
		of   func(r *Region)
	}{
		{"a dryer", func(r *Region) { r.Sites[1].Dryers++ }},
		{"cutters", func(r *Region) { r.Sites[1].Cutters += 1 + r.Sites[1].Cutters/10 }},
		{"stock", func(r *Region) {
			r.Hub.OpeningStock += 2000
			for _, m := range r.Gate().Months {
				r.Contract.TargetStock[m] += 2000
			}
		}},
	}
	const regions = 200
	for _, m := range more {
		less, gained, tried := 0, 0, 0
		for i := range regions {
			r := drawn.Example(i)
			r.Moves = nil
			if r.Contract.TargetStock == nil {
				r.Contract.TargetStock = map[time.Month]int{}
			}
			n := r.Calendar.Days
			with := r.Clone()
			m.of(with)
			before, now := deliveredOf(t, r, season(r, parameters(), days[:n], hours[:24*n])), deliveredOf(t, with, season(with, parameters(), days[:n], hours[:24*n]))
			asked := 0
			for _, n := range r.Gate().Asked {
				asked += n
			}
			if asked == 0 {
				continue
			}
			tried++
			switch diff := now - before; {
			case 100*diff < -asked:
				less++
				t.Logf("%s, region %d: %d -> %d of %d", m.what, i, before, now, asked)
			case diff > 0:
				gained++
			}
		}
		t.Logf("%s: of %d regions %d deliver more, %d clearly less", m.what, tried, gained, less)
		assert.Greater(t, tried, regions/2)
		assert.Positive(t, gained)
		assert.LessOrEqual(t, 50*less, tried, m.what)
	}
}

// deliveredOf returns what a region delivers in a season.
func deliveredOf(t require.TestingT, r *Region, s *Season) int {
	sum := 0
	for _, m := range ledgerOf(t, r, s).Hub {
		sum += m.Delivered + m.MadeGood
	}
	return sum
}
