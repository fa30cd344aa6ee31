package scenarios

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A change lands in its key and nowhere else; what is wrong is said of the change.
func TestWith(t *testing.T) {
	s, err := Demo(LakeTavari)
	require.NoError(t, err)
	b, err := s.With([]string{"Heron Point: dryers=2, crew=1", "dryer: shift_end_h=22", "Old Sluice: haul_to=Heron Point, haul_stalks_per_day=500"})
	require.NoError(t, err)
	assert.Equal(t, 2, b.Region.Sites[1].Dryers)
	assert.Equal(t, "Heron Point", b.Region.Sites[2].HaulTo)
	diff, err := Differences(s, b)
	require.NoError(t, err)
	assert.Equal(t, []Difference{
		{"dryer.shift_end_h", "19", "22", true},
		{"sites.Heron Point.crew", "0", "1", true},
		{"sites.Heron Point.dryers", "0", "2", true},
		{"sites.Old Sluice.haul_stalks_per_day", "0", "500", true},
		{"sites.Old Sluice.haul_to", "", `"Heron Point"`, true},
	}, diff)
	assert.Equal(t, s.Knowledge.Assumptions(), b.Knowledge.Assumptions(), "sources are kept")
	assert.Less(t, len(s.Assumptions())-len(b.Assumptions()), 5, "defaults that were not changed are still listed")
	for change, want := range map[string]string{
		"Heron Point dryers=2":         `found "Heron Point dryers=2", allowed: a site or a group of keys`,
		"Heron Pint: dryers=2":         `found "Heron Pint", allowed: North Landing`,
		"Heron Point: dryers":          `found "dryers", allowed: key=value`,
		"Heron Point: dyers=2":         "sites.Heron Point.dyers: found an unknown key, allowed: did you mean dryers?",
		"Heron Point: dryers=two":      `sites.Heron Point.dryers: found "two", allowed: a whole number from 0 to 50`,
		"weather: latitude_deg=3":      `found "weather", allowed: what a plan may change`,
		"Heron Point: dryers={a: 1}":   "allowed: key=value",
		"dryer: shift_start_h=7\nx: 1": "allowed: key=value",
	} {
		_, err := s.With([]string{change})
		assert.ErrorContains(t, err, want, change)
	}
}

// Prices, contract and luck lie outside a plan and are listed; other weather, knowledge or
// sites are refused.
func TestDifferencesOutsideThePlan(t *testing.T) {
	a, err := Demo(OneCooperative)
	require.NoError(t, err)
	b, err := a.With([]string{"money: wood_per_kg=0.2", "contract: tolerance_fraction=0.1"})
	require.NoError(t, err)
	diff, err := Differences(a, b)
	require.NoError(t, err)
	assert.Equal(t, []Difference{{"contract.tolerance_fraction", "0.05", "0.1", false}, {"money.wood_per_kg", "0.08", "0.2", false}}, diff)

	other, err := Demo(LakeTavari)
	require.NoError(t, err)
	_, err = Differences(a, other)
	assert.ErrorContains(t, err, "both need the same sites")
	b.Knowledge.Fixed = true
	_, err = Differences(a, b)
	assert.ErrorContains(t, err, "knowledge.fixed is false in the one and true in the other")
}
