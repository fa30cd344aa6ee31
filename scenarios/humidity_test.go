package scenarios

import (
	"encoding/json"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// twelve writes a value of every month.
func twelve(x string) string { return "[" + strings.Repeat(x+", ", 11) + x + "]" }

// readings is a scenario with readings of the humidity in the morning and the afternoon, and the
// temperatures of FAO-56, example 5.
func readings(t *testing.T, humidity string) string {
	t.Helper()
	return changed(t, "wmo_station: 41923", "latitude_deg: 17, normals: {rain_mm: "+twelve("100")+", rain_days: "+twelve("10")+", tmax_c: "+twelve("25")+", tmin_c: "+twelve("18")+", "+humidity+"}")
}

// Readings of morning and afternoon give the vapour pressure of FAO-56, example 5 (eq. 17): lowest 18 °C
// with 82 %, highest 25 °C with 54 % is 1.70 kPa. They come through a file written and read again, and
// the schema for editors knows them.
func TestMorningAndAfternoonReadings(t *testing.T) {
	s := read(t, readings(t, "humidity_morning_fraction: "+twelve("0.82")+", humidity_afternoon_fraction: "+twelve("0.54")))
	for _, x := range s.Normals.Months {
		assert.InDelta(t, 1.70, x.VapourKPa, 0.005)
	}
	assert.Equal(t, "Vapour pressure: from the relative humidity of morning and afternoon, at the lowest and the highest temperature of the day (FAO-56 eq. 17).", s.Normals.Filled[0])
	assert.False(t, s.Normals.HumidityGuessed())
	again, err := Read("again.yaml", s.Write())
	require.NoError(t, err)
	assert.Equal(t, s.Normals, again.Normals)
	wetter, err := s.With([]string{"weather.normals: humidity_afternoon_fraction[jul]=0.8"})
	require.NoError(t, err)
	assert.Greater(t, wetter.Normals.Months[6].VapourKPa, s.Normals.Months[6].VapourKPa)

	text, err := Schema()
	require.NoError(t, err)
	var schema struct {
		Properties struct {
			Weather struct {
				Properties struct {
					Normals struct {
						Properties map[string]struct {
							MinItems int `json:"minItems"`
						}
					}
				}
			}
		}
	}
	require.NoError(t, json.Unmarshal(text, &schema))
	for _, key := range []string{"humidity_morning_fraction", "humidity_afternoon_fraction"} {
		assert.Equal(t, 12, schema.Properties.Weather.Properties.Normals.Properties[key].MinItems, key)
	}
}

// One reading alone, humidity stated in two ways and readings turned round are refused in one line each.
func TestHumidityIsStatedOnce(t *testing.T) {
	const (
		file     = "f:3: weather.normals."
		together = ": found nothing, allowed: 12 numbers, January to December: humidity_morning_fraction and humidity_afternoon_fraction go together"
		twice    = ": found humidity stated a second time, allowed: one of vapour_pressure_kpa, humidity_fraction, or humidity_morning_fraction with humidity_afternoon_fraction"
	)
	morning, afternoon := "humidity_morning_fraction: "+twelve("0.8"), "humidity_afternoon_fraction: "+twelve("0.5")
	for humidity, want := range map[string]string{
		morning:   file + "humidity_afternoon_fraction" + together,
		afternoon: file + "humidity_morning_fraction" + together,
		morning + ", " + afternoon + ", humidity_fraction: " + twelve("0.6"):                 file + "humidity_morning_fraction" + twice,
		morning + ", " + afternoon + ", vapour_pressure_kpa: " + twelve("1.6"):               file + "humidity_morning_fraction" + twice,
		"vapour_pressure_kpa: " + twelve("1.6") + ", humidity_fraction: " + twelve("0.6"):    file + "humidity_fraction" + twice,
		"humidity_morning_fraction: " + twelve("0.4") + ", " + afternoon:                     file + "humidity_afternoon_fraction[jan]: found 0.5, allowed: no more than humidity_morning_fraction, 0.4: air is driest when the day is hottest",
		"humidity_morning_fraction: " + twelve("82") + ", " + afternoon:                      "",
		"humidity_morning_fraction: 0.8, " + afternoon:                                       file + "humidity_morning_fraction: found 0.8, allowed: 12 numbers, January to December",
		"humidity_morning_fraction: " + twelve("damp") + ", humidity_afternoon_fraction: []": "",
	} {
		got := said(t, readings(t, humidity))
		if want == "" {
			assert.Contains(t, got, file+"humidity_morning_fraction[jan]: found ")
			assert.Contains(t, got, ", allowed: a number from 0.05 to 1")
			continue
		}
		assert.Equal(t, want, got, humidity)
	}
}
