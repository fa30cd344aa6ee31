package scenarios

import (
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drystalk/sim/weather"
)

// normals are the four lists that weather by months needs, in one line.
const normals = "latitude_deg: 17, normals: {rain_mm: [6, 9, 18, 45, 160, 380, 520, 470, 290, 120, 30, 8], rain_days: [1, 1, 2, 4, 10, 19, 25, 23, 17, 8, 2, 1], " +
	"tmax_c: [29, 31, 34, 35, 34, 31, 30, 30, 31, 31, 30, 29], tmin_c: [16, 18, 21, 24, 25, 25, 24, 24, 24, 23, 20, 17]}"

// byMonths returns tiny with weather by months, with texts of the normals replaced.
func byMonths(t *testing.T, pairs ...string) string {
	t.Helper()
	text := changed(t, "wmo_station: 41923", normals)
	for i := 0; i < len(pairs); i += 2 {
		require.Contains(t, text, pairs[i])
		text = strings.Replace(text, pairs[i], pairs[i+1], 1)
	}
	return text
}

// A station is named by its number or its name, in any case.
func TestStationsAreNamed(t *testing.T) {
	for piece, want := range map[string]string{"43466": "Colombo 43466", "Colombo": "Colombo 43466", "COLOMBO": "Colombo 43466", `"43466"`: "Colombo 43466"} {
		s := read(t, changed(t, "41923", piece))
		assert.Equal(t, want, s.Normals.Station)
		assert.Equal(t, s.Normals.Place, s.Region.Place)
		assert.Contains(t, string(s.Write()), "wmo_station: Colombo\n")
	}
	list := strings.Join(Stations(), ", ")
	assert.Len(t, Stations(), 31)
	for piece, found := range map[string]string{"Colomb": `"Colomb"`, "[43466]": "a list", "{43466: 1}": "a group of keys", "4346": "4346", "~": "nothing"} {
		assert.Equal(t, "f:3: weather.wmo_station: found "+found+", allowed: a station of the table: "+list, said(t, changed(t, "41923", piece)))
	}
}

// Weather comes from one of three places; a misspelt one is told once.
func TestWhereWeatherComesFrom(t *testing.T) {
	const one = "f:3: weather: found none or more than one of wmo_station, normals and climate_file, allowed: one of the three"
	wrong(t, "weather: {wmo_station: 41923}", map[string]string{
		"weather: {}": one, "weather: {latitude_deg: 17}": one,
		"weather: {wmo_station: 41923, climate_file: climate.yaml}":              one,
		"weather: {wmo_station: 41923, " + normals + "}":                         one,
		"weather: {climate_file: climate.yaml, " + normals + "}":                 one,
		"weather: {wmo_station: 1, climate_file: climate.yaml, " + normals + "}": one,
		"weather: {wmo_staton: 41923}":                                           "f:3: weather.wmo_staton: found an unknown key, did you mean wmo_station?",
		"weather: {climate_fil: climate.yaml}":                                   "f:3: weather.climate_fil: found an unknown key, did you mean climate_file?",
		"weather: {normal: 3}":                                                   "f:3: weather.normal: found an unknown key, did you mean normals?",
		"weather: {wmo_station: !!int 41923}":                                    "f:3: weather.wmo_station: found a YAML anchor, alias or tag, allowed: plain values",
		"weather: {wmo_station: 41923, latitude_deg: 17}":                        "f:3: weather.latitude_deg: found an unknown key, allowed: warmer_c, humidity_points, correlation_nearby, correlation_length_km, wmo_station, monsoon",
		"weather: {wmo_staton: 1, wmo_station: 2, climate_file: climate.yaml}":   "f:3: weather.wmo_staton: found an unknown key, did you mean wmo_station?\n" + one,
		"weather: 3": "f:3: weather: found 3, allowed: a group of keys",
	})
}

// The lists of normals have twelve numbers each; four are needed and four may be left out. What
// is wrong is told of every list.
func TestListsOfNormals(t *testing.T) {
	const want = ", allowed: 12 numbers, January to December"
	for text, words := range map[string]string{
		byMonths(t): "",
		byMonths(t, "rain_mm: [6, ", "rain_mm: ["):                                                    "f:3: weather.normals.rain_mm: found 11 values" + want,
		byMonths(t, "rain_mm: [6, ", "rain_mm: [", "tmax_c: [29", "tmax_c: [29, 3"):                   "f:3: weather.normals.rain_mm: found 11 values" + want + "\nf:3: weather.normals.tmax_c: found 13 values" + want,
		byMonths(t, "rain_days: [1, 1, 2, 4, 10, 19, 25, 23, 17, 8, 2, 1], ", ""):                     "f:3: weather.normals.rain_days: found nothing" + want,
		byMonths(t, "rain_mm: [6, 9, 18, 45, 160, 380, 520, 470, 290, 120, 30, 8], ", "rain_mm: 3, "): "f:3: weather.normals.rain_mm: found 3" + want,
		byMonths(t, "normals: {", "normals: {wind_m_per_s: {jan: 1}, "):                               "f:3: weather.normals.wind_m_per_s: found a group of keys" + want,
		byMonths(t, "normals: {", "normals: {wnd_m_per_s: 3, "):                                       "f:3: weather.normals.wnd_m_per_s: found an unknown key, did you mean wind_m_per_s?",
		byMonths(t, "45, 160", "45, wet"):                                                             `f:3: weather.normals.rain_mm[may]: found "wet", allowed: a number from 0 to 5000`,
		changed(t, "wmo_station: 41923", "latitude_deg: 17, normals: 3"):                              "f:3: weather.normals: found 3, allowed: a group of keys, each with 12 numbers",
		changed(t, "wmo_station: 41923", "latitude_deg: 17, normals: {}"): "f:3: weather.normals.rain_mm: found nothing" + want + "\nf:3: weather.normals.rain_days: found nothing" + want +
			"\nf:3: weather.normals.tmax_c: found nothing" + want + "\nf:3: weather.normals.tmin_c: found nothing" + want,
		byMonths(t, "latitude_deg: 17, ", ""):               "f:3: weather.latitude_deg: found nothing, allowed: a number from -60 to 60",
		byMonths(t, "latitude_deg: 17", "latitude_deg: 61"): "f:3: weather.latitude_deg: found 61, allowed: a number from -60 to 60",
	} {
		assert.Equal(t, words, said(t, text), text)
	}
	s := read(t, byMonths(t, "normals: {", "normals: {wind_m_per_s: "+twelve("2.5")+", sunshine_fraction: "+twelve("0.25")+", vapour_pressure_kpa: "+twelve("1.5")+", "))
	assert.Equal(t, weather.MonthNormal{RainMM: 160, RainDays: 10, TmaxC: 34, TminC: 25, SunFraction: 0.25, VapourKPa: 1.5, WindMS: 2.5}, s.Normals.Months[4])
	assert.Equal(t, "Here", s.Normals.Station)
	assert.Equal(t, weather.Place{LatitudeDeg: 17}, s.Region.Place)
	last := read(t, byMonths(t, "normals: {", "normals: {humidity_fraction: "+twelve("0.5")+", "))
	assert.Equal(t, 0.5, last.raw.Humidity[11])
	assert.NotEqual(t, s.Hash, last.Hash)
}

// A month has as many rain days as the calendar allows it.
func TestRainDaysOfAMonth(t *testing.T) {
	s := whole(t)
	for m, days := range []int{31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31} {
		path := "weather.normals.rain_days[" + monthNames[m] + "]"
		for _, f := range tried(t, s, path, strconv.Itoa(days)) {
			assert.NotContains(t, f.Allowed, "a number from", "%s = %d", path, days)
		}
		faults := tried(t, s, path, strconv.Itoa(days+1))
		require.NotEmpty(t, faults)
		assert.Equal(t, "a number from 0 to "+strconv.Itoa(days), faults[0].Allowed)
	}
}

// Months at the edge of what can be meant are taken: a rain day of just 1 mm, 15 mm on no day,
// a night a little cooler than its day. Beyond it the first such month is told.
func TestMonthsAtTheEdge(t *testing.T) {
	s := whole(t)
	for change, want := range map[string]string{
		"rain_mm[dec]=1":                     "",
		"rain_mm[dec]=0.9":                   "weather.normals.rain_days[dec]: found 1, allowed: no more than the month's rain in mm, 0.9: a rain day has at least 1 mm",
		"rain_mm[feb]=15, rain_days[feb]=0":  "",
		"rain_mm[feb]=16, rain_days[feb]=0":  "weather.normals.rain_days[feb]: found 0, allowed: some days for 16 mm of rain",
		"rain_days[feb]=0":                   "",
		"rain_days[jul]=0.2":                 "",
		"rain_days[jul]=0.19":                "weather.normals.rain_days[jul]: found 0.19, allowed: some days for 520 mm of rain",
		"tmin_c[may]=33.9":                   "",
		"tmin_c[may]=34":                     "weather.normals.tmin_c[may]: found 34, allowed: less than tmax_c, 34",
		"tmin_c[may]=34, rain_days[jul]=0.1": "weather.normals.tmin_c[may]: found 34, allowed: less than tmax_c, 34",
		"tmin_c[dec]=29":                     "weather.normals.tmin_c[dec]: found 29, allowed: less than tmax_c, 29",
	} {
		_, err := s.With([]string{"weather.normals: " + change})
		if want == "" {
			assert.NoError(t, err, change)
		} else {
			assert.EqualError(t, err, "--with: "+want, change)
		}
	}
	hot := read(t, byMonths(t, "29, 31, 34, 35, 34", "29, 31, 34, 35, 48.5"))
	require.Len(t, hot.Warnings, 1)
	assert.Equal(t, "f:3: weather.normals.tmax_c: 48.5 is very hot for a month's mean; degrees Celsius are meant", hot.Warnings[0])
}

// Onset and withdrawal are dates within the year, in order and at least 20 days apart.
func TestMonsoonDates(t *testing.T) {
	const order = "f:3: weather.monsoon: found onset and withdrawal in this order, allowed: onset after 20 january, withdrawal before 11 december and at least 20 days later; or rains that run over New Year, of at least 20 days and with a dry season of at least 45, more rain falling in them than outside"
	wrong(t, "wmo_station: 41923", map[string]string{
		"wmo_station: 41923, monsoon: {onset: 20 jan, withdrawal: 11 dec}":                  "",
		"wmo_station: 41923, monsoon: {onset: 19 jan, withdrawal: 11 dec}":                  order,
		"wmo_station: 41923, monsoon: {onset: 20 jan, withdrawal: 12 dec}":                  order,
		"wmo_station: 41923, monsoon: {onset: 1 jun, withdrawal: 21 jun}":                   "",
		"wmo_station: 41923, monsoon: {onset: 1 jun, withdrawal: 20 jun}":                   order,
		"wmo_station: 41923, monsoon: {onset: 1 sep, withdrawal: 1 jun}":                    order,
		"wmo_station: 41923, monsoon: {onset: 1 jun}":                                       `f:3: weather.monsoon.withdrawal: found nothing, allowed: a day and a month, such as "12 jun"`,
		"wmo_station: 41923, monsoon: {withdrawal: 1 oct}":                                  `f:3: weather.monsoon.onset: found nothing, allowed: a day and a month, such as "12 jun"`,
		"wmo_station: 41923, monsoon: {onset: 31 jun, withdrawal: 1 oct}":                   `f:3: weather.monsoon.onset: found "31 jun", allowed: a day and a month, such as "1 mar", in a year without 29 February`,
		"wmo_station: 41923, monsoon: {onset: 1 jun, withdrawal: 1 oct, sd: 3}":             "f:3: weather.monsoon.sd: found an unknown key, allowed: onset_sd_days, withdrawal_sd_days, onset, withdrawal",
		"wmo_station: 41923, monsoon: {onset: 1 jun, withdrawal: 1 oct, onset_sd_days: 31}": "f:3: weather.monsoon.onset_sd_days: found 31, allowed: a number from 0 to 30",
		"wmo_station: 41923, monsoon: 1 jun":                                                `f:3: weather.monsoon: found "1 jun", allowed: a group of keys: onset, withdrawal`,
		normals + ", monsoon: {onset: 1 jun, withdrawal: 1 oct}":                            "",
	})
	s := read(t, changed(t, "41923", "41923, monsoon: {onset: 6 jun, withdrawal: 28 sep, onset_sd_days: 5, withdrawal_sd_days: 9}"))
	assert.Equal(t, weather.Monsoon{OnsetDOY: 157, OnsetSD: 5, WithdrawalDOY: 271, WithdrawalSD: 9}, s.Normals.Onset)
	again := read(t, string(s.Write()))
	assert.Equal(t, s.Normals.Onset, again.Normals.Onset)
	assert.Contains(t, string(s.Write()), "    onset: 6 jun\n    withdrawal: 28 sep\n    onset_sd_days: 5\n    withdrawal_sd_days: 9\n")
	assert.Zero(t, read(t, tiny).Normals.Onset)
}

// A generator is built once for one climate, another for another, and no more than sixteen
// are kept.
func TestGeneratorsAreKept(t *testing.T) {
	k := kept{by: map[string]*weather.NormalsSource{}}
	for i := range 15 {
		k.by[strconv.Itoa(i)] = nil
	}
	n := read(t, tiny).Normals
	one, err := k.of(n)
	require.NoError(t, err)
	assert.Len(t, k.by, 16)
	again, err := k.of(n)
	require.NoError(t, err)
	assert.Same(t, one, again)
	assert.Len(t, k.by, 16)
	n.Onset = weather.Monsoon{OnsetDOY: 157, OnsetSD: 5, WithdrawalDOY: 271, WithdrawalSD: 9}
	other, err := k.of(n)
	require.NoError(t, err)
	assert.NotSame(t, one, other)
	assert.Len(t, k.by, 1, "the seventeenth begins anew")
	n.Months[3].RainDays = 31
	_, err = k.of(n)
	require.Error(t, err)
	assert.Len(t, k.by, 1)
	s := &Scenario{Name: "calm", localWeather: localWeather{Normals: n}}
	_, err = s.Source()
	require.ErrorContains(t, err, "calm: weather: ")
	_, err = s.Setup(1)
	require.ErrorContains(t, err, "calm: weather: ")
}
