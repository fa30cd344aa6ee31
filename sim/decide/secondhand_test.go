package decide_test

import (
	"encoding/csv"
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drystalk/scenarios"
	"drystalk/sim"
	"drystalk/sim/decide"
	"drystalk/sim/money"
	"drystalk/sim/trials"
)

// The members' money and hours, money of an hour, break-even hour, net present value and chance of
// a missed instalment of one cooperative with a second dryer are those of a second implementation,
// a Python program under testdata that reads what both plans did month by month and the prices, and
// shares no code with the program.
func TestMembersMoneyByASecondImplementation(t *testing.T) {
	python, err := exec.LookPath("python3")
	if errors.Is(err, exec.ErrNotFound) {
		t.Skip("no python3 on this machine: the second implementation cannot run")
	}
	require.NoError(t, err)
	const futures = 24
	today, err := scenarios.Demo(scenarios.OneCooperative)
	require.NoError(t, err)
	then, err := today.With([]string{"Heron Point: dryers=2"})
	require.NoError(t, err)
	p := then.Money
	years := p.DryerYears
	c, err := decide.Compare(t.Context(), decide.ComparisonQuestion{A: decide.Side{Setup: setupOf(t, today)}, B: decide.Side{Setup: setupOf(t, then)}, Seasons: 20, Prices: &p, Futures: futures})
	require.NoError(t, err)
	require.NotNil(t, c.Members)

	folder := t.TempDir()
	writeLedgers(t, folder, futures*years, years, map[string]*scenarios.Scenario{"today": today, "then": then})
	writePrices(t, folder, &p)
	said, err := exec.Command(python, "../../testdata/money/members.py", folder).Output()
	require.NoError(t, err)
	var by struct {
		Money   map[string]float64 `json:"money"`
		Hours   map[string]float64 `json:"hours"`
		PerHour map[string]float64 `json:"money_of_an_hour"`
		Even    [3]float64         `json:"break_even_hour"`
		NPV     float64            `json:"net_present_value"`
		Missed  int                `json:"missed"`
		Futures int                `json:"futures"`
	}
	require.NoError(t, json.Unmarshal(said, &by))
	require.Equal(t, futures, by.Futures)

	m, b := c.Members, c.Purchase
	const cents = 0.5 // parts of a month are whole hundredths here and not there
	assert.InDelta(t, by.Money["today"], m.Money.A.Mean, cents)
	assert.InDelta(t, by.Money["then"], m.Money.B.Mean, cents)
	assert.InDelta(t, by.Hours["today"], m.Hours.A.Mean, 0.01)
	assert.InDelta(t, by.Hours["then"], m.Hours.B.Mean, 0.01)
	assert.InDelta(t, by.PerHour["today"], m.PerHour.A.Mean, 0.001)
	assert.InDelta(t, by.PerHour["then"], m.PerHour.B.Mean, 0.001)
	require.NotNil(t, m.Even.Worth)
	assert.InDeltaSlice(t, by.Even[:], []float64{m.Even.Worth.Mean, m.Even.Worth.Low, m.Even.Worth.High}, 0.003)
	assert.InDelta(t, by.NPV, b.NPV.Mean, 8*cents)
	require.NotNil(t, b.NotCovered)
	assert.Equal(t, by.Missed, b.NotCovered.Met)
	assert.Positive(t, by.Missed, "the check tells something")
	t.Logf("%s", said)
}

// writeLedgers writes what plans did month by month, in stalks, hours and kilograms.
func writeLedgers(t *testing.T, folder string, seasons, years int, plans map[string]*scenarios.Scenario) {
	t.Helper()
	file, err := os.Create(filepath.Join(folder, "ledger.csv"))
	require.NoError(t, err)
	defer file.Close()
	w := csv.NewWriter(file)
	head := []string{"plan", "season", "month", "days", "rain_mm", "cut", "second", "sent", "trips", "other_h", "night_h", "cutting_h", "firing_h", "wood_kg", "delivered", "missing", "left_over"}
	require.NoError(t, w.Write(head))
	for name, s := range plans {
		set := setupOf(t, s)
		set.YearsPerFuture = years
		plan := decide.PlanOf(set.Region)
		table, err := set.Table(t.Context(), 0, seasons, trials.Only(plan), nil)
		require.NoError(t, err)
		hub, sums := make([]sim.HubMonth, table.Months()), trials.Arriving{}
		for i := range seasons {
			table.Hub(hub, &sums, plan, i)
			for k, span := range table.Spans() {
				of := func(id sim.FigureID) float64 {
					return float64(table.MonthFigures(id, 0, plan[0], i)[k]) / id.Figure().Unit.Fine()
				}
				left := 0
				if k == table.Months()-1 {
					left = hub[k].Closing
				}
				row := []string{name, strconv.Itoa(i), strconv.Itoa(k)}
				for _, x := range []float64{
					float64(span.LastDay - span.FirstDay + 1), table.RainMM(i)[k], of(sim.Cut), of(sim.Second), of(sim.ToHub), of(sim.Trips), of(sim.OtherH), of(sim.NightH), of(sim.CutH),
					of(sim.FiringH), of(sim.WoodKg), float64(hub[k].Delivered + hub[k].MadeGood), float64(hub[k].Asked - hub[k].Delivered), float64(left),
				} {
					row = append(row, fmt.Sprint(x))
				}
				require.NoError(t, w.Write(row))
			}
		}
	}
	w.Flush()
	require.NoError(t, w.Error())
}

// writePrices writes the prices under the keys of a scenario.
func writePrices(t *testing.T, folder string, p *money.Prices) {
	t.Helper()
	worth, _ := p.WorthOfHour()
	data, err := json.Marshal(map[string]any{
		"price_per_good_stalk": p.PerGoodStalk, "second_grade_price_per_stalk": p.PerSecondStalk, "penalty_per_missing_stalk": p.PerMissing, "paid_after_months": p.PaidAfter,
		"opening_cash": p.OpeningCash.Units(), "pay_per_stalk_cut": p.PerStalkCut, "wage_per_h": p.WagePerH, "night_extra_per_h": p.NightExtraPerH, "wood_per_kg": p.WoodPerKg,
		"wood_in_rains_per_kg": p.WoodRainsPerKg, "collection_trip": p.PerTrip, "transport_per_stalk": p.CarryPerStalk, "bags_per_stalk": p.BagPerStalk, "upkeep_per_firing_h": p.UpkeepPerH,
		"upkeep_per_dryer_year": p.UpkeepPerDryer, "rent_per_site_year": p.RentPerYear, "left_over_price_per_stalk": p.SurplusPerStalk, "dryer_cost": p.DryerCost, "dryer_life_years": p.DryerYears,
		"grant_fraction": p.GrantShare, "loan_fraction": p.LoanShare, "loan_months": p.LoanMonths, "loan_interest_per_year": p.LoanRate, "discount_per_year": p.Discount,
		"worth_of_hour": worth, "dryers_today": 1, "dryers_then": 2,
	})
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(filepath.Join(folder, "prices.json"), data, 0o644))
}
