package decide_test

import (
	"context"
	"encoding/json"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/stat"

	"drystalk/scenarios"
	"drystalk/sim"
	"drystalk/sim/decide"
	"drystalk/sim/money"
	"drystalk/sim/trials"
)

// twoSites is a small region of the demo's climate with two sites and few levers.
func twoSites(t testing.TB) *scenarios.Scenario {
	t.Helper()
	s, err := scenarios.Demo(scenarios.OneCooperative)
	require.NoError(t, err)
	inTheRains(s)
	other := s.Region.Sites[0]
	other.Name, other.Cutters, other.OpenRackM2 = "Old Sluice", 4, 90
	other.Dryers = 0
	s.Region.Sites = append(s.Region.Sites[:1:1], other)
	s.Region.Sites[0].Dryers = 0
	s.MaxDryers = []int{2, 2}
	for m := range s.Region.Contract.StalksByMonth {
		s.Region.Contract.StalksByMonth[m], s.Region.Contract.TargetStock[m] = 45_000, 22_000
	}
	return s
}

// The same seasons sharpen a comparison: the spread of the paired difference of two plans of
// the demo is at most a third of that of independent seasons, in variance.
func TestSameSeasonsPay(t *testing.T) {
	s, err := scenarios.Demo(scenarios.LakeTavari)
	require.NoError(t, err)
	s.Region.Hub.Speaks = sim.SpeaksByCutters
	set := setupOf(t, inTheRains(s))
	plans := [][]int{{1, 2, 1, 1, 1, 1}, {2, 2, 1, 1, 1, 1}}
	table, err := set.Table(context.Background(), 0, 60, [][]int{{1, 2}, {2}, {1}, {1}, {1}, {1}}, nil)
	require.NoError(t, err)
	var delivered [2][]float64
	months, scratch := make([]sim.HubMonth, table.Months()), &trials.Arriving{}
	for k, plan := range plans {
		for i := range table.Seasons {
			table.Hub(months, scratch, plan, i)
			sum := 0
			for _, m := range months {
				sum += m.Delivered
			}
			delivered[k] = append(delivered[k], float64(sum))
		}
	}
	diff := make([]float64, table.Seasons)
	for i := range diff {
		diff[i] = delivered[1][i] - delivered[0][i]
	}
	independent := stat.Variance(delivered[0], nil) + stat.Variance(delivered[1], nil)
	t.Logf("variance of the paired difference over independent: %.3f", stat.Variance(diff, nil)/independent)
	assert.Less(t, stat.Variance(diff, nil), independent/3)
}

// A second dryer for one group: more stalks in the same seasons, hours that add up, money
// that adds up, and the same comparison whatever the number of workers. A plan against itself
// differs in nothing.
func TestCompareSecondUnit(t *testing.T) {
	a, err := scenarios.Demo(scenarios.OneCooperative)
	require.NoError(t, err)
	inTheRains(a).Money.DryerYears = 3
	b, err := a.With([]string{"Heron Point: dryers=2"})
	require.NoError(t, err)
	ask := func(b *scenarios.Scenario, workers int) decide.Comparison {
		told := 0
		q := decide.ComparisonQuestion{A: decide.Side{Setup: setupOf(t, a)}, B: decide.Side{Setup: setupOf(t, b)}, Seasons: 40, Prices: &b.Money, Futures: 12}
		q.A.Setup.Workers, q.B.Setup.Workers = workers, workers
		q.Progress = func(done, of int) {
			assert.Equal(t, told+1, done, "season by season")
			assert.Equal(t, 2*40+2*12*3, of)
			told = done
		}
		c, err := decide.Compare(context.Background(), q)
		require.NoError(t, err)
		if c.Purchase == nil { // nothing is bought: no future is run
			assert.Equal(t, 2*40, told)
		} else {
			assert.Equal(t, 2*40+2*12*3, told)
		}
		return c
	}
	c := ask(b, 2)
	one, err := json.Marshal(ask(b, 1))
	require.NoError(t, err)
	two, err := json.Marshal(c)
	require.NoError(t, err)
	assert.True(t, string(one) == string(two), "one worker and two")
	assert.Positive(t, c.Totals[0].More.Mean, "more good stalks delivered")
	require.Len(t, c.Dryers, 3)
	for _, u := range c.Dryers {
		sum := 0.0
		for _, h := range u.Hours {
			sum += h.Hours.Mean
		}
		assert.InDelta(t, 61*12, sum, 1, "shift hours of a season")
	}
	require.NotNil(t, c.Purchase)
	assert.Equal(t, money.Of(6000), c.Purchase.Cost)
	assert.Equal(t, 12, c.Purchase.Futures)
	assert.Equal(t, 3, c.Purchase.Years)
	assert.Equal(t, []money.Amount{money.Of(1800), money.Of(600), money.Of(3600)}, []money.Amount{c.Purchase.Grant, c.Purchase.Own, c.Purchase.Loan})
	require.NotNil(t, c.Purchase.NotCovered)
	require.Len(t, c.Purchase.Cash, 2)
	require.Len(t, c.Accounts, 2)
	for k, account := range c.Accounts {
		assert.Equal(t, k == 1, account.Second)
		assert.Equal(t, "Heron Point", account.Site)
	}
	assert.Zero(t, c.Accounts[0].Uncovered.Mean, "the first dryer is paid")
	assert.Less(t, c.Accounts[1].Lowest.Median, c.Accounts[0].Lowest.Median, "the second is not")
	for k, u := range c.Dryers {
		assert.Equal(t, k > 0, u.Second)
		assert.Equal(t, []int{1, 1, 2}[k], u.Dryer)
	}
	require.NotNil(t, c.Members)
	assert.Positive(t, c.Members.EachMoney.A.Mean)
	assert.InDelta(t, c.Members.EachMoney.B.Mean-c.Members.EachMoney.A.Mean, c.Members.EachMoney.More.Mean, 1e-6)
	net := c.Money[len(c.Money)-1]
	parts := 0.0
	for _, m := range c.Money[:len(c.Money)-1] {
		parts += m.More.Mean
	}
	assert.InDelta(t, net.More.Mean, parts, 1e-6)
	require.Len(t, c.Months, 2)
	for k, m := range c.Months {
		assert.Equal(t, c.A.Months[k].Odds, m.OddsA)
		assert.Equal(t, c.B.Months[k].Odds, m.OddsB)
		assert.InDelta(t, c.A.Months[k].Shortfall.Mean-c.B.Months[k].Shortfall.Mean, m.Stalks.Mean, 1e-6, "the contracts are the same")
		assert.InDelta(t, m.OddsB.Share-m.OddsA.Share, m.Gain.Mean, 1e-12)
	}

	assert.Empty(t, c.Unpriced)
	require.NotNil(t, c.Correlation)
	assert.Less(t, *c.Correlation, 1.0)

	same := ask(a, 2)
	assert.Nil(t, same.Purchase)
	require.NotEmpty(t, same.Totals)
	for _, d := range same.Totals {
		assert.Zero(t, d.More.Mean, d.Of)
	}
	require.NotNil(t, same.Correlation)
	assert.InDelta(t, 1, *same.Correlation, 1e-12)
}

// What is promised is met at least as often as promised in seasons the search never saw, one
// step more is not proven, and a plan with more dryers keeps the promise no less often.
func TestPromise(t *testing.T) {
	s, err := scenarios.Demo(scenarios.OneCooperative)
	require.NoError(t, err)
	s.Region.Calendar = sim.Calendar{StartMonth: time.April, StartDay: 1, Days: 61}
	one, err := decide.FindPromise(context.Background(), decide.PromiseQuestion{
		Setup: setupOf(t, s), Target: 0.5, SearchSeasons: 12, Seasons: 24, StockAfter: decide.BeforeTheRains,
	})
	require.NoError(t, err)
	require.Positive(t, one.Flat)
	assert.GreaterOrEqual(t, trials.LowerBound(one.Worst.Odds.Met, one.Worst.Odds.Seasons, 0.975), 0.5)
	assert.Greater(t, one.Next, one.Flat)
	assert.Less(t, trials.LowerBound(one.NextOdds.Met, one.NextOdds.Seasons, 0.975), 0.5)
	assert.Len(t, one.Months, 2)
	require.NotNil(t, one.Stock)
	assert.Equal(t, "April", one.Stock.After)
	assert.GreaterOrEqual(t, one.Stock.Odds.Share, 0.5)

	region := *s.Region.From(0)
	region.Contract.StalksByMonth = map[time.Month]int{}
	region.Contract.TargetStock = map[time.Month]int{}
	for m, n := range s.Region.Contract.StalksByMonth {
		region.Contract.StalksByMonth[m] = one.Flat
		region.Contract.TargetStock[m] = int(float64(s.Region.Contract.TargetStock[m]) * float64(one.Flat) / float64(n))
	}
	set := setupOf(t, s)
	set.Region = &region
	table, err := set.Table(context.Background(), 500_000, 60, trials.Upto([]int{2}), nil)
	require.NoError(t, err)
	fresh, err := decide.Judge(table, []int{1})
	require.NoError(t, err)
	assert.GreaterOrEqual(t, fresh.WorstMonth().Odds.High, 0.5)
	more, err := decide.Judge(table, []int{2})
	require.NoError(t, err)
	assert.GreaterOrEqual(t, more.WorstMonth().Odds.Met, fresh.WorstMonth().Odds.Met)
}

// What is short is named: where only the road is shut, the road would have met every missed
// month; the counts hang together.
func TestWhatIsShort(t *testing.T) {
	s, err := scenarios.Demo(scenarios.OneCooperative)
	require.NoError(t, err)
	inTheRains(s).Region.Sites[0].Dryers = 2
	s.Region.Road.ClosedAboveMM = 15
	set := setupOf(t, s)
	plan := []int{2}
	table, err := set.Table(context.Background(), 0, 60, trials.Only(plan), nil)
	require.NoError(t, err)
	short, err := decide.WhatIsShort(context.Background(), set, decide.Missing{Region: &s.Region, Table: table, Plan: plan, Most: 20})
	require.NoError(t, err)
	require.Positive(t, short.Months)
	assert.LessOrEqual(t, short.Seasons, 20)
	require.NotEmpty(t, short.Single)
	assert.Equal(t, []decide.Relief{decide.OpenRoad}, short.Single[0].Things)
	assert.Greater(t, short.Single[0].Met.Share, 0.8)
	assert.LessOrEqual(t, short.Alone.Met+short.Two.Met, short.Months)
	for _, x := range short.Single {
		assert.LessOrEqual(t, x.Met.Met, short.Alone.Met)
	}

	s.Region.Contract.StalksByMonth = map[time.Month]int{time.July: 1}
	table, err = set.Table(context.Background(), 0, 30, trials.Only(plan), nil)
	require.NoError(t, err)
	short, err = decide.WhatIsShort(context.Background(), set, decide.Missing{Region: &s.Region, Table: table, Plan: plan, Most: 20})
	require.NoError(t, err)
	assert.Zero(t, short.Months)
	assert.Equal(t, 30, short.OfAll)
}

// Hauling breaks the independence of sites: every number is run whole, and the answer says so.
func TestDryersWithHauling(t *testing.T) {
	s := twoSites(t)
	s.Region.Sites[1].HaulTo, s.Region.Sites[1].HaulStalksPerDay = s.Region.Sites[0].Name, 600
	s.MaxDryers = []int{2, 1}
	a, err := decide.Dryers(context.Background(), decide.Question{
		Setup: setupOf(t, s), MaxDryers: s.MaxDryers, Target: 0.5, SearchSeasons: 20, Seasons: 50, Limit: 50, ShortSeasons: 3,
	})
	require.NoError(t, err)
	assert.True(t, a.Whole)
	set := setupOf(t, s)
	require.NotEmpty(t, a.Plans)
	for n, p := range a.Plans {
		region := *s.Region.Clone()
		for i := range region.Sites {
			region.Sites[i].Dryers = p.PerSite[i]
		}
		set.Region = &region
		table, err := set.Table(context.Background(), 0, 50, trials.Only(p.PerSite), nil)
		require.NoError(t, err)
		whole, err := decide.Judge(table, p.PerSite)
		require.NoError(t, err)
		assert.Equal(t, whole.Months, p.Months, "%d dryers", n)
	}
}
