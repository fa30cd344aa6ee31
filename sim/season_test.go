package sim

import (
	"flag"
	"math"
	"os"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drystalk/sim/air"
	"drystalk/sim/charge"
	"drystalk/sim/stalk"
	"drystalk/sim/weather"
)

// TestMain asks for more random regions than the library does by itself; the flag still
// sets any other number, such as the 2,000 of .ci/run.
func TestMain(m *testing.M) {
	flag.Parse()
	given := false
	flag.Visit(func(f *flag.Flag) { given = given || f.Name == "rapid.checks" })
	if !given {
		if err := flag.Set("rapid.checks", "200"); err != nil {
			panic(err)
		}
	}
	os.Exit(m.Run())
}

func ledger(t testing.TB, r *Region, s *Season) RegionLedger {
	t.Helper()
	l, err := NewRunner(r).Ledger(s)
	require.NoError(t, err)
	return l
}

func delivered(l RegionLedger) int {
	n := 0
	for _, m := range l.Hub {
		n += m.Delivered
	}
	return n
}

// Two charges by hand. One site cuts 2,000 stalks on the first day and none
// later (rain above the limit, but none on the racks). The air is 28 °C at 80 %
// and nothing dries or moulds on the racks. A cabinet holds 1,000.
//
// Day 0: the cut lands at 12 h. Handling 0.5 h and a fresh charge of close to
// 8 h do not fit before 19 h, and only full charges are allowed: no fire.
// Day 1: loaded at 7 h, lit at 7.5 h, fire out 7.5 + t, cold (80 to 45 °C at
// 28 °C: 0.5 ln(52/17) = 0.56 h) and unloaded 0.5 h later, before 19 h. The
// second charge does not fit before 19 h. Day 2: the same again.
// So two charges, 2 t firing hours, and 2,000 stalks less those broken.
func TestTwoChargesByHand(t *testing.T) {
	r := small(landing1(1))
	r.Calendar = Calendar{StartMonth: time.June, StartDay: 27, Days: 4}
	r.Dryer.MinimumFill = 1
	r.Sites[0].Cutters, r.Sites[0].OutputPerPersonH, r.Sites[0].CuttingHPerDay = 10, 40, 5
	r.Sites[0].OpenRackM2, r.Sites[0].ClearRoofM2 = 13.001, 0 // 2,000 stalks of 65 g at 10 kg/m²: full, so the dryer is wanted
	p := parameters()
	p.AcceptedShare = 1
	p.Stalk.MouldFactor = 0
	days, hours := calm(4)
	for d := 1; d < 4; d++ {
		days[d].RainMM = 30
	}

	fire := p.Cabinet.Light(charge.Ambient{TempC: 28, VapourKPa: 0.8 * air.SaturationKPa(28)})
	fresh := p.Stalk.FreshMoisture.DryBasis()
	course := courseOf(&p, &fire, 1000, float64(fresh))
	h := course.DryingH
	require.InDelta(t, 7.52, h, 0.05, "computed independently from the printed equations")
	overdried := course.OverdriedShare(fresh, course.After(fresh))
	broken := int(math.Round(1000 * overdried * 0.03))
	require.Positive(t, broken)

	l := ledger(t, r, season(r, p, days, hours))
	m := l.Sites[0].Months[0]
	assert.Equal(t, 2000, m.Cut)
	assert.Equal(t, 3*2000, m.NotCutRain)
	assert.Equal(t, 2, m.Charges)
	assert.InDelta(t, 2*h, m.FiringH, 1e-9)
	assert.Equal(t, 2*broken, m.Broken)
	assert.Equal(t, 2000-2*broken, m.ToHub)
	assert.Zero(t, m.Second+m.Rejected+m.ThrownOut+m.Closing)
	// Of four shifts of 12 h the dryer holds a charge twice: 0.5 + t + 0.73 + 0.5.
	busy := 2 * (1 + h + 0.5*math.Log(52.0/17))
	assert.InDelta(t, 4*12-busy, m.IdleH, 1e-9)
	assert.Equal(t, 2000-2*broken, l.Hub[0].Delivered)
}

// With endless dry weather the sun does all the drying: dryers add nothing.
func TestEndlessSunNeedsNoDryers(t *testing.T) {
	r := small(landing1(0))
	r.Sites[0].OpenRackM2, r.Sites[0].LoadingKgPerM2 = 400, 4
	days, hours := sunny(61)
	s := season(r, parameters(), days, hours)
	without := ledger(t, r, s)
	require.Greater(t, delivered(without), 20_000)
	r.Sites[0].Dryers = 3
	with := ledger(t, r, s)
	assert.Equal(t, without.Hub, with.Hub)
	assert.Zero(t, with.Sites[0].Months[0].Charges+with.Sites[0].Months[1].Charges)
}

// In endless rain nothing dries on open racks: without a dryer not one stalk is
// delivered, and more rack changes nothing.
func TestEndlessRainLeavesOnlyDryers(t *testing.T) {
	site := landing1(0)
	site.ClearRoofM2 = 0
	r := small(site)
	days, hours := soaked(61)
	s := season(r, parameters(), days, hours)
	assert.Zero(t, delivered(ledger(t, r, s)))
	r.Sites[0].OpenRackM2 *= 3
	assert.Zero(t, delivered(ledger(t, r, s)))
	r.Sites[0].Dryers = 2
	assert.Positive(t, delivered(ledger(t, r, s)))
}

// New names change nothing; sites in another order change nothing but the
// order; twice the sites and twice the contract is twice of everything.
func TestSymmetry(t *testing.T) {
	a, b := landing1(1), landing1(0)
	b.Name, b.OpenRackM2, b.Cutters = "Heron Point", 60, 3
	days, hours := mixedDays(61)
	run := func(contract int, sites ...Site) RegionLedger {
		r := small(sites...)
		r.Contract.StalksByMonth = map[time.Month]int{time.June: contract, time.July: contract}
		r.Contract.TargetStock = map[time.Month]int{time.June: contract, time.July: contract}
		return ledger(t, r, season(r, parameters(), days, hours))
	}
	plain := run(30_000, a, b)
	require.Positive(t, delivered(plain))

	renamed := a
	renamed.Name = "Old Sluice"
	assert.Equal(t, plain.Hub, run(30_000, renamed, b).Hub)

	turned := run(30_000, b, a)
	assert.Equal(t, plain.Hub, turned.Hub)
	assert.Equal(t, plain.Sites[0].Months, turned.Sites[1].Months)

	double := run(60_000, a, b, a, b)
	for k := range plain.Hub {
		assert.Equal(t, 2*plain.Hub[k].Delivered, double.Hub[k].Delivered)
		assert.Equal(t, 2*plain.Hub[k].Arrived, double.Hub[k].Arrived)
	}
}

// mixedDays alternates ten sunny days and ten of rain.
func mixedDays(n int) ([]weather.Day, []air.Hour) {
	days, hours := sunny(n)
	wetDays, wetHours := soaked(n)
	for d := range days {
		if d%20 >= 10 {
			days[d] = wetDays[d]
			copy(hours[24*d:24*d+24], wetHours[24*d:24*d+24])
		}
	}
	return days, hours
}

// A month is met with exactly the least amount, and missed with one stalk less;
// surplus counts next month and a shortfall is lost.
func TestContractAtItsEdge(t *testing.T) {
	c := Contract{Tolerance: 0.05}
	assert.Equal(t, 19_000, c.Least(20_000))
	g := Gate{
		Months: []time.Month{time.June, time.July, time.August},
		Asked:  []int{20_000, 20_000, 20_000}, Least: []int{19_000, 19_000, 19_000}, Opening: 500,
	}
	months := make([]HubMonth, 3)
	g.Serve(months, Arrivals{Arrived: []int{18_600, 18_999, 45_000}, Refused: []int{100, 0, 0}})
	assert.True(t, months[0].Met, "500 + 18,600 - 100 is the least amount")
	assert.False(t, months[1].Met)
	assert.Equal(t, 18_999, months[1].Delivered)
	assert.True(t, months[2].Met)
	assert.Equal(t, 25_000, months[2].Closing, "the shortfall of July is lost, not made good")
}

// With grace a shortfall is made good first from what the next month brings: met if that
// reaches the least amount, and the month after has so much less.
func TestGrace(t *testing.T) {
	g := Gate{
		Months: []time.Month{time.June, time.July, time.August}, Grace: true,
		Asked: []int{20_000, 20_000, 20_000}, Least: []int{20_000, 20_000, 20_000},
	}
	months := make([]HubMonth, 3)
	g.Serve(months, Arrivals{Arrived: []int{15_000, 26_000, 18_000}, Refused: []int{0, 0, 0}})
	assert.Equal(t, []int{15_000, 20_000, 19_000}, []int{months[0].Delivered, months[1].Delivered, months[2].Delivered})
	assert.Equal(t, []int{0, 5_000, 0}, []int{months[0].MadeGood, months[1].MadeGood, months[2].MadeGood})
	assert.Equal(t, []bool{true, true, false}, []bool{months[0].Met, months[1].Met, months[2].Met})
	g.Serve(months, Arrivals{Arrived: []int{5_000, 12_000, 18_000}, Refused: []int{0, 0, 0}})
	assert.False(t, months[0].Met, "12,000 do not make good 15,000")
	assert.Equal(t, []int{0, 12_000, 18_000}, []int{months[0].MadeGood, months[1].MadeGood, months[2].MadeGood})
	led := RegionLedger{Hub: months}
	assert.NoError(t, led.CheckHub())
}

// The days of a season add up to its months, and hold what the months close with.
func TestDaysAddUpToMonths(t *testing.T) {
	r := small(landing1(2))
	r.People = People{Pool: true, WorkHPerDay: 7, TendsDryers: 1, HandlingHPer1000: 2, GradingHPer1000: 2}
	days, hours := mixedDays(61)
	s := season(r, parameters(), days, hours)
	plain := ledger(t, r, s)
	run := NewRunner(r)
	run.EveryDay = true
	l, err := run.Ledger(s)
	require.NoError(t, err)
	assert.Equal(t, plain.Hub, l.Hub, "looking changes nothing")
	require.Len(t, l.Sites[0].Days, 61)
	for k, span := range r.Calendar.Months() {
		m := l.Sites[0].Months[k]
		var cut, hub, lost, charges int
		for _, d := range l.Sites[0].Days[span.FirstDay : span.LastDay+1] {
			cut, hub, lost, charges = cut+d.Cut, hub+d.ToHub, lost+d.Lost, charges+d.Charges
		}
		last := l.Sites[0].Days[span.LastDay]
		assert.Equal(t, []int{m.Cut, m.ToHub, m.Second + m.Rejected + m.ThrownOut + m.Broken, m.Charges}, []int{cut, hub, lost, charges})
		assert.Equal(t, m.Closing, last.OnRacks+last.InHeap+last.InDryers+last.InStore)
	}
}

// A stalk that a grading left in is not taken again by a grading at the same
// index, and two gradings take as much as one at the higher index.
func TestGradingTwiceTakesOnce(t *testing.T) {
	p := parameters()
	g := &given{p: &p, region: &Region{}, grades: &grades{spread: p.Stalk.MouldSpread}}
	y := &people{given: g, book: &book{of: g, month: &SiteMonth{}}}
	kept := 1.0
	at := func(index float64) *stalk.State { return &stalk.State{PeakIndex: index} }
	n := y.grade(10_000, &kept, at(0.7))
	assert.InDelta(t, 8140, n, 5, "81.4 % full grade at index 0.7")
	assert.Equal(t, n, y.grade(n, &kept, at(0.7)))
	n = y.grade(n, &kept, at(1.5))
	assert.InDelta(t, 1550, n, 5, "15.5 % full grade at index 1.5")
	assert.LessOrEqual(t, y.month.Rejected, 2, "what turns to rejects was sold as second grade before")
	assert.Equal(t, 10_000, n+y.month.Second+y.month.Rejected)
}

// The calendar splits a season into months and spaces collections equally.
func TestCalendar(t *testing.T) {
	c := Calendar{StartMonth: time.November, StartDay: 16, Days: 60}
	assert.Equal(t, []Span{
		{time.November, 0, 14, false},
		{time.December, 15, 45, false},
		{time.January, 46, 59, true},
	}, c.Months())
	month, day := c.Date(46)
	assert.Equal(t, time.January, month)
	assert.Equal(t, 1, day)
	// November: day 30 (15 is before the start); December: 15 and 31; January
	// ends with the season on the 14th.
	assert.Equal(t, []int{14, 29, 45, 59}, c.CollectionDays(2))
}

func BenchmarkSiteSeason(b *testing.B) {
	r := small(landing1(2))
	days, hours := mixedDays(61)
	s := season(r, parameters(), days, hours)
	run := NewRunner(r)
	b.ReportAllocs()
	for b.Loop() {
		if _, err := run.Site(0, 2, s); err != nil {
			b.Fatal(err)
		}
	}
}
