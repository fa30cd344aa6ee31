package decide

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drystalk/sim"
	"drystalk/sim/trials"
)

// sites is a setup of a region of up to three sites, the later ones smaller, with a contract.
func sites(t *testing.T, contract, n int) trials.Setup {
	t.Helper()
	s, set := small(t)
	for k, name := range []string{"Upper Channel", "Old Sluice"} {
		site := s.Region.Sites[0]
		site.Name, site.Cutters, site.OpenRackM2 = name, 2-k, 50-30*float64(k)
		s.Region.Sites = append(s.Region.Sites, site)
	}
	s.Region.Sites = s.Region.Sites[:n]
	for k := range s.Region.Sites {
		s.Region.Sites[k].Dryers = 0
	}
	for m := range s.Region.Contract.StalksByMonth {
		s.Region.Contract.StalksByMonth[m] = contract
	}
	s.Region.Hub.Speaks = sim.SpeaksByCutters // plans are put together from sites
	set.Region = &s.Region
	return set
}

// placing is a table of a region of three sites with numbers of dryers up to the most, in few
// seasons: many placements are nearly as good as one another.
func placing(t *testing.T, seasons, contract int, most ...int) *trials.Table {
	t.Helper()
	table, err := sites(t, contract, len(most)).Table(t.Context(), 0, seasons, trials.Upto(most), nil)
	require.NoError(t, err)
	return table
}

// every lists all placements, those that give earlier sites more first.
func every(most []int) (out [][]int) {
	if len(most) == 0 {
		return [][]int{nil}
	}
	for n := most[0]; n >= 0; n-- {
		for _, rest := range every(most[1:]) {
			out = append(out, append([]int{n}, rest...))
		}
	}
	return out
}

// Of all placements of each number the best is found, of equals the one that gives earlier
// sites more; grown ones are such that no dryer does more at another site.
func TestPlacementsAgainstEvery(t *testing.T) {
	most := []int{2, 3, 1}
	table := placing(t, 6, 26_000, most...)
	s := newScorer(table)
	none := []int{0, 0, 0}
	all, grown := allPlacements(newScorer(table), none, most), grownPlacements(newScorer(table), none, most)
	require.Len(t, all, 7)
	require.Len(t, grown, 7)
	best := make([][]int, 7)
	for _, plan := range every(most) {
		if n := total(plan); best[n] == nil || s.score(plan).Better(s.score(best[n])) {
			best[n] = plan
		}
	}
	assert.Equal(t, best, all)
	assert.Equal(t, best, Placements(table, none, most), "few are all tried")
	for n, plan := range grown {
		assert.Equal(t, n, total(plan))
		for _, other := range every(most) {
			moved, off := 0, 0
			for k := range plan {
				moved += max(0, other[k]-plan[k])
				off += max(0, plan[k]-other[k])
			}
			if moved == 1 && off == 1 {
				assert.False(t, s.score(other).Better(s.score(plan)), "%v against %v", other, plan)
			}
		}
	}
}

// The one move of a dryer that does most is made, of equals the first, and none where none
// helps: for every placement of a small region.
func TestImproveTakesTheBestMove(t *testing.T) {
	most := []int{2, 3, 1}
	s := newScorer(placing(t, 6, 26_000, most...))
	tried := 0
	for _, plan := range every(most) {
		before := append([]int(nil), plan...)
		var best []int
		for i := range plan {
			for j := range plan {
				other := append([]int(nil), plan...)
				other[i]--
				other[j]++
				if i == j || other[i] < 0 || other[j] > most[j] || !s.score(other).Better(s.score(plan)) {
					continue
				}
				if best == nil || s.score(other).Better(s.score(best)) {
					best = other
				}
			}
		}
		if best == nil {
			assert.False(t, improve(s, plan, []int{0, 0, 0}, most))
			assert.Equal(t, before, plan)
			continue
		}
		tried++
		assert.True(t, improve(s, plan, []int{0, 0, 0}, most))
		assert.Equal(t, best, plan)
	}
	assert.Greater(t, tried, 3)
}

// A dryer more goes where it does most, of equals to the earlier site, and never beyond the
// most of a site.
func TestGrowTakesTheBestSite(t *testing.T) {
	most := []int{2, 3, 1}
	s := newScorer(placing(t, 6, 26_000, most...))
	tried := 0
	for _, plan := range every(most) {
		var best []int
		for k := range plan {
			other := append([]int(nil), plan...)
			other[k]++
			if other[k] <= most[k] && (best == nil || s.score(other).Better(s.score(best))) {
				best = other
			}
		}
		if best == nil {
			continue // all that may be placed are
		}
		tried++
		grow(s, plan, most)
		assert.Equal(t, best, plan)
	}
	assert.Equal(t, 23, tried)
}

// Up to 30,000 placements are all tried, beyond they are grown.
func TestFewPlacements(t *testing.T) {
	for _, tt := range []struct {
		most []int
		few  bool
	}{
		{[]int{29_999}, true},
		{[]int{30_000}, false},
		{[]int{29, 24, 39}, true},  // 30 · 25 · 40
		{[]int{2, 72, 136}, false}, // 3 · 73 · 137 = 30,003
		{[]int{0, 0, 0}, true},
		{[]int{1000, 1000, 1000, 1000, 1000, 1000, 1000, 1000}, false}, // more than a number holds
	} {
		assert.Equal(t, tt.few, fewPlacements(make([]int, len(tt.most)), tt.most), "%v", tt.most)
	}
}

// Where there are more placements than are tried, they are the grown ones.
func TestManyPlacementsAreGrown(t *testing.T) {
	most := []int{174, 174} // 30,625
	table := placing(t, 1, 26_000, most...)
	grown := grownPlacements(newScorer(table), []int{0, 0}, most)
	require.Len(t, grown, 349)
	require.NotEqual(t, allPlacements(newScorer(table), []int{0, 0}, most), grown, "they can be told apart")
	assert.Equal(t, grown, Placements(table, []int{0, 0}, most))
}

// What stands, stays: of all placements that keep what stands the best is found, and so are the
// grown ones; a dryer that stands is never moved to where it would do more.
func TestWhatStandsStays(t *testing.T) {
	least, most := []int{0, 1, 1}, []int{2, 3, 1}
	table := placing(t, 6, 26_000, most...)
	s := newScorer(table)
	best := make([][]int, 5)
	for _, plan := range every(most) {
		n := total(plan) - 2
		if plan[1] == 0 || plan[2] == 0 {
			continue
		}
		if best[n] == nil || s.score(plan).Better(s.score(best[n])) {
			best[n] = plan
		}
	}
	require.NotEqual(t, best[0], Placements(table, []int{0, 0, 0}, most)[2], "two would stand elsewhere if they could")
	assert.Equal(t, best, allPlacements(newScorer(table), least, most))
	assert.Equal(t, best, Placements(table, least, most))
	grown := grownPlacements(newScorer(table), least, most)
	require.Len(t, grown, 5)
	for n, plan := range grown {
		assert.Equal(t, n+2, total(plan))
		for k := range plan {
			assert.GreaterOrEqual(t, plan[k], least[k])
		}
	}
	plan := []int{0, 1, 1}
	assert.True(t, improve(s, plan, []int{0, 0, 0}, most))
	plan = []int{0, 1, 1}
	assert.False(t, improve(s, plan, plan, most), "what stands is not moved")
	assert.True(t, fewPlacements([]int{29_000, 29_000}, []int{29_100, 29_100}), "only what may be added counts")
}

// A plan in a region and back.
func TestPlanOfARegion(t *testing.T) {
	r := &sim.Region{Sites: []sim.Site{{Dryers: 3}, {Dryers: 0}, {Dryers: 2}}}
	assert.Equal(t, []int{3, 0, 2}, PlanOf(r))
	other := planned(r, []int{1, 4, 0})
	assert.Equal(t, []int{1, 4, 0}, PlanOf(other))
	assert.Equal(t, []int{3, 0, 2}, PlanOf(r), "the plan as written stays")
	assert.Equal(t, 5, total([]int{1, 4, 0}))
	assert.Equal(t, [][]int{{0, 1}, {2, 3, 4}, {7}}, levelsOf([][]int{{0, 4, 7}, {1, 2, 7}, {0, 2, 7}, {1, 4, 7}}), "and all between, for phases")
	assert.Equal(t, [][]int{{3}, {0}}, levelsOf([][]int{{3, 0}}), "of one plan")
}
