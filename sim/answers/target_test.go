package answers

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drystalk/scenarios"
)

// Under every target, odds says of a plan what a row of dryers and the last line of a list to
// spend on say of it, to the last digit.
func TestTwoCommandsSayTheSameOfAPlanUnderEveryTarget(t *testing.T) {
	sites := "  Stone Weir: {cutters: 3, stalks_per_person_h: 117, open_rack_m2: 75, dryers: 1, max_dryers: 3}\n"
	told := map[int]bool{}
	for _, target := range [][]string{
		{"target=worst_month"},
		{"target=all_months"},
		{"target=share_delivered", "target_delivered_fraction=0.7"},
		{"target=penalty_at_most", "target_most_penalty=300"},
		{"target=income_at_least", "target_least_income=200"},
	} {
		t.Run(target[0], func(t *testing.T) {
			changes := []string{"money: penalty_per_missing_stalk=0.05", "yard: stalks_are_spread=at_full_load, cutting_stops_at=full_yard"}
			for _, key := range target {
				changes = append(changes, "contract: "+key)
			}
			s, err := made(t, "contract: {stalks_per_month: {jun: 9000, jul: 16000}, tolerance_fraction: 0.1}", sites).With(changes)
			require.NoError(t, err)
			c, err := s.Setup(7)
			require.NoError(t, err)

			q := DefaultDryers()
			q.Seasons, q.Search, q.Limit, q.Short = 40, 30, 40, 0
			dryers, err := Dryers(t.Context(), c, q, nil)
			require.NoError(t, err)
			require.NotEmpty(t, dryers.Answer.Plans)
			for _, row := range dryers.Answer.Plans {
				plan := *s
				plan.Region = *s.Region.Clone()
				plan.Region.Sites[0].Dryers = row.PerSite[0]
				assert.Equal(t, oddsOf(t, &plan).Plan, row)
				told[row.Odds.Met] = true
			}

			spending := DefaultSpend(4000)
			spending.Seasons, spending.Search = 40, 30
			a, err := Spend(t.Context(), c, spending, nil)
			require.NoError(t, err)
			require.NotEmpty(t, a.Spending.Steps)
			bought := *s
			bought.Region = *a.Spending.Best
			read, err := scenarios.Read("bought.yaml", bought.Write())
			require.NoError(t, err)
			odds, last := oddsOf(t, read), a.Spending.Steps[len(a.Spending.Steps)-1]
			assert.Equal(t, odds.Plan.Odds, last.Odds)
			assert.Equal(t, odds.Plan.WorstMonth(), last.Worst)
			assert.Equal(t, odds.Goal.Kind, a.Spending.Goal.Kind)
			assert.Equal(t, oddsOf(t, s).Plan.Odds, a.Spending.Start.Odds)
			told[last.Odds.Met] = true
		})
	}
	assert.Greater(t, len(told), 4, "targets and plans can be told apart")
}

func oddsOf(t *testing.T, s *scenarios.Scenario) OddsAnswer {
	t.Helper()
	c, err := s.Setup(7)
	require.NoError(t, err)
	q := DefaultOdds()
	q.Seasons, q.Short = 40, 0
	a, err := Odds(t.Context(), c, q, nil)
	require.NoError(t, err)
	return a
}

// A larger contract may earn more and be met less: no contract is promised by income.
func TestNoPromiseByIncome(t *testing.T) {
	s := made(t, "contract: {stalks_per_month: {jun: 9000, jul: 16000}, target: income_at_least, target_least_income: 200}", "  Stone Weir: {cutters: 3, stalks_per_person_h: 117, open_rack_m2: 75}\n")
	c, err := s.Setup(7)
	require.NoError(t, err)
	_, err = Promise(t.Context(), c, DefaultPromise(), nil)
	require.ErrorAs(t, err, &Fault{})
	assert.ErrorContains(t, err, "contract.target: found income_at_least")
}
