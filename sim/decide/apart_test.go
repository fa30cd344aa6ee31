package decide_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drystalk/scenarios"
	"drystalk/sim/decide"
	"drystalk/sim/trials"
)

// The search lets sites live apart where the hub tells them what others bring. Of nine placements
// of four to seven dryers on the demo the one that it puts first of a number is within chance of the
// best of that number, and odds come out within a tenth of those of whole plans.
func TestSitesApartRankAsWholePlans(t *testing.T) {
	s, err := scenarios.Demo(scenarios.LakeTavari)
	require.NoError(t, err)
	set := setupOf(t, s)
	const seasons = 60
	by := map[int][][]int{
		4: {{1, 1, 1, 0, 1, 0}, {2, 2, 0, 0, 0, 0}, {0, 1, 1, 0, 1, 1}},
		6: {{1, 1, 1, 1, 1, 1}, {2, 2, 1, 1, 0, 0}, {0, 0, 2, 2, 1, 1}},
		7: {{1, 2, 1, 1, 1, 1}, {2, 3, 1, 1, 0, 0}, {1, 1, 1, 1, 1, 2}},
	}
	apart, err := set.Tables(t.Context(), 0, seasons, []trials.Variant{{Region: set.Region, Levels: trials.Upto([]int{2, 3, 2, 2, 1, 2}), Apart: true}}, nil)
	require.NoError(t, err)
	for n, plans := range by {
		var variants []trials.Variant
		for _, p := range plans {
			variants = append(variants, trials.Variant{Region: set.Region, Levels: trials.Only(p)})
		}
		whole, err := set.Tables(t.Context(), 0, seasons, variants, nil)
		require.NoError(t, err)
		first, best, told := 0.0, 0.0, -1.0
		for k, p := range plans {
			a, err := decide.Judge(apart[0], p)
			require.NoError(t, err)
			w, err := decide.Judge(whole[k], p)
			require.NoError(t, err)
			assert.InDelta(t, w.WorstMonth().Odds.Share, a.WorstMonth().Odds.Share, 0.1, "%v", p)
			if best = max(best, w.WorstMonth().Odds.Share); a.WorstMonth().Odds.Share > told {
				told, first = a.WorstMonth().Odds.Share, w.WorstMonth().Odds.Share
			}
		}
		assert.InDelta(t, best, first, 0.05, "%d dryers", n)
	}
}
