package scenarios

import (
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drystalk/sim"
)

const folder = "../testdata/scenarios/"

// Every broken file has one line in faults.txt and every line a file: what is wrong,
// where, and what is allowed.
func TestFaults(t *testing.T) {
	table, err := os.ReadFile(folder + "faults.txt")
	require.NoError(t, err)
	want := map[string]string{}
	for _, line := range strings.Split(strings.TrimSpace(string(table)), "\n") {
		name, _, _ := strings.Cut(line, ":")
		require.NotContains(t, want, name, "one line a file")
		want[name] = line
	}
	files, err := filepath.Glob(folder + "*.bad.yaml")
	require.NoError(t, err)
	require.GreaterOrEqual(t, len(files), 25)
	for _, file := range files {
		data, err := os.ReadFile(file)
		require.NoError(t, err)
		name := filepath.Base(file)
		_, err = ReadWith(name, data, func(string) ([]byte, error) { return nil, errors.New("it cannot be read there") })
		var faults Faults
		require.ErrorAs(t, err, &faults, name)
		assert.Equal(t, want[name], faults.Error())
		assert.Len(t, faults, 1, name)
		delete(want, name)
	}
	assert.Empty(t, want, "lines without a file")
}

// All faults of a file are told at once, by line.
func TestAllFaultsAtOnce(t *testing.T) {
	data, err := os.ReadFile(folder + "small.good.yaml")
	require.NoError(t, err)
	text := strings.Replace(string(data), "cutters: 3", "cutters: -3", 1)
	text = strings.Replace(text, "days: 61", "days: 0", 1)
	_, err = Read("two.yaml", []byte(text))
	var faults Faults
	require.ErrorAs(t, err, &faults)
	require.Len(t, faults, 2)
	assert.Equal(t, 2, faults[0].Line)
	assert.Equal(t, "sites.Lower Channel.cutters", faults[1].Key)
}

// Numbers that are allowed but look like another unit get a warning.
func TestWarnings(t *testing.T) {
	data, err := os.ReadFile(folder + "small.good.yaml")
	require.NoError(t, err)
	text := strings.Replace(string(data), "stalks_per_person_h: 117", "stalks_per_person_h: 900", 1) +
		"dryer: {target_moisture_wet_basis: 0.18}\n"
	s, err := Read("odd.yaml", []byte(text))
	require.NoError(t, err)
	require.Len(t, s.Warnings, 2)
	assert.Contains(t, strings.Join(s.Warnings, "\n"), "stalks_per_person_h: 900 is outside the usual 50 to 600")
}

// The demos read without a fault or warning, and what is written reads back as the same
// scenario.
func TestDemosSurviveWriting(t *testing.T) {
	for _, name := range []string{LakeTavari, OneCooperative} {
		s, err := Demo(name)
		require.NoError(t, err)
		assert.Empty(t, s.Warnings)
		again, err := Read(name, s.Write())
		require.NoError(t, err)
		assert.Equal(t, s.Region, again.Region)
		assert.Equal(t, s.Base, again.Base)
		assert.Equal(t, s.Knowledge.Fixed, again.Knowledge.Fixed)
		assert.Equal(t, s.Hash, again.Hash)
	}
}

// Every default is listed with a source, and so is every stand-in of the weather.
func TestAssumptionsAreListed(t *testing.T) {
	data, err := os.ReadFile(folder + "small.good.yaml")
	require.NoError(t, err)
	s, err := Read("small.good.yaml", data)
	require.NoError(t, err)
	var all strings.Builder
	for _, a := range s.Assumptions() {
		assert.NotEmpty(t, a.Name)
		assert.NotEmpty(t, a.Value, a.Name)
		assert.NotEmpty(t, a.Source, a.Name)
		all.WriteString(a.Name + "\n")
	}
	for _, want := range []string{"dryer.shift_start_h", "site: loading_kg_per_m2", "contract.target_stock_stalks", "Sunshine", "Wind", "Vapour pressure", "Breakdowns"} {
		assert.Contains(t, all.String(), want)
	}
	text := s.Explain()
	for _, f := range siteFields {
		assert.Contains(t, text, f.key)
	}
}

// Every station of the table can drive a scenario.
func TestStations(t *testing.T) {
	for _, station := range Stations() {
		_, number, _ := strings.Cut(station, " ")
		s, err := withStation(t, number)
		if number == "XXXXX" { // the table has no number for it: by name
			name, _, _ := strings.Cut(station, " ")
			s, err = withStation(t, name)
		}
		require.NoError(t, err, station)
		assert.Equal(t, station, s.Normals.Station)
		again, err := Read("again", s.Write())
		require.NoError(t, err)
		assert.Equal(t, s.Hash, again.Hash)
	}
}

func withStation(t *testing.T, station string) (*Scenario, error) {
	t.Helper()
	data, err := os.ReadFile(folder + "small.good.yaml")
	require.NoError(t, err)
	text := string(data)
	from, to := strings.Index(text, "weather:"), strings.Index(text, "contract:")
	return Read("station.yaml", []byte(text[:from]+"weather: {wmo_station: "+station+"}\n"+text[to:]))
}

// No input makes the reader panic, and what is accepted survives being written and read.
func FuzzRead(f *testing.F) {
	files, err := filepath.Glob(folder + "*.yaml")
	require.NoError(f, err)
	for _, file := range files {
		data, err := os.ReadFile(file)
		require.NoError(f, err)
		f.Add(data)
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		s, err := Read("fuzz.yaml", data)
		if err != nil {
			require.NotEmpty(t, err.Error())
			return
		}
		again, err := Read("again.yaml", s.Write())
		require.NoError(t, err, "%s", s.Write())
		require.Equal(t, s.Hash, again.Hash)
	})
}

// Sites within 10 km of one another, directly or through others, share one weather.
func TestGroupsOfSites(t *testing.T) {
	s := &Scenario{}
	for _, lon := range []float64{80.00, 80.08, 80.16, 80.60} { // some 8.5 km apart, then 47
		s.at = append(s.at, coordinates{17, lon, true})
	}
	assert.Equal(t, []int{0, 0, 0, 1}, s.Groups())
	s.at[0].given = false
	assert.Equal(t, []int{0, 0, 0, 0}, s.Groups(), "a site without coordinates is near all")
}

// The lists of a file land in the region: holidays, a closed stand, a move of a dryer.
func TestLists(t *testing.T) {
	data, err := os.ReadFile(folder + "whole.good.yaml")
	require.NoError(t, err)
	s, err := Read("whole.good.yaml", data)
	require.NoError(t, err)
	assert.Equal(t, []sim.Away{{Name: "new year", FirstDay: 9, LastDay: 15, Fraction: 0.8}, {FirstDay: 30, LastDay: 31, Fraction: 1}}, s.Region.People.Away)
	assert.Equal(t, []sim.Closure{{Why: "sprayed", FirstDay: 49, LastDay: 60, Removed: 0.9}}, s.Region.Sites[0].Closed)
	assert.Equal(t, []sim.Move{{From: "Lower Channel", To: "Stone Weir", Day: 30, DaysLost: 3, Cost: 12050}}, s.Region.Moves)
	assert.Equal(t, 1, s.Region.Sites[1].Crew)
	assert.Contains(t, s.Explain(), "from: 10 jun, to: 16 jun")
}
