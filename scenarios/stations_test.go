package scenarios

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Stations are found by name, number and country, whatever the letters; what a line says names a
// station of a scenario.
func TestFindStationsByWords(t *testing.T) {
	for words, want := range map[string]int{"laos": 2, "Sri Lanka": 3, "CHIANG mai": 1, "48327": 1, "mumbai": 2, "batti": 1, "all": len(Stations()), "coxs bazar": 1} {
		list, err := FindStations(words)
		require.NoError(t, err, words)
		assert.Len(t, list.Lines, want, words)
		assert.Empty(t, list.Warnings)
	}
	list, err := FindStations("chiang")
	require.NoError(t, err)
	assert.Equal(t, []string{"wmo_station: 48327  ChiangMai, Thailand, 18.77, 98.97, 305 m"}, list.Lines)
	all, err := FindStations("all")
	require.NoError(t, err)
	require.NotEmpty(t, all.Lines)
	for _, line := range all.Lines {
		named, _, _ := strings.Cut(line, "  ")
		assert.Empty(t, said(t, changed(t, "wmo_station: 41923", named)), line)
	}
	for _, words := range []string{"", " ", "atlantis", "xxxxx", "nearly", "near", "near 10.2", "near 91,0", "near 0,181", "near 10,20,30,40", "near a,b", "near 10,20,9001", "near NaN,0"} {
		_, err := FindStations(words)
		require.ErrorContains(t, err, "allowed: ", words)
	}
}

// The nearest stations come first, with distance and, where the height of the place is stated, with
// that of the station above or below; what is far or much higher or lower is warned of.
// Distances by hand: a degree along a meridian has 111.19 km on a globe of 6,371 km.
func TestFindStationsNearAPlace(t *testing.T) {
	near := func(place string) StationList {
		list, err := FindStations(place)
		require.NoError(t, err, place)
		require.Len(t, list.Lines, 5)
		return list
	}
	list := near("near 19.77,98.97")
	assert.Equal(t, "wmo_station: 48327  ChiangMai, Thailand, 18.77, 98.97, 305 m, 111 km away", list.Lines[0])
	require.Len(t, list.Warnings, 1)
	assert.Equal(t, "the nearest station, ChiangMai, is 111 km away: beyond 100 km its climate may be another (common practice); monthly normals or a record of a place nearby are better", list.Warnings[0])
	assert.Empty(t, near("near 19.6,98.97").Warnings, "90 km")
	assert.Empty(t, near("Near 18.8, 98.9, 603").Warnings, "298 m lower")
	list = near("near 18.8,98.9,650")
	assert.Contains(t, list.Lines[0], " km away, 345 m lower")
	require.Len(t, list.Warnings, 1)
	assert.Contains(t, list.Warnings[0], "ChiangMai, lies 345 m lower: with more than 300 m between them")
	assert.Empty(t, near("near 18.8,98.9,6").Warnings, "299 m higher")
	assert.Contains(t, near("near 18.8,98.9,-2").Warnings[0], "lies 307 m higher")
	assert.Len(t, near("near -35,140,900").Warnings, 2)
}
