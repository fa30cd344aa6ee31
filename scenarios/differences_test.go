package scenarios

import (
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
