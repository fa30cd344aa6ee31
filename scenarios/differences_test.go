package scenarios

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drystalk/sim/plans"
)

// Prices, contract and luck lie outside a plan and are listed; other weather, knowledge or
// sites are refused.
func TestDifferencesOutsideThePlan(t *testing.T) {
	a, err := Demo(OneCooperative)
	require.NoError(t, err)
	b, err := a.With([]string{"money: wood_per_kg=0.2", "contract: tolerance_fraction=0.1"})
	require.NoError(t, err)
	diff, err := Differences(a, b)
	require.NoError(t, err)
	assert.Equal(t, []plans.Difference{{Key: "contract.tolerance_fraction", A: "0.05", B: "0.1", Plan: false}, {Key: "money.wood_per_kg", A: "0.08", B: "0.2", Plan: false}}, diff)

	other, err := Demo(LakeTavari)
	require.NoError(t, err)
	_, err = Differences(a, other)
	assert.ErrorContains(t, err, "both need the same sites")
	for change, want := range map[string]string{
		"knowledge: fixed=true":           "knowledge.fixed is false in the one and true in the other",
		"knowledge: mould_factor.low=0.9": "knowledge.mould_factor is {low: 1, mode: 1.5, high: 2.5} in the one and {low: 0.9, mode: 1.5, high: 2.5} in the other",
		"weather: latitude_deg=3":         "weather.latitude_deg is 17 in the one and 3 in the other",
		"season: days=244":                "season is {start: 1 mar, days: 245} in the one and {start: 1 mar, days: 244} in the other",
	} {
		b, err := a.With([]string{change})
		require.NoError(t, err)
		_, err = Differences(a, b)
		assert.ErrorContains(t, err, "cannot be compared in the same seasons: "+want)
	}
}

// What belongs to the plan and what lies outside it: buyers, prices, luck, trouble and what the
// water gives are no part of it, and neither is a bound of the search.
func TestWhatIsPartOfAPlan(t *testing.T) {
	a := read(t, tiny+"currency: L$\nmoney: {price_per_good_stalk: 1, pay_per_stalk_cut: 1, wood_per_kg: 1, dryer_cost: 1}\n")
	for change, plan := range map[string]bool{
		"hub: opening_stock_stalks=5": true, "dryer: handling_h=1": true, "yard: rest_every_days=6": true, "people: one_pool=false": true, "road: vehicle_stalks=5": true, "store: humidity_fraction=0.5": true,
		"Stone Weir: crew=1": true, "Stone Weir: sheets=true": true, "Stone Weir: stalks_per_person_h=118": true,
		"contract: target_odds=0.8": false, "contract: stalks_per_month.jul=7": false, "luck: output_day_sd=0.2": false, "trouble: repair_days=4": false, "stand: silted_days=13": false,
		"money: wood_per_kg=2": false, "currency=K$": false, "numbers_as_in=fr": false, "Stone Weir: max_dryers=5": false, "Stone Weir: stand_m2=5": false,
	} {
		b, err := a.With([]string{change})
		require.NoError(t, err)
		diff, err := Differences(a, b)
		require.NoError(t, err)
		require.Len(t, diff, 1, change)
		assert.Equal(t, plan, diff[0].Plan, change)
	}
	closed, err := Differences(a, read(t, strings.Replace(string(a.Write()), "    cutters: 3\n", "    cutters: 3\n    closed: [{from: 1 jul, to: 2 jul, why: x}]\n", 1)))
	require.NoError(t, err)
	assert.Equal(t, []plans.Difference{{Key: "sites.Stone Weir.closed", A: "", B: `[{from: 1 jul, to: 2 jul, why: "x", removed_fraction: 0}]`}}, closed)
	moved, err := Differences(read(t, tiny+"moves: [{from: Stone Weir, to: Ferry Bank, on: 1 jul, days_lost: 3}]\n"), read(t, tiny))
	require.NoError(t, err)
	assert.Equal(t, []plans.Difference{{Key: "moves", A: `[{from: "Stone Weir", to: "Ferry Bank", on: 1 jul, days_lost: 3, cost: 0}]`, B: "", Plan: true}}, moved)

	named, err := a.With([]string{"region=There"})
	require.NoError(t, err)
	none, err := Differences(a, named)
	require.NoError(t, err)
	assert.Empty(t, none, "another name is no other plan")
	assert.NotEqual(t, a.Hash, named.Hash)

	monsoon := read(t, changed(t, "41923", "41923, monsoon: {onset: 6 jun, withdrawal: 28 sep}"))
	_, err = Differences(read(t, tiny), monsoon)
	require.EqualError(t, err, "f and f cannot be compared in the same seasons: weather.monsoon.onset is not stated in the one and 6 jun in the other")
	_, err = Pair(read(t, tiny), monsoon, 1)
	require.ErrorContains(t, err, "cannot be compared in the same seasons")
}

// A pair of plans has both scenarios with one seed, and what they differ in.
func TestPairOfPlans(t *testing.T) {
	a := read(t, changed(t, "wmo_station: 41923", "climate_file: climate.yaml"))
	b, err := a.With([]string{"Stone Weir: crew=1", "hub: opening_stock_stalks=5"})
	require.NoError(t, err)
	p, err := Pair(a, b, 9)
	require.NoError(t, err)
	assert.Equal(t, []plans.Difference{{Key: "hub.opening_stock_stalks", A: "0", B: "5", Plan: true}, {Key: "sites.Stone Weir.crew", A: "0", B: "1", Plan: true}}, p.Differences)
	for k, c := range []plans.Case{p.First, p.Second} {
		s := []*Scenario{a, b}[k]
		assert.Equal(t, []any{"f", "f", s.Hash, s.Changes, uint64(9), 0.9, ""}, []any{c.Name, c.File, c.Hash, c.Changes, c.Setup.Seed, c.Target, c.Currency})
		assert.Equal(t, []any{s.Knowledge, s.Base, s.Normals, s.MaxDryers, s.Warnings, s.Assumptions(), s.WeatherWords()}, []any{c.Setup.Knowledge, c.Setup.Base, c.Normals, c.MaxDryers, c.Warnings, c.Assumptions, c.Weather})
		assert.Equal(t, []int{0, 0}, c.Setup.Group)
		assert.NotNil(t, c.Setup.Source)
		assert.Nil(t, c.Prices)
		assert.Same(t, &s.Region, c.Setup.Region)
	}
	broken := *a
	broken.climate = nil
	broken.Normals.Months[0].RainDays = 32
	_, err = Pair(&broken, &broken, 1)
	require.ErrorContains(t, err, "f: weather: normals: ")
}
