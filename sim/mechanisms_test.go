package sim

import (
	"math"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drystalk/sim/air"
	"drystalk/sim/charge"
)

// People: one pool of hours, by hand. A site of 10 cutters works 8 h a day, of which 6 are
// cut. Two charges of 1,000 take 2 h of handling each (1 h a thousand to load, 1 to
// unload), their tending t/2 h each with one person to two dryers. The 2,000 stalks are graded
// and bundled once, at unloading, 1 h a thousand, and looked through at loading and when
// collected, 0.2 h a thousand.
func TestPeopleByHand(t *testing.T) {
	r, p, s := twoCharges(t)
	r.People = People{Pool: true, WorkHPerDay: 8, TendsDryers: 2, HandlingHPer1000: 1, GradingHPer1000: 1, LookingHPer1000: 0.2}
	fire := p.Cabinet.Light(charge.Ambient{TempC: 28, VapourKPa: 0.8 * air.SaturationKPa(28)})
	h := freshHours(&p, &fire, 1000)
	m := ledger(t, r, s).Sites[0].Months[0]
	require.Equal(t, 2, m.Charges)
	left := 2000 - float64(m.Broken) // unloaded and collected
	want := 2*(2+h/2) + (0.2*2000+1.2*left)/1000
	assert.InDelta(t, want, m.OtherH, 1e-9)
	assert.InDelta(t, 50, m.CutH, 1e-9, "10 people, 5 h, on the one day without rain")
}

// twoCharges is the region of two charges by hand.
func twoCharges(t *testing.T) (*Region, Parameters, *Season) {
	t.Helper()
	r := small(landing1(1))
	r.Calendar = Calendar{StartMonth: 6, StartDay: 27, Days: 4}
	r.Dryer.MinimumFill = 1
	r.Sites[0].Cutters, r.Sites[0].OutputPerPersonH, r.Sites[0].CuttingHPerDay = 10, 40, 5
	r.Sites[0].OpenRackM2, r.Sites[0].ClearRoofM2 = 13.001, 0
	p := parameters()
	p.AcceptedShare = 1
	p.Stalk.MouldFactor = 0
	days, hours := calm(4)
	for d := 1; d < 4; d++ {
		days[d].RainMM = 30
	}
	return r, p, season(r, p, days, hours)
}

// Other work is taken off the next day's cutting, and what exceeds a day is owed on.
func TestOtherWorkTakesCuttingHours(t *testing.T) {
	r := small(landing1(0))
	r.People = People{Pool: true, WorkHPerDay: 8}
	p := parameters()
	y := &people{given: &given{region: r, site: &r.Sites[0], p: &p}, book: &book{month: &SiteMonth{}}, present: 1}
	other := 0.0
	assert.Equal(t, 1.0, y.freeShare())
	y.work(8, &other) // 4 cutters have 32 h, of which 24 are cut: 8 h of other work cost nothing
	assert.Equal(t, 1.0, y.freeShare())
	y.work(20, &other) // 12 h left for 24
	assert.Equal(t, 0.5, y.freeShare())
	y.work(40, &other) // more than a day: 8 h are owed on, which the slack of the next day takes
	assert.Equal(t, 0.0, y.freeShare())
	assert.Equal(t, 1.0, y.freeShare())
	r.People.Pool = false
	y.work(1000, &other)
	assert.Equal(t, 1.0, y.freeShare())
}

// People can be what is short: with one pool fewer stalks are cut, and the ledger says why.
func TestPeopleCanBeShort(t *testing.T) {
	r := small(landing1(2))
	days, hours := mixedDays(61)
	s := season(r, parameters(), days, hours)
	free := ledger(t, r, s)
	r.People = People{Pool: true, WorkHPerDay: 6, TendsDryers: 1, HandlingHPer1000: 3, GradingHPer1000: 3, CollectionH: 5}
	bound := ledger(t, r, s)
	assert.Zero(t, free.Sites[0].Months[0].NotCutPeople)
	assert.Positive(t, bound.Sites[0].Months[0].NotCutPeople)
	assert.Less(t, bound.Sites[0].Months[0].Cut, free.Sites[0].Months[0].Cut)
}

// Sheets keep rain off open racks: more good stalks in showery weather; when they are never
// pulled in time they change nothing.
func TestSheets(t *testing.T) {
	r := small(landing1(0))
	r.Sites[0].ClearRoofM2 = 0
	days, hours := sunny(61)
	for d := range days {
		days[d].RainMM = 6
		for h := 14; h < 17; h++ {
			a := &hours[24*d+h]
			a.RainMM, a.Humidity = 2, 0.95
			a.VapourKPa = a.Humidity * air.SaturationKPa(a.TempC)
		}
	}
	open := ledger(t, r, season(r, parameters(), days, hours))
	r.Sites[0].Sheets = true
	s := season(r, parameters(), days, hours)
	covered := ledger(t, r, s)
	assert.Greater(t, arrived(covered), arrived(open)*11/10)
	s.Sheets = [][]bool{make([]bool, 61)}
	for d := range s.Sheets[0] {
		s.Sheets[0][d] = true
	}
	assert.Equal(t, open.Hub, ledger(t, r, s).Hub)
}

func arrived(l RegionLedger) int {
	n := 0
	for _, m := range l.Hub {
		n += m.Arrived
	}
	return n
}

// A dryer that is out all season fires nothing and its shift hours are booked as broken;
// one that breaks after its first charge waits for the repair; each lowers what arrives.
func TestTroubledDryers(t *testing.T) {
	r := small(landing1(2))
	r.Contract.StalksByMonth[time.July] = 220_000 // more than ever arrives: nobody rests
	days, hours := soaked(61)
	s := season(r, parameters(), days, hours)
	whole := ledger(t, r, s)
	none := DryerLuck{}
	s.Dryers = [][]DryerLuck{{none, {Out: true}}}
	one := ledger(t, r, s)
	r.Sites[0].Dryers = 1
	s.Dryers = nil
	assert.Equal(t, ledger(t, r, s).Hub, one.Hub, "a dryer that is out is no dryer")
	r.Sites[0].Dryers = 2
	assert.InDelta(t, 30*12, one.Sites[0].Months[0].BrokenH, 1e-9, "June: 30 shifts of 12 h")
	assert.InDelta(t, 31*12, one.Sites[0].Months[1].BrokenH, 1e-9, "July: 31")

	s.Dryers = [][]DryerLuck{{none, {FailsAt: []float64{1}, RepairH: []float64{24 * 20}}}}
	broken := ledger(t, r, s)
	assert.InDelta(t, 24*20, broken.Sites[0].Months[0].BrokenH, 1e-9)
	assert.Less(t, arrived(one), arrived(broken))
	assert.Less(t, arrived(broken), arrived(whole))
	r.Trouble.Ignore = true
	assert.Equal(t, whole.Hub, ledger(t, r, s).Hub)
}

// Wood that runs out stops the fires, and the wood burned is never more than there was.
func TestWoodRunsOut(t *testing.T) {
	r := small(landing1(2))
	days, hours := soaked(61)
	s := season(r, parameters(), days, hours)
	free := ledger(t, r, s)
	r.Dryer.WoodLimited, r.Dryer.OpeningWoodKg, r.Dryer.WoodKgPerMonth = true, 200, 300
	short := ledger(t, r, s)
	burned := func(l RegionLedger) float64 { return l.Sites[0].Months[0].WoodKg + l.Sites[0].Months[1].WoodKg }
	require.Greater(t, burned(free), 800.0)
	assert.LessOrEqual(t, burned(short), 800.0)
	assert.Greater(t, burned(short), 400.0)
	assert.Positive(t, short.Sites[0].Months[0].NoWood)
	assert.Less(t, arrived(short), arrived(free))
}

// A road shut by rain delays the collection to the first day on which three days brought
// less: a month without road delivers nothing, and the stalks are still there.
func TestShutRoad(t *testing.T) {
	r := small(landing1(0))
	r.Sites[0].OpenRackM2, r.Sites[0].LoadingKgPerM2 = 400, 4
	days, hours := sunny(61)
	for d := range 40 {
		days[d].RainMM = 24 // cutters work up to 25 mm, the racks stay dry
	}
	s := season(r, parameters(), days, hours)
	open := ledger(t, r, s)
	r.Road.ClosedAboveMM = 60
	shut := ledger(t, r, s)
	require.Positive(t, open.Hub[0].Arrived)
	assert.Zero(t, shut.Hub[0].Arrived)
	assert.False(t, shut.Hub[0].Met)
	assert.Positive(t, shut.Sites[0].Months[0].Closing)
	assert.Greater(t, shut.Hub[1].Arrived, open.Hub[1].Arrived)
	assert.Positive(t, shut.Sites[0].Months[0].RoadShut)
}

// A vehicle that is full leaves the rest for the next collection.
func TestSmallVehicle(t *testing.T) {
	r := small(landing1(0))
	r.Sites[0].OpenRackM2, r.Sites[0].LoadingKgPerM2 = 400, 4
	days, hours := sunny(61)
	s := season(r, parameters(), days, hours)
	r.Road.VehicleStalks = 9000
	l := ledger(t, r, s)
	for _, m := range l.Hub {
		assert.LessOrEqual(t, m.Arrived, 2*9000)
		assert.Positive(t, m.Arrived)
	}
	assert.Positive(t, l.Sites[0].Months[1].Closing)
}

// A lot larger than the vehicle leaves in several collections instead of blocking all behind it:
// with 20,001 stalks in one lot and a vehicle of 20,000 the second collection takes the last one.
func TestALotLargerThanTheVehicle(t *testing.T) {
	site := landing1(0)
	site.Cutters, site.OpeningStock = 0, 20_001
	r := small(site)
	r.Road.VehicleStalks = 20_000
	days, hours := calm(61)
	june := ledger(t, r, season(r, parameters(), days, hours)).Sites[0].Months[0]
	assert.Equal(t, []int{20_001, 0}, []int{june.ToHub, june.Closing})
	r.Road.VehicleStalks = 7000
	l := ledger(t, r, season(r, parameters(), days, hours))
	assert.Equal(t, []int{14_000, 6001}, []int{l.Sites[0].Months[0].ToHub, l.Sites[0].Months[1].ToHub})
}

// Hours are hours: no mechanism books a negative or endless one.
func TestHoursAreFinite(t *testing.T) {
	r := small(landing1(3))
	r.People = People{Pool: true, WorkHPerDay: 8, TendsDryers: 2, HandlingHPer1000: 1, GradingHPer1000: 1, CollectionH: 3}
	r.Road = Road{ClosedAboveMM: 50, VehicleStalks: 5000}
	days, hours := mixedDays(61)
	s := season(r, parameters(), days, hours)
	s.Dryers = [][]DryerLuck{{{Out: true}, {FailsAt: []float64{5, 20}, RepairH: []float64{50, 500}}, {}}}
	for _, m := range ledger(t, r, s).Sites[0].Months {
		for _, h := range []float64{m.FiringH, m.IdleH, m.BrokenH, m.CutH, m.OtherH, m.WoodKg} {
			assert.True(t, h >= 0 && !math.IsInf(h, 0) && !math.IsNaN(h), "%g", h)
		}
	}
}

// Logistic growth at 0.07 a day to 40.8 kg/m² from 3.8: 6.99, 18.61, 35.60 and 40.08 after
// 10, 30, 60 and 90 days (computed independently from the closed form; a published wetland
// rose from 3.8 to 40.8 between March and September, Lahon et al. 2023, PeerJ e14811).
func TestStandGrows(t *testing.T) {
	for days, want := range map[float64]float64{10: 6.99, 30: 18.61, 60: 35.60, 90: 40.08} {
		assert.InDelta(t, want, GrownKgM2(3.8, 0.07, 1, 40.8, days), 0.005)
	}
	assert.InDelta(t, 7.6, GrownKgM2(3.8, 0.07, 1, 1e9, math.Ln2/0.07), 1e-6, "doubles in ln 2 / r")
	assert.Zero(t, GrownKgM2(0, 0.07, 1, 40, 10))
	assert.Equal(t, []float64{0, 0.5, 1, 0}, []float64{growthResponse(5), growthResponse(19.5), growthResponse(29), growthResponse(41)})
}

// A small stand thins, and the ledger says so; a large one changes little; a spell that
// flushes it costs stalks.
func TestStandCanBeShort(t *testing.T) {
	r := small(landing1(0))
	r.Sites[0].OpenRackM2, r.Sites[0].LoadingKgPerM2 = 400, 4
	r.Stand = Stand{GrowthPerDay: 0.07, CapacityKgM2: 40, StartKgM2: 20, KgPerStalk: 0.33, ThinAtKgM2: 5}
	days, hours := sunny(61)
	for d := range days {
		days[d].TmaxC, days[d].TminC = 33, 25
	}
	s := season(r, parameters(), days, hours)
	always := ledger(t, r, s)
	cut := func(l RegionLedger) int { return l.Sites[0].Months[0].Cut + l.Sites[0].Months[1].Cut }
	r.Sites[0].StandM2 = 1e6
	large := ledger(t, r, s)
	assert.Less(t, cut(large), cut(always), "cutters walk a little farther")
	r.Sites[0].StandM2 = 400
	thin := ledger(t, r, s)
	assert.Less(t, cut(thin), cut(large)*9/10)
	assert.Positive(t, thin.Sites[0].Months[1].NotCutStand)
	days[10].RainMM = 90
	r.Stand.FlushAboveMM, r.Stand.FlushedFraction = 80, 0.8
	assert.Less(t, cut(ledger(t, r, s)), cut(thin))
}

// Planting takes hands for its days after the onset of the rains, and no others.
func TestPlantingTakesHands(t *testing.T) {
	r := small(landing1(0))
	r.Sites[0].OpenRackM2, r.Sites[0].LoadingKgPerM2 = 400, 4
	r.People = People{Pool: true, WorkHPerDay: 6, Planting: Planting{AfterOnsetDays: 5, Days: 10, AwayFraction: 0.5}}
	days, hours := sunny(61)
	for d := 10; d < 17; d++ {
		days[d].RainMM = 12 // 84 mm in a week: the onset is the day on which 60 mm are reached
	}
	s := season(r, parameters(), days, hours)
	assert.Equal(t, 14, s.onset)
	with := ledger(t, r, s).Sites[0].Months[0]
	r.People.Planting.Days = 0
	without := ledger(t, r, s).Sites[0].Months[0]
	// Days 19 to 28, of which day 20 and day 27 are rest days: 8 days at half of 2,880.
	assert.Equal(t, 8*1440, without.Cut-with.Cut)
	assert.Equal(t, 8*1440, with.NotCutPeople)
}

// Damp stalks are not taken at the gate, dry again and come with the next collection; a lot
// at the limit itself is taken.
func TestGateMoisture(t *testing.T) {
	r := small(landing1(0))
	r.Sites[0].SealedStore, r.Sites[0].OpenRackM2, r.Sites[0].LoadingKgPerM2 = false, 400, 4
	days, hours := sunny(61)
	for h := 24 * 12; h < 24*20; h++ { // damp air without rain around the first collection
		hours[h].Humidity, hours[h].TempC = 0.93, 26
		hours[h].ET0SunMM, hours[h].ET0AirMM, hours[h].RadiationMJPerM2 = 0.05, 0, 0.3
		hours[h].VapourKPa = 0.93 * air.SaturationKPa(26)
	}
	s := season(r, parameters(), days, hours)
	free := ledger(t, r, s)
	r.Road.MoistureLimit = 0.155
	strict := ledger(t, r, s)
	assert.Positive(t, strict.Sites[0].Months[0].Redried)
	assert.Zero(t, free.Sites[0].Months[0].Redried)
	assert.Positive(t, strict.Hub[0].Arrived, "they come with the second collection")
	r.Road.MoistureLimit = 0.5
	assert.Equal(t, free.Hub, ledger(t, r, s).Hub)
}

// Wood that lies in the rain makes charges longer and burns more of it.
func TestWetWood(t *testing.T) {
	r := small(landing1(1))
	days, hours := soaked(61)
	dry := ledger(t, r, season(r, parameters(), days, hours)).Sites[0].Months[0]
	r.Dryer.WetWood = 0.40
	wet := ledger(t, r, season(r, parameters(), days, hours)).Sites[0].Months[0]
	assert.Greater(t, wet.WoodKg/float64(wet.Charges), 1.2*dry.WoodKg/float64(dry.Charges))
	assert.GreaterOrEqual(t, wet.FiringH/float64(wet.Charges), dry.FiringH/float64(dry.Charges))
}

// A shift that runs into the night holds more charges; two of 8 hours do not fit before 19 h
// and do before 27 h, three in the morning.
func TestNightShift(t *testing.T) {
	r, _, s := twoCharges(t)
	day := ledger(t, r, s).Sites[0].Months[0]
	require.Equal(t, 2, day.Charges)
	r.Calendar.Days = 3
	r.Dryer.ShiftEndH = 27
	night := ledger(t, r, s).Sites[0].Months[0]
	// Day 0: the cut lands at 11 h, a charge is out at 11.5 + 7.86 = 19.4, unloaded at 20.6;
	// the next would be out at 21.1 + 7.86 = 28.97, after 27. So one on day 0, one on day 1.
	assert.Equal(t, 2, night.Charges)
	assert.InDelta(t, day.FiringH, night.FiringH, 1e-9)
	assert.Equal(t, 2000-day.Broken, night.ToHub)
	busy := 2 * (1 + day.FiringH/2 + 0.5*math.Log(52.0/17))
	assert.InDelta(t, 3*20-busy, night.IdleH, 1e-9)
}

// Dryers that are ready late, and a first season with smaller charges, deliver less.
func TestReadyLateAndLearning(t *testing.T) {
	r := small(landing1(2))
	days, hours := soaked(61)
	s := season(r, parameters(), days, hours)
	whole := ledger(t, r, s)
	r.Dryer.ReadyAfterDays = 30
	late := ledger(t, r, s)
	assert.Zero(t, late.Sites[0].Months[0].Charges)
	assert.Positive(t, late.Sites[0].Months[1].Charges)
	r.Dryer.ReadyAfterDays, r.Dryer.HoldsFraction = 0, 0.7
	learning := ledger(t, r, s)
	assert.Less(t, arrived(learning), arrived(whole))
	assert.Greater(t, arrived(learning), arrived(whole)/2)
}

// A site with plants and people but no dryer hauls its wet stalks to a neighbour with dryers
// to spare: the region gets more, every stalk is accounted for, and the neighbour's yard says
// where they came from. Circles and unknown sites are refused.
func TestHauling(t *testing.T) {
	a, b := landing1(0), landing1(3)
	b.Name, b.Cutters = "Heron Point", 1
	r := small(a, b)
	days, hours := soaked(61)
	s := season(r, parameters(), days, hours)
	apart := ledger(t, r, s)
	r.Sites[0].HaulTo, r.Sites[0].HaulStalksPerDay = "Heron Point", 1500
	hauled := ledger(t, r, s)
	assert.Equal(t, hauled, ledger(t, r, s), "running again changes nothing")
	assert.Greater(t, arrived(hauled), arrived(apart)*13/10)
	out, in := 0, 0
	for k := range hauled.Sites[0].Months {
		out += hauled.Sites[0].Months[k].MovedOut
		in += hauled.Sites[1].Months[k].MovedIn
	}
	assert.Positive(t, out)
	assert.Equal(t, out, in)
	turned := small(b, r.Sites[0])
	assert.Equal(t, hauled.Hub, ledger(t, turned, season(turned, parameters(), days, hours)).Hub, "the order in the file does not matter")
	r.Sites[1].HaulTo = "North Landing"
	_, err := r.HaulOrder()
	require.ErrorContains(t, err, "circle")
	r.Sites[1].HaulTo = "Nowhere"
	_, err = r.HaulOrder()
	require.ErrorContains(t, err, "no other site")
}

// A site whose stalks are refused more often brings fewer, by hand: twice the refused share of
// 8 % is 16 %; at a factor of 20 nothing is accepted.
func TestGateOfASite(t *testing.T) {
	r := small(landing1(0))
	r.Sites[0].OpenRackM2, r.Sites[0].LoadingKgPerM2 = 400, 4
	days, hours := sunny(61)
	s := season(r, parameters(), days, hours)
	for factor, refused := range map[float64]float64{1: 0.08, 2: 0.16, 20: 1} {
		s.Refused = []float64{factor}
		m := ledger(t, r, s).Sites[0].Months[0]
		require.Positive(t, m.ToHub)
		assert.InDelta(t, refused*float64(m.ToHub), float64(m.RefusedAtGate), 1.01)
	}
}
