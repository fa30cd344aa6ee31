package scenarios

import (
	"encoding/json"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Editors are told what kind of value a key takes: numbers, whole numbers, switches and choices.
func TestSchemaHasTheKinds(t *testing.T) {
	text, err := Schema()
	require.NoError(t, err)
	var root struct {
		Properties map[string]struct {
			Properties map[string]map[string]any
		}
	}
	require.NoError(t, json.Unmarshal(text, &root))
	dryer := root.Properties["dryer"].Properties
	assert.Equal(t, "number", dryer["shift_end_h"]["type"])
	assert.Equal(t, "integer", dryer["holds_stalks_fresh"]["type"])
	assert.Equal(t, "boolean", dryer["wood_limited"]["type"])
	assert.Equal(t, []any{"most_at_risk", "driest", "wettest", "oldest"}, dryer["loads_first"]["enum"])
	assert.NotContains(t, dryer["loads_first"], "minimum")
	assert.Contains(t, dryer["heat_up_h"]["description"], "hours from lighting to the set temperature, h; ")
}

// A demo is named on a command line as it is called here, and an unknown one is an error.
func TestDemosAreNamed(t *testing.T) {
	s, err := Demo(OneCooperative)
	require.NoError(t, err)
	assert.Equal(t, OneCooperative, s.File)
	_, err = Demo("nowhere")
	require.Error(t, err)
}

// A stand may be closed without anything taken away: what is taken is nothing unless stated.
func TestClosedStandStaysWhole(t *testing.T) {
	text := string(whole(t).Write())
	s, err := Read("closed.yaml", []byte(text))
	require.NoError(t, err)
	assert.Equal(t, 0.9, s.Region.Sites[0].Closed[0].Removed)
	b, err := Read("plain.yaml", []byte(`region: Here
season: {start: 1 jun, days: 61}
weather: {wmo_station: 41923}
contract: {stalks_per_month: {jun: 1000}}
people: {away: [{from: 1 jul, to: 2 jul}]}
sites: {Stone Weir: {cutters: 3, stalks_per_person_h: 117, open_rack_m2: 75, closed: [{from: 20 jul, to: 31 jul, why: sprayed}]}}
`))
	require.NoError(t, err)
	require.Len(t, b.Region.Sites[0].Closed, 1)
	assert.Zero(t, b.Region.Sites[0].Closed[0].Removed)
	assert.Equal(t, 1.0, b.Region.People.Away[0].Fraction, "everybody, unless stated")
}

// A scenario becomes a plan with its prices, if it states any, its seed and, where its sites lie
// apart, a field of weather.
func TestSetupOfAScenario(t *testing.T) {
	s := whole(t)
	c, err := s.Setup(7)
	require.NoError(t, err)
	assert.Equal(t, uint64(7), c.Setup.Seed)
	require.NotNil(t, c.Prices)
	assert.Equal(t, 0.1, c.Prices.PerGoodStalk)
	assert.NotNil(t, c.Setup.Source)
	assert.Nil(t, c.Setup.Field, "one weather")
	assert.Nil(t, s.WithoutWeather(7).Setup.Source)
	day, err := c.DayOf("1-jul")
	require.NoError(t, err)
	assert.Equal(t, 30, day)

	apart := strings.Replace(string(baseFor(t, keyGroup{path: "weather", fields: climateFields}).Write()), "    cutters: 3\n", "    cutters: 3\n    latitude_deg: 18\n    longitude_deg: 73\n", 1)
	apart = strings.Replace(apart, "    cutters: 2\n", "    cutters: 2\n    latitude_deg: 18\n    longitude_deg: 75\n", 1)
	two, err := ReadWith("apart", []byte(apart), openMadeUp)
	require.NoError(t, err)
	c, err = two.Setup(1)
	require.NoError(t, err)
	assert.NotNil(t, c.Setup.Field)
	assert.Equal(t, []int{0, 1}, c.Setup.Group)
	plain, err := Demo(LakeTavari)
	require.NoError(t, err)
	assert.Equal(t, plain.MaxDryers, plain.WithoutWeather(1).MaxDryers)
}

// The shift must hold a load and its unloading: two hours of handling and nothing between is
// just too short, a minute more is a shift; and it is no longer than a day.
func TestShiftHoldsACharge(t *testing.T) {
	s := whole(t)
	for change, ok := range map[string]bool{
		"dryer: shift_start_h=7, shift_end_h=9, handling_h=1":    false,
		"dryer: shift_start_h=7, shift_end_h=9.02, handling_h=1": true,
		"dryer: shift_start_h=7, shift_end_h=31":                 true,
		"dryer: shift_start_h=6.9, shift_end_h=31":               false,
	} {
		_, err := s.With([]string{change})
		if ok {
			assert.NoError(t, err, change)
		} else {
			assert.ErrorContains(t, err, "dryer.shift_end_h", change)
		}
	}
}

// A misspelt key gets the key that was meant, two letters off at most in a short one.
func TestMeantKeys(t *testing.T) {
	for found, want := range map[string]string{"cuters": "cutters", "dryer": "dryers", "open_rack_m": "open_rack_m2", "xyz": ""} {
		assert.Equal(t, want, nearest(found, []string{"cutters", "dryers", "open_rack_m2"}), found)
	}
	assert.Equal(t, 1, distance("cuters", "cutters"))
	assert.Equal(t, 2, distance("ab", "ba"))
	assert.Equal(t, 3, distance("kitten", "sitting"), "the textbook pair (Levenshtein distance)")
}

// What stands behind a scenario names every key of every table, with its value, and the lists.
func TestExplainNamesEveryKey(t *testing.T) {
	keys := 0
	for _, g := range keyGroups() {
		s := baseFor(t, g)
		text := s.Explain()
		for i := range g.fields {
			assert.True(t, strings.Contains(text, "  "+g.fields[i].key+": "), "%s.%s", g.path, g.fields[i].key)
			keys++
		}
	}
	assert.Greater(t, keys, 130)
	text := whole(t).Explain()
	assert.Contains(t, text, "new year")
	assert.Contains(t, text, "sprayed")
	small, err := Demo(OneCooperative)
	require.NoError(t, err)
	assert.NotContains(t, small.Explain(), ".closed: ", "a site that is never closed has no list of closures")
}
