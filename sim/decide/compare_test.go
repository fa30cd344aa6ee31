package decide

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drystalk/sim"
	"drystalk/sim/money"
)

// Two plans whose seasons are drawn once are compared as two that each draw their own, to the last
// digit, whatever differs between them. A setup of another number of workers is another setup and
// its seasons are the same.
func TestComparedSideBySideIsAsOneByOne(t *testing.T) {
	changes := map[string]struct {
		together bool
		change   func(r *sim.Region)
	}{
		"a dryer more":                   {true, func(r *sim.Region) { r.Sites[0].Dryers++ }},
		"sheets":                         {true, func(r *sim.Region) { r.Sites[0].Sheets = true }},
		"solid roofs":                    {true, func(r *sim.Region) { r.Sites[0].SolidRoofM2 = 20 }},
		"tied bags":                      {true, func(r *sim.Region) { r.Sites[0].SealedStore = true }},
		"an open shed":                   {true, func(r *sim.Region) { r.Hub.Humidity = 0 }},
		"stalks ahead, and a month less": {true, func(r *sim.Region) { r.Hub.OpeningStock = 9000; delete(r.Contract.StalksByMonth, time.June) }},
		"damp wood":                      {true, func(r *sim.Region) { r.Dryer.WetWood = 0.4 }},
		"dryers that never break down":   {true, func(r *sim.Region) { r.Trouble.Ignore = true }},
		"dryers that break down":         {false, func(r *sim.Region) { r.Trouble.FiringHPerFail = 300 }},
		"a dryer moved to where none was": {true, func(r *sim.Region) {
			r.Moves = []sim.Move{{From: "Lower Channel", To: "Upper Channel", Day: 20}}
		}},
		"more luck": {false, func(r *sim.Region) { r.Luck.OutputDay *= 2 }},
	}
	require.Len(t, changes, 11)
	for name, c := range changes {
		_, set := small(t)
		set.Region = set.Region.Clone()
		upper := set.Region.Sites[0]
		upper.Name, upper.Dryers = "Upper Channel", 0
		set.Region.Sites = append(set.Region.Sites, upper)
		set.Region.Trouble.SheetsMissed, set.Region.Trouble.OutForSeason = 0.3, 0.1
		with := set
		with.Region = set.Region.Clone()
		c.change(with.Region)
		p := money.Prices{PerGoodStalk: 0.1, DryerCost: 3000, DryerYears: 2}
		told, seasons := 0, 20
		if name == "a dryer more" {
			seasons = mostInTheShed + 20
		}
		q := ComparisonQuestion{A: Side{Setup: set}, B: Side{Setup: with}, Seasons: seasons, Prices: &p, Futures: 5, Progress: func(done, of int) {
			assert.GreaterOrEqual(t, done, told)
			assert.LessOrEqual(t, done, of)
			told = done
		}}
		require.Equal(t, c.together, q.variants() != nil, name)
		got, err := Compare(t.Context(), q)
		require.NoError(t, err, name)
		q.B.Setup.Workers, q.Progress = 1, nil
		require.Nil(t, q.variants(), name)
		want, err := Compare(t.Context(), q)
		require.NoError(t, err, name)
		assert.Equal(t, want, got, name)
		assert.Equal(t, with.Region.Hub.Humidity > 0, got.Hub.Shed != nil, name)
	}
}
