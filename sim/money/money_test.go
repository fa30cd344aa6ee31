package money

import (
	"context"
	"math"
	"math/rand/v2"
	"slices"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"drystalk/sim"
	"drystalk/sim/trials"
	"drystalk/sim/weather"
)

// Level payments and present values against a general-purpose reference: LibreOffice Calc
// 7.4.7, whose PMT, NPV, IPMT, PPMT and CUMIPMT are those of OpenFormula 1.2. The formulas are
// written beside each value.
func TestAgainstASpreadsheet(t *testing.T) {
	assert.InDelta(t, 202.763942884137, 10_000*LevelPayment(0.08/12, 60), 1e-9, "PMT(0.08/12;60;-10000)")
	assert.InDelta(t, 277.409731941049, 1000*LevelPayment(0.12, 5), 1e-9, "PMT(0.12;5;-1000)")
	assert.InDelta(t, 1199.10105030551, 200_000*LevelPayment(0.005, 360), 1e-8, "PMT(0.005;360;-200000)")
	assert.InDelta(t, 200, 4800*LevelPayment(0, 24), 1e-12, "PMT(0;24;-4800)")
	assert.InDelta(t, -2.10368144252443, PresentValue(0.1, []float64{-100, 30, 40, 50}), 1e-10, "NPV(0.1;30;40;50)-100")
	assert.InDelta(t, 953.60398969503, PresentValue(0.08, []float64{-9000, 2500, 2500, 3000, -400, 2600, 2600}), 1e-8, "NPV(0.08;2500;2500;3000;-400;2600;2600)-9000")

	loan, err := Loan{Of(5000), 0.1, 36}.Schedule()
	require.NoError(t, err)
	assert.InDelta(t, 41.6666666666667, loan[0].Interest.Units(), 0.005, "IPMT(0.1/12;1;36;-5000)")
	assert.InDelta(t, 21.2285596828905, loan[19].Interest.Units(), 0.01, "IPMT(0.1/12;20;36;-5000)")
	assert.InDelta(t, 140.107376286297, (loan[19].Paid - loan[19].Interest).Units(), 0.01, "PPMT(0.1/12;20;36;-5000)")
	sum := Amount(0)
	for _, x := range loan {
		sum += x.Interest
	}
	assert.InDelta(t, 808.09369489075, sum.Units(), 0.2, "CUMIPMT(0.1/12;36;5000;1;36;0), whole cents each month")
	assert.Zero(t, loan[35].Left)
}

// Textbook examples, from memory and recomputed by hand: 1,000 a year for 5 years at 10 % is
// worth 3,790.79 (the annuity factor 3.7908 of the tables in Park, Contemporary Engineering
// Economics); 10,000 spent for 3,000, 4,000, 5,000 and 6,000 is back after 2.6 years.
func TestTextbookTables(t *testing.T) {
	assert.InDelta(t, 3.7908, 1/LevelPayment(0.10, 5), 5e-5)
	assert.InDelta(t, 6.1446, 1/LevelPayment(0.10, 10), 5e-5)
	assert.InDelta(t, 0.0627, LevelPayment(0.01, 12)-0.02615, 5e-5, "capital recovery at 1 % over 12: 0.08885")
	years, ok := Payback([]float64{-10_000, 3000, 4000, 5000, 6000})
	assert.True(t, ok)
	assert.InDelta(t, 2.6, years, 1e-12)
	_, ok = Payback([]float64{-10_000, 3000, 4000})
	assert.False(t, ok)
	years, ok = Payback([]float64{-100, 120, -50, 60})
	assert.True(t, ok)
	assert.InDelta(t, 2.5, years, 1e-12, "what a bad year takes away again was not paid back")
	years, ok = Payback([]float64{0, -1, 2})
	assert.True(t, ok)
	assert.Equal(t, 1.5, years)
}

// A loan is paid back to the last minor unit, whatever it is; what is nonsense is an error.
func TestLoansAreSettled(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := Loan{Amount(rapid.Int64Range(1, 1e12).Draw(t, "principal")), rapid.Float64Range(0, 0.6).Draw(t, "rate"), rapid.IntRange(1, 240).Draw(t, "months")}
		s, err := l.Schedule()
		require.NoError(t, err)
		require.Len(t, s, l.Months)
		paid, interest := Amount(0), Amount(0)
		for _, x := range s {
			require.GreaterOrEqual(t, x.Left, Amount(0))
			paid += x.Paid
			interest += x.Interest
		}
		require.Zero(t, s[len(s)-1].Left)
		require.Equal(t, l.Principal+interest, paid)
	})
	none, err := Loan{0, 0.1, 0}.Schedule()
	require.NoError(t, err)
	assert.Empty(t, none)
	_, err = Loan{100, 0.1, 0}.Schedule()
	require.Error(t, err)
}

// small is a region of two sites with dry air, so that every number is known.
func small(t *testing.T, seasons, years int) (*sim.Region, *trials.Table) {
	t.Helper()
	site := sim.Site{Name: "Stone Weir", Cutters: 2, OutputPerPersonH: 100, CuttingHPerDay: 6, OpenRackM2: 300, LoadingKgPerM2: 4, SealedStore: true}
	other := site
	other.Name = "Ferry Bank"
	r := &sim.Region{
		Name: "Test Water", Place: weather.Place{LatitudeDeg: 17}, Calendar: sim.Calendar{StartMonth: time.January, StartDay: 1, Days: 59},
		Contract: sim.Contract{StalksByMonth: map[time.Month]int{time.January: 20_000, time.February: 30_000}, TargetStock: map[time.Month]int{time.January: 20_000}},
		Hub:      sim.Hub{CollectionsPerMonth: 1, Speaks: sim.SpeaksByCutters}, Sites: []sim.Site{site, other},
		Dryer: sim.Dryer{HoldsFresh: 1000, HoldsPredried: 1500, ShiftStartH: 7, ShiftEndH: 19, HandlingH: 0.5, MinimumFill: 0.3, FireAtIndex: 0.3},
		Yard:  sim.Yard{MaxCutRainMM: 25, HeapDaysOfCut: 1},
	}
	set := setup(r)
	set.YearsPerFuture = years
	table, err := set.Table(context.Background(), 0, seasons, [][]int{{0, 1}, {0, 1}}, nil)
	require.NoError(t, err)
	return r, table
}

// setup is a region in dry weather with knowledge of its own.
func setup(r *sim.Region) trials.Setup {
	base := sim.DefaultParameters()
	base.AcceptedShare, base.ClearRoofSunFactor = 0.9, 1
	return trials.Setup{Region: r, Seed: 3, Workers: 2, Source: dry{}, Base: base}
}

// dry is weather without rain.
type dry struct{}

func (dry) Days(_, days int, _ *rand.Rand) []weather.Day {
	out := make([]weather.Day, days)
	for i := range out {
		out[i] = weather.Day{TmaxC: 33, TminC: 24, VapourKPa: 2.2, SunFraction: 0.8, WindMS: 1.5}
	}
	return out
}

// Every part of a season's money is its price times what the table counts, by hand; what the
// sites get adds up to what the buyer pays, to the last minor unit.
func TestPartsByHand(t *testing.T) {
	r, table := small(t, 3, 0)
	y, err := NewPlay(r, table, []int{1, 0})
	require.NoError(t, err)
	p := Prices{
		PerGoodStalk: 0.123, PerSecondStalk: 0.02, SecondMost: -1, PerMissing: 0.5, PerStalkCut: 0.04, WagePerH: 2, WoodPerKg: 0.1, WoodRainsPerKg: 0.2,
		PerTrip: 7, CarryPerStalk: 0.003, BagPerStalk: 0.001, UpkeepPerH: 0.3, UpkeepPerDryer: 59, RentPerYear: 118, SurplusPerStalk: 0.05,
	}
	for i := range 3 {
		hub := make([]sim.HubMonth, 2)
		table.Hub(hub, &trials.Arriving{}, y.Plan, i)
		total := y.Year(&p, i)
		paid := Of(float64(hub[0].Delivered)*0.123) + Of(float64(hub[1].Delivered)*0.123)
		assert.Equal(t, paid, total[Sales])
		missing := hub[0].Asked - hub[0].Delivered + hub[1].Asked - hub[1].Delivered
		assert.InDelta(t, -0.5*float64(missing), total[Penalty].Units(), 0.011)
		assert.InDelta(t, 0.05*float64(hub[1].Closing), total[Surplus].Units(), 0.006)
		assert.InDelta(t, -0.04*float64(table.Sum(sim.Cut, y.Plan, i)), total[Cutting].Units(), 0.021)
		assert.InDelta(t, 0.02*float64(table.Sum(sim.Second, y.Plan, i)), total[SecondGrade].Units(), 0.021)
		assert.InDelta(t, -2*float64(table.Sum(sim.OtherH, y.Plan, i))/60, total[Wages].Units(), 0.2, "minutes are rounded by month")
		assert.InDelta(t, -0.1*float64(table.Sum(sim.WoodKg, y.Plan, i))/10, total[Wood].Units(), 0.1)
		assert.InDelta(t, -2*118.0, total[Rent].Units(), 0.021)
		firing := float64(table.Sum(sim.FiringH, y.Plan, i)) / 60
		assert.InDelta(t, -0.3*firing-59, total[Upkeep].Units(), 0.02, "one dryer, its year in one season")
		trips := 0.0
		for site := range 2 {
			for _, n := range table.MonthFigures(sim.Trips, site, y.Plan[site], i) {
				trips += float64(n)
			}
		}
		assert.Equal(t, 4.0, trips, "one a month at each site")
		assert.Equal(t, total.Net(), total[Sales]+total[SecondGrade]+total[Surplus]-total.Cost())
	}
	_, err = NewPlay(r, table, []int{2, 0})
	require.Error(t, err)
}

// Accounts by hand: what is sold in January is paid in February, and instalments are due
// every month, from the site that owes them.
func TestAccounts(t *testing.T) {
	r, table := small(t, 1, 0)
	y, err := NewPlay(r, table, []int{1, 0})
	require.NoError(t, err)
	p := Prices{PerGoodStalk: 0.1, PaidAfter: 1, PerStalkCut: 0.02, OpeningCash: Of(50)}
	season := y.Season(&p, 0)
	a := y.Accounts(&p, 0, 1, []Bill{{Instalments: []Amount{Of(100), Of(100), Of(100)}}, {}})
	require.Len(t, a[0].Months, 12)
	jan := Of(50) + season[0][0].Net() - season[0][0][Sales] - Of(100)
	feb := jan + season[0][1].Net() - season[0][1][Sales] + season[0][0][Sales] - Of(100)
	mar := feb + season[0][1][Sales] - Of(100)
	assert.Equal(t, []Amount{jan, feb, mar, mar}, a[0].Months[:4])
	assert.Equal(t, jan, a[0].Lowest)
	assert.Equal(t, 0, a[0].LowestAt)
	assert.NotEmpty(t, a[0].Uncovered)
	assert.Empty(t, a[1].Uncovered, "no loan")
	assert.Equal(t, Of(50)+season[1][0].Net()-season[1][0][Sales], a[1].Months[0])
}

// A purchase whose gain is known: with everything the same the gain is nothing, it never pays
// and the loss is its price; where a dryer only costs upkeep it loses more; the price at which
// it would break even does not exist.
func TestPurchaseWithoutGain(t *testing.T) {
	r, table := small(t, 40, 4)
	without, err := NewPlay(r, table, []int{0, 0})
	require.NoError(t, err)
	same, err := Judge(Prices{PerGoodStalk: 0.1, Discount: 0.1}, without, without, 4, []Item{{Of: Dryer, Size: 1, Cost: Of(1000), Years: 8}})
	require.NoError(t, err)
	assert.Equal(t, 10, same.Futures)
	assert.Equal(t, 1.0, same.Never.Share)
	assert.Equal(t, -1000.0, same.NPV.Mean)
	assert.True(t, same.Loses())
	assert.Nil(t, same.AtMost, "at no cost does it pay")
	assert.Nil(t, same.Price)

	with, err := NewPlay(r, table, []int{1, 0})
	require.NoError(t, err)
	upkeep, err := Judge(Prices{UpkeepPerDryer: 100, Discount: 0.1, GrantShare: 0.4}, without, with, 4, []Item{{Of: Dryer, Size: 1, Cost: Of(1000), Years: 8}})
	require.NoError(t, err)
	assert.InDelta(t, -600-100/LevelPayment(0.1, 4), upkeep.NPV.Mean, 1e-6, "the dry season needs no dryer: cost less grant, and four years of upkeep")
	assert.Equal(t, Of(600), upkeep.Own, "nothing is borrowed")
	assert.InDelta(t, -100, upkeep.YearGain.Mean, 1e-9)
	assert.Equal(t, []float64{-600, -700, -800, -900, -1000}, middle(upkeep.SoFar), "the own part, then a year's upkeep each year")
	borrowed, err := Judge(Prices{LoanShare: 0.6, LoanMonths: 24, Discount: 0.1}, without, without, 4, []Item{{Of: Dryer, Size: 1, Cost: Of(1000), Years: 8}})
	require.NoError(t, err)
	assert.Equal(t, []float64{-400, -700, -1000, -1000, -1000}, middle(borrowed.SoFar), "own part and instalments of 25 a month, until the loan ends")

	_, err = Judge(Prices{}, without, with, 30, nil)
	require.ErrorIs(t, err, ErrFutures)
}

// middle returns the medians of fans.
func middle(fans []trials.Fan) (out []float64) {
	for _, f := range fans {
		out = append(out, f.Median)
	}
	return out
}

// The years of a future are seasons of their own, in order: each future's gain a year and net
// present value are those of its own seasons, added up by hand from the money of every season.
func TestYearsOfAFuture(t *testing.T) {
	const futures, years = 4, 3
	r, _ := small(t, 1, 0)
	r.Luck = sim.Luck{OutputSeason: 0.5}
	r.Sites[0].Cutters, r.Sites[1].Cutters = 1, 1
	more := *r.Clone()
	more.Sites[0].Cutters = 4
	play := func(r *sim.Region) *Play {
		set := setup(r)
		set.YearsPerFuture = years
		table, err := set.Table(context.Background(), 0, futures*years, [][]int{{0}, {0}}, nil)
		require.NoError(t, err)
		y, err := NewPlay(r, table, []int{0, 0})
		require.NoError(t, err)
		return y
	}
	without, with := play(r), play(&more)
	p := Prices{Hands: Hired, PerGoodStalk: 0.1, PerStalkCut: 0.02, Discount: 0.25}
	b, err := Judge(p, without, with, years, []Item{{Of: Cutter, Size: 1, Cost: Of(500), Years: 8}})
	require.NoError(t, err)
	require.Equal(t, futures, b.Futures)

	gains := map[float64]bool{}
	gain, npv := 0.0, 0.0
	for f := range futures {
		npv -= 500
		for y := range years {
			a, b := with.Year(&p, f*years+y), without.Year(&p, f*years+y)
			x := (a.Net() - b.Net()).Units()
			gains[x] = true
			gain += x / years
			npv += x / math.Pow(1.25, float64(y+1))
		}
	}
	require.Len(t, gains, futures*years, "no two seasons are alike")
	assert.InDelta(t, gain/futures, b.YearGain.Mean, 1e-9)
	assert.InDelta(t, npv/futures, b.NPV.Mean, 1e-9)
	require.Len(t, b.SoFar, years+1)
	last := b.SoFar[years]
	assert.Equal(t, futures, last.Seasons)
	var sums []float64
	for f := range futures {
		sum := -500.0
		for y := range years {
			a, b := with.Year(&p, f*years+y), without.Year(&p, f*years+y)
			sum += (a.Net() - b.Net()).Units()
		}
		sums = append(sums, sum)
	}
	slices.Sort(sums)
	assert.InDeltaSlice(t, []float64{sums[0], sums[0], sums[1], sums[2], sums[3]}, []float64{last.P5, last.P25, last.Median, last.P75, last.P95}, 1e-9)
}

// The price at which a purchase breaks even does make its net present value nothing, and so
// does the cost; a higher price never worsens it; the what-ifs are in order.
func TestBreakEven(t *testing.T) {
	r, table := small(t, 60, 3)
	r2 := *r.Clone()
	r2.Sites[0].Cutters, r2.Sites[1].Cutters = 0, 1 // fewer people: fewer stalks
	set := setup(&r2)
	set.YearsPerFuture = 3
	few, err := set.Table(context.Background(), 0, 60, [][]int{{0}, {0}}, nil)
	require.NoError(t, err)
	without, err := NewPlay(&r2, few, []int{0, 0})
	require.NoError(t, err)
	with, err := NewPlay(r, table, []int{0, 0})
	require.NoError(t, err)
	p := Prices{Hands: Hired, PerGoodStalk: 0.1, PerStalkCut: 0.03, Discount: 0.08, GrantShare: 0.25, PaidAfter: 2}
	b, err := Judge(p, without, with, 3, []Item{{Of: Cutter, Size: 1, Cost: Of(900), Years: 8}})
	require.NoError(t, err)
	require.Positive(t, b.YearGain.Mean)
	require.NotNil(t, b.Price)
	require.NotNil(t, b.AtMost)
	at := p
	at.PerGoodStalk = b.Price.Mean
	even, err := Judge(at, without, with, 3, []Item{{Of: Cutter, Size: 1, Cost: Of(900), Years: 8}})
	require.NoError(t, err)
	assert.InDelta(t, 0, even.NPV.Mean, 1, "whole minor units are rounded month by month")
	dear, err := Judge(p, without, with, 3, []Item{{Of: Cutter, Size: 1, Cost: Of(b.AtMost.Mean), Years: 8}})
	require.NoError(t, err)
	assert.InDelta(t, 0, dear.NPV.Mean, 0.01, "what is bought costs whole minor units")
	require.Len(t, b.WhatIfs, 3)
	for _, w := range b.WhatIfs {
		assert.LessOrEqual(t, w.NPV.Mean, b.NPV.Mean, w.Change)
	}
}

// What lasts two of four years is bought again once, without a grant.
func TestReplacement(t *testing.T) {
	r, table := small(t, 8, 4)
	y, err := NewPlay(r, table, []int{0, 0})
	require.NoError(t, err)
	b, err := Judge(Prices{Discount: 0.1, GrantShare: 0.5}, y, y, 4, []Item{{Of: Sheets, Size: 1, Cost: Of(100), Years: 2}, {Of: Dryer, Size: 1, Cost: Of(1000), Years: 8}})
	require.NoError(t, err)
	assert.InDelta(t, -550-100/1.1/1.1, b.NPV.Mean, 1e-9)
}

// What a plan has more of than another is priced; what has no price is said.
func TestItems(t *testing.T) {
	r, _ := small(t, 1, 0)
	to := *r.Clone()
	to.Sites[0].OpenRackM2 += 50
	to.Sites[0].Sheets = true
	to.Sites[1].Cutters += 2
	to.Sites[1].SolidRoofM2 = 20
	to.Hub.OpeningStock = 10_000
	p := Prices{DryerCost: 5000, DryerYears: 8, RackPerM2: 6, SheetPerM2: 2, PerStock: 0.1, OtherYears: 4}
	items, unpriced := Items(&p, r, &to, []int{0, 1}, []int{1, 0})
	assert.Equal(t, []Item{
		{Of: Dryer, Size: 1, Site: "Stone Weir", Cost: Of(5000), Years: 8},
		{Of: OpenRack, Size: 50, Site: "Stone Weir", Cost: Of(300), Years: 4},
		{Of: Sheets, Size: 350, Site: "Stone Weir", Cost: Of(700), Years: 4},
		{Of: HubStock, Size: 10_000, Cost: Of(1000), Years: 1},
	}, items)
	assert.Equal(t, []Item{{Of: SolidRoof, Size: 20, Site: "Ferry Bank"}, {Of: Cutter, Size: 2, Site: "Ferry Bank", Years: 4}}, unpriced)
	to.Sites[1].SealedStore, to.Sites[1].LongerShiftH, to.Sites[1].OpeningStock = true, r.Sites[1].LongerShiftH+2, r.Sites[1].OpeningStock+500
	r.Sites[1].StoreStalks, to.Sites[1].StoreStalks, r.Sites[1].SealedStore = 3000, 5000, false
	to.Moves = []sim.Move{{From: "Stone Weir", To: "Ferry Bank", Cost: 12_050}}
	p = Prices{SealPerSite: 30, RoomPer1000: 40, PerShiftH: 80, PerStock: 0.1, PerCutter: 200, RoofPerM2: 18, OtherYears: 4}
	items, _ = Items(&p, r, &to, []int{0, 1}, []int{0, 1})
	assert.Equal(t, []Item{
		{Of: SealedBags, Size: 1, Site: "Ferry Bank", Cost: Of(30), Years: 1},
		{Of: StoreRoom, Size: 2000, Site: "Ferry Bank", Cost: Of(80), Years: 4},
		{Of: Cutter, Size: 2, Site: "Ferry Bank", Cost: Of(400), Years: 4},
		{Of: LongerShift, Size: 2, Site: "Ferry Bank", Cost: Of(160), Years: 4},
		{Of: SiteStock, Size: 500, Site: "Ferry Bank", Cost: Of(50), Years: 1},
		{Of: HubStock, Size: 10_000, Cost: Of(1000), Years: 1},
		{Of: MovedDryer, Size: 1, Site: "Stone Weir", To: "Ferry Bank", Cost: Of(120.5), Years: 1},
	}, items, "each thing at its own price")
	p, items = Prices{}, []Item{{Cost: Of(5000), Years: 8}, {Cost: Of(1000), Years: 4}, {Cost: Of(1000), Years: 1}}
	assert.InDelta(t, 5000*LevelPayment(0, 8)+1000.0/4+1000, p.YearlyCost(items), 1e-9)
}
