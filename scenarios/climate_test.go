package scenarios

import (
	"bytes"
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drystalk/sim/weather"
)

// A climate is the same after it is written and read, every number of it.
func TestClimateSurvivesWriting(t *testing.T) {
	c, err := madeUp()
	require.NoError(t, err)
	back, err := ReadClimate("climate.yaml", WriteClimate(c))
	require.NoError(t, err)
	assert.Equal(t, c, back)
}

// The verdict on a fit, its complete years, reasons and months go into the file and come back, with
// the station of the normals; files of earlier versions do without.
func TestVerdictSurvivesWriting(t *testing.T) {
	c, err := madeUp()
	require.NoError(t, err)
	c.Rest.Station = "Old Sluice 1"
	for _, verdict := range []string{weather.VerdictGood, weather.VerdictCare, weather.VerdictUseless} {
		c.Judged = weather.Judgement{Verdict: verdict, CompleteYears: 23, Reasons: []string{`Only "23" years: few.`, "Two."}, Months: []int{6, 7}}
		text := WriteClimate(c)
		assert.Contains(t, string(text), "complete_years: 23\njudged_months: [6, 7]\n")
		back, err := ReadClimate("climate.yaml", text)
		require.NoError(t, err)
		assert.Equal(t, c.Judged, back.Judged)
		assert.Equal(t, "Old Sluice 1", back.Rest.Station)
		assert.Equal(t, c.Station, back.Station)
	}
	text := string(WriteClimate(c))
	for change, want := range map[string]string{
		strings.Replace(text, `"not usable"`, `"fine"`, 1):                  `c: verdict: found "fine", allowed: good for planning, usable with care, not usable`,
		strings.Replace(text, "complete_years: 23\n", "", 1):                "c: verdict and complete_years: found one of the two",
		strings.Replace(text, "judged_months: [6", "judged_months: [13", 1): "c: judged_months: found 13, allowed: 1 to 12",
	} {
		require.NotEqual(t, text, change)
		_, err := ReadClimate("c", []byte(change))
		require.ErrorContains(t, err, want)
	}
	back, err := ReadClimate("c", []byte(strings.Replace(text, "normals_station: \"Old Sluice 1\"\n", "", 1)))
	require.NoError(t, err)
	assert.Equal(t, c.Station, back.Rest.Station, "where the file does not say")
}

// A plan knows the verdict on its weather and which keys change it; how storms are changes nothing
// where there are none.
func TestPlanKnowsItsClimate(t *testing.T) {
	read := func(keys string) *Scenario {
		c, err := madeUp()
		require.NoError(t, err)
		c.Judged = weather.Judgement{Verdict: weather.VerdictCare, CompleteYears: 12}
		s, err := ReadWith("f", []byte(changed(t, "wmo_station: 41923", "climate_file: climate.yaml"+keys)), func(string) ([]byte, error) { return WriteClimate(c), nil })
		require.NoError(t, err)
		return s
	}
	plain := read("").WithoutWeather(1)
	require.Len(t, plain.Fits, 1)
	assert.Equal(t, weather.VerdictCare, plain.Fits[0].Verdict)
	assert.Equal(t, "Lake Tavari 1", plain.Fits[0].Station)
	assert.Empty(t, plain.Drawn)
	assert.Empty(t, plain.Changed)
	assert.Equal(t, []string{"storms_per_year", "later_onset_days", "warmer_c"}, read(", warmer_c: 1, storms_per_year: 0.5, later_onset_days: 3").WithoutWeather(1).Changed)
	assert.Empty(t, read(", storm_rain_mm: 200, correlation_length_km: 50").WithoutWeather(1).Changed)
	normals, err := Read("f", []byte(changed(t, "wmo_station: 41923", "wmo_station: 41923")))
	require.NoError(t, err)
	assert.Empty(t, normals.WithoutWeather(1).Fits)
	assert.Len(t, normals.WithoutWeather(1).Drawn, 1)
	warm, err := Read("f", []byte(changed(t, "wmo_station: 41923", "wmo_station: 41923, warmer_c: 1")))
	require.NoError(t, err)
	assert.Equal(t, []string{"warmer_c"}, warm.WithoutWeather(1).Changed)
}

// The file of a climate tells what it is, in four digits where the record bears no more and six
// for what is a table's.
func TestClimateFile(t *testing.T) {
	c, err := madeUp()
	require.NoError(t, err)
	c.OnsetDay, c.WithdrawalSD, c.Chance[2][0], c.ExcessMM[0], c.Classes[1].P, c.Rest.Months[0].TmaxC = 126.5432, 8.765432, 0.3456789, 4.567891, 0.37512345, 30.1234567
	text := string(WriteClimate(c))
	assert.True(t, strings.HasPrefix(text, "# A climate fitted to a station's daily rain."))
	for _, line := range []string{
		`station: "Lake Tavari 1"`, "fitted_years: 31", "latitude_deg: 18.9", "elevation_m: 11", "coast: true", "year_begins_day_of_year: 32", "clock_moves: true",
		"onset_day_and_sd: [126.5, 7.25]", "withdrawal_day_and_sd: [247.5, 8.765]", "amount_share_that_persists: 0.125", "amount_persistence_per_day: 0.75",
		"- [0.375123, 0.25, 1.75]", "normal_tmax_c: [30.1235, 30.25,", "chance_after_wet_dry: [0.3457, 0.3754,", "mean_rain_above_1mm: [4.568, 5,", `- "Sun: \"none\""`,
	} {
		assert.Contains(t, text, line)
	}
}

// What is no climate file is told in one line, with its name and what is wrong.
func TestFaultsOfAClimateFile(t *testing.T) {
	data, err := madeUpFile()
	require.NoError(t, err)
	good := string(data)
	cut := func(key string) string { // a list without its last value
		from := strings.Index(good, key+": [")
		to := from + strings.Index(good[from:], "]")
		return good[:from+strings.LastIndex(good[from:to], ",")] + good[to:]
	}
	for text, want := range map[string]string{
		"station: [":                        "c.yaml: not a climate file: [1:10] ",
		good + "more: 1\n":                  `c.yaml: not a climate file: `,
		cut("chance_after_dry_dry"):         "c.yaml: chance_after_dry_dry has 364 values, allowed: 365",
		cut("chance_after_wet_wet"):         "c.yaml: chance_after_wet_wet has 364 values, allowed: 365",
		cut("mean_rain_above_1mm"):          "c.yaml: mean_rain_above_1mm has 364 values, allowed: 365",
		changedIn(t, good, ": 32", ": 366"): "c.yaml: climate: the year must begin on day 1 to 365",
		changedIn(t, good, ": 32", ": 0"):   "c.yaml: climate: the year must begin on day 1 to 365",
		"a: b\x00":                          "c.yaml:1: found a zero byte",
	} {
		_, err := ReadClimate("c.yaml", []byte(text))
		require.ErrorContains(t, err, want)
		assert.NotContains(t, err.Error(), "\n")
	}
}

func changedIn(t *testing.T, text, from, to string) string {
	t.Helper()
	require.Equal(t, 1, strings.Count(text, from+"\n"), from)
	return strings.Replace(text, from+"\n", to+"\n", 1)
}

// The largest file that is read has a mebibyte; one byte more is too large. So for a scenario.
func TestLargestFiles(t *testing.T) {
	climate, err := madeUpFile()
	require.NoError(t, err)
	const mebibyte = 1024 * 1024
	filled := func(text []byte, size int) []byte {
		line := []byte("#" + strings.Repeat("x", 60_000) + "\n")
		for len(text)+len(line) <= size {
			text = append(bytes.Clone(text), line...)
		}
		return append(append(text, '#'), bytes.Repeat([]byte("x"), size-len(text)-1)...)
	}
	_, err = ReadClimate("c", filled(climate, mebibyte))
	require.NoError(t, err)
	_, err = ReadClimate("c", filled(climate, mebibyte+1))
	require.EqualError(t, err, "c: larger than a climate file can be")
	assert.Empty(t, said(t, string(filled([]byte(tiny), mebibyte))))
	assert.Equal(t, "f:1: found a file of 1048577 bytes, allowed: at most 1048576 bytes", said(t, string(filled([]byte(tiny), mebibyte+1))))
}

// A scenario takes a climate that lies beside it, and says what is wrong where it cannot.
func TestScenarioWithAClimate(t *testing.T) {
	wrong(t, "weather: {wmo_station: 41923}", map[string]string{
		"weather: {climate_file: nowhere.yaml}":                       `f:3: weather.climate_file: found "nowhere.yaml", allowed: a climate file beside the scenario (no such file)`,
		`weather: {climate_file: ""}`:                                 `f:3: weather.climate_file: found "", allowed: a climate file beside the scenario`,
		"weather: {climate_file: [climate.yaml]}":                     "f:3: weather.climate_file: found a list, allowed: a climate file beside the scenario",
		"weather: {climate_file: climate.yaml, coast: true}":          "f:3: weather.coast: found an unknown key, allowed: wetness_of_year, correlation_nearby, correlation_length_km, storms_per_year, storm_rain_mm, storm_spread_sd, rain_amount_factor, rain_chance_probit, later_onset_days, warmer_c, humidity_points, climate_file",
		"weather: {climate_file: climate.yaml, warmer_c: 0.25}":       "",
		"weather: {climate_file: climate.yaml, later_onset_days: 10}": "",
	})
	assert.Contains(t, said(t, changed(t, "wmo_station: 41923", "climate_file: broken.yaml")), "f:3: weather.climate_file: found broken.yaml: not a climate file: ")
	_, err := Read("f", []byte(changed(t, "wmo_station: 41923", "climate_file: climate.yaml")))
	require.EqualError(t, err, `f:3: weather.climate_file: found "climate.yaml", allowed: a climate file beside the scenario`)

	s := read(t, changed(t, "wmo_station: 41923", "climate_file: climate.yaml, warmer_c: 0.25"))
	c, err := madeUp()
	require.NoError(t, err)
	assert.Equal(t, c.Rest.Changed(weather.Change{TempC: 0.25}), s.Normals)
	assert.NotEqual(t, c.Rest, s.Normals)
	assert.Equal(t, c.Rest.Place, s.Region.Place)
	assert.Equal(t, 0.25, s.climate.Change.TempC)
	assert.Equal(t, "climate.yaml", s.climateName)
	source, err := s.Source()
	require.NoError(t, err)
	assert.IsType(t, &weather.ClimateSource{}, source)
	assert.Contains(t, s.WeatherWords(), "a generator fitted to 31 complete years of Lake Tavari 1.")
	assert.Contains(t, read(t, tiny).WeatherWords(), "the monthly normals of Dhaka 41923.")
	plain := read(t, changed(t, "wmo_station: 41923", "climate_file: climate.yaml"))
	assert.NotEqual(t, plain.Hash, s.Hash)

	_, err = StationNormals("nowhere")
	require.ErrorContains(t, err, `WMO normals: weather.wmo_station: found "nowhere", allowed: a station of the table: CairnsAero 94287, `)
	_, err = StationNormals("99999")
	require.ErrorContains(t, err, `found "99999"`)
}

// A climate file lacks nothing: every key and every value of its lists is needed, and none is too
// many.
func TestClimateFileIsComplete(t *testing.T) {
	data, err := madeUpFile()
	require.NoError(t, err)
	good := string(data)
	keys, lists := 0, 0
	for line := range strings.Lines(good) {
		key, value, _ := strings.Cut(strings.TrimSpace(line), ": ")
		if strings.HasPrefix(line, "#") || strings.HasPrefix(line, "-") || strings.HasPrefix(line, "stand_ins") || strings.HasPrefix(line, "amount_classes") || strings.HasPrefix(line, "normals_station") {
			continue
		}
		keys++
		_, err := ReadClimate("c", []byte(strings.Replace(good, line, "", 1)))
		require.EqualError(t, err, "c: "+key+" is missing")
		list, isList := strings.CutPrefix(value, "[")
		if !isList {
			continue
		}
		lists++
		values := strings.Split(strings.TrimSuffix(list, "]"), ", ")
		for _, wrong := range [][]string{values[1:], append([]string{"1"}, values...)} {
			_, err := ReadClimate("c", []byte(strings.Replace(good, line, key+": ["+strings.Join(wrong, ", ")+"]\n", 1)))
			require.EqualError(t, err, fmt.Sprintf("c: %s has %d values, allowed: %d", key, len(wrong), len(values)))
		}
	}
	assert.Equal(t, []int{25, 14}, []int{keys, lists})
	const class = "- [0.25, 0.5, 1.5]\n"
	require.Contains(t, good, class)
	for text, want := range map[string]string{
		strings.Replace(good, class, "", 1):                      "c: amount_classes_p_b1_b2 has 2 values, allowed: 3",
		strings.Replace(good, class, class+class, 1):             "c: amount_classes_p_b1_b2 has 4 values, allowed: 3",
		strings.Replace(good, class, "- [0.25, 0.5]\n", 1):       "c: amount_classes_p_b1_b2 has a class of 2 values, allowed: 3",
		strings.Replace(good, class, "- [0.25, 0.5, 1, 2]\n", 1): "c: amount_classes_p_b1_b2 has a class of 4 values, allowed: 3",
	} {
		_, err := ReadClimate("c", []byte(text))
		require.EqualError(t, err, want)
	}
	c, err := madeUp()
	require.NoError(t, err)
	c.Rest.Filled = nil
	back, err := ReadClimate("c", WriteClimate(c))
	require.NoError(t, err)
	assert.Empty(t, back.Rest.Filled)
}
