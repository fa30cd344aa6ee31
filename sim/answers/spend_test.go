package answers

import (
	"fmt"
	"os"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drystalk/scenarios"
	"drystalk/sim"
	"drystalk/sim/money"
	"drystalk/sim/spend"
)

// made is a small plan with sites and further groups of keys of one's own.
func made(t *testing.T, groups, sites string) *scenarios.Scenario {
	t.Helper()
	s, err := scenarios.Read("made.yaml", []byte(`region: Lake Tavari
season: {start: 16 jun, days: 36}
weather: {wmo_station: 41923}
money: {price_per_good_stalk: 0.12, pay_per_stalk_cut: 0.04, wood_per_kg: 0.1, dryer_cost: 2000, dryer_life_years: 2, clear_roof_per_m2: 20, cutter_cost: 100, stock_ahead_per_stalk: 0.5}
`+groups+"\nsites:\n"+sites))
	require.NoError(t, err)
	return s
}

// fourteen sites that differ in people, racks and dryers.
func fourteen() string {
	var b strings.Builder
	for i := range 14 {
		fmt.Fprintf(&b, "  Bay %d: {cutters: %d, stalks_per_person_h: 117, open_rack_m2: %d, dryers: %d, max_dryers: 2}\n", i+1, 2+i%4, 60+10*i, i%2)
	}
	return b.String()
}

// demo is a demo in its wettest months with a few levers, so that the search is short.
func demo(t *testing.T, name string) *scenarios.Scenario {
	t.Helper()
	s, err := scenarios.Demo(name)
	require.NoError(t, err)
	p := &s.Money
	s.Region.Calendar = sim.Calendar{StartMonth: time.June, StartDay: 1, Days: 92}
	p.RackPerM2, p.RoofPerM2, p.SheetPerM2, p.SealPerSite, p.RoomPer1000, p.PerShiftH = 0, 0, 0, 0, 0, 0
	return s
}

// What is said of the plan with all of the list bought is what odds says of the file that is
// written, and what is said of the start is what it says of the file as it was.
func TestLastLineIsTheOddsOfTheFileWritten(t *testing.T) {
	const two = "contract: {stalks_per_month: {jun: 13000, jul: 24000}}"
	for _, tt := range []struct {
		name   string
		s      *scenarios.Scenario
		budget float64
	}{
		{"one-cooperative", demo(t, scenarios.OneCooperative), 7000},
		{"lake-tavari", demo(t, scenarios.LakeTavari), 7000},
		{"one site", made(t, "contract: {stalks_per_month: {jun: 9000, jul: 16000}}", "  Stone Weir: {cutters: 3, stalks_per_person_h: 117, open_rack_m2: 75, dryers: 1, max_dryers: 3}\n"), 4000},
		{"two sites with hauling", made(t, two, "  Stone Weir: {cutters: 3, stalks_per_person_h: 117, open_rack_m2: 75, max_dryers: 1, haul_to: Ferry Bank, haul_stalks_per_day: 1000}\n  Ferry Bank: {cutters: 2, stalks_per_person_h: 117, open_rack_m2: 75, dryers: 1, max_dryers: 3}\n"), 3000},
		{"fourteen sites", made(t, "contract: {stalks_per_month: {jun: 80000, jul: 150000}, target_stock_stalks: {jun: 20000}}", fourteen()), 2500},
		{"no site with a dryer", made(t, two, "  Stone Weir: {cutters: 3, stalks_per_person_h: 117, open_rack_m2: 75, max_dryers: 0}\n  Ferry Bank: {cutters: 4, stalks_per_person_h: 117, open_rack_m2: 75, max_dryers: 0}\n"), 3000},
		{"a closed road and a moved dryer", made(t, two+"\nroad: {closed_above_mm_in_3_days: 60}\nmoves: [{from: Stone Weir, to: Ferry Bank, on: 1 jul, days_lost: 4}]", "  Stone Weir: {cutters: 3, stalks_per_person_h: 117, open_rack_m2: 75, dryers: 1, max_dryers: 2}\n  Ferry Bank: {cutters: 2, stalks_per_person_h: 117, open_rack_m2: 75, dryers: 1, max_dryers: 2}\n"), 3000},
	} {
		long := os.Getenv("DRYSTALK_LONG") != "" // as in .ci/run, which asks for the rest
		if long == (tt.name == scenarios.OneCooperative) {
			continue
		}
		t.Run(tt.name, func(t *testing.T) {
			c, err := tt.s.Setup(7)
			require.NoError(t, err)
			ask := func(q SpendOptions) SpendAnswer {
				q.Seasons, q.Search = 30, 30
				a, err := Spend(t.Context(), c, q, nil)
				require.NoError(t, err)
				return a
			}
			large := tt.name == scenarios.LakeTavari || tt.name == "fourteen sites"
			if large || !long {
				list := ask(DefaultSpend(tt.budget)).Spending
				require.NotEmpty(t, list.Steps, "a list of nothing shows nothing")
				lastLineIsTheOdds(t, tt.s, list)
				return
			}
			several := ask(DefaultSpend(tt.budget/2, tt.budget)).Each
			require.Len(t, several, 2)
			require.NotEmpty(t, several[1].Steps, "a list of nothing shows nothing")
			q := DefaultSpend(tt.budget)
			if q.Cheapest = true; tt.name == "one site" {
				q.Budget = nil // as much as it takes
			}
			for _, list := range append(several, ask(q).Spending) {
				lastLineIsTheOdds(t, tt.s, list)
			}
		})
	}
}

// Each row of several budgets is the answer for that budget alone.
func TestBudgetsSideBySideAreTheirAnswersAlone(t *testing.T) {
	s := made(t, "contract: {stalks_per_month: {jun: 13000, jul: 24000}}", "  Stone Weir: {cutters: 3, stalks_per_person_h: 117, open_rack_m2: 75, max_dryers: 1}\n  Ferry Bank: {cutters: 2, stalks_per_person_h: 117, open_rack_m2: 75, dryers: 1, max_dryers: 3}\n")
	c, err := s.Setup(7)
	require.NoError(t, err)
	ask := func(budgets ...float64) SpendAnswer {
		q := DefaultSpend(budgets...)
		q.Seasons, q.Search = 30, 30
		a, err := Spend(t.Context(), c, q, nil)
		require.NoError(t, err)
		return a
	}
	all := ask(500, 4500)
	require.Len(t, all.Each, 2)
	assert.Equal(t, all.Each[1], all.Spending)
	for k, budget := range []float64{500, 4500} {
		require.Zero(t, all.Each[k].Smaller, "its own list")
		one := ask(budget)
		assert.Nil(t, one.Each)
		assert.Equal(t, one.Spending, all.Each[k])
		require.NotEmpty(t, one.Spending.Steps)
	}
}

// lastLineIsTheOdds checks the first and the last line of a list against the odds of the plan as
// written and of the file that is written.
func lastLineIsTheOdds(t *testing.T, s *scenarios.Scenario, list spend.Answer) {
	t.Helper()
	isTheOdds(t, s, list.Start, list.Before.Mean)
	bought := *s
	bought.Region = *list.Best
	read, err := scenarios.Read("bought.yaml", bought.Write())
	require.NoError(t, err)
	last := list.Start
	if n := len(list.Steps); n > 0 {
		last = list.Steps[n-1]
	}
	isTheOdds(t, read, last, list.After.Mean+yearly(t, s, list))
}

// isTheOdds checks a line of a list against the odds of a plan, of which the file cannot say
// what of it was bought.
func isTheOdds(t *testing.T, s *scenarios.Scenario, line spend.Bought, net float64) {
	t.Helper()
	c, err := s.Setup(7)
	require.NoError(t, err)
	q := DefaultOdds()
	q.Seasons, q.Short = 30, 0
	odds, err := Odds(t.Context(), c, q, nil)
	require.NoError(t, err)
	assert.Equal(t, odds.Plan.WorstMonth(), line.Worst)
	assert.Equal(t, odds.Plan.AllMonths, line.All)
	require.NotNil(t, odds.Money)
	assert.InDelta(t, odds.Money.Net.Mean, net, 1e-6)
}

// yearly is what the things of a list but dryers cost by the year.
func yearly(t *testing.T, s *scenarios.Scenario, list spend.Answer) float64 {
	t.Helper()
	c, err := s.Setup(7)
	require.NoError(t, err)
	items, _ := money.Items(&s.Money, c.Setup.Region, list.Best, c.Plan(), c.Plan())
	return s.Money.YearlyCost(items)
}
