package scenarios

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drystalk/sim/charge"
)

// A larger cabinet has a larger fire, more steel and more wall (5 to the power of 2/3 times 30 W/K, by hand
// 87.7), through a file written and read again and a
// change by key, unless the scenario states its own numbers, which stay as they are.
func TestALargerCabinetHasALargerFire(t *testing.T) {
	demo, err := Demo("lake-tavari")
	require.NoError(t, err)
	cabinet := func(s *Scenario) charge.Cabinet { return s.Region.Dryer.Cabinet(s.Base.Cabinet) }
	assert.InDelta(t, 13, cabinet(demo).EvaporatesKgPerH, 1e-12)
	assert.Equal(t, 30.0, cabinet(demo).WallLossWPerK)
	large, err := demo.With([]string{"dryer: holds_stalks_fresh=5000", "dryer: holds_stalks_predried=7500"})
	require.NoError(t, err)
	assert.InDelta(t, 65, cabinet(large).EvaporatesKgPerH, 1e-9)
	assert.InDelta(t, 1250, cabinet(large).MassKg, 1e-9)
	assert.InDelta(t, 87.72, cabinet(large).WallLossWPerK, 0.005)
	again, err := Read("again.yaml", large.Write())
	require.NoError(t, err)
	assert.Equal(t, cabinet(large), cabinet(again))
	own, err := large.With([]string{"knowledge: evaporates_kg_per_h.low=30", "knowledge: evaporates_kg_per_h.mode=40", "knowledge: evaporates_kg_per_h.high=50"})
	require.NoError(t, err)
	assert.InDelta(t, 40, cabinet(own).EvaporatesKgPerH, 1e-9)
	assert.InDelta(t, 1250, cabinet(own).MassKg, 1e-9, "steel is not stated")
}
