package sim

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"drystalk/sim/air"
	"drystalk/sim/charge"
	"drystalk/sim/stalk"
	"drystalk/sim/weather"
)

// calmRooms returns the rooms of a site in calm air, before its first day.
func calmRooms(r *Region, dryers int) *siteSeason {
	days, hours := calm(r.Calendar.Days)
	return roomsOf(r, dryers, season(r, parameters(), days, hours))
}

// A season begins with an empty yard, however the last one ended.
func TestASeasonBeginsAnew(t *testing.T) {
	r := small(landing1(2))
	days, hours := mixedDays(61)
	s := season(r, parameters(), days, hours)
	run := NewRunner(r)
	months, err := run.Site(0, 2, s)
	require.NoError(t, err)
	first := append([]SiteMonth(nil), months...)
	calmDays, calmHours := soaked(61)
	_, err = run.Site(0, 1, season(r, parameters(), calmDays, calmHours))
	require.NoError(t, err)
	months, err = run.Site(0, 2, s)
	require.NoError(t, err)
	assert.Equal(t, first, months)

	y := calmRooms(r, 0)
	full := y.yard.roomForFresh()
	r.Sites[0].OpenRackM2 /= 2
	y.yard.begin(&y.given, &y.book, nil)
	assert.Less(t, y.yard.roomForFresh(), full, "racks are counted anew")
}

// The yard counts its room anew after every change, also where one batch goes and another
// comes between two looks.
func TestRoomIsCountedAfterEveryChange(t *testing.T) {
	y := &calmRooms(small(landing1(0)), 0).yard
	y.lay(batch{at: openRack, stalks: 5000, kept: 1, state: y.freshState()})
	before := y.roomForFresh()
	y.lift(&y.batches[0], 5000)
	y.dropEmpty()
	y.lay(batch{at: openRack, stalks: 1000, kept: 1, state: y.freshState()})
	assert.InDelta(t, before+4000, y.roomForFresh(), 1)
}

// Stalks of which an earlier grading left none are rejected, all of them, with their water;
// and grading nothing books nothing.
func TestGradingWhatIsSpoiled(t *testing.T) {
	r := small(landing1(0))
	r.People.GradingHPer1000, r.People.LookingHPer1000 = 4, 1
	p := &calmRooms(r, 0).people
	kept := 0.0
	assert.Zero(t, p.grade(70, &kept, &stalk.State{Moisture: 2}))
	assert.Equal(t, 70, p.month.Rejected)
	assert.InDelta(t, 2*p.dryKg(70), p.water.Left, 1e-12)
	kept = 1
	assert.Zero(t, p.grade(0, &kept, &stalk.State{PeakIndex: 6}))
	assert.Equal(t, []float64{70, 1, 0}, []float64{float64(p.month.Rejected), kept, p.month.OtherH})
	assert.Equal(t, 500, p.bundle(500, &kept, &stalk.State{}))
	assert.InDelta(t, 2, p.month.Tasks.Grading, 1e-12)
	assert.InDelta(t, 2, p.owedH, 1e-12)
	assert.Equal(t, 500, p.grade(500, &kept, &stalk.State{}), "looked through once more")
	assert.InDelta(t, 2.5, p.month.Tasks.Grading, 1e-12)
}

// Hours of people, by hand: sheets over 100 m² take two hours the morning after rain or where
// they lie there every night, and none on the first day or after a dry one; a person who tends
// one dryer is there all its fire, one who tends four a quarter of it.
func TestHoursOfPeople(t *testing.T) {
	r := small(landing1(1))
	r.Sites[0].Sheets = true
	r.People.SheetHPer100M2 = 2
	y := calmRooms(r, 1)
	sheets := func(d int) float64 {
		before := y.month.Tasks.Sheets
		y.people.clearSheets(d)
		return y.month.Tasks.Sheets - before
	}
	y.season.Days[3].RainMM = 0.1
	assert.Equal(t, []float64{0, 0, 2, 0}, []float64{sheets(0), sheets(3), sheets(4), sheets(5)})
	y.season.Days[0].RainMM = 0.1
	assert.Equal(t, []float64{0, 2, 0}, []float64{sheets(0), sheets(1), sheets(2)}, "the first morning is the second day's")
	r.Yard.SheetsAtNight = true
	assert.Equal(t, []float64{0, 2}, []float64{sheets(0), sheets(3)})
	r.Sites[0].Sheets = false
	assert.Zero(t, sheets(4))

	for tends, want := range map[float64]float64{0: 8, 1: 8, 4: 2} {
		y := calmRooms(r, 1)
		r.People.TendsDryers = tends
		d := &y.dryers.cabinets[0]
		d.charge, d.dryingH, d.lightH, d.fireOutH = append(d.charge, lot{}), 8, 16, 24
		y.fireGoesOut(0, 24)
		assert.InDelta(t, want, y.month.Tasks.Tending, 1e-12)
		assert.InDelta(t, want/4, y.month.Tasks.Night, 1e-12, "two of the eight hours are after 22 h")
	}

	r.People.Pool = true
	p := &calmRooms(r, 1).people
	r.Sites[0].Cutters, r.Sites[0].Crew, r.People.TendsDryers, p.present = 3, 1, 2, 0.5
	assert.True(t, p.canTend(4), "1.5 cutters and one of the crew tend five fires")
	assert.False(t, p.canTend(5))
}

// A day of cutting books its hours and itself; a day without does not.
func TestHoursOfCutting(t *testing.T) {
	p := &calmRooms(small(landing1(0)), 0).people
	p.cut(0, 100, 1)
	assert.Zero(t, p.month.WorkDays)
	p.cut(50, 100, 0.5)
	assert.Equal(t, 1, p.month.WorkDays)
	assert.InDelta(t, 0.5*4*6*0.5, p.month.CutH, 1e-12, "half of the hands for half of the stalks")
}

// Who is there, by hand: the planting begins 3 days after the onset and lasts for 4.
func TestWhoIsThere(t *testing.T) {
	r := small(landing1(0))
	r.People.Planting = Planting{AfterOnsetDays: 3, Days: 4, AwayFraction: 0.6}
	r.People.Away = []Away{{FirstDay: 16, LastDay: 17, Fraction: 0.5}}
	s := &Season{onset: 10}
	want := map[int]float64{12: 1, 13: 0.4, 15: 0.4, 16: 0.2, 17: 0.5, 18: 1}
	for d, share := range want {
		assert.InDelta(t, share, s.presentShare(r, d), 1e-12, "day %d", d)
	}
	r.People.Planting.Days = 0
	assert.InDelta(t, 1, s.presentShare(r, 13), 1e-12)
}

// The onset is the first day whose week, itself the last of it, brought 60 mm.
func TestOnset(t *testing.T) {
	rain := func(mm ...float64) []weather.Day {
		days := make([]weather.Day, len(mm))
		for d := range mm {
			days[d].RainMM = mm[d]
		}
		return days
	}
	assert.Equal(t, 0, onsetOf(rain(60)))
	assert.Equal(t, 6, onsetOf(rain(30, 0, 0, 0, 0, 0, 30)))
	assert.Equal(t, 8, onsetOf(rain(30, 0, 0, 0, 0, 0, 0, 30)), "never: eight days")
	assert.InDelta(t, 35, weekMM(rain(1, 2, 3, 4, 5, 6, 7, 8), 7), 1e-12)
	assert.InDelta(t, 3, weekMM(rain(1, 2, 3), 1), 1e-12)
}

// When sheets lie over the racks, by hand, over two days of which it rains from 10 to 13 h of
// the first and at 2 h of the second: at once and for the hour after; once it has rained an
// hour; and every night from 18 to 6 h.
func TestWhenSheetsLieOver(t *testing.T) {
	hours := make([]air.Hour, 48)
	for _, h := range []int{10, 11, 12, 26} {
		hours[h].RainMM = 1
	}
	over := func(yard Yard) (out []int) {
		for i := range hours {
			if sheetOver(hours, i, &yard) {
				out = append(out, i)
			}
		}
		return out
	}
	assert.Equal(t, []int{10, 11, 12, 13, 26, 27}, over(Yard{}))
	assert.Equal(t, []int{11, 12, 13, 27}, over(Yard{SheetReactionH: 1}))
	assert.Equal(t, []int{12, 13, 27}, over(Yard{SheetReactionH: 2}))
	assert.Equal(t, []int{
		0, 1, 2, 3, 4, 5, 10, 11, 12, 13, 18, 19, 20, 21, 22, 23, 24, 25, 26, 27, 28, 29, 42, 43, 44, 45, 46, 47,
	}, over(Yard{SheetsAtNight: true}))
	hours[0].RainMM = 1
	assert.Equal(t, []int{0, 1, 10}, over(Yard{})[:3])
	assert.Equal(t, []int{1, 11}, over(Yard{SheetReactionH: 1})[:2], "nobody knows of the night before")
}

// Only the kinds of racks that a site has are worked out, and the air of each store and the
// fires of each wood once.
func TestOnlyWhatIsUsedIsPrepared(t *testing.T) {
	a, b := small(landing1(1)), small(landing1(1))
	b.Store.Humidity, b.Dryer.WetWood = 0.7, 0.5
	days, hours := calm(61)
	days[9].RainMM = 50
	s := &Season{Parameters: parameters(), Days: days}
	for range 2 { // memory used again
		s.Prepare(hours, a, b, a)
		assert.Equal(t, []int{24 * 61, 24 * 61, 0, 24 * 61, 0}, []int{len(s.covers.hours[clearRack]), len(s.covers.hours[openRack]), len(s.covers.hours[solidRack]), len(s.covers.hours[heap]), len(s.covers.hours[sheeted])})
		require.Len(t, s.stores, 3, "outside, the hub's and the second region's")
		require.Len(t, s.fires, 2)
		assert.Equal(t, stalk.NewStillAir(28, 0.7, &s.Parameters.Stalk), s.storeOf(b)[60])
		assert.Equal(t, s.firesOf(a).on(8), s.firesOf(b).on(8), "dry as ever before the wet week")
		assert.NotEqual(t, s.firesOf(a).on(9), s.firesOf(b).on(9))
		assert.NotEqual(t, s.firesOf(a).on(15), s.firesOf(b).on(15))
		assert.Equal(t, s.firesOf(a).on(16), s.firesOf(b).on(16))
	}
}

// The hub's books are proven: a stalk too many or too few, or a stock below nothing, is said.
func TestTheHubsBooks(t *testing.T) {
	led := RegionLedger{Season: 4, Hub: []HubMonth{{Month: time.June, Opening: 5, Arrived: 10, RefusedAtGate: 1, Spoiled: 1, MadeGood: 2, Delivered: 8, Closing: 3}}}
	require.NoError(t, led.CheckHub())
	for _, spoil := range []func(m *HubMonth){
		func(m *HubMonth) { m.Closing++ },
		func(m *HubMonth) { m.Arrived++ },
		func(m *HubMonth) { m.Spoiled++ },
		func(m *HubMonth) { m.Closing, m.Delivered = -1, 13 },
	} {
		m := led.Hub[0]
		spoil(&m)
		bad := RegionLedger{Season: 4, Hub: []HubMonth{m}}
		assert.ErrorContains(t, bad.CheckHub(), "season 4: stalks of June at the hub do not balance")
	}
}

// The book of a site is proven too: stalks by month and the water of the season.
func TestTheSitesBook(t *testing.T) {
	spans := Calendar{StartMonth: time.June, StartDay: 1, Days: 61}.Months()
	var b book
	b.open(&given{}, 2)
	require.NoError(t, b.checkBalance(spans))
	b.month.Cut, b.month.Closing = 10, 10
	require.True(t, b.turn())
	assert.Equal(t, 10, b.month.Opening)
	b.month.ToHub = 9
	assert.ErrorContains(t, b.checkBalance(spans), "July")
	b.month.ToHub = 10
	assert.False(t, b.turn(), "July is the last month")
	b.water = Water{Cut: 10, Closing: 9.9}
	assert.ErrorContains(t, b.checkBalance(spans), "the water does not balance by 0.00999")
	b.water.Closing = 10
	assert.NoError(t, b.checkBalance(spans))
}

// The hours of shifts between two times are those of one shift after another, to the last bit.
func TestShiftHoursOfOneDayAreThoseOfAll(t *testing.T) {
	r := small(landing1(1))
	g := &given{region: r, site: &r.Sites[0]}
	rapid.Check(t, func(t *rapid.T) {
		r.Dryer.ShiftStartH = rapid.SampledFrom([]float64{0, 6, 7.1}).Draw(t, "start")
		r.Dryer.ShiftEndH = rapid.SampledFrom([]float64{9, 19, 23.9, 24, 26, 30}).Draw(t, "end")
		from := rapid.OneOf(rapid.Float64Range(0, 100), rapid.SampledFrom([]float64{0, 24, 48, 17})).Draw(t, "from")
		to := from + rapid.OneOf(rapid.Float64Range(0, 40), rapid.SampledFrom([]float64{0, 1, 7, 24})).Draw(t, "hours")
		require.Equal(t, g.hoursOfShifts(from, to), g.shiftHours(from, to))
	})
}

// The hours of shifts between two times, by hand: a shift from 7 to 19 h; one longer by three
// hours; one over midnight to 26 h.
func TestShiftHours(t *testing.T) {
	r := small(landing1(1))
	g := &given{region: r, site: &r.Sites[0]}
	for _, tt := range []struct{ end, longer, from, to, want float64 }{
		{19, 0, 0, 24, 12},
		{19, 0, 0, 7, 0},
		{19, 0, 8, 9.5, 1.5},
		{19, 0, 18, 24 + 8, 2},
		{19, 3, 18, 24 + 8, 5},
		{26, 0, 0, 48, 2 + 19 + 17},
		{26, 0, 24, 25, 1},
		{26, 0, 26, 31, 0},
	} {
		r.Dryer.ShiftEndH, r.Sites[0].LongerShiftH = tt.end, tt.longer
		assert.InDelta(t, tt.want, g.shiftHours(tt.from, tt.to), 1e-12, "%+v", tt)
	}
	r.Dryer.ShiftEndH, r.Sites[0].LongerShiftH = 26, 0
	for hour, want := range map[float64]float64{0: 24, 1.5: 25.5, 2: 2, 7: 7, 24*3 + 1: 25, 24*3 + 12: 12} {
		assert.InDelta(t, want, g.hourOfShift(hour), 1e-12)
	}
	assert.Equal(t, []bool{true, false, false, true, true}, []bool{g.inShift(25), g.inShift(26), g.inShift(6.9), g.inShift(7), g.inShift(23)})
}

// A cut by hand: 4 people for 6 hours at 120 stalks an hour, 0.9 of them in this draw, on a day
// of half the luck.
func TestCutOfADay(t *testing.T) {
	r := small(landing1(0))
	p := parameters()
	g := &given{region: r, site: &r.Sites[0], p: &p}
	assert.Equal(t, 2880, g.ordinaryCut())
	p.OutputFactor = 0.9
	assert.Equal(t, 2592, g.ordinaryCut())
	assert.Equal(t, 1296, g.cutOf(0.5))
	r.Sites[0].OutputPerPersonH = 0.1
	assert.Equal(t, 2, g.ordinaryCut(), "2.16 stalks, to the nearest")
}

// A cabinet holds less while the group learns, and less of fresh stalks than of pre-dried
// ones; and so many charges of a length fit into the rest of a shift: of 3 h with half an hour
// of handling before and after and 0.56 h of cooling two from 7 to 19 h and one from noon.
func TestWhatADryerTakes(t *testing.T) {
	r := small(landing1(1))
	ds := &calmRooms(r, 1).dryers
	fresh := ds.p.Stalk.FreshMoisture.DryBasis()
	assert.Equal(t, 1000, ds.capacity(fresh))
	assert.Greater(t, ds.capacity(fresh/8), 1000)
	r.Dryer.HoldsFraction = 0.75
	assert.Equal(t, 750, ds.capacity(fresh))
	for _, tt := range []struct {
		dryingH, nowH float64
		want          int
	}{{3, 7, 2}, {3, 8.5, 2}, {3, 12, 1}, {3, 15.5, 1}, {3, 15.6, 0}, {11.5, 7, 1}, {11.6, 7, 0}, {1.5, 7, 4}, {3, 24 + 7, 2}} {
		assert.Equal(t, tt.want, ds.chargesThatFit(ds.fires.on(0), tt.dryingH, ds.shiftEndH()-ds.hourOfShift(tt.nowH)), "%+v", tt)
	}
}

// Of a charge that dries too far a part breaks and in a chamber too hot a part browns, by hand
// from the fire's own shares; what leaves takes its water along.
func TestWhatAFireLeaves(t *testing.T) {
	r := small(landing1(1))
	r.Dryer.BreakFraction = 0.5
	ds := &calmRooms(r, 1).dryers
	fire := ds.p.Cabinet.Light(charge.Ambient{TempC: 28, VapourKPa: 0.8 * air.SaturationKPa(28)})
	course := courseOf(ds.p, &fire, 200, 3, 200, 2)
	ds.course = *course
	lots := []lot{{stalks: 200, kept: 1, state: stalk.State{Moisture: 3}}, {stalks: 200, kept: 1, state: stalk.State{Moisture: 2}}}
	kg := ds.dry(lots, 0.1)
	wantKg, wantBroken, wantBrowned, leftKg := 0.0, 0, 0, 0.0
	for i, moisture := range []stalk.DryBasis{3, 2} {
		after := course.After(moisture)
		wantKg += ds.dryKg(200) * float64(moisture-after)
		broken := int(200*course.OverdriedShare(moisture, after)*0.5 + 0.5)
		browned := int(float64(200-broken)*0.1 + 0.5)
		wantBroken, wantBrowned = wantBroken+broken, wantBrowned+browned
		leftKg += ds.dryKg(broken+browned) * float64(after)
		assert.Equal(t, 200-broken-browned, lots[i].stalks)
		assert.InDelta(t, float64(after), float64(lots[i].state.Moisture), 0)
	}
	require.Positive(t, wantBroken)
	require.Positive(t, wantBrowned)
	assert.InDelta(t, wantKg, kg, 1e-12)
	assert.Equal(t, []int{wantBroken, wantBrowned, wantBrowned}, []int{ds.month.Broken, ds.month.Browned, ds.month.Second})
	assert.InDelta(t, leftKg, ds.water.Left, 1e-12)
}

// A dryer that has fired its hours breaks when the fire is out and works again after the
// repair; it breaks once for each of its times, and a shift later not at all.
func TestADryerBreaks(t *testing.T) {
	r := small(landing1(1))
	days, hours := calm(61)
	s := season(r, parameters(), days, hours)
	s.Dryers = [][]DryerLuck{{{FailsAt: []float64{10, 16}, RepairH: []float64{30, 7}}}}
	ds := &roomsOf(r, 1, s).dryers
	d := &ds.cabinets[0]
	fired := func(dryingH, nowH float64) float64 {
		d.dryingH = dryingH
		ds.mayBreak(0, nowH)
		return d.worksAtH
	}
	assert.Zero(t, fired(9.9, 20))
	assert.True(t, d.free(20))
	assert.InDelta(t, 70, fired(0.1, 40), 1e-12)
	assert.Equal(t, []bool{false, true}, []bool{d.free(69.9), d.free(70)})
	assert.InDelta(t, 70, fired(5, 80), 1e-12)
	assert.InDelta(t, 107, fired(1, 100), 1e-12)
	assert.InDelta(t, 107, fired(1000, 120), 1e-12)
	assert.InDelta(t, 37, ds.month.BrokenH, 1e-12)
	d.readyH, d.goneH = 200, 300
	assert.Equal(t, []bool{false, true, false}, []bool{d.free(199), d.free(200), d.free(300)})
	d.charge = append(d.charge, lot{})
	assert.False(t, d.free(250))
}

// A region that begins later: spells keep their dates, what has been is over, dryers that were
// moved before stand where they were taken, and the region itself stays.
func TestARegionThatBeginsLater(t *testing.T) {
	r := small(landing1(2))
	r.Dryer.ReadyAfterDays = 12
	r.People.Away = []Away{{Name: "a", FirstDay: 1, LastDay: 9}, {Name: "b", FirstDay: 8, LastDay: 10}, {Name: "c", FirstDay: 20, LastDay: 22}}
	r.Sites[0].Closed = []Closure{{Why: "a", FirstDay: 1, LastDay: 9, Removed: 0.5}, {Why: "b", FirstDay: 8, LastDay: 10, Removed: 0.5}, {Why: "c", FirstDay: 10, LastDay: 22, Removed: 0.5}}
	r.Moves = []Move{{Day: 4, DaysLost: 3}, {Day: 8, DaysLost: 5}, {Day: 10, DaysLost: 5}, {Day: 12, DaysLost: 5}}
	was := r.Clone()
	l := r.From(10)
	assert.Equal(t, was, r)
	assert.Equal(t, Calendar{StartMonth: time.June, StartDay: 11, Days: 51}, l.Calendar)
	assert.Equal(t, []Away{{Name: "b", FirstDay: 0, LastDay: 0}, {Name: "c", FirstDay: 10, LastDay: 12}}, l.People.Away)
	assert.Equal(t, []Closure{{Why: "b", FirstDay: 0, LastDay: 0}, {Why: "c", FirstDay: 0, LastDay: 12, Removed: 0.5}}, l.Sites[0].Closed)
	assert.Equal(t, []Move{{Day: 0, DaysLost: 0}, {Day: 0, DaysLost: 3}, {Day: 0, DaysLost: 5}, {Day: 2, DaysLost: 5}}, l.Moves)
	assert.Equal(t, 2, l.Dryer.ReadyAfterDays)
	assert.Zero(t, r.From(20).Dryer.ReadyAfterDays)
}

// The calendar, by an almanac of a year of 365 days: first and last day of every month, and a
// season over the turn of the year.
func TestEveryMonthOfTheCalendar(t *testing.T) {
	lengths := []int{31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31}
	c := Calendar{StartMonth: time.January, StartDay: 1, Days: 365}
	spans := c.Months()
	require.Len(t, spans, 12)
	first := 0
	for i, n := range lengths {
		m := time.Month(i + 1)
		assert.Equal(t, n, DaysInMonth(m), m)
		assert.Equal(t, Span{m, first, first + n - 1, false}, spans[i])
		for _, dom := range []int{1, n} {
			month, day := c.Date(first + dom - 1)
			assert.Equal(t, []int{int(m), dom}, []int{int(month), day})
			assert.Equal(t, first+dom, Calendar{StartMonth: m, StartDay: dom}.StartDOY())
		}
		first += n
	}
	month, day := Calendar{StartMonth: time.December, StartDay: 31}.Date(1)
	assert.Equal(t, []int{1, 1}, []int{int(month), day})
}
