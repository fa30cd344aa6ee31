package spend

import (
	"context"
	"slices"
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drystalk/scenarios"
	"drystalk/sim"
	"drystalk/sim/decide"
	"drystalk/sim/money"
	"drystalk/sim/trials"
	"drystalk/sim/weather"
)

// climate is the weather of the demo, which all tests share: making it takes a third of a
// second.
var climate = sync.OnceValues(func() (weather.Source, error) {
	s, err := scenarios.Demo(scenarios.OneCooperative)
	if err != nil {
		return nil, err
	}
	return s.Source()
})

func setupOf(t testing.TB, s *scenarios.Scenario) trials.Setup {
	t.Helper()
	source, err := climate()
	require.NoError(t, err)
	return trials.Setup{Region: &s.Region, Base: s.Base, Knowledge: s.Knowledge, Source: source, Seed: 1, Workers: 2}
}

// twoSites is a small region of the demo's climate with two sites and few levers.
func twoSites(t testing.TB) *scenarios.Scenario {
	t.Helper()
	s, err := scenarios.Demo(scenarios.OneCooperative)
	require.NoError(t, err)
	s.Region.Calendar = sim.Calendar{StartMonth: time.June, StartDay: 1, Days: 61}
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

// What is bought step by step, with exchanges, is as good as the best of all affordable
// designs, on a region small enough to try them all: two levers at two sites.
func TestSpendAgainstAllDesigns(t *testing.T) {
	s := twoSites(t)
	for m := range s.Region.Contract.StalksByMonth { // more than the budget can meet always
		s.Region.Contract.StalksByMonth[m] = 62_000
	}
	p := money.Prices{PerGoodStalk: 0.12, PerStalkCut: 0.04, DryerCost: 6000, DryerYears: 8, RoofPerM2: 150, OtherYears: 4}
	const budget, seasons = 15_000, 15
	a, err := Buy(context.Background(), Question{
		Setup: setupOf(t, s), MaxDryers: s.MaxDryers, Prices: &p, Budget: money.Of(budget), Target: 0.9, SearchSeasons: seasons, Seasons: 60,
	})
	require.NoError(t, err)
	require.NotEmpty(t, a.Steps)
	require.LessOrEqual(t, a.Steps[len(a.Steps)-1].Spent, money.Of(budget))
	assert.Equal(t, slices.DeleteFunc(Levers(), func(l Lever) bool { return l == Dryers || l == ClearRoofs }), a.NoPrice)
	assert.Equal(t, []string{"Heron Point", "Old Sluice"}, a.Sites)
	assert.Equal(t, NothingHelps, a.Ends)
	assert.Greater(t, a.Tried, 2*len(a.Steps))
	figuresHangTogether(t, s, &p, a)

	regions := []*sim.Region{a.Best, &s.Region}
	for d0 := range 3 {
		for d1 := range 3 {
			for r0 := range 7 {
				for r1 := range 7 {
					if float64(d0+d1)*6000+float64(r0+r1)*20*150 > budget {
						continue
					}
					region := *s.Region.Clone()
					region.Sites[0].Dryers, region.Sites[1].Dryers = d0, d1
					region.Sites[0].ClearRoofM2 += 20 * float64(r0)
					region.Sites[1].ClearRoofM2 += 20 * float64(r1)
					regions = append(regions, &region)
				}
			}
		}
	}
	require.Greater(t, len(regions), 40)
	worst, short := judged(t, setupOf(t, s), seasons, regions)
	bestWorst, bestShort := slices.Max(worst), slices.Min(short)
	t.Logf("%d affordable designs: best %d of %d met and %.0f missing; bought %d and %.0f after %d site-plans", len(regions)-2, bestWorst, seasons, bestShort, worst[0], short[0], a.Tried)
	assert.GreaterOrEqual(t, worst[0], bestWorst-2, "nothing bought: %d", worst[1])
	assert.LessOrEqual(t, short[0]-bestShort, 0.05*(short[1]-bestShort))
}

// The target is reached where a step has its share of seasons, equality included: before
// anything is bought, if the plan as written has it.
func TestWhenTheTargetIsReached(t *testing.T) {
	odds := func(met int) Bought { return Bought{Odds: trials.NewOdds(met, 10)} }
	list := []Bought{odds(2), odds(5), odds(9), odds(9)}
	assert.Equal(t, 2, reachedAfter(list, 0.9))
	assert.Equal(t, 0, reachedAfter(list, 0.2))
	assert.Equal(t, 1, reachedAfter(list, 0.3))
	assert.Equal(t, -1, reachedAfter(list, 0.91))
}

// figuresHangTogether checks the figures of an answer against the plans judged by themselves
// on the fresh seasons: odds, missing stalks, money, and sums of the list.
func figuresHangTogether(t *testing.T, s *scenarios.Scenario, p *money.Prices, a Answer) {
	t.Helper()
	at := func(r *sim.Region) (decide.PlanResult, decide.Earns) {
		set := setupOf(t, s)
		set.Region = r
		table, err := set.Table(context.Background(), 0, a.Seasons, trials.Only(decide.PlanOf(r)), nil)
		require.NoError(t, err)
		result, err := decide.Judge(table, decide.PlanOf(r))
		require.NoError(t, err)
		earns, _, err := decide.EarnsOf(p, r, table, decide.PlanOf(r))
		require.NoError(t, err)
		return result, earns
	}
	short := func(r decide.PlanResult) (sum float64) {
		for _, m := range r.Months {
			sum += m.Shortfall.Mean
		}
		return sum
	}
	last := a.Steps[len(a.Steps)-1]
	before, earnsBefore := at(&s.Region)
	after, earnsAfter := at(a.Best)
	assert.Equal(t, before.WorstMonth().Odds, a.Start.Worst.Odds)
	assert.Equal(t, before.WorstMonth().Name, a.Start.Worst.Name)
	assert.Equal(t, before.WorstMonth().Asked, a.Start.Worst.Asked)
	assert.Equal(t, before.AllMonths, a.Start.All)
	assert.Zero(t, a.Start.Spent)
	assert.Equal(t, after.WorstMonth().Odds, last.Worst.Odds)
	assert.Equal(t, after.AllMonths, last.All)

	spent, fewer, gain := money.Amount(0), 0.0, 0.0
	reached := -1
	for k, b := range a.Steps {
		spent += b.Cost
		fewer += b.Fewer.Mean
		gain += b.Gain.Mean
		assert.Equal(t, spent, b.Spent)
		assert.NotEmpty(t, b.What)
		if reached < 0 && b.Worst.Odds.Share >= 0.9 {
			reached = k + 1
		}
	}
	assert.Equal(t, reached, a.Reached)
	assert.InDelta(t, short(before)-short(after), fewer, 1e-6)
	assert.InDelta(t, last.Worst.Odds.Share-a.Start.Worst.Odds.Share, gain, 1e-9)

	// No dryer stood there before, so all dryers are bought; roofs are paid over their years.
	roofM2 := 0.0
	for i := range a.Best.Sites {
		roofM2 += a.Best.Sites[i].ClearRoofM2 - s.Region.Sites[i].ClearRoofM2
	}
	assert.InDelta(t, earnsBefore.Net.Mean, a.Before.Mean, 1e-6)
	assert.InDelta(t, earnsAfter.Net.Mean-p.Yearly(money.Of(roofM2*p.RoofPerM2), p.OtherYears), a.After.Mean, 1e-6)
	assert.InDelta(t, float64(a.Best.Sites[0].Dryers+a.Best.Sites[1].Dryers)*p.DryerCost+roofM2*p.RoofPerM2, last.Spent.Units(), 1e-6)
	assert.NotEmpty(t, a.Marginal)
}

// judged returns the seasons in which the worst month of each region is met and the stalks it
// misses in a mean season, in the search seasons.
func judged(t *testing.T, set trials.Setup, seasons int, regions []*sim.Region) (worst []int, short []float64) {
	t.Helper()
	variants := make([]trials.Variant, len(regions))
	for v, r := range regions {
		variants[v] = trials.Variant{Region: r, Levels: trials.Only(decide.PlanOf(r))}
	}
	tables, err := set.Tables(context.Background(), decide.FirstSearchSeason, seasons, variants, nil)
	require.NoError(t, err)
	for v, r := range regions {
		result, err := decide.Judge(tables[v], decide.PlanOf(r))
		require.NoError(t, err)
		missing := 0.0
		for _, m := range result.Months {
			missing += m.Shortfall.Mean
		}
		worst, short = append(worst, result.WorstMonth().Odds.Met), append(short, missing)
	}
	return worst, short
}

// A stopped search answers with the list so far, and an unaffordable one with nothing.
func TestSpendStoppedAndPoor(t *testing.T) {
	s := twoSites(t)
	ctx, cancel := context.WithCancel(context.Background())
	few := money.Prices{PerGoodStalk: 0.12, PerStalkCut: 0.04, DryerCost: 6000, DryerYears: 8, RoofPerM2: 20, OtherYears: 4}
	q := Question{Setup: setupOf(t, s), MaxDryers: s.MaxDryers, Prices: &few, Budget: money.Of(30_000), Target: 0.9, SearchSeasons: 20, Seasons: 30}
	searches := 0
	q.Progress = func(stage decide.Stage, _, _ int) {
		if stage == decide.Searching {
			if searches++; searches == 4 {
				cancel()
			}
		}
	}
	a, err := Buy(ctx, q)
	require.NoError(t, err)
	assert.True(t, a.Stopped)
	assert.Equal(t, Interrupted, a.Ends)
	assert.Less(t, len(a.Steps), 4)

	q.Budget, q.Progress = 1, nil
	a, err = Buy(context.Background(), q)
	require.NoError(t, err)
	assert.Empty(t, a.Steps)
	assert.Equal(t, -1, a.Reached)
}
