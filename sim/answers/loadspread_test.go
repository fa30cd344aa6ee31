package answers

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drystalk/scenarios"
	"drystalk/sim/charge"
	"drystalk/sim/stalk"
	"drystalk/sim/trials"
)

// Hours and wood are spread over the draws that seasons have: worked out here once more, draw by
// draw, and counted, nine of ten lie between the ends.
func TestSpreadOfALoad(t *testing.T) {
	s, err := scenarios.Demo("lake-tavari")
	require.NoError(t, err)
	c, q := s.WithoutWeather(3), DefaultLoad()
	q.Trials, q.Stalks, q.SetC, q.WoodWet = 400, 800, 75, 0.3
	a, err := Load(c, q)
	require.NoError(t, err)
	assert.Equal(t, 400, a.Hours.Draws)
	assert.Zero(t, a.Hours.Never)
	within := 0
	var hours []float64
	for n := range 400 {
		p, _ := c.Setup.Knowledge.Draw(c.Setup.Base, trials.Stream(3, uint64(n), trials.RegionWide, "knowledge"))
		dryer := c.Setup.Region.Dryer.Cabinet(p.Cabinet)
		dryer.SetC, dryer.WoodMoisture = 75, 0.3
		load := charge.Load{Lots: []charge.Lot{{DryKg: 0.8 * p.Stalk.FreshG * (1 - float64(p.Stalk.FreshMoisture)), Moisture: stalk.WetBasis(0.91).DryBasis()}}}
		curve := dryer.Curve(q.ambient(), load, 1.0/60)
		h := curve[len(curve)-1].H
		hours = append(hours, h)
		if a.Hours.Low-0.02 <= h && h <= a.Hours.High+0.02 {
			within++
		}
	}
	assert.InDelta(t, 360, within, 8, "90 of 100")
	slices.Sort(hours)
	assert.InDelta(t, hours[200], a.Hours.Median, 0.05)
	assert.Less(t, a.Wood.Low, a.WoodKg)
	assert.Greater(t, a.Wood.High, a.WoodKg)
	assert.InDelta(t, a.DryingH, a.Hours.Median, 0.1*a.DryingH)

	dry, err := Load(c, DefaultLoad())
	require.NoError(t, err)
	assert.Less(t, dry.WoodKg, a.WoodKg/800*1000, "dry wood burns better")
	fixed, err := s.With([]string{"knowledge: fixed=true"})
	require.NoError(t, err)
	a, err = Load(fixed.WithoutWeather(3), q)
	require.NoError(t, err)
	assert.Equal(t, Spread{a.DryingH, a.DryingH, a.DryingH, 0, 0}, a.Hours)
}

// The lines of the card go from fresh stalks down; each drier load takes less fire and less wood, and
// weighs less.
func TestFullLoadsByMoisture(t *testing.T) {
	s, err := scenarios.Demo("lake-tavari")
	require.NoError(t, err)
	q := DefaultLoad()
	q.Moisture, q.Trials = 0.41, 100
	a, err := Load(s.WithoutWeather(1), q)
	require.NoError(t, err)
	require.Len(t, a.Full, 8)
	assert.InDelta(t, 65, a.Full[0].LoadedKg, 0.5, "1,000 stalks of 65 g")
	for i, f := range a.Full[1:] {
		before := a.Full[i]
		assert.Less(t, f.DryingH, before.DryingH)
		assert.Less(t, f.WoodKg, before.WoodKg)
		assert.Less(t, f.LoadedKg, before.LoadedKg)
		assert.Less(t, f.Hours.High, before.Hours.High)
	}
	line := a.Full[6]
	require.Equal(t, 0.41, line.MoistureWet)
	assert.Equal(t, []float64{a.DryingH, a.WoodKg}, []float64{line.DryingH, line.WoodKg}, "the load itself is a line")
	assert.Equal(t, a.Hours, line.Hours)
}
