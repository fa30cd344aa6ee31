package scenarios

import (
	"errors"
	"os"
	"strings"
	"sync"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drystalk/sim/weather"
)

// tiny is the shortest scenario with two sites; its lines are counted in many tests.
const tiny = `region: Here
season: {start: 1 jun, days: 61}
weather: {wmo_station: 41923}
contract: {stalks_per_month: {jun: 1000}}
sites:
  Stone Weir: {cutters: 3, stalks_per_person_h: 117, open_rack_m2: 75, dryers: 2}
  Ferry Bank: {cutters: 2, stalks_per_person_h: 100, open_rack_m2: 40}
`

// changed returns tiny with texts replaced, each of which it must hold.
func changed(t *testing.T, pairs ...string) string {
	t.Helper()
	text := tiny
	for i := 0; i < len(pairs); i += 2 {
		require.Contains(t, text, pairs[i])
		text = strings.ReplaceAll(text, pairs[i], pairs[i+1])
	}
	return text
}

// read reads a text that must be a scenario.
func read(t *testing.T, text string) *Scenario {
	t.Helper()
	s, err := ReadWith("f", []byte(text), openMadeUp)
	require.NoError(t, err, text)
	return s
}

// said returns all that is wrong with a text, "" for nothing.
func said(t *testing.T, text string) string {
	t.Helper()
	_, err := ReadWith("f", []byte(text), openMadeUp)
	if err == nil {
		return ""
	}
	var faults Faults
	require.ErrorAs(t, err, &faults)
	return err.Error()
}

// wrong checks of pieces that stand in place of one line of tiny what is said, "" for nothing.
func wrong(t *testing.T, line string, want map[string]string) {
	t.Helper()
	for piece, words := range want {
		assert.Equal(t, words, said(t, changed(t, line, piece)), piece)
	}
}

func openMadeUp(name string) ([]byte, error) {
	switch name {
	case "climate.yaml":
		return madeUpFile()
	case "broken.yaml":
		return []byte("station: [\n"), nil
	}
	return nil, errors.New("no such file")
}

// madeUp is a climate by hand, a wet half of the year and a dry one, every number of which is
// short enough to be written in full.
var madeUp = sync.OnceValues(func() (weather.Climate, error) {
	rest, err := StationNormals("43057")
	if err != nil {
		return weather.Climate{}, err
	}
	rest.Station, rest.Place, rest.Filled = "Lake Tavari 1", weather.Place{LatitudeDeg: 18.9, ElevationM: 11, Coast: true}, []string{"Wind: 2 m/s, the world's mean.", `Sun: "none"`}
	for m := range rest.Months {
		x := float64(m)
		rest.Months[m] = weather.MonthNormal{RainMM: 30 + x, RainDays: 3 + x/8, TmaxC: 30 + x/4, TminC: 20 + x/4, SunFraction: 0.5 + x/64, VapourKPa: 2 + x/16, WindMS: 1 + x/8}
	}
	c := weather.Climate{
		Station: "Lake Tavari 1", FittedYears: 31, StartDOY: 32, ClockMoves: true, OnsetDay: 126.5, OnsetSD: 7.25, WithdrawalDay: 247.5, WithdrawalSD: 8.75,
		SlowShare: 0.125, SlowPersistence: 0.75, YearOccurrence: 0.375, YearAmount: 0.0625, Rest: rest,
		Classes: [3]weather.MixedExponential{{P: 0.25, B1: 0.5, B2: 1.5}, {P: 0.375, B1: 0.25, B2: 1.75}, {P: 0.5, B1: 0.125, B2: 2.5}},
	}
	for d := range 365 {
		wet := float64(d%128) / 512
		c.Chance[0][d], c.Chance[1][d], c.Chance[2][d], c.Chance[3][d] = 0.125+wet/4, 0.25+wet/4, 0.375+wet/4, 0.5+wet/4
		c.ExcessMM[d] = 4 + float64(d%16)
	}
	for k := range c.Chance {
		for d := range c.Chance[k] { // as many digits as a file has
			c.Chance[k][d] = float64(int(c.Chance[k][d]*1e4)) / 1e4
		}
	}
	return c, nil
})

// madeUpFile is madeUp as a file beside a scenario.
var madeUpFile = sync.OnceValues(func() ([]byte, error) {
	c, err := madeUp()
	return WriteClimate(c), err
})

// The short scenario of these tests is one.
func TestTinyIsAScenario(t *testing.T) {
	s := read(t, tiny)
	assert.Equal(t, "Here", s.Region.Name)
	assert.Len(t, s.Region.Sites, 2)
	assert.Len(t, s.Hash, 16)
	assert.True(t, strings.HasPrefix(string(s.Write()), "region: \"Here\"\nseason: {start: 1 jun, days: 61}\nweather:\n  wmo_station: Dhaka\n  warmer_c: 0\n  humidity_points: 0\ncontract:\n  grace_of_a_month: false\n"))
	data, err := os.ReadFile(folder + "small.good.yaml")
	require.NoError(t, err)
	assert.Empty(t, said(t, string(data)))
}
