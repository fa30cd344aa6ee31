package scenarios

import (
	"context"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drystalk/sim/decide"
	"drystalk/sim/trials"
	"drystalk/sim/weather"
)

// lakeWithDryers is the demo with a dryer at each site, and changes beside.
func lakeWithDryers(t *testing.T, changes ...string) *Scenario {
	t.Helper()
	s, err := Demo("lake-tavari")
	require.NoError(t, err)
	for _, site := range siteNames(s) {
		changes = append(changes, site+": dryers=1")
	}
	s, err = s.With(changes)
	require.NoError(t, err)
	return s
}

// lived runs the plan of a scenario through seasons with the knowledge drawn; the same numbers of
// seasons are the same luck and knowledge in every climate.
func lived(t *testing.T, s *Scenario, seasons int) decide.PlanResult {
	t.Helper()
	c, err := s.Setup(1)
	require.NoError(t, err)
	c.Setup.Workers = 2
	table, err := c.Setup.Table(context.Background(), 0, seasons, trials.Only(c.Plan()), nil)
	require.NoError(t, err)
	r, err := decide.Judge(table, c.Plan())
	require.NoError(t, err)
	return r
}

// More humid rains are worse rains: of the four points either way that the knowledge spans, the
// lower end meets the months of the rains more often in the same seasons.
func TestHumidRainsAreWorse(t *testing.T) {
	const seasons = 60
	mean := func(points string) (sum float64) {
		s := lakeWithDryers(t, "knowledge: rains_humidity_points.low="+points, "knowledge: rains_humidity_points.mode="+points, "knowledge: rains_humidity_points.high="+points)
		for _, m := range lived(t, s, seasons).Months {
			if m.Name == "July" || m.Name == "August" || m.Name == "September" {
				sum += m.Odds.Share / 3
			}
		}
		return sum
	}
	assert.Greater(t, mean("-4"), mean("4")+0.03)
}

// Warmer air is no drier air: two degrees more move the odds of the months of the rains by less
// than five points, up or down, in paired seasons. Six points of humidity less are felt in them,
// so that warmth which dried the air could not pass.
func TestWarmerDoesNotDry(t *testing.T) {
	const seasons = 150
	share := map[string]float64{}
	for _, m := range lived(t, lakeWithDryers(t), seasons).Months {
		share[m.Name] = m.Odds.Share
	}
	warmer, drier := lived(t, lakeWithDryers(t, "weather: warmer_c=2"), seasons), lived(t, lakeWithDryers(t, "weather: humidity_points=-6"), seasons)
	rains, better := 0, 0.0
	for k, m := range warmer.Months {
		switch m.Name {
		case "June", "July", "August", "September":
			rains++
			assert.InDelta(t, share[m.Name], m.Odds.Share, 0.05, m.Name)
			better = max(better, drier.Months[k].Odds.Share-share[m.Name])
		}
	}
	require.Equal(t, 4, rains)
	assert.Greater(t, better, 0.05)
}

// A later onset is refused where a climate has no onset that could move, and does something where it
// has one.
func TestLaterOnsetNeedsAnOnset(t *testing.T) {
	c, err := madeUp()
	require.NoError(t, err)
	require.True(t, c.ClockMoves)
	c.ClockMoves = false
	still := func(string) ([]byte, error) { return WriteClimate(c), nil }
	text := changed(t, "wmo_station: 41923", "climate_file: climate.yaml, later_onset_days: 10")
	_, err = ReadWith("f", []byte(text), still)
	require.EqualError(t, err, "f:3: weather.later_onset_days: found 10, allowed: 0: the rains of this climate come on no date that could move (clock_moves: false)")
	_, err = ReadWith("f", []byte(changed(t, "wmo_station: 41923", "climate_file: climate.yaml, later_onset_days: 0")), still)
	require.NoError(t, err)
	assert.Equal(t, 10.0, read(t, text).climate.Change.OnsetDays)
}

// In no hour of twenty seasons of a demo does the air hold more vapour than the day, wet with rain or not.
func TestNoHourOfADemoHoldsMoreVapourThanItsDay(t *testing.T) {
	for _, name := range []string{"lake-tavari", "one-cooperative"} {
		s, err := Demo(name)
		require.NoError(t, err)
		source, err := s.Source()
		require.NoError(t, err)
		wet, calendar := 0, s.Region.Calendar
		for n := range uint64(20) {
			rng := rand.New(rand.NewPCG(1, n))
			days := source.Days(calendar.StartDOY(), calendar.Days, rng)
			for i, h := range weather.HoursInto(nil, days, calendar.StartDOY(), s.Region.Place, rng) {
				require.LessOrEqual(t, h.VapourKPa, days[i/24].VapourKPa+1e-12, "%s: season %d, hour %d", name, n, i)
				if h.RainMM >= 0.2 {
					wet++
				}
			}
		}
		assert.Greater(t, wet, 5000, name)
	}
}
