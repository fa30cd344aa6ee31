package decide

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drystalk/sim/goal"
	"drystalk/sim/money"
	"drystalk/sim/trials"
)

// goalPrices are prices under which the income of seasons lies on both sides of 0.
func goalPrices() *money.Prices {
	return &money.Prices{PerGoodStalk: 0.12, PerSecondStalk: 0.02, SecondMost: -1, PerMissing: 0.05, PerStalkCut: 0.05, Hands: money.Hired, WoodPerKg: 0.08, DryerCost: 1000, DryerYears: 8}
}

// tolerant is a region of three sites of whose months a twentieth may be missing, with all its
// plans of up to a dryer a site.
func tolerant(t *testing.T) (trials.Setup, *trials.Table, [][]int) {
	t.Helper()
	set := sites(t, 20_000, 3)
	set.Region.Contract.Tolerance = 0.05
	most := []int{1, 1, 1}
	table, err := set.Table(t.Context(), 0, 60, trials.Upto(most), nil)
	require.NoError(t, err)
	plans := every(most)
	require.Len(t, plans, 8)
	return set, table, plans
}

// reachedIn returns in how many seasons a plan reaches a goal.
func reachedIn(t *testing.T, g goal.Goal, set trials.Setup, table *trials.Table, plan []int) int {
	t.Helper()
	r, err := JudgeFor(g, set.Region, table, plan)
	require.NoError(t, err)
	return r.Odds.Met
}

// All months are met in no more seasons than the worst one; a larger share is delivered in no more
// seasons, a larger penalty allowed and a smaller income asked in no fewer. All of the stalks are
// delivered where no penalty is paid. The income is that of the money tables.
func TestGoalsOfOnePlan(t *testing.T) {
	set, table, plans := tolerant(t)
	p := goalPrices()
	told := map[string]int{}
	for _, plan := range plans {
		of := func(g goal.Goal) int {
			g.Prices = p
			return reachedIn(t, g, set, table, plan)
		}
		worst, all := of(goal.Goal{}), of(goal.Goal{Kind: goal.AllMonths})
		r, err := Judge(table, plan)
		require.NoError(t, err)
		assert.Equal(t, r.WorstMonth().Odds.Met, worst)
		assert.Equal(t, r.AllMonths.Met, all)
		assert.LessOrEqual(t, all, worst)
		told["all"] += worst - all
		before := table.Seasons
		for _, share := range []float64{0.3, 0.6, 0.9, 0.95, 1} {
			now := of(goal.Goal{Kind: goal.ShareDelivered, Share: share})
			assert.LessOrEqual(t, now, before, "%v, %v", plan, share)
			told["share"] += before - now
			before = now
		}
		assert.Equal(t, before, of(goal.Goal{Kind: goal.PenaltyAtMost}), "nothing is paid where all is delivered")
		assert.LessOrEqual(t, before, all)
		for _, most := range []float64{100, 500, 1000, 2000} {
			now := of(goal.Goal{Kind: goal.PenaltyAtMost, MostPenalty: money.Of(most)})
			assert.GreaterOrEqual(t, now, before, "%v, %v", plan, most)
			told["penalty"] += now - before
			before = now
		}
		assert.Equal(t, table.Seasons, before, "the whole contract costs 2,000")
		_, nets, err := EarnsOf(p, set.Region, table, plan)
		require.NoError(t, err)
		for _, least := range []float64{0, 500, 1000, 1500} {
			want := 0
			for _, net := range nets {
				if net >= least {
					want++
				}
			}
			told["income"] += want
			assert.Equal(t, want, of(goal.Goal{Kind: goal.IncomeAtLeast, LeastIncome: money.Of(least)}), "%v, %v", plan, least)
		}
	}
	for _, of := range []string{"all", "share", "penalty", "income"} {
		assert.Positive(t, told[of], "%s: seasons can be told apart", of)
	}
	assert.Less(t, told["income"], 8*4*table.Seasons)
}

// The search ranks plans by the seasons in which the judge says that they reach the goal.
func TestSearchGoesByTheGoal(t *testing.T) {
	set, table, plans := tolerant(t)
	for _, g := range []goal.Goal{
		{},
		{Kind: goal.AllMonths},
		{Kind: goal.ShareDelivered, Share: 0.9},
		{Kind: goal.PenaltyAtMost, MostPenalty: money.Of(300), Prices: goalPrices()},
		{Kind: goal.IncomeAtLeast, LeastIncome: money.Of(500), Prices: goalPrices()},
	} {
		s := newScorerFor(g, set.Region, table)
		seen := map[int]bool{}
		for _, plan := range plans {
			met := reachedIn(t, g, set, table, plan)
			assert.Equal(t, met, s.score(plan).WorstMet, "%s, %v", g.Kind, plan)
			seen[met] = true
		}
		assert.Greater(t, len(seen), 2, "%s: plans can be told apart", g.Kind)
		best := placements(s, []int{0, 0, 0}, []int{1, 1, 1})
		require.Len(t, best, 4)
		for _, plan := range plans {
			assert.GreaterOrEqual(t, s.score(best[total(plan)]).WorstMet, s.score(plan).WorstMet, "%s, %v", g.Kind, plan)
		}
	}
}

// What a plan would do without the tolerance is what it does in the same seasons under a contract
// without one; no month is met in more seasons then.
func TestWithoutToleranceIsAContractWithoutOne(t *testing.T) {
	for _, grace := range []bool{false, true} {
		set := sites(t, 20_000, 3)
		set.Region.Contract.Tolerance, set.Region.Contract.Grace = 0.05, grace
		strict := set
		strict.Region = set.Region.Clone()
		strict.Region.Contract.Tolerance = 0
		fewer := 0
		for _, plan := range [][]int{{1, 0, 0}, {1, 1, 0}, {1, 1, 1}} {
			lived, strictly := tableOf(t, set, 60, plan...), tableOf(t, strict, 60, plan...)
			for _, g := range []goal.Goal{{}, {Kind: goal.AllMonths}} {
				got, err := JudgeFor(g, set.Region, lived, plan)
				require.NoError(t, err)
				want, err := JudgeFor(g, strict.Region, strictly, plan)
				require.NoError(t, err)
				require.NotNil(t, got.Strict)
				assert.Nil(t, want.Strict)
				assert.Equal(t, WithoutTolerance{0.05, want.WorstMonth().Name, want.WorstMonth().Odds, want.AllMonths, want.Odds}, *got.Strict)
				assert.LessOrEqual(t, want.Odds.Met, got.Odds.Met)
				fewer += got.Odds.Met - want.Odds.Met
			}
		}
		assert.Positive(t, fewer, "it tells")
		share, err := JudgeFor(goal.Goal{Kind: goal.ShareDelivered, Share: 0.9}, set.Region, tableOf(t, set, 30, 1, 1, 1), []int{1, 1, 1})
		require.NoError(t, err)
		assert.Nil(t, share.Strict, "a share goes by no month met")
	}
}

// A stricter target never needs fewer dryers: all months than each by itself, a larger share of
// the stalks, a contract without tolerance.
func TestStricterTargetsNeedNoFewerDryers(t *testing.T) {
	set := sites(t, 14_000, 3)
	needed := func(g goal.Goal, tolerance float64) (number int, a Answer) {
		asked := set
		asked.Region = set.Region.Clone()
		asked.Region.Contract.Tolerance = tolerance
		a, err := Dryers(t.Context(), Question{Setup: asked, MaxDryers: []int{2, 1, 1}, Free: true, Target: 0.8, Goal: g, SearchSeasons: 20, Seasons: 50, Limit: 50})
		require.NoError(t, err)
		require.Equal(t, g, a.Goal)
		if a.Needed < 0 {
			return 5, a
		}
		assert.GreaterOrEqual(t, a.Plans[a.Needed].Odds.Share, 0.8)
		return a.Plans[a.Needed].Dryers, a
	}
	worst, a := needed(goal.Goal{}, 0.1)
	all, _ := needed(goal.Goal{Kind: goal.AllMonths}, 0.1)
	strict, b := needed(goal.Goal{}, 0)
	half, _ := needed(goal.Goal{Kind: goal.ShareDelivered, Share: 0.5}, 0.1)
	most, _ := needed(goal.Goal{Kind: goal.ShareDelivered, Share: 0.98}, 0.1)
	assert.LessOrEqual(t, worst, all)
	assert.LessOrEqual(t, worst, strict)
	assert.Less(t, half, most)
	assert.Equal(t, -1, b.NeededStrictly, "there is no tolerance")
	require.GreaterOrEqual(t, a.NeededStrictly, a.Needed)
	assert.GreaterOrEqual(t, a.Plans[a.NeededStrictly].Strict.Odds.Share, 0.8)
}

// Where a share of the stalks is asked, seasons that fall short of it are lived through again, and
// what is counted is whether they then reach it: by hand, each relief of each such season alone.
func TestSeasonsShortOfAShare(t *testing.T) {
	_, set := small(t)
	g, plan := goal.Goal{Kind: goal.ShareDelivered, Share: 0.95}, []int{1}
	table := tableOf(t, set, 30, plan...)
	p := playFor(g, lived{set.Region, table, plan})
	var below []int
	for i, share := range p.share {
		if share < 0.95 && len(below) < 3 {
			below = append(below, i)
		}
	}
	require.Len(t, below, 3)
	short, err := WhatIsShort(t.Context(), set, Missing{Goal: g, Region: set.Region, Table: table, Plan: plan, Most: 3})
	require.NoError(t, err)
	assert.True(t, short.Whole)
	assert.Equal(t, []int{3, 3, below[2] + 1}, []int{short.Seasons, short.Months, short.OfAll})
	require.NotEmpty(t, short.Single)
	for _, x := range short.Single {
		reached := 0
		for _, what := range reliefsFor(set.Region) {
			if what.key != x.Things[0] {
				continue
			}
			relieved := set
			relieved.Region = with(set.Region, what)
			for _, i := range below {
				again, err := relieved.Ledger(i)
				require.NoError(t, err)
				if g.Reached(again.Hub, 0) {
					reached++
				}
			}
		}
		assert.Equal(t, reached, x.Met.Met, "%s", x.Things[0])
	}
}
