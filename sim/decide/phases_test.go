package decide

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drystalk/sim/money"
	"drystalk/sim/trials"
)

// With two dryers standing at one site and a target that needs three, one is added, and that one
// alone is to be funded. Where placement is free the two need not stay.
func TestTwoStandAndOneIsAdded(t *testing.T) {
	set := sites(t, 12_000, 3)
	set.Region.Sites[0].Dryers = 2
	q := Question{
		Setup: set, MaxDryers: []int{3, 2, 2}, Target: 0.8, SearchSeasons: 20, Seasons: 60, Limit: 60, ShortSeasons: 1,
		Prices: &money.Prices{PerGoodStalk: 0.1, DryerCost: 6000, DryerYears: 8, GrantShare: 0.5},
	}
	a, err := Dryers(t.Context(), q)
	require.NoError(t, err)
	assert.Equal(t, []int{2, 0, 0}, a.Standing)
	assert.Equal(t, []int{2, 0, 0}, a.Plans[0].PerSite)
	assert.Less(t, a.Plans[0].WorstMonth().Odds.Share, 0.8, "two are not enough")
	require.Equal(t, 1, a.Needed)
	for _, p := range a.Plans {
		assert.GreaterOrEqual(t, p.PerSite[0], 2)
	}
	three := a.Plans[1]
	assert.Equal(t, []int{2, 1, 0}, three.PerSite)
	assert.Equal(t, 3, three.Dryers)
	assert.Equal(t, 1, a.Money[1].ToFund.New)
	require.Len(t, a.Phases, 1)
	assert.Equal(t, "Upper Channel", a.Phases[0].AddedAt)
	assert.Equal(t, three.WorstMonth().Odds, a.Phases[0].Odds)
	require.NotEmpty(t, a.Steps)
	assert.Equal(t, 3, a.Steps[0].Dryers)
	for _, s := range a.Swings {
		assert.NotContains(t, []int{0, 1}, s.Low, "no number below those that stand is spoken of")
		assert.NotContains(t, []int{0, 1}, s.High)
	}

	q.Free, q.Prices = true, nil
	a, err = Dryers(t.Context(), q)
	require.NoError(t, err)
	assert.Equal(t, []int{0, 0, 0}, a.Standing)
	assert.Equal(t, []int{1, 1, 0}, a.Plans[a.Needed].PerSite, "one elsewhere does more than the second")
}

// What a plan costs more than what stands, by hand: the cost of a month met more and of a stalk
// more are the differences of the means, and the grant's part of a dryer is counted.
func TestCostOfWhatIsMetMore(t *testing.T) {
	p := money.Prices{PerGoodStalk: 0.1, DryerCost: 8000, DryerYears: 8, GrantShare: 0.5}
	d := dryers{Question: Question{Prices: &p}, plans: [][]int{{1, 0}, {2, 1}}}
	d.played = []seasons{
		{met: [][]bool{{true, false}, {false, false}}, allMet: []bool{false, false}, delivered: []float64{1000, 800}},
		{met: [][]bool{{true, true}, {true, false}}, allMet: []bool{true, false}, delivered: []float64{4000, 1800}},
	}
	// Two dryers more, 1,000 a year each; the grant pays half of that, and what is paid to others rises by
	// 1,500 and 2,500, their own half among it.
	m := d.more(earned{others: []float64{2500, 3000}}, earned{others: []float64{1000, 500}}, 1)
	assert.InDelta(t, 3000, m.Cost.Mean, 1e-9, "1,500 and 2,500, and 1,000 of grant to each")
	assert.InDelta(t, 1, m.MonthsMet.Mean, 1e-9)
	assert.InDelta(t, 2000, m.Delivered.Mean, 1e-9)
	assert.InDelta(t, 3000, m.PerMonth.Mean, 1e-9)
	assert.InDelta(t, 1.5, m.PerStalk.Mean, 1e-9)

	// What people are paid is no cost of it: with pay and wages alone only the dryer is left, with
	// wood at a price the wood is added.
	s, set := small(t)
	table := tableOf(t, set, 3, 1)
	p = money.Prices{PerStalkCut: 0.04, WagePerH: 1, PerMissing: 5, DryerCost: 8000, DryerYears: 8}
	_, year, err := earnsOf(&p, &s.Region, table, []int{1})
	require.NoError(t, err)
	assert.Equal(t, []float64{1000, 1000, 1000}, year.others)
	p.WoodPerKg, p.WoodRainsPerKg = 1, 1
	e, year, err := earnsOf(&p, &s.Region, table, []int{1})
	require.NoError(t, err)
	wood := 0.0
	for _, part := range e.Parts {
		if part.Of == money.Wood.String() {
			wood = -part.Year.Mean
		}
	}
	require.Positive(t, wood)
	assert.InDelta(t, 3*(1000+wood), year.others[0]+year.others[1]+year.others[2], 0.01)
}

// A nested order costs what it says: each phase has one dryer more than the one before, none is
// moved, the last is the plan to fund, and the odds given for nesting are the difference between
// the best placement and the phase, judged apart in the same seasons.
func TestNestedOrderCostsWhatItSays(t *testing.T) {
	set := sites(t, 26_000, 3)
	upto := [][]int{{0, 1, 2}, {0, 1}, {0, 1}}
	table, err := set.Table(t.Context(), 0, 80, upto, nil)
	require.NoError(t, err)
	search, err := set.Table(t.Context(), FirstSearchSeason, 12, upto, nil)
	require.NoError(t, err)
	d := dryers{scorer: newScorer(search), plans: [][]int{{0, 0, 0}, {0, 0, 1}, {2, 0, 0}, {1, 1, 1}}}
	a := Answer{Needed: 3, Sites: []string{"Lower Channel", "Upper Channel", "Old Sluice"}}
	for _, plan := range d.plans {
		r, err := Judge(table, plan)
		require.NoError(t, err)
		a.Plans = append(a.Plans, r)
		d.judged, d.played = append(d.judged, candidate{set.Region, table, plan}), append(d.played, play(table, plan))
	}
	require.NoError(t, d.phases(t.Context(), &a))
	require.Len(t, a.Phases, 3)
	before, costly := []int{0, 0, 0}, 0
	for k, p := range a.Phases {
		assert.Equal(t, k+1, p.Dryers)
		assert.Equal(t, k+1, total(p.PerSite))
		for site := range p.PerSite {
			more := p.PerSite[site] - before[site]
			assert.GreaterOrEqual(t, more, 0, "what stands, stays")
			if more > 0 {
				assert.Equal(t, a.Sites[site], p.AddedAt)
			}
		}
		alone, err := set.Table(t.Context(), 0, 80, trials.Only(p.PerSite), nil)
		require.NoError(t, err)
		nested, err := Judge(alone, p.PerSite)
		require.NoError(t, err)
		best := a.Plans[k+1].WorstMonth().Odds.Share
		assert.Equal(t, nested.WorstMonth().Odds, p.Odds)
		assert.Equal(t, nested.AllMonths, p.AllMonths)
		assert.InDelta(t, best-p.Odds.Share, p.NestingCosts.Mean, 1e-12)
		assert.LessOrEqual(t, best-p.Odds.Share, p.NestingCosts.High+1e-12, "at most what it says")
		if p.NestingCosts.Mean != 0 {
			costly++
		}
		before = p.PerSite
	}
	assert.Equal(t, 2, costly, "the best placements of one and of two are no part of three")
	assert.Equal(t, []int{1, 1, 1}, before)
	assert.Equal(t, trials.Mean{Seasons: 80}, a.Phases[2].NestingCosts, "the last is the plan itself")

	a.Phases, a.Needed = nil, 0
	require.NoError(t, d.phases(t.Context(), &a))
	assert.Empty(t, a.Phases, "nothing is to be put up")
}

// Of all orders that lead from one plan to another the one whose phases score best in sum is
// found, by trying them all.
func TestNestedOrderIsTheBestOfAll(t *testing.T) {
	s := newScorer(placing(t, 10, 26_000, 2, 2, 1))
	from, to := []int{0, 1, 0}, []int{2, 2, 1}
	var best Score
	var bestOrder [][]int
	tried := 0
	var follow func(plan []int, order [][]int, sum Score)
	follow = func(plan []int, order [][]int, sum Score) {
		if slices.Equal(plan, to) {
			if tried++; bestOrder == nil || sum.Better(best) {
				best, bestOrder = sum, order
			}
			return
		}
		for k := range plan {
			if plan[k] < to[k] {
				next := slices.Clone(plan)
				next[k]++
				follow(next, append(slices.Clone(order), next), sum.plus(s.score(next)))
			}
		}
	}
	follow(from, nil, Score{})
	require.Equal(t, 12, tried, "4! / 2! orders of two, one and one dryer")
	got, sum := nestedOrder(s, from, to), Score{}
	for _, plan := range got {
		sum = sum.plus(s.score(plan))
	}
	assert.Equal(t, best, sum)
	assert.Equal(t, to, got[len(got)-1])
	assert.Empty(t, nestedOrder(s, to, to))
	assert.Equal(t, [][]int{to}, nestedOrder(s, []int{2, 2, 0}, to))
}
