package scenarios_test

import (
	"context"
	"fmt"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drystalk/scenarios"
	"drystalk/sim/answers"
)

// opening is a stock of the first day with what a scenario opens with.
func opening(s *scenarios.Scenario) string {
	month, dom := s.Region.Calendar.Date(0)
	out := fmt.Sprintf("today: %d %s\nhub: {good_stalks: %d, delivered_this_month_stalks: 0}\nsites:\n", dom, strings.ToLower(month.String()[:3]), s.Region.Hub.OpeningStock)
	for i := range s.Region.Sites {
		site := &s.Region.Sites[i]
		out += fmt.Sprintf("  %s: {fresh_stalks: 0, half_dry_stalks: 0, nearly_dry_stalks: 0, in_store_stalks: %d, in_dryers_stalks: 0}\n", site.Name, site.OpeningStock)
	}
	return out
}

// At the start of the season, with the stock that the plan opens with and nothing known besides, what lies
// ahead is what the odds of the plan are, to the last digit: of both demos, with and without dryers.
func TestAheadAtTheStartIsTheOdds(t *testing.T) {
	type plan struct {
		demo string
		with []string
	}
	plans := []plan{{scenarios.OneCooperative, []string{"Heron Point: opening_stock_stalks=900", "hub: opening_stock_stalks=4000"}}}
	if os.Getenv("DRYSTALK_LONG") != "" { // the slower ones, and these alone
		plans = []plan{
			{scenarios.OneCooperative, nil},
			{scenarios.LakeTavari, nil},
			{scenarios.LakeTavari, []string{"Heron Point: dryers=2", "Old Sluice: dryers=1, opening_stock_stalks=900", "hub: opening_stock_stalks=40000"}},
		}
	}
	require.NotEmpty(t, plans)
	for _, c := range plans {
		s, err := scenarios.Demo(c.demo)
		require.NoError(t, err)
		s, err = s.With(c.with)
		require.NoError(t, err)
		of, err := s.Setup(3)
		require.NoError(t, err)
		st, err := s.ReadStock("stock.yaml", []byte(opening(s)))
		require.NoError(t, err)
		odds := answers.DefaultOdds()
		odds.Seasons, odds.Short = 30, 0
		want, err := answers.Odds(context.Background(), of, odds, nil)
		require.NoError(t, err)
		q := answers.DefaultAhead()
		q.Seasons, q.Lies = 30, answers.Lies{Start: st.Start, Known: st.Known}
		got, err := answers.Ahead(context.Background(), of, q, nil)
		require.NoError(t, err)
		now := got.Ahead.Ways[0]
		require.Len(t, now.Months, len(want.Plan.Months))
		for k, m := range want.Plan.Months {
			assert.Equal(t, m.Name, now.Months[k].Name)
			assert.Equal(t, m.Asked, now.Months[k].Asked)
			assert.Equal(t, m.Odds, now.Months[k].Odds, "%s %s", c.demo, m.Name)
			assert.Equal(t, m.Available, now.Months[k].Available)
			assert.Equal(t, m.Shortfall, now.Months[k].Missing)
		}
		assert.Equal(t, want.Plan.AllMonths, now.All)
		assert.Equal(t, 30.0, got.Ahead.Effective)
	}
}
