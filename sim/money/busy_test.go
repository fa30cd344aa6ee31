package money

import (
	"context"
	"math"
	"math/rand/v2"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drystalk/sim"
	"drystalk/sim/trials"
	"drystalk/sim/weather"
)

// showers is weather with rain on two days of three in the first month and none after.
type showers struct{}

func (showers) Days(_, n int, rng *rand.Rand) []weather.Day {
	days := dry{}.Days(0, n, rng)
	for i := range min(n, 31) {
		if rng.Float64() < 0.66 {
			days[i] = weather.Day{RainMM: 3 + 15*rng.ExpFloat64(), TmaxC: 29, TminC: 24, SunFraction: 0.2, VapourKPa: 2.9, WindMS: 1.5}
		}
	}
	return days
}

// busy is a region in which everything that costs or earns money happens, with the seasons of
// a plan with two dryers at the first site, by day and night, and one at the second.
func busy(t *testing.T, seasons, years int) (*sim.Region, *Play) {
	t.Helper()
	r, _ := small(t, 1, 0)
	r.Luck = sim.Luck{OutputSeason: 0.4, OutputSiteSeason: 0.2}
	r.Contract = sim.Contract{StalksByMonth: map[time.Month]int{time.January: 60_000, time.February: 20_000}, TargetStock: map[time.Month]int{time.January: 12_000, time.February: 8000}, Grace: true}
	r.Hub = sim.Hub{OpeningStock: 900, CollectionsPerMonth: 2, Speaks: sim.SpeaksByCutters}
	r.Yard.DiscardBelowFullShare = 0.05
	r.Dryer.ShiftEndH = 30
	r.People = sim.People{Pool: true, WorkHPerDay: 9, TendsDryers: 2, HandlingHPer1000: 2, GradingHPer1000: 2, CollectionH: 2, CrewHPerDay: 7}
	r.Sites[0].Cutters, r.Sites[0].Crew, r.Sites[0].OpenRackM2 = 3, 2, 60
	r.Sites[1].OpenRackM2 = 30
	set := setup(r)
	set.Source, set.YearsPerFuture = showers{}, years
	set.Base.AcceptedShare = 0.8
	table, err := set.Table(context.Background(), 0, seasons, [][]int{{2}, {1}}, nil)
	require.NoError(t, err)
	y, err := NewPlay(r, table, []int{2, 1})
	require.NoError(t, err)
	return r, y
}

// prices are prices of all that costs or earns, no two alike.
func prices() Prices {
	return Prices{
		PerGoodStalk: 0.123, PerSecondStalk: 0.021, SecondMost: -1, PerMissing: 0.07, PerStalkCut: 0.043, WagePerH: 1.1, NightExtraPerH: 0.37, CrewPerH: 0.9,
		WoodPerKg: 0.11, WoodRainsPerKg: 0.23, PerTrip: 7.3, CarryPerStalk: 0.003, BagPerStalk: 0.0017, UpkeepPerH: 0.31, UpkeepPerDryer: 590, RentPerYear: 1180, SurplusPerStalk: 0.051,
		DryerCost: 400, DryerYears: 8, OtherYears: 4, LoanMonths: 20, Discount: 0.1, GrantShare: 0.25, LoanShare: 0.5, LoanRate: 0.12,
	}
}

// Every part of every month at every site is its price times what the table counts, to the
// minor unit; each of them is there.
func TestEveryPartByMonthAndSite(t *testing.T) {
	r, y := busy(t, 8, 0)
	p := prices()
	seen := Parts{}
	for i := range 8 {
		season := y.Season(&p, i)
		require.Len(t, season, 2)
		for site, months := range season {
			require.Len(t, months, 2)
			for k, got := range months {
				of := func(id sim.FigureID) float64 { return float64(y.Table.MonthFigures(id, site, y.Plan[site], i)[k]) }
				days := []float64{31, 28}[k]
				wood := p.WoodPerKg
				if y.Table.RainMM(i)[k] > 100 {
					wood = p.WoodRainsPerKg
				}
				year := days / 59
				byHand := map[Part]float64{
					SecondGrade: of(sim.Second) * 0.021,
					Cutting:     -of(sim.Cut) * 0.043,
					Wages:       -max(0, of(sim.OtherH)/60-float64(r.Sites[site].Crew)*7*days) * 1.1, // the crew is paid by itself
					Night:       -of(sim.NightH) / 60 * 0.37,
					Crew:        -float64(r.Sites[site].Crew) * 7 * days * 0.9,
					Wood:        -of(sim.WoodKg) / 10 * wood,
					Collections: -of(sim.Trips)*7.3 - of(sim.ToHub)*0.003,
					Bags:        -of(sim.ToHub) * 0.0017,
					Upkeep:      -of(sim.FiringH)/60*0.31 - float64(y.Plan[site])*590*year,
					Rent:        -1180 * year,
				}
				require.Len(t, byHand, len(AllParts())-3, "what the buyer pays, leaves and holds back: TestSharesOfASeason")
				for part, want := range byHand {
					assert.InDelta(t, want, got[part].Units(), 0.005+1e-9, "%s, site %d, month %d", part, site, k)
				}
				for part, a := range got {
					seen[part] += max(a, -a)
				}
			}
		}
	}
	require.Len(t, AllParts(), len(seen))
	for _, part := range AllParts() {
		assert.Positive(t, seen[part], "no season has any of %s: the check above says nothing", part)
	}
}

// What the buyer pays for a month, what is left over and what is missing is shared to the last
// minor unit: pay by the good stalks that each site has brought by then, its share of the
// opening stock included, penalties by the sites' shares of the contract.
func TestSharesOfASeason(t *testing.T) {
	r, y := busy(t, 8, 0)
	p := prices()
	shares := r.Shares()
	hub := make([]sim.HubMonth, 2)
	madeGood, missing := 0, 0
	for i := range 8 {
		y.Table.Hub(hub, &trials.Arriving{}, y.Plan, i)
		season := y.Season(&p, i)
		brought := [2]float64{900 * shares[0], 900 * shares[1]}
		for k, m := range hub {
			for site := range brought {
				brought[site] += float64(y.Table.Accepted(site, y.Plan[site], i)[k])
			}
			of := brought[0] / (brought[0] + brought[1])
			for _, tt := range []struct {
				part  Part
				all   float64
				first float64
			}{
				{Sales, float64(m.Delivered+m.MadeGood) * 0.123, of},
				{Penalty, -float64(m.Asked-m.Delivered) * 0.07, shares[0]},
				{Surplus, float64(hub[1].Closing) * 0.051 * float64(k), of},
			} {
				a, b := season[0][k][tt.part], season[1][k][tt.part]
				assert.Equal(t, Of(tt.all), a+b, "%s, month %d", tt.part, k)
				assert.InDelta(t, tt.all*tt.first, a.Units(), 0.016, "%s, month %d", tt.part, k)
			}
			madeGood += m.MadeGood
			missing += m.Asked - m.Delivered
		}
		assert.Equal(t, hub[0].Delivered+hub[0].MadeGood+hub[1].Delivered+hub[1].MadeGood, y.Delivered(i))
		year := y.Year(&p, i)
		sum, cost := Amount(0), Amount(0)
		for _, part := range AllParts() {
			total := season[0][0][part] + season[0][1][part] + season[1][0][part] + season[1][1][part]
			assert.Equal(t, total, year[part], part)
			sum += total
			if part >= Cutting {
				cost -= total
			}
		}
		assert.Equal(t, sum, year.Net())
		assert.Equal(t, cost, year.Cost())
	}
	require.Positive(t, madeGood, "a shortfall was made good")
	require.Positive(t, missing)
}

// An amount is split by weights to the last minor unit, and what rounding leaves goes to the
// largest weight; without any weight all get the same.
func TestShare(t *testing.T) {
	y := &Play{paid: make([]Amount, 3)}
	for _, tt := range []struct {
		a       Amount
		weights []float64
		want    []Amount
	}{
		{100, []float64{1, 1, 1}, []Amount{34, 33, 33}},
		{100, []float64{1, 3, 2}, []Amount{16, 51, 33}},
		{-100, []float64{1, 3, 2}, []Amount{-16, -51, -33}},
		{101, []float64{0, 0, 0}, []Amount{35, 33, 33}},
		{5, []float64{0, 0, 7}, []Amount{0, 0, 5}},
		{0, []float64{1, 2, 3}, []Amount{0, 0, 0}},
	} {
		got := make([]Amount, 3)
		y.share(tt.a, tt.weights, func(site int, a Amount) { got[site] += a })
		assert.Equal(t, tt.want, got, "%d by %v", tt.a, tt.weights)
	}
}

// Accounts add up: the last balance is the opening cash and all that was earned less the
// instalments of the months; the lowest is the least of all, at its month; an instalment is
// uncovered where the balance before it does not reach it.
func TestAccountsAddUp(t *testing.T) {
	_, y := busy(t, 4, 0)
	p := prices()
	p.OpeningCash = Of(2000)
	loan := []Amount{Of(90), Of(90), Of(90), Of(17)}
	twice := []Amount{Of(180), Of(180), Of(180), Of(34)}
	covered, uncovered := 0, 0
	for i := range 4 {
		for _, after := range []int{0, 1, 11} {
			p.PaidAfter = after
			season := y.Season(&p, i)
			for site, a := range y.Accounts(&p, i, 1, []Bill{{Instalments: twice}, {Instalments: loan}}) {
				require.Len(t, a.Months, max(12, 2+after))
				net := season[site][0].Net() + season[site][1].Net()
				assert.Equal(t, Of(2000)+net-Amount(2-site)*Of(287), a.Months[len(a.Months)-1])
				balance, lowest, at, missed := Of(2000), Of(2000), 0, 0
				for k := range a.Months {
					for m := range season[site] {
						if m == k {
							balance += season[site][m].Net() - season[site][m][Sales]
						}
						if m+after == k {
							balance += season[site][m][Sales]
						}
					}
					if k < len(loan) {
						due := loan[k] * Amount(2-site)
						if balance < due {
							missed++
						} else {
							covered++
						}
						balance -= due
					}
					assert.Equal(t, balance, a.Months[k])
					if balance < lowest {
						lowest, at = balance, k
					}
				}
				assert.Equal(t, []int{int(lowest), at, missed}, []int{int(a.Lowest), a.LowestAt, len(a.Uncovered)})
				uncovered += missed
			}
		}
	}
	require.Positive(t, covered)
	require.Positive(t, uncovered)
}

// An instalment that the balance just covers is covered, and where nothing is owed nothing is
// uncovered, however low the balance.
func TestInstalmentJustCovered(t *testing.T) {
	r, table := small(t, 1, 0)
	y, err := NewPlay(r, table, []int{0, 0})
	require.NoError(t, err)
	p := Prices{OpeningCash: Of(100)}
	a := y.Accounts(&p, 0, 1, []Bill{{Instalments: []Amount{Of(100), 1}}, {}})
	assert.Equal(t, []int{1}, a[0].Uncovered, "the second")
	assert.Equal(t, Amount(-1), a[0].Lowest)
	assert.Equal(t, 1, a[0].LowestAt)
	p.RentPerYear = 1e6
	assert.Empty(t, y.Accounts(&p, 0, 1, []Bill{{Instalments: []Amount{Of(100)}}, {}})[1].Uncovered)
}

// A purchase judged by hand, month by month, in every future: what is bought again, what the
// buyer pays later, when it is back, what each what-if makes of it.
func TestPurchaseByHand(t *testing.T) {
	const futures, years = 12, 3
	r, with := busy(t, futures*years, years)
	few := *r
	few.Sites = append([]sim.Site(nil), r.Sites...)
	few.Sites[0].Cutters, few.Sites[1].Cutters = 2, 1
	set := setup(&few)
	set.Source, set.YearsPerFuture = showers{}, years
	set.Base.AcceptedShare = 0.8
	table, err := set.Table(context.Background(), 0, futures*years, [][]int{{2}, {1}}, nil)
	require.NoError(t, err)
	without, err := NewPlay(&few, table, []int{2, 1})
	require.NoError(t, err)
	p := prices()
	p.Hands, p.PaidAfter, p.PerMissing, p.PerStalkCut, p.WagePerH = Hired, 3, 0.01, 0.01, 0.1
	items := []Item{{Of: Dryer, Size: 1, Cost: Of(4000), Years: 8}, {Of: Cutter, Size: 2, Cost: Of(40), Years: 1}, {Of: MovedDryer, Cost: Of(30)}}

	// have is what is counted of a site's month: the surplus, and for members all that they are paid
	// and what the hours cost that they worked, at 0.6 an hour.
	have := func(p *Prices, y *Play, site, i, k int, parts *Parts) float64 {
		x := (parts.Net() - parts[Sales]).Units()
		if p.Hands == Members {
			x -= (parts[Cutting] + parts[Wages] + parts[Night]).Units()
			of := func(id sim.FigureID) float64 { return float64(y.Table.MonthFigures(id, site, y.Plan[site], i)[k]) / 60 }
			x -= 0.6 * (of(sim.CutH) + max(0, of(sim.OtherH)-float64(y.Region.Sites[site].Crew)*7*[]float64{31, 28}[k]))
		}
		return x
	}
	hand := func(p Prices, buys int) (npv, year, months []float64) {
		for f := range futures {
			flows := make([]float64, 12*years+13+p.PaidAfter)
			flows[0] = -4070 * 0.75
			for y := 1; y < buys; y++ { // nobody buys again for a buyer who has left
				flows[12*y] -= 40
			}
			for y := range buys {
				a, b := with.Season(&p, f*years+y), without.Season(&p, f*years+y)
				for site := range a {
					for k := range a[site] {
						flows[12*y+1+k] += have(&p, with, site, f*years+y, k, &a[site][k]) - have(&p, without, site, f*years+y, k, &b[site][k])
						flows[12*y+1+k+p.PaidAfter] += (a[site][k][Sales] - b[site][k][Sales]).Units()
					}
				}
			}
			// own part 1,017.50 at once; the loan of 2,035 is paid back by 20 instalments at 1 % a month,
			// twelve in the first year and eight in the second
			instalment := 2035 * 0.01 / (1 - math.Pow(1.01, -20))
			value, gain, sum, back := -1017.5-12*instalment/1.1-8*instalment/1.21, 0.0, flows[0], -1.0
			for m := 1; m < len(flows); m++ {
				end := min(years, int(math.Ceil(float64(m)/12)))
				value += flows[m] / math.Pow(1.1, float64(end))
				gain += flows[m]
				before := sum
				sum += flows[m]
				if sum < 0 {
					back = -1
				} else if back < 0 {
					back = float64(m-1) - before/flows[m]
				}
			}
			npv, year = append(npv, value), append(year, gain/years)
			if back >= 0 {
				months = append(months, back)
			}
		}
		return npv, year, months
	}
	b, err := Judge(p, without, with, years, items)
	require.NoError(t, err)
	npv, year, months := hand(p, years)
	same := func(want, got trials.Mean) {
		t.Helper()
		assert.InDelta(t, want.Mean, got.Mean, 0.1, "instalments of two sites are whole minor units")
		assert.InDelta(t, want.Low, got.Low, 0.1)
		assert.InDelta(t, want.High, got.High, 0.1)
	}
	same(trials.NewMean(npv), b.NPV)
	same(trials.NewMean(year), b.YearGain)
	require.NotEmpty(t, months)
	require.Less(t, len(months), futures, "some are never paid back: the numbers of this test tell both")
	assert.Equal(t, futures-len(months), b.Never.Met)
	assert.Equal(t, futures, b.Never.Seasons)
	assert.InDelta(t, trials.NewBand(months).Median, b.PaysIn.Median, 1e-6)
	assert.InDelta(t, trials.NewBand(npv).P5, b.NPVBand.P5, 0.1)
	early, above := 0, 0
	for _, m := range months {
		if m <= 20 {
			early++
		}
	}
	for _, x := range npv {
		if x > 0 {
			above++
		}
	}
	assert.Positive(t, early)
	assert.Less(t, early, len(months))
	assert.Equal(t, early, b.BeforeEnd.Met)
	assert.Equal(t, futures, b.BeforeEnd.Seasons)
	assert.Equal(t, above, b.Positive.Met)
	assert.Equal(t, Of(4070), b.Cost)
	assert.Equal(t, []Amount{Of(1017.5), Of(2035), Of(1017.5)}, []Amount{b.Grant, b.Loan, b.Own})
	assert.Equal(t, items, b.Items)

	less, wood := p, p
	less.PerGoodStalk, wood.WoodPerKg, wood.WoodRainsPerKg = 0.8*0.123, 0.22, 0.46
	unsold := p
	unsold.PerSecondStalk = 0
	require.Len(t, b.WhatIfs, 4)
	for k, tt := range []struct {
		change Change
		p      Prices
		buys   int
	}{{PaysLess, less, years}, {WoodTwice, wood, years}, {BuyerLeaves, p, 2}, {SecondGoes, unsold, years}} {
		npv, _, months := hand(tt.p, tt.buys)
		got := b.WhatIfs[k]
		assert.Equal(t, tt.change, got.Change)
		same(trials.NewMean(npv), got.NPV)
		assert.NotEqual(t, b.NPV, got.NPV, tt.change)
		assert.Equal(t, futures-len(months), got.Never.Met, tt.change)
		assert.InDelta(t, trials.NewBand(months).Median, got.PaysIn.Median, 1e-6, tt.change)
	}
	var worth []float64
	instalment := 2035 * 0.01 / (1 - math.Pow(1.01, -20))
	paid := 1017.5 + 12*instalment/1.1 + 8*instalment/1.21
	for _, x := range npv {
		worth = append(worth, (x+paid)/(paid/4070))
	}
	require.NotNil(t, b.AtMost)
	same(trials.NewMean(worth), *b.AtMost)

	theirs := p
	theirs.Hands, theirs.HourWorth = Members, 0.6
	m, err := Judge(theirs, without, with, years, items)
	require.NoError(t, err)
	npv, year, months = hand(theirs, years)
	same(trials.NewMean(npv), m.NPV)
	same(trials.NewMean(year), m.YearGain)
	assert.NotEqual(t, b.NPV, m.NPV)
	assert.Equal(t, futures-len(months), m.Never.Met)
	assert.Nil(t, b.Livelihood, "hired hands are nobody's members")
	require.NotNil(t, m.Livelihood)
	same(m.NPV, scaled(m.Livelihood.AtWorths[1].Gain, 1/LevelPayment(0.1, years)))

	p.GrantShare, p.LoanShare = 1, 0
	given, err := Judge(p, without, with, years, items)
	require.NoError(t, err)
	assert.Zero(t, given.AfterGrant())
	assert.Nil(t, given.NotCovered, "nothing is borrowed")
	assert.Nil(t, given.AtMost, "what is given may cost anything")
	_, err = Judge(p, without, with, 0, items)
	require.ErrorIs(t, err, ErrFutures)
	_, err = Judge(p, without, with, futures*years/2, items)
	require.NoError(t, err, "two futures are enough")
	_, err = Judge(p, without, with, futures*years/2+1, items)
	require.ErrorIs(t, err, ErrFutures)
	_, other := busy(t, futures*years-1, years)
	_, err = Judge(p, without, other, years, items)
	require.ErrorIs(t, err, ErrFutures, "not the same seasons")
}

// scaled returns so many times a mean.
func scaled(m trials.Mean, by float64) trials.Mean {
	return trials.Mean{Mean: by * m.Mean, Low: by * m.Low, High: by * m.High, Seasons: m.Seasons}
}

// Pays and Loses go by the interval, and say nothing where it holds 0.
func TestPaysBeyondChance(t *testing.T) {
	for _, tt := range []struct {
		low, high   float64
		pays, loses bool
	}{{1, 3, true, false}, {-3, -1, false, true}, {-1, 1, false, false}, {0, 2, false, false}, {-2, 0, false, false}} {
		b := Purchase{NPV: trials.Mean{Mean: (tt.low + tt.high) / 2, Low: tt.low, High: tt.high}}
		assert.Equal(t, []bool{tt.pays, tt.loses}, []bool{b.Pays(), b.Loses()}, "%g to %g", tt.low, tt.high)
	}
}

// Wood has its price of the rains above 100 mm in a month; a loan is the borrowed part; the level payment is that of the years a thing lasts.
func TestPrices(t *testing.T) {
	p := prices()
	assert.Equal(t, []float64{0.11, 0.11, 0.23}, []float64{p.woodPerKg(0), p.woodPerKg(100), p.woodPerKg(100.1)})
	assert.Equal(t, Loan{Of(500), 0.12, 20}, p.Loan(Of(1000)))
	assert.InDelta(t, 0.75*263.797480794745, p.Yearly(Of(1000), 5), 1e-9, "PMT(0.1;5;-1000), less the grant")
	assert.Zero(t, LevelPayment(0.1, 0))
	assert.Zero(t, LevelPayment(0.1, -3))
	back, ok := Payback([]float64{0, 5})
	assert.Equal(t, []any{0.0, true}, []any{back, ok}, "what costs nothing is back at once")
	for _, l := range []Loan{{-1, 0.1, 12}, {100, -0.1, 12}, {100, math.NaN(), 12}, {100, 0.1, -1}} {
		_, err := l.Schedule()
		require.ErrorContains(t, err, "want a principal of 0 or more, months and a rate of 0 or more")
	}
}

// Small loans, of which rounding makes the most: no instalment before the last is above the
// first, each pays at least its interest's part of what is left, the last settles all, and once
// nothing is left nothing is paid. Seven minor units over a year without interest: seven months
// of one.
func TestSmallLoans(t *testing.T) {
	early := 0
	for principal := Amount(1); principal <= 60; principal++ {
		for _, rate := range []float64{0, 0.3, 1} {
			for _, months := range []int{1, 2, 5, 12, 24} {
				s, err := Loan{principal, rate, months}.Schedule()
				require.NoError(t, err)
				require.Len(t, s, months)
				left := principal
				for k, x := range s {
					require.InDelta(t, float64(left)*rate/12, float64(x.Interest), 0.5)
					require.Equal(t, left+x.Interest-x.Paid, x.Left)
					require.GreaterOrEqual(t, x.Left, Amount(0))
					if k < months-1 {
						require.LessOrEqual(t, x.Paid, s[0].Paid, "%d at %g over %d months", principal, rate, months)
						if x.Left == 0 {
							early++
						}
					}
					left = x.Left
				}
				require.Zero(t, left)
			}
		}
	}
	require.Positive(t, early, "some are paid back before the last month")
	s, err := Loan{7, 0, 12}.Schedule()
	require.NoError(t, err)
	for k, x := range s {
		assert.Equal(t, Instalment{Paid: min(1, max(0, Amount(7-k))), Left: max(0, Amount(6-k))}, x)
	}
}
