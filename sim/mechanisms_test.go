package sim

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drystalk/sim/air"
	"drystalk/sim/charge"
)

// People: one pool of hours, by hand. A site of 10 cutters works 8 h a day, of which 6 are
// cut. Two charges of 1,000 take 2 h of handling each (1 h a thousand to load, 1 to
// unload), their tending t/2 h each with one person to two dryers, and grading the 2,000
// stalks 1 h a thousand: at loading, at unloading and when collected.
func TestPeopleByHand(t *testing.T) {
	r, p, s := twoCharges(t)
	r.People = People{Pool: true, WorkHPerDay: 8, TendsDryers: 2, HandlingHPer1000: 1, GradingHPer1000: 1}
	fire := p.Cabinet.Light(charge.Ambient{TempC: 28, VapourKPa: 0.8 * air.SaturationKPa(28)})
	fresh := p.Stalk.FreshMoisture.DryBasis()
	h := fire.DryingH(fresh, fresh, 5.85)
	m := ledger(t, r, s).Sites[0].Months[0]
	require.Equal(t, 2, m.Charges)
	left := 2000 - float64(m.Broken) // unloaded and collected
	want := 2*(2+h/2) + (2000+2*left)/1000
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
	y := &siteSeason{region: r, site: &r.Sites[0], p: &p, month: &SiteMonth{}}
	assert.Equal(t, 1.0, y.freeShare())
	y.work(8) // 4 cutters have 32 h, of which 24 are cut: 8 h of other work cost nothing
	assert.Equal(t, 1.0, y.freeShare())
	y.work(20) // 12 h left for 24
	assert.Equal(t, 0.5, y.freeShare())
	y.work(40) // more than a day: 8 h are owed on, which the slack of the next day takes
	assert.Equal(t, 0.0, y.freeShare())
	assert.Equal(t, 1.0, y.freeShare())
	r.People.Pool = false
	y.work(1000)
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
