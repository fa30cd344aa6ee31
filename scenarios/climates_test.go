package scenarios

import (
	"os"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The climates most like that of Dhaka are those of stations whose rainy months are the same, the
// nearest by their rain of a year first (WMO CLINO 1991-2020, by hand from the table); Dhaka is not
// among them, and each has its own weather and place.
func TestClimatesOfTheSameKind(t *testing.T) {
	s, err := Read("made.yaml", []byte(`region: Stone Weir group
season: {start: 1 jun, days: 30}
weather: {wmo_station: 41923}
contract: {stalks_per_month: {jun: 4500}}
sites: {Stone Weir: {cutters: 3, stalks_per_person_h: 117, open_rack_m2: 75}}
`))
	require.NoError(t, err)
	list, err := s.Elsewhere(5, 1)
	require.NoError(t, err)
	require.Len(t, list, 5)
	for k, e := range list {
		assert.NotContains(t, e.Station, "Dhaka")
		assert.NotNil(t, e.Setup.Source)
		assert.NotEqual(t, s.Region.Place, e.Setup.Region.Place, e.Station)
		if k > 0 {
			assert.GreaterOrEqual(t, e.OtherMonths, list[k-1].OtherMonths)
		}
	}
	assert.Equal(t, "Barishal 41950", list[0].Station)
	assert.Zero(t, list[0].OtherMonths)
	assert.InDelta(t, 2057, list[0].RainMM, 1)
	assert.Len(t, s.likeHere(1000), len(Stations())-1)
}

// Sites with weathers of their own cannot be put elsewhere: the error says so.
func TestElsewhereWantsOneWeather(t *testing.T) {
	data, err := os.ReadFile(folder + "two-lakes.good.yaml")
	require.NoError(t, err)
	s, err := Read("two-lakes.good.yaml", data)
	require.NoError(t, err)
	_, err = s.Elsewhere(1, 1)
	assert.ErrorContains(t, err, "allowed: a region in which all sites have one")
}
