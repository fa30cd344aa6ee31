package decide

import (
	"context"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drystalk/sim"
	"drystalk/sim/trials"
)

// tight is the small region with a contract that is missed in some seasons, and its table of
// seasons from 5 on.
func tight(t *testing.T, seasons int) (trials.Setup, *trials.Table) {
	s, set := small(t)
	s.Region.Contract.StalksByMonth = map[time.Month]int{time.June: 22_000, time.July: 22_000}
	set.Region = &s.Region
	table, err := set.Table(t.Context(), 5, seasons, trials.Only([]int{1}), nil)
	require.NoError(t, err)
	return set, table
}

// Missed months by hand of the ledgers: of the first seasons with any, each with its number; no
// more seasons are looked at than asked for.
func TestMissedMonths(t *testing.T) {
	set, table := tight(t, 16)
	var want []miss
	with, of := 0, 0
	for n := 5; n < 21 && with < 3; n++ {
		of++
		l, err := set.Ledger(n)
		require.NoError(t, err)
		before := len(want)
		for k, m := range l.Hub {
			if !m.Met {
				want = append(want, miss{n, k})
			}
		}
		if len(want) > before {
			with++
		}
	}
	require.Equal(t, 3, with)
	require.Greater(t, of, 3, "some seasons miss nothing")
	var s Shortage
	assert.Equal(t, want, missedMonths(table, []int{1}, 3, &s))
	assert.Equal(t, Shortage{Seasons: 3, OfAll: of, Months: len(want)}, s)
	s = Shortage{}
	assert.Empty(t, missedMonths(table, []int{1}, 0, &s))
	assert.Equal(t, Shortage{}, s)
	missedMonths(table, []int{1}, 1000, &s)
	assert.Equal(t, 16, s.OfAll, "no more than there are")
}

// What is short of a table agrees with why each of its seasons missed its months, which is found
// another way: by whole ledgers. Where nothing is made plentiful every month is missed again.
func TestShortAgreesWithWhy(t *testing.T) {
	set, table := tight(t, 16)
	plan := []int{1}
	short, err := WhatIsShort(t.Context(), set, Missing{Region: set.Region, Table: table, Plan: plan, Most: 4})
	require.NoError(t, err)
	require.Equal(t, 4, short.Seasons)

	met, alone, months := map[Relief]int{}, 0, 0
	for n := 5; n < 5+short.OfAll; n++ {
		why, err := Why(set, n)
		require.NoError(t, err)
		for _, m := range why {
			months++
			if len(m.MetWith) > 0 {
				alone++
			}
			for _, what := range m.MetWith {
				met[what]++
			}
		}
	}
	assert.Equal(t, months, short.Months)
	assert.Equal(t, trials.NewOdds(alone, months), short.Alone)
	require.NotEmpty(t, short.Single)
	require.Len(t, short.Single, len(met))
	for k, one := range short.Single {
		require.Len(t, one.Things, 1)
		assert.Equal(t, trials.NewOdds(met[one.Things[0]], months), one.Met)
		if k > 0 {
			assert.GreaterOrEqual(t, short.Single[k-1].Met.Met, one.Met.Met)
		}
	}

	var s Shortage
	again := livedAgain{set: set, region: planned(set.Region, plan), missed: missedMonths(table, plan, 4, &s)}
	same, err := again.with(t.Context(), [][]relief{{}})
	require.NoError(t, err)
	assert.Equal(t, [][]bool{make([]bool, months)}, same)
}

// Two things at once, by whole ledgers: of months that no single thing meets, as many are met
// by each pair as are said to be, and by any of them.
func TestPairsAgreeWithLedgers(t *testing.T) {
	s, set := small(t)
	set.Region = &s.Region
	plan := []int{1}
	var short Shortage
	for asked := 40_000; short.Two.Met == 0 && asked <= 60_000; asked += 1_000 { // until two things are needed, and do
		s.Region.Contract.StalksByMonth = map[time.Month]int{time.June: asked, time.July: asked}
		var err error
		short, err = WhatIsShort(t.Context(), set, Missing{Region: set.Region, Table: tableOf(t, set, 6, plan...), Plan: plan, Most: 6})
		require.NoError(t, err)
	}
	require.Positive(t, short.Two.Met)
	require.NotEmpty(t, short.Pairs)
	assert.Equal(t, short.Months, short.Two.Seasons)

	by := map[Relief]relief{}
	for _, what := range reliefs {
		by[what.key] = what
	}
	meets := func(m miss, list ...relief) bool {
		relieved := set
		relieved.Region = with(set.Region, list...)
		l, err := relieved.Ledger(m.season)
		require.NoError(t, err)
		return l.Hub[m.month].Met
	}
	var rest []miss // months that no single thing meets
	for n := range 6 {
		why, err := Why(set, n)
		require.NoError(t, err)
		for _, m := range why {
			if len(m.MetWith) == 0 {
				rest = append(rest, miss{n, map[string]int{"June": 0, "July": 1}[m.Month]})
			}
		}
	}
	require.Len(t, rest, short.Months-short.Alone.Met)
	any := map[miss]bool{}
	for _, pair := range short.Pairs {
		require.Len(t, pair.Things, 2)
		n := 0
		for _, m := range rest {
			if meets(m, by[pair.Things[0]], by[pair.Things[1]]) {
				n++
				any[m] = true
			}
		}
		assert.Equal(t, trials.NewOdds(n, short.Months), pair.Met, "%v", pair.Things)
	}
	assert.Len(t, any, short.Two.Met)
}

// The single thing that adds most stalks to a missed month, of all that are tried, the first of
// equals; and what each month is said to be met with.
func TestWhyByLedgers(t *testing.T) {
	set, _ := tight(t, 1)
	set.Region.Contract.StalksByMonth = map[time.Month]int{time.June: 60_000, time.July: 90_000} // no single thing meets July
	why, err := Why(set, 6)
	require.NoError(t, err)
	l, err := set.Ledger(6)
	require.NoError(t, err)
	require.NotEmpty(t, why)
	july := why[len(why)-1]
	assert.Equal(t, MonthWhy{Month: "July", Asked: 90_000, Delivered: l.Hub[1].Delivered, Most: july.Most, MostAdds: july.MostAdds}, july)
	most, first := 0, Relief("")
	for _, what := range reliefsFor(set.Region) {
		relieved := set
		relieved.Region = with(set.Region, what)
		other, err := relieved.Ledger(6)
		require.NoError(t, err)
		if more := other.Hub[1].Delivered - l.Hub[1].Delivered; more > most {
			most, first = more, what.key
		}
	}
	require.Positive(t, most)
	assert.Equal(t, most, july.MostAdds)
	assert.Equal(t, first, july.Most)

	_, err = Why(set, -1)
	require.ErrorContains(t, err, "first season -1")
}

// What breaks while months are lived through again is told.
func TestShortStops(t *testing.T) {
	set, table := tight(t, 16)
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	got, err := WhatIsShort(ctx, set, Missing{Region: set.Region, Table: table, Plan: []int{1}, Most: 4})
	require.ErrorIs(t, err, context.Canceled)
	assert.Equal(t, Shortage{}, got)

	c := &counted{Source: set.Source, then: func() { panic("the sky fell") }}
	c.left.Store(3)
	set.Source = c
	_, err = WhatIsShort(t.Context(), set, Missing{Region: set.Region, Table: table, Plan: []int{1}, Most: 4})
	require.ErrorContains(t, err, "the sky fell")
}

// Nothing is short where nothing is missed.
func TestNothingShort(t *testing.T) {
	s, set := small(t)
	s.Region.Contract.StalksByMonth = map[time.Month]int{time.July: 1}
	set.Region = &s.Region
	got, err := WhatIsShort(t.Context(), set, Missing{Region: set.Region, Table: tableOf(t, set, 3, 1), Plan: []int{1}, Most: 2})
	require.NoError(t, err)
	assert.Equal(t, Shortage{OfAll: 3}, got)
}

// Months met by any of the things tried, and the largest month of a contract, by hand.
func TestSmallCountsOfShort(t *testing.T) {
	r := wholeOf()
	assert.Equal(t, 2000, mostOfAMonth(r), "December is not in the season")
	assert.Zero(t, mostOfAMonth(&sim.Region{Calendar: r.Calendar}))
	assert.False(t, anyOf(nil, 0))
	assert.Equal(t, 2, count([]bool{true, false, true}))
}

// What hardly meets any missed month is tried in the first of them alone, and its row says in how
// many: by hand of forty months of twenty seasons, of which five seasons are the first quarter.
func TestHopelessThingsAreTriedNoFurther(t *testing.T) {
	l := livedAgain{}
	for i := range 40 {
		l.missed = append(l.missed, miss{season: i / 2, month: i % 2})
	}
	assert.Equal(t, []int{10, 20, 40}, l.parts())
	l.missed = l.missed[:3]
	assert.Equal(t, []int{2, 3}, l.parts(), "of two seasons a half and all")
	l.missed = l.missed[:1]
	assert.Equal(t, []int{1}, l.parts())
	met := [][]bool{monthMet(0, 10), monthMet(1, 10), monthMet(9, 10), monthMet(0, 10), monthMet(0, 10)}
	assert.Equal(t, []int{0, 1, 2}, hopeful([]int{0, 1, 2, 3, 4}, met), "the three that meet most always go on")
	met = [][]bool{monthMet(0, 9), monthMet(1, 9), monthMet(9, 9), monthMet(3, 9), monthMet(0, 9)}
	assert.Equal(t, []int{0, 1, 2, 3, 4}, hopeful([]int{0, 1, 2, 3, 4}, met), "nine months tell nothing")

	out := ranked([][]relief{{reliefs[0]}, {reliefs[1]}}, [][]bool{monthMet(3, 40), monthMet(1, 10)}, 0)
	require.Len(t, out, 2)
	assert.Equal(t, []int{1, 10}, []int{out[0].Met.Met, out[0].Met.Seasons})
	assert.Equal(t, []int{3, 40}, []int{out[1].Met.Met, out[1].Met.Seasons})
}

// A thing left out early is said what it does in the months that it was tried in; the others have
// all, as they do where each is tried in all.
func TestShortOfManyMonths(t *testing.T) {
	set, table := tight(t, 80)
	short, err := WhatIsShort(t.Context(), set, Missing{Region: set.Region, Table: table, Plan: []int{1}, Most: 80})
	require.NoError(t, err)
	require.Greater(t, short.Months, 4*fewestMissed)
	again := livedAgain{set: set, region: planned(set.Region, []int{1}), missed: missedMonths(table, []int{1}, 80, &Shortage{})}
	full, early := 0, 0
	for _, x := range short.Single {
		for _, what := range reliefs {
			if what.key != x.Things[0] {
				continue
			}
			met, err := again.with(t.Context(), [][]relief{{what}})
			require.NoError(t, err)
			assert.Equal(t, trials.NewOdds(count(met[0][:x.Met.Seasons]), x.Met.Seasons), x.Met, what.key)
			if x.Met.Seasons == short.Months {
				full++
			} else {
				early++
			}
		}
	}
	assert.GreaterOrEqual(t, full, hopefulFew)
	assert.Equal(t, len(short.Single), full+early)
}
