package sim

import (
	"math"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"drystalk/sim/charge"
	"drystalk/sim/stalk"
)

// anySite draws a site, from one without people, racks or dryers to one absurdly large.
func anySite(t *rapid.T, name string) Site {
	huge := rapid.SampledFrom([]float64{1, 1, 1, 1, 1000}).Draw(t, name+" scale")
	s := Site{
		Name:             name,
		Cutters:          rapid.IntRange(0, 12).Draw(t, name+" cutters"),
		OutputPerPersonH: huge * rapid.Float64Range(0, 400).Draw(t, name+" output"),
		CuttingHPerDay:   rapid.Float64Range(0, 10).Draw(t, name+" hours"),
		OpenRackM2:       huge * rapid.Float64Range(0, 300).Draw(t, name+" open"),
		ClearRoofM2:      rapid.Float64Range(0, 50).Draw(t, name+" clear"),
		SolidRoofM2:      rapid.Float64Range(0, 50).Draw(t, name+" solid"),
		LoadingKgPerM2:   rapid.Float64Range(2, 25).Draw(t, name+" loading"),
		Dryers:           rapid.IntRange(0, 5).Draw(t, name+" dryers"),
		SealedStore:      rapid.Bool().Draw(t, name+" sealed"),
		OpeningStock:     rapid.IntRange(0, 5000).Draw(t, name+" opening"),
		Sheets:           rapid.Bool().Draw(t, name+" sheets"),
		Crew:             rapid.IntRange(0, 3).Draw(t, name+" crew"),
		StoreStalks:      rapid.SampledFrom([]int{0, 0, 1, 700}).Draw(t, name+" store room"),
		LongerShiftH:     rapid.SampledFrom([]float64{0, 0, 3}).Draw(t, name+" longer shift"),
		StandM2:          rapid.SampledFrom([]float64{0, 1, 500, 1e6}).Draw(t, name+" stand"),
	}
	if rapid.Bool().Draw(t, name+" closed") {
		s.Closed = []Closure{{FirstDay: 3, LastDay: 9, Removed: 0.5}}
	}
	return s
}

// anyRegion draws a region of two sites with any mixture of all mechanisms.
func anyRegion(t *rapid.T) *Region {
	a, b := anySite(t, "Heron Point"), anySite(t, "Old Sluice")
	if rapid.Bool().Draw(t, "hauls") {
		a.HaulTo, a.HaulStalksPerDay = b.Name, rapid.SampledFrom([]int{1, 900, 1e6}).Draw(t, "hauled")
	}
	r := small(a, b)
	r.Calendar.Days = rapid.IntRange(1, 61).Draw(t, "days")
	d := &r.Dryer
	d.LoadingRule = LoadingRule(rapid.IntRange(0, 3).Draw(t, "rule"))
	d.ShiftEndH = rapid.SampledFrom([]float64{9, 19, 24, 30}).Draw(t, "shift end")
	d.WoodLimited = rapid.Bool().Draw(t, "wood limited")
	d.WoodKgPerMonth = rapid.Float64Range(0, 2000).Draw(t, "wood a month")
	d.WetWood = stalk.WetBasis(rapid.SampledFrom([]float64{0, 0.5}).Draw(t, "wet wood"))
	d.ReadyAfterDays = rapid.SampledFrom([]int{0, 10}).Draw(t, "ready")
	d.HoldsFraction = rapid.SampledFrom([]float64{0, 0.5, 1}).Draw(t, "learning")
	d.BrownsPerH = rapid.SampledFrom([]float64{0, 0.05}).Draw(t, "browns")
	r.Hub.CollectionsPerMonth = rapid.IntRange(1, 5).Draw(t, "collections")
	d.AtRiskFraction = rapid.SampledFrom([]float64{0, 0.1, 1}).Draw(t, "at risk")
	r.Hub.OpeningStock = rapid.SampledFrom([]int{0, 1, 30_000}).Draw(t, "stock at the hub")
	r.Hub.Humidity = rapid.SampledFrom([]float64{0, 0.65, 0.92, 1}).Draw(t, "air of the hub")
	r.Hub.SealedStore = rapid.Bool().Draw(t, "hub sealed")
	r.Hub.StoreStalks = rapid.SampledFrom([]int{0, 0, 1, 5000}).Draw(t, "room at the hub")
	r.Yard.HeapDaysOfCut = rapid.SampledFrom([]float64{0, 1, 5}).Draw(t, "heap")
	r.Yard.SheetReactionH = rapid.IntRange(0, 2).Draw(t, "reaction")
	r.Yard.SheetsAtNight = rapid.Bool().Draw(t, "sheets at night")
	r.Store.Humidity = rapid.SampledFrom([]float64{0, 0.6, 0.92}).Draw(t, "store")
	r.People = People{
		Pool: rapid.Bool().Draw(t, "pool"), WorkHPerDay: rapid.Float64Range(0, 16).Draw(t, "work"), TendsDryers: 1, CrewHPerDay: 8,
		HandlingHPer1000: rapid.Float64Range(0, 20).Draw(t, "handling"), GradingHPer1000: 1, SheetHPer100M2: 1, SpreadingHPer100M2: rapid.SampledFrom([]float64{0, 3}).Draw(t, "spreading hands"), CollectionH: 4, HaulHPer1000: 2,
		Planting: Planting{AfterOnsetDays: 2, Days: rapid.IntRange(0, 10).Draw(t, "planting"), AwayFraction: 0.7},
	}
	if rapid.Bool().Draw(t, "holidays") {
		r.People.Away = []Away{{FirstDay: 5, LastDay: 8, Fraction: 1}}
	}
	r.Road = Road{
		MoistureLimit: stalk.WetBasis(rapid.SampledFrom([]float64{0, 0.13, 0.16}).Draw(t, "gate")),
		ClosedAboveMM: rapid.SampledFrom([]float64{0, 30, 55}).Draw(t, "road"),
		VehicleStalks: rapid.SampledFrom([]int{0, 1, 3000}).Draw(t, "vehicle"),
		MinimumStalks: rapid.SampledFrom([]int{0, 500}).Draw(t, "minimum"),
	}
	r.Stand = Stand{
		GrowthPerDay: 0.07, CapacityKgM2: 40, StartKgM2: 20, KgPerStalk: 0.33, ThinAtKgM2: 5,
		FlushAboveMM: rapid.SampledFrom([]float64{0, 50}).Draw(t, "flush"), FlushedFraction: 0.3, FlushClosedDays: 2, SiltedFraction: 0.2, SiltedDays: 9,
	}
	if a.Dryers > 0 && rapid.Bool().Draw(t, "moves") {
		r.Moves = []Move{{From: a.Name, To: b.Name, Day: rapid.IntRange(0, 60).Draw(t, "move"), DaysLost: 3}}
	}
	r.Contract.Grace = rapid.Bool().Draw(t, "grace")
	anySpreading(t, r)
	r.Hub.Speaks = Speaks(rapid.IntRange(0, 2).Draw(t, "speaks"))
	return r
}

// Stalks balance exactly and water to one part in a thousand million, whatever the region
// looks like: Runner returns an error if not. Nothing is negative, and the hours of the
// dryers add up to their shifts.
func TestBalanceOfRandomRegions(t *testing.T) {
	mixed, mixedHours := mixedDays(61)
	rapid.Check(t, func(t *rapid.T) {
		r := anyRegion(t)
		n := r.Calendar.Days
		s := season(r, parameters(), mixed[:n], mixedHours[:24*n])
		if rapid.Bool().Draw(t, "trouble") {
			luck := []DryerLuck{{Out: true}, {FailsAt: []float64{3, 9, 30}, RepairH: []float64{1, 100, 1e5}}}
			s.Dryers = [][]DryerLuck{luck, luck}
		}
		if rapid.Bool().Draw(t, "nobody at night") {
			s.Nights = [][]bool{make([]bool, n), make([]bool, n)}
			for d := range n {
				s.Nights[0][d], s.Nights[1][d] = d%2 == 0, true
			}
		}
		run := NewRunner(r)
		run.EveryDay = true
		l, err := run.Ledger(s)
		require.NoError(t, err)
		for i := range l.Hub {
			m := &l.Hub[i]
			require.GreaterOrEqual(t, min(m.Opening, m.Arrived, m.Spoiled, m.MadeGood, m.Delivered), 0)
			require.LessOrEqual(t, m.Spoiled, m.Opening+m.Arrived-m.RefusedAtGate)
			if room := r.Hub.StoreStalks; room > 0 {
				require.LessOrEqual(t, m.Available(), max(room, m.Opening), "stalks at the hub")
			}
		}
		for i, site := range l.Sites {
			require.Less(t, site.Water.Off(), 1e-9)
			season := SiteMonth{}
			for k := range site.Months {
				requireBalance(t, &site.Months[k])
				season.Add(&site.Months[k])
			}
			requireDays(t, site.Days, &season)
			last := &site.Days[n-1]
			require.Equal(t, site.Months[len(site.Months)-1].Closing, last.OnRacks+last.InHeap+last.InDryers+last.InStore, "what lies there at last")
			sum := season.Shift.Sum()
			each := DryerHours{}
			for k := range site.Each {
				each.Add(&site.Each[k])
			}
			for s := range each {
				require.InDelta(t, season.Shift[s], each[s], 1e-6*(1+sum), "%s, by dryer", DryerState(s))
			}
			if end := r.Dryer.ShiftEndH + r.Sites[i].LongerShiftH; end <= 24 && len(r.Moves) == 0 {
				want := float64(r.Sites[i].Dryers*n) * (end - r.Dryer.ShiftStartH)
				require.InDelta(t, want, sum, 1e-6*(1+want), "shift hours of %s", site.Site)
			}
		}
		order, err := r.HaulOrder()
		require.NoError(t, err)
		requireWood(t, r, &run.lane(len(order)-1).dryers, l.Sites[order[len(order)-1]].Months)
	})
}

// requireWood requires that the wood brought to the site that ran last was burned, is burning
// or lies there.
func requireWood(t *rapid.T, r *Region, ds *dryers, months []SiteMonth) {
	brought := r.Dryer.OpeningWoodKg + float64(len(months))*r.Dryer.WoodKgPerMonth
	burned := WoodKg.Figure().Season(months)
	for i := range ds.cabinets {
		if d := &ds.cabinets[i]; len(d.charge) > 0 && math.IsInf(d.unloadedH, 1) { // the fire is not out yet
			burned += d.woodKg
		}
	}
	require.InDelta(t, brought, burned+ds.woodKg, 1e-6*(1+brought+burned), "wood")
}

// requireBalance requires of a month what the kinds of its figures promise.
func requireBalance(t *rapid.T, m *SiteMonth) {
	for i := range registry {
		f := &registry[i]
		require.GreaterOrEqual(t, f.Of(m), 0.0, f.Key)
		if f.Whole != NoFigure {
			require.LessOrEqual(t, f.Of(m), f.Whole.Figure().Of(m)*(1+1e-9), "%s is part of %s", f.Key, f.Whole)
		}
	}
	require.InDelta(t, m.Sum(OfKinds(AtStart, Came)), m.Sum(OfKinds(Left, Lost, AtEnd)), 0, "stalks")
	require.InDelta(t, m.OtherH, m.Sum(OfKinds(Task))-m.CutH, 1e-6*(1+m.OtherH), "hours of people")
	require.InDelta(t, m.IdleH, m.Sum(OfKinds(Stands)), 1e-6*(1+m.IdleH), "hours in which dryers stood")
	require.InDelta(t, m.Shift.Sum(), m.Sum(OfKinds(Works, Stands, Down)), 1e-6*(1+m.IdleH), "hours of dryers")
}

// requireDays requires that what the days of a site say adds up to its season.
func requireDays(t *rapid.T, days []SiteDay, season *SiteMonth) {
	var sum SiteMonth
	lost, notCut := 0, 0
	for i := range days {
		d := &days[i]
		sum.Cut, sum.ToHub, sum.Charges = sum.Cut+d.Cut, sum.ToHub+d.ToHub, sum.Charges+d.Charges
		lost, notCut = lost+d.Lost, notCut+d.NotCut
		sum.Shift.Add(&d.Shift)
		require.Equal(t, d.NotCut > 0, d.Why != NoFigure)
	}
	for _, id := range append([]FigureID{Cut, ToHub, Charges}, OfKinds(Works, Stands, Down)...) {
		f := id.Figure()
		require.InDelta(t, f.Of(season), f.Of(&sum), 1e-6*(1+f.Of(season)), f.Key)
	}
	require.InDelta(t, season.Sum(OfKinds(Lost)), lost, 0, "stalks lost by day")
	require.InDelta(t, season.Sum(OfKinds(NotCutFor, NotWanted)), notCut, 0, "stalks not cut by day")
}

// A season of one day is a season: what is cut lies there at its end.
func TestSeasonOfOneDay(t *testing.T) {
	r := small(landing1(1))
	r.Calendar = Calendar{StartMonth: time.June, StartDay: 30, Days: 1}
	days, hours := calm(1)
	l := ledger(t, r, season(r, parameters(), days, hours))
	m := l.Sites[0].Months[0]
	assert.Equal(t, 4*120*6, m.Cut)
	assert.Equal(t, m.Cut, m.Closing)
	assert.InDelta(t, 12, m.Shift.Sum(), 1e-9)
}

// A charge that is graded and loaded in the last minute of a season, in a shift that runs over
// midnight, is in the books: drying hours are tried in steps of 15 seconds, so that some charge
// is unloaded in that minute.
func TestLastMinuteOfTheSeason(t *testing.T) {
	large := landing1(5)
	large.OpenRackM2, large.LoadingKgPerM2 = 3000, 25
	large.OutputPerPersonH *= 30
	r := small(large)
	r.Calendar.Days = 24
	r.Dryer.ShiftEndH, r.Dryer.LoadingRule = 30, WettestFirst
	days, hours := soaked(24)
	s := season(r, parameters(), days, hours)
	lostLate := 0
	for dryingH := 2.7; dryingH < 2.87; dryingH += 1.0 / 240 {
		run := NewRunner(r)
		run.EveryDay = true
		run.lane(0).dryers.hoursOf = func(*charge.Course) float64 { return dryingH }
		months, err := run.Site(0, 5, s)
		require.NoError(t, err, "drying %g h", dryingH)
		y := run.lane(0)
		for i := range y.dryers.cabinets {
			if lightH := y.dryers.cabinets[i].lightH; lightH > 24*24-1.0/64+r.Dryer.HandlingH { // loaded after the books of the month were closed
				lostLate++
			}
		}
		assert.Equal(t, y.held(), months[0].Closing)
	}
	assert.Positive(t, lostLate)
}
