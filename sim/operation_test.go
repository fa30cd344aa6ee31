package sim

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drystalk/sim/air"
)

// wide returns a region that dries by the sun alone: nothing but people limits the cut.
func wide() *Region {
	r := small(landing1(0))
	r.Sites[0].OpenRackM2, r.Sites[0].LoadingKgPerM2 = 400, 4
	return r
}

const dayCut = 4 * 120 * 6 // of landing1

// A closed stand is not cut: nine working days of 2,880 stalks fewer, by hand, and the
// ledger says why. June has its rest days on days 6, 13, 20 and 27 of the season.
func TestClosedStand(t *testing.T) {
	r := wide()
	days, hours := sunny(61)
	s := season(r, parameters(), days, hours)
	open := ledger(t, r, s).Sites[0].Months[0]
	r.Sites[0].Closed = []Closure{{Why: "sprayed", FirstDay: 3, LastDay: 13}}
	closed := ledger(t, r, s).Sites[0].Months[0]
	assert.Equal(t, 9*dayCut, open.Cut-closed.Cut)
	assert.Equal(t, 9*dayCut, closed.NotCutClosed)
	assert.Zero(t, open.NotCutClosed)

	// A campaign also takes plants away: what it leaves gives less after it.
	r.Sites[0].StandM2 = 2000
	r.Stand = Stand{GrowthPerDay: 0.07, CapacityKgM2: 40, StartKgM2: 20, KgPerStalk: 0.33, ThinAtKgM2: 5}
	kept := ledger(t, r, s).Sites[0].Months[0]
	r.Sites[0].Closed[0].Removed = 0.9
	removed := ledger(t, r, s).Sites[0].Months[0]
	assert.Less(t, removed.Cut, kept.Cut)
	assert.Greater(t, removed.NotCutStand, kept.NotCutStand)
}

// Holidays take the hands they say, and no others: days 5 to 9, of which day 6 is a rest day
// anyway, with three quarters away.
func TestHolidays(t *testing.T) {
	r := wide()
	days, hours := sunny(61)
	s := season(r, parameters(), days, hours)
	plain := ledger(t, r, s).Sites[0].Months[0]
	r.People.Away = []Away{{Name: "new year", FirstDay: 5, LastDay: 9, Fraction: 0.75}}
	m := ledger(t, r, s).Sites[0].Months[0]
	assert.Equal(t, 4*dayCut*3/4, plain.Cut-m.Cut)
	assert.Equal(t, 4*dayCut*3/4, m.NotCutPeople)
}

// An extra crew takes the other work off the cutters: with hands enough for it, the season
// is that of cutters who do nothing else, and the hours are booked all the same.
func TestExtraCrew(t *testing.T) {
	r := small(landing1(2))
	days, hours := soaked(61)
	s := season(r, parameters(), days, hours)
	free := ledger(t, r, s)
	r.People = People{Pool: true, WorkHPerDay: 6, TendsDryers: 1, HandlingHPer1000: 4, GradingHPer1000: 4, CrewHPerDay: 8}
	bound := ledger(t, r, s)
	r.Sites[0].Crew = 50
	helped := ledger(t, r, s)
	assert.Less(t, bound.Sites[0].Months[0].Cut, free.Sites[0].Months[0].Cut)
	assert.Equal(t, free.Hub, helped.Hub)
	assert.Positive(t, helped.Sites[0].Months[0].OtherH)
}

// Who is away tends no fire: with everybody on holiday the dryers stand, and the hours of
// their shifts say why; a crew of one keeps one fire of two.
func TestNobodyToTendTheFire(t *testing.T) {
	r := small(landing1(2))
	r.People = People{Pool: true, WorkHPerDay: 24, TendsDryers: 1, CrewHPerDay: 8, Away: []Away{{FirstDay: 0, LastDay: 60, Fraction: 1}}}
	r.Sites[0].OpeningStock = 1000
	days, hours := soaked(61)
	s := season(r, parameters(), days, hours)
	assert.Zero(t, ledger(t, r, s).Sites[0].Months[0].Charges, "nobody cuts either")

	r.People.Away[0].FirstDay = 8 // there is something to dry by then
	none := ledger(t, r, s).Sites[0].Months[0]
	assert.Positive(t, none.Shift[DryerNoPeople])
	r.Sites[0].Crew = 1
	one := ledger(t, r, s).Sites[0].Months[0]
	assert.Greater(t, one.Charges, none.Charges)
	assert.Less(t, one.Shift[DryerNoPeople], none.Shift[DryerNoPeople])
	r.People.Pool = false
	assert.Zero(t, ledger(t, r, s).Sites[0].Months[0].Shift[DryerNoPeople])
}

// A chamber browns its part of every charge, by hand: at 95 °C twice 5 % an hour for all the hours
// of the fire but the heating up, in which it is 5/67/ln 2 · 0.75 h of that.
func TestBrowning(t *testing.T) {
	r, p, _ := twoCharges(t)
	p.Cabinet.SetC = 95
	days, hours := calm(4)
	for d := 1; d < 4; d++ {
		days[d].RainMM = 30
	}
	s := season(r, p, days, hours)
	plain := ledger(t, r, s).Sites[0].Months[0]
	r.Dryer.BrownsPerH = 0.05
	m := ledger(t, r, s).Sites[0].Months[0]
	assert.Zero(t, plain.Browned)
	hot := m.FiringH/2 - 0.75 + 0.75*5/67/math.Ln2
	assert.InDelta(t, (1-math.Exp(-2*0.05*hot))*float64(2000-m.Broken), float64(m.Browned), 2)
	assert.Equal(t, m.Browned, m.Second)
	assert.Equal(t, plain.ToHub-m.Browned, m.ToHub)
}

// A yard without racks takes what its heap may hold, and not a stalk more.
func TestHeapHolds(t *testing.T) {
	r := small(landing1(0))
	r.Sites[0].OpenRackM2, r.Sites[0].ClearRoofM2 = 0, 0
	days, hours := calm(61)
	s := season(r, parameters(), days, hours)
	for _, holds := range []float64{0, 0.5, 2} {
		r.Yard.HeapDaysOfCut = holds
		m := ledger(t, r, s).Sites[0].Months[0]
		assert.Equal(t, int(holds*dayCut), m.Cut-m.ThrownOut-m.Rejected-m.Second, "held at most %g days", holds)
		assert.Positive(t, m.NotCutYardFull)
	}
}

// showers is sunny weather with rain from 14 to 17 h, or in the night from 22 to 1 h.
func showers(n int, atNight bool) *Season {
	days, hours := sunny(n)
	from := 14
	if atNight {
		from = 22
	}
	for d := range days {
		days[d].RainMM = 6
		for h := from; h < from+3 && 24*d+h < len(hours); h++ {
			a := &hours[24*d+h]
			a.RainMM, a.Humidity = 2, 0.95
			a.VapourKPa = a.Humidity * air.SaturationKPa(a.TempC)
		}
	}
	r := small(landing1(0))
	return &Season{Number: 7, Parameters: parameters(), Days: days, Output: season(r, parameters(), days, hours).Output, air: hours}
}

func sheetsRegion() *Region {
	r := small(landing1(0))
	r.Sites[0].ClearRoofM2, r.Sites[0].Sheets = 0, true
	return r
}

// Sheets late by an hour let more rain in than sheets in time, and less than none.
func TestSheetsPulledLate(t *testing.T) {
	arrivedWith := func(sheets bool, reactionH int) int {
		r, s := sheetsRegion(), showers(61, false)
		r.Sites[0].Sheets, r.Yard.SheetReactionH = sheets, reactionH
		s.Prepare(s.air, r)
		return arrived(ledger(t, r, s))
	}
	inTime, late, none := arrivedWith(true, 0), arrivedWith(true, 1), arrivedWith(false, 0)
	assert.Greater(t, inTime, late)
	assert.GreaterOrEqual(t, late, none)
	assert.Equal(t, none, arrivedWith(true, 3), "a shower shorter than the reaction is as without sheets")
}

// Rain at night finds the racks open where nobody comes, unless sheets lie there anyway; by
// day it makes no difference.
func TestSheetsAtNight(t *testing.T) {
	arrivedWith := func(nobody, every bool) int {
		r, s := sheetsRegion(), showers(61, true)
		r.Yard.SheetsAtNight = every
		if nobody {
			s.Nights = [][]bool{make([]bool, 61)}
			for d := range s.Nights[0] {
				s.Nights[0][d] = true
			}
		}
		s.Prepare(s.air, r)
		return arrived(ledger(t, r, s))
	}
	assert.Greater(t, arrivedWith(false, false), arrivedWith(true, false))
	assert.Greater(t, arrivedWith(true, true), arrivedWith(true, false))

	r, s := sheetsRegion(), showers(61, false)
	s.Prepare(s.air, r)
	before := ledger(t, r, s)
	s.Nights = [][]bool{make([]bool, 61)}
	for d := range s.Nights[0] {
		s.Nights[0][d] = true
	}
	assert.Equal(t, before.Hub, ledger(t, r, s).Hub, "it rains by day")
}

// A vehicle that does not come for a few waits until there are enough.
func TestMinimumPickUp(t *testing.T) {
	r := wide()
	days, hours := sunny(61)
	s := season(r, parameters(), days, hours)
	free := ledger(t, r, s)
	r.Road.MinimumStalks = free.Sites[0].Months[0].ToHub*6/10 + 1 // more than the first of June's two
	m := ledger(t, r, s)
	assert.Equal(t, 1, m.Sites[0].Months[0].Skipped)
	assert.Equal(t, free.Sites[0].Months[0].ToHub, m.Sites[0].Months[0].ToHub, "the second takes all: dry air harms none")
	r.Road.MinimumStalks = 1e6
	never := ledger(t, r, s)
	assert.Zero(t, never.Hub[1].Arrived)
	assert.Equal(t, 4, never.Sites[0].Months[0].Skipped+never.Sites[0].Months[1].Skipped)
}

// The air of the store decides what is left of dry stalks: at 92 % they mould within weeks,
// at 65 % none does, and outside air of 80 % lies between.
func TestDampStore(t *testing.T) {
	r := small(landing1(0))
	r.Sites[0].Cutters, r.Sites[0].OpeningStock, r.Sites[0].SealedStore = 0, 10_000, false
	r.Hub.CollectionsPerMonth = 1
	days, hours := calm(61)
	at := func(humidity float64) int {
		r.Store.Humidity = humidity
		return ledger(t, r, season(r, parameters(), days, hours)).Sites[0].Months[0].ToHub
	}
	damp, outside, dry := at(0.92), at(0), at(0.65)
	assert.Less(t, damp, outside/2)
	assert.Equal(t, at(0.80), outside, "outside air has 80 %")
	assert.Equal(t, 10_000, dry)
}

// A dryer that is moved works at its old site until the day, and at its new one after the
// days lost; in between nowhere. Its hours are in both ledgers.
func TestMovedDryer(t *testing.T) {
	a, b := landing1(1), landing1(0)
	b.Name = "Old Sluice"
	r := small(a, b)
	days, hours := soaked(61)
	s := season(r, parameters(), days, hours)
	r.Moves = []Move{{From: a.Name, To: b.Name, Day: 20, DaysLost: 5}}
	run := NewRunner(r)
	run.EveryDay = true
	l, err := run.Ledger(s)
	require.NoError(t, err)
	for d := range 61 {
		from, to := l.Sites[0].Days[d].Shift, l.Sites[1].Days[d].Shift
		assert.InDelta(t, map[bool]float64{true: 12, false: 0}[d < 20], from.Sum(), 1e-9, "day %d", d)
		assert.InDelta(t, map[bool]float64{true: 12, false: 0}[d >= 20 && d < 25], to[DryerNotReady], 1e-9, "day %d", d)
		assert.InDelta(t, map[bool]float64{true: 12, false: 0}[d >= 20], to.Sum(), 1e-9, "day %d", d)
	}
	assert.Positive(t, l.Sites[0].Months[0].Charges)
	assert.Positive(t, l.Sites[1].Months[1].Charges)
	assert.Zero(t, l.Sites[0].Months[1].Charges)

	r.Moves[0].Day = 0
	r.Moves[0].DaysLost = 0
	moved := ledger(t, r, s)
	r.Moves = nil
	r.Sites[0].Dryers, r.Sites[1].Dryers = 0, 1
	assert.Equal(t, ledger(t, r, s).Hub, moved.Hub, "moved on the first day it might as well stand there")
}

// After a spell that flushes mats nobody goes on the water for its days, and then a part of
// the stalks is silted.
func TestStormClosesTheWater(t *testing.T) {
	r := wide()
	days, hours := sunny(61)
	days[8].RainMM, days[9].RainMM = 24, 24 // 48 mm in three days, on dry racks
	s := season(r, parameters(), days, hours)
	plain := ledger(t, r, s).Sites[0].Months[0]
	r.Stand = Stand{FlushAboveMM: 40, FlushClosedDays: 3}
	closed := ledger(t, r, s).Sites[0].Months[0]
	assert.Equal(t, 3*dayCut, plain.Cut-closed.Cut, "days 9, 10 and 11")
	assert.Equal(t, 3*dayCut, closed.NotCutRain-plain.NotCutRain)
	r.Stand.SiltedFraction, r.Stand.SiltedDays = 0.25, 6
	silted := ledger(t, r, s).Sites[0].Months[0]
	assert.Equal(t, 2*dayCut/4, closed.Cut-silted.Cut, "days 12 and 14; day 13 is a day of rest")
}

// Wood, people and repairs show in the hours of the dryers, and the day says what was short.
func TestWhatWasShortThatDay(t *testing.T) {
	r := small(landing1(1))
	r.Sites[0].OpenRackM2 = 30
	days, hours := soaked(61)
	s := season(r, parameters(), days, hours)
	run := NewRunner(r)
	run.EveryDay = true
	shortOn := func(day int) Lack {
		l, err := run.Ledger(s)
		require.NoError(t, err)
		return l.Sites[0].Days[day].Short
	}
	assert.Equal(t, LacksRoom, shortOn(22))
	r.Dryer.WoodLimited = true
	assert.Equal(t, LacksWood, shortOn(22))
	r.Dryer.WoodLimited = false
	s.Dryers = [][]DryerLuck{{{Out: true}}}
	assert.Equal(t, LacksDryer, shortOn(22))
	s.Dryers = nil
	r.Yard.MaxCutRainMM = 5
	assert.Equal(t, LacksDryDay, shortOn(22))
	r.Yard.MaxCutRainMM = 25
	r.Sites[0].Closed = []Closure{{Why: "sprayed", FirstDay: 22, LastDay: 22}}
	assert.Equal(t, LacksOpenStand, shortOn(22))
}

// Hours at night, by hand: a fire from 20 h to 3 h has five between 22 and 6 h.
func TestNightHours(t *testing.T) {
	assert.Equal(t, 5.0, nightHours(20, 27))
	assert.Equal(t, 8.0, nightHours(24+12, 48+12))
	assert.Equal(t, 0.0, nightHours(7, 19))
	assert.Equal(t, 2.0, nightHours(0, 2))
}
