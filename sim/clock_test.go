package sim

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drystalk/sim/charge"
)

// clockOf runs a season of the first site and returns the hours at which each kind of event
// happened.
func clockOf(t *testing.T, r *Region, s *Season, everyDay bool) map[eventKind][]float64 {
	t.Helper()
	run := NewRunner(r)
	run.EveryDay = everyDay
	times := map[eventKind][]float64{}
	y := run.lane(0)
	y.engine = engineOf(func(nowH float64, e event) {
		times[e.kind] = append(times[e.kind], nowH)
		y.handle(nowH, e)
	})
	_, err := run.Site(0, r.Sites[0].Dryers, s)
	require.NoError(t, err)
	return times
}

// The clock of a site, by hand, over five days from 29 June with a collection at the end of
// each month: dawn, the rounds, the looks every four hours of a shift from 7 to 19 h, the
// hauling at 14 h, and the end of the day and of the month a minute before midnight. Who cuts
// for six hours lands at noon; who cuts longer than the day lands at dusk.
func TestClockOfASite(t *testing.T) {
	a, b := landing1(1), landing1(0)
	b.Name = "Old Sluice"
	a.HaulTo, a.HaulStalksPerDay = b.Name, 10
	r := small(a, b)
	r.Calendar = Calendar{StartMonth: 6, StartDay: 29, Days: 5}
	r.Hub.CollectionsPerMonth = 1
	r.Dryer.WoodLimited = true // no fires
	days, hours := calm(5)
	s := season(r, parameters(), days, hours)
	daily := func(hour float64) (out []float64) {
		for d := range 5 {
			out = append(out, float64(24*d)+hour)
		}
		return out
	}
	times := clockOf(t, r, s, true)
	assert.Equal(t, daily(0), times[dawn])
	assert.Equal(t, daily(6), times[morning])
	assert.Equal(t, daily(12), times[landing])
	assert.Equal(t, daily(14), times[haulOut])
	assert.Equal(t, daily(17), times[evening])
	assert.Len(t, times[dayEnd], 5)
	assert.Equal(t, []float64{24 + 18, 4*24 + 18}, times[collection])
	var looks []float64
	for d := range 5 {
		for _, h := range []float64{7, 11, 15} {
			looks = append(looks, float64(24*d)+h)
		}
	}
	assert.Equal(t, looks, times[shiftLook], "at 19 h the shift is over")
	require.Len(t, times[monthEnd], 2)
	for i, day := range []float64{1, 4} {
		assert.InDelta(t, 24*(day+1), times[monthEnd][i], 1.0/60)
		assert.Less(t, times[monthEnd][i], 24*(day+1))
	}
	assert.Empty(t, times[haulIn])
	assert.Empty(t, times[unloaded])

	r.Sites[0].CuttingHPerDay, r.Sites[0].HaulTo, r.Sites[0].Dryers = 12, "", 0
	times = clockOf(t, r, s, false)
	assert.Equal(t, daily(17), times[landing])
	assert.Empty(t, times[haulOut])
	assert.Empty(t, times[dayEnd], "nobody asked for days")
	assert.Empty(t, times[shiftLook])
	r.Sites[0].CuttingHPerDay = 4.5
	assert.Equal(t, daily(11), clockOf(t, r, s, false)[landing], "in whole hours")
}

// A collection that finds the road shut comes on the first day it is open, at the same hour,
// and not at all where that would be after the season.
func TestClockOfAShutRoad(t *testing.T) {
	r := small(landing1(0))
	r.Calendar = Calendar{StartMonth: 6, StartDay: 29, Days: 6}
	r.Hub.CollectionsPerMonth = 1
	r.Road.ClosedAboveMM = 20
	days, hours := calm(6)
	days[1].RainMM = 21 // the road is shut on days 1, 2 and 3
	s := season(r, parameters(), days, hours)
	assert.Equal(t, []float64{24 + 18, 48 + 18, 72 + 18, 96 + 18, 120 + 18}, clockOf(t, r, s, false)[collection])
	days[5].RainMM = 21
	m := ledger(t, r, s).Sites[0].Months
	assert.Equal(t, []int{1, 3}, []int{m[0].RoadShut, m[1].RoadShut})
	days[1].RainMM, days[5].RainMM = 20, 20
	assert.Equal(t, []float64{24 + 18, 120 + 18}, clockOf(t, r, s, false)[collection], "at the limit the road is open")
}

// When a charge is unloaded, by hand. A chamber cools 0.56 h after its fire and is unloaded
// for half an hour. A fire that is out at 19 h in a shift to 19 h, and one that would be
// unloaded after the shift, wait for the next morning; in a shift to 26 h a fire that is out
// at 24.5 h is unloaded in the night.
func TestWhenAChargeIsUnloaded(t *testing.T) {
	r := small(landing1(1))
	days, hours := calm(61)
	s := season(r, parameters(), days, hours)
	coolingH := 0.5 * math.Log(52.0/12)
	unloadedAt := func(outH, shiftEndH float64) float64 {
		r.Dryer.ShiftEndH = shiftEndH
		y := roomsOf(r, 1, s)
		d := &y.dryers.cabinets[0]
		d.charge, d.fireOutH, d.dryingH, d.coolingH = append(d.charge, lot{}), outH, 3, coolingH
		got := y.dryers.fireGoesOut(0, outH)
		assert.InDelta(t, outH+coolingH, d.coldFromH, 1e-9)
		assert.InDelta(t, got, d.unloadedH, 0)
		return got
	}
	assert.InDelta(t, 15+coolingH+0.5, unloadedAt(15, 19), 1e-9)
	assert.InDelta(t, 24+7.5, unloadedAt(19, 19), 1e-9)
	assert.InDelta(t, 24+7.5, unloadedAt(18, 19), 1e-9)
	assert.InDelta(t, 48+15+coolingH+0.5, unloadedAt(48+15, 19), 1e-9)
	assert.InDelta(t, 72+7.5, unloadedAt(48+18, 19), 1e-9)
	assert.InDelta(t, 24.5+coolingH+0.5, unloadedAt(24.5, 26), 1e-9)
	assert.InDelta(t, 24+7.5, unloadedAt(25.5, 26), 1e-9)
}

// A dryer that is unloaded in the last minute of the season, after the month was closed, has
// its whole shift in the books. The cut lands at noon; half an hour of handling, the drying
// tried here, 0.56 h of cooling and half an hour of handling end at 23:59:30.
func TestHoursOfTheLastMinute(t *testing.T) {
	r := small(landing1(1))
	r.Calendar = Calendar{StartMonth: 6, StartDay: 30, Days: 1}
	r.Sites[0].OpenRackM2 = 5
	r.Dryer.ShiftEndH, r.Dryer.MinimumFill = 24, 0.1
	days, hours := calm(1)
	run := NewRunner(r)
	run.EveryDay = true
	unloadedH := 24 - 30.0/3600
	run.lane(0).dryers.hoursOf = func(*charge.Course) float64 {
		return unloadedH - 12 - 1 - 0.5*math.Log(52.0/17)
	}
	l, err := run.Ledger(season(r, parameters(), days, hours))
	require.NoError(t, err)
	m := &l.Sites[0].Months[0]
	require.Equal(t, 1, m.Charges)
	assert.InDelta(t, 17, m.Shift.Sum(), 1e-9)
	assert.InDelta(t, 1, m.Shift[DryerHandling], 1e-9)
	assert.InDelta(t, m.Shift.Idle(), m.IdleH, 1e-9)
	assert.InDelta(t, 5+24-unloadedH, m.IdleH, 1e-9, "from 7 h to noon, and the half minute")
	assert.InDelta(t, 17, l.Sites[0].Days[0].Shift.Sum(), 1e-9)
	assert.InDelta(t, 17, l.Sites[0].Each[0].Sum(), 1e-9)
}

// What was short on a day, by hand: people and plant before dryers, the dryer that was short
// for most hours before the shift, and the shift where charges were too late.
func TestWhatADayLacks(t *testing.T) {
	day := func(why FigureID, mould float64, shift map[DryerState]float64) *SiteDay {
		d := &SiteDay{Why: why, Mould: mould}
		for state, h := range shift {
			d.Shift[state] = h
		}
		return d
	}
	for _, tt := range []struct {
		day  *SiteDay
		want Lack
	}{
		{day(NoFigure, 0.29, nil), LacksNothing},
		{day(NoFigure, 0.3, nil), LacksRoom},
		{day(NotCutTarget, 1, nil), LacksNothing},
		{day(NotCutRain, 1, nil), LacksDryDay},
		{day(NotCutClosed, 1, nil), LacksOpenStand},
		{day(NotCutStand, 1, nil), LacksPlant},
		{day(NotCutPeople, 1, nil), LacksPeople},
		{day(NotCutYardFull, 0, nil), LacksRoom},
		{day(NotCutTooWet, 0, nil), LacksRoom},
		{day(NotCutTooWet, 0, map[DryerState]float64{DryerBroken: 2, DryerNotReady: 2, DryerNoWood: 3}), LacksDryer},
		{day(NotCutYardFull, 0, map[DryerState]float64{DryerNoTime: 4, DryerFiring: 3}), LacksShiftHours},
		{day(NotCutYardFull, 0, map[DryerState]float64{DryerNoTime: 3, DryerFiring: 3}), LacksRoom},
		{day(NotCutYardFull, 0, map[DryerState]float64{DryerBroken: 2, DryerNotReady: 2, DryerNoWood: 3}), LacksDryer},
		{day(NotCutYardFull, 0, map[DryerState]float64{DryerBroken: 2, DryerNoWood: 3, DryerNoPeople: 1}), LacksWood},
		{day(NotCutYardFull, 0, map[DryerState]float64{DryerNoWood: 3, DryerNoPeople: 4}), LacksTenders},
		{day(NotCutYardFull, 0, map[DryerState]float64{DryerNoWood: 3, DryerNoPeople: 3}), LacksWood},
		{day(NotCutYardFull, 0, map[DryerState]float64{DryerNoWood: 2, DryerNoTime: 2, DryerFiring: 3}), LacksWood},
		{day(NotCutYardFull, 0, map[DryerState]float64{DryerNoWood: 2, DryerNoTime: 1, DryerFiring: 3}), LacksRoom},
	} {
		assert.Equal(t, tt.want, tt.day.lack(false, 0.3), "%+v", tt.day)
		assert.Equal(t, LacksRoad, tt.day.lack(true, 0.3))
	}
}

// The hour of the day is that of the library's remainder to the last bit, also just before
// midnight, late in the season.
func TestHourOfTheDay(t *testing.T) {
	r := small(landing1(1))
	r.Dryer.ShiftEndH = 19
	g := &given{region: r, site: &r.Sites[0]}
	for day := range 400 {
		for _, nowH := range []float64{0, 1.0 / 3, 7.1, 24 - 1.0/64, math.Nextafter(24, 0)} {
			at := float64(24*day) + nowH
			if below := math.Nextafter(float64(24*day+24), 0); at >= below {
				at = below
			}
			require.Equal(t, math.Mod(at, 24), g.hourOfShift(at), "%v", at)
		}
	}
}
