package decide_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drystalk/scenarios"
	"drystalk/sim/decide"
)

// The story names the true cause: in a season that one planted trouble alone spoils, the
// thing that undoes it is among those that would have met the month, and the season without
// the trouble misses nothing.
func TestWhyNamesTheCause(t *testing.T) {
	s, err := scenarios.Demo(scenarios.OneCooperative)
	require.NoError(t, err)
	s.Region.Contract.Tolerance = 0
	set := setupOf(t, s)
	set.Knowledge.Fixed = true
	for _, tt := range []struct {
		trouble string
		plant   func()
		undo    string
	}{
		{"the only dryer out all season", func() { s.Region.Trouble.OutForSeason = 1 }, "dryers that never break"},
		{"no wood", func() { s.Region.Dryer.WoodLimited = true }, "wood that never runs out"},
		{"a road shut by any rain", func() { s.Region.Road.ClosedAboveMM = 20 }, "a road that stays open"},
		{"a small vehicle", func() { s.Region.Road.VehicleStalks = 12_000 }, "a vehicle large enough"},
	} {
		before := s.Region
		whole, err := decide.Why(set, 5)
		require.NoError(t, err)
		require.Empty(t, whole, "without the trouble nothing is missed")
		tt.plant()
		why, err := decide.Why(set, 5)
		require.NoError(t, err)
		require.NotEmpty(t, why, tt.trouble)
		for _, m := range why {
			assert.Contains(t, m.MetWith, tt.undo, "%s, %s", tt.trouble, m.Month)
			assert.Less(t, m.Delivered, m.Asked)
		}
		s.Region = before
	}
}
