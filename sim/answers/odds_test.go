package answers

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Where nobody reads the rows of single sites, odds gives none away; by income the target itself goes by
// site, so that they are kept, and what is said is the same.
func TestOddsByIncomeKeepTheirSites(t *testing.T) {
	sites := "  Stone Weir: {cutters: 3, stalks_per_person_h: 117, open_rack_m2: 75, dryers: 1}\n"
	for target, kept := range map[string]bool{"target: all_months": false, "target: income_at_least, target_least_income: 200": true} {
		s := made(t, "contract: {stalks_per_month: {jun: 9000, jul: 16000}, "+target+"}", sites)
		c, err := s.Setup(7)
		require.NoError(t, err)
		want := oddsOf(t, s)
		require.NotNil(t, want.Table)
		c.Setup.Together = true
		q := DefaultOdds()
		q.Seasons, q.Short = 40, 0
		got, err := Odds(t.Context(), c, q, nil)
		require.NoError(t, err)
		assert.Equal(t, kept, got.Table != nil, target)
		assert.Equal(t, want.Plan, got.Plan, target)
		assert.Equal(t, want.Money, got.Money, target)
	}
}
