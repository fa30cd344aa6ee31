package decide_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drystalk/scenarios"
	"drystalk/sim"
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
		undo    decide.Relief
	}{
		{"the only dryer out all season", func() { s.Region.Trouble.OutForSeason = 1 }, decide.NoBreakdowns},
		{"no wood", func() { s.Region.Dryer.WoodLimited = true }, decide.EnoughWood},
		{"a road shut by any rain", func() { s.Region.Road.ClosedAboveMM = 5 }, decide.OpenRoad},
		{"a small vehicle", func() { s.Region.Road.VehicleStalks = 12_000 }, decide.LargeVehicle},
		{"a store at 92 %", func() { s.Region.Store.Humidity, s.Region.Sites[0].SealedStore = 0.92, false }, decide.DryStore},
		{"solid roofs in the rains", func() {
			site := &s.Region.Sites[0]
			site.SolidRoofM2, site.OpenRackM2, site.ClearRoofM2 = site.OpenRackM2+site.ClearRoofM2, 0, 0
			for _, m := range []time.Month{time.July, time.August} { // clear roofs would stand this too
				s.Region.Contract.StalksByMonth[m] = 40_000
			}
		}, decide.ClearRoofs},
		{"planting without hands", func() {
			s.Region.People.Planting = sim.Planting{AfterOnsetDays: 0, Days: 100, AwayFraction: 0.95}
		}, decide.NoPlanting},
		{"holidays for two months", func() {
			s.Region.People.Away = []sim.Away{{Name: "away", FirstDay: 130, LastDay: 200, Fraction: 1}}
		}, decide.NoHolidays},
		{"soaked and limited wood", func() {
			d := &s.Region.Dryer
			d.WetWood, d.WoodLimited, d.WoodKgPerMonth = 0.5, true, 400
		}, decide.DryWood},
		{"a sprayed stand", func() {
			s.Region.Sites[0].Closed = []sim.Closure{{Why: "sprayed", FirstDay: 110, LastDay: 230}}
		}, decide.OpenStands},
	} {
		before := *s.Region.Clone()
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
