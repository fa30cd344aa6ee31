package scenarios

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Every entry of a form has its meaning, and what stands in it reads back as the same scenario;
// changed entries land where they belong, and nonsense comes back as a fault of its entry.
func TestFormOfAScenario(t *testing.T) {
	s, err := Demo(LakeTavari)
	require.NoError(t, err)
	all := map[string]string{}
	for _, g := range s.Entries() {
		for _, e := range g.Entries {
			assert.NotEmpty(t, e.Meaning, e.Path)
			assert.NotContains(t, all, e.Path)
			all[e.Path] = e.Value
		}
	}
	same, err := s.WithValues(all)
	require.NoError(t, err)
	assert.Equal(t, s.Hash, same.Hash)

	changed, err := s.WithValues(map[string]string{
		"sites.Heron Point.dryers": "2", "dryer.shift_end_h": "22", "contract.stalks_per_month.aug": "150000", "sites.Old Sluice.sheets": "true", "money.wood_per_kg": "0.1",
	})
	require.NoError(t, err)
	assert.Equal(t, 2, changed.Region.Sites[1].Dryers)
	assert.Equal(t, 22.0, changed.Region.Dryer.ShiftEndH)
	assert.Equal(t, 150_000, changed.Region.Contract.StalksByMonth[8])
	assert.Equal(t, 190_000, changed.Region.Contract.StalksByMonth[7])
	assert.True(t, changed.Region.Sites[2].Sheets)
	assert.Equal(t, 0.1, changed.Money.WoodPerKg)

	for path, value := range map[string]string{
		"sites.Heron Point.dryers": "two", "dryer.shift_end_h": "1e99", "contract.stalks_per_month.aug": "-5", "sites.Heron Point.cutters": "", "no.such": "1",
		"sites.Heron Point.open_rack_m2": "12}\nx: {", "dryer.loads_first": "biggest",
	} {
		_, err := s.WithValues(map[string]string{path: value})
		var faults Faults
		require.ErrorAs(t, err, &faults, path)
		assert.Equal(t, path, faults[0].Key)
		assert.NotEmpty(t, faults[0].Allowed)
	}
}
