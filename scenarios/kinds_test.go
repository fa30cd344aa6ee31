package scenarios

import (
	"encoding/json"
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
