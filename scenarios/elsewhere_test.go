package scenarios

import (
	"context"
	"math"
	"math/rand/v2"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/stat"

	"drystalk/sim"
	"drystalk/sim/trials"
	"drystalk/sim/weather"
)

// twoStations is a region whose second site has the weather of another station; the second lies
// so many degrees of longitude east of the first, on latitude 18, where a degree has 105.75 km.
func twoStations(east string) string {
	return `region: Two lakes
season: {start: 1 jun, days: 122}
weather: {wmo_station: 41923}
weathers: {Lake Velune: {wmo_station: 42410}}
contract: {stalks_per_month: {jun: 1000, jul: 1000, aug: 1000, sep: 1000}}
sites:
  Stone Weir: {cutters: 3, stalks_per_person_h: 117, open_rack_m2: 75, dryers: 1, latitude_deg: 18, longitude_deg: 80}
  Upper Ford: {weather: Lake Velune, cutters: 2, stalks_per_person_h: 100, open_rack_m2: 40, latitude_deg: 18, longitude_deg: ` + east + `}
`
}

// drawnAt returns the days of so many seasons at each group of sites.
func drawnAt(t *testing.T, s *Scenario, seasons int) (out [2][][]weather.Day) {
	t.Helper()
	c, err := s.Setup(1)
	require.NoError(t, err)
	require.NotNil(t, c.Setup.Field)
	for n := range seasons {
		days := c.Setup.Field.Days(s.Region.Calendar.StartDOY(), s.Region.Calendar.Days, rand.New(rand.NewPCG(7, uint64(n))))
		require.Len(t, days, 2)
		out[0], out[1] = append(out[0], days[0]), append(out[1], days[1])
	}
	return out
}

// Sites 5 km and 120 km apart with two stations: each has the rain, the rain days and the
// temperatures of its own station, month by month, and the days are the wetter together the nearer
// the sites lie: the correlation of the scores behind the rain is e^(−5/115) = 0.96 and e^(−120/115)
// = 0.35, so the phi of wet days lies above that of scores cut at their medians, 2/π arcsin ρ, less
// what unequal chances take off, and below ρ.
func TestSitesHaveTheWeatherOfTheirStation(t *testing.T) {
	const seasons = 250
	var phi []float64
	for _, east := range []string{"80.0473", "81.135"} { // 5.0 and 120.0 km
		s := read(t, twoStations(east))
		require.Equal(t, []int{0, 1}, s.Groups())
		days := drawnAt(t, s, seasons)
		for k, station := range []string{"41923", "42410"} {
			own, err := StationNormals(station)
			require.NoError(t, err)
			for _, span := range s.Region.Calendar.Months() {
				mm, wet, tmax, n := 0.0, 0.0, 0.0, 0.0
				for _, season := range days[k] {
					for d := span.FirstDay; d <= span.LastDay; d++ {
						mm, tmax, n = mm+season[d].RainMM/seasons, tmax+season[d].TmaxC, n+1
						if season[d].RainMM >= 1 {
							wet += 1.0 / seasons
						}
					}
				}
				want := own.Months[span.Month-1]
				assert.InEpsilon(t, want.RainMM, mm, 0.09, "%s %s", station, span.Month) // 4 % of the generator, and chance
				assert.InDelta(t, want.RainDays, wet, 0.9, "%s %s", station, span.Month)
				assert.InDelta(t, want.TmaxC, tmax/n, 0.3, "%s %s", station, span.Month)
			}
		}
		var a, b []float64
		for n := range seasons {
			for d := range days[0][n] {
				a, b = append(a, min(1, math.Floor(days[0][n][d].RainMM))), append(b, min(1, math.Floor(days[1][n][d].RainMM)))
			}
		}
		phi = append(phi, stat.Correlation(a, b, nil))
	}
	require.Len(t, phi, 2)
	t.Logf("phi at 5 km %.2f, at 120 km %.2f", phi[0], phi[1])
	assert.InDelta(t, 2/math.Pi*math.Asin(math.Exp(-5.0/115)), phi[0], 0.12)
	assert.InDelta(t, 2/math.Pi*math.Asin(math.Exp(-120.0/115)), phi[1], 0.06)
	assert.Greater(t, phi[0], phi[1]+0.3)
}

// runs returns the digest of seasons of a scenario's plan.
func runs(t *testing.T, s *Scenario) string {
	t.Helper()
	c, err := s.Setup(3)
	require.NoError(t, err)
	table, err := c.Setup.Table(context.Background(), 0, 12, trials.Only(c.Plan()), nil)
	require.NoError(t, err)
	return table.Digest()
}

// A region whose sites all name the region's own station, by a name or in full, gives what it gave
// without: near one another, far apart, with a climate file too. Another station gives another.
func TestNamingTheRegionsOwnWeatherChangesNothing(t *testing.T) {
	places := map[string][]string{"wmo_station: 41923": {"", "73.01", "74"}, "climate_file: climate.yaml": {"74"}}
	require.Len(t, places, 2)
	for from, wheres := range places {
		for _, where := range wheres {
			text := changed(t, "wmo_station: 41923", from)
			if where != "" {
				text = tinyAt(t, "73", where, from)
			}
			plain := read(t, text)
			want := runs(t, plain)
			for _, own := range []string{"weather: Same", "weather: {" + from + "}"} {
				named := strings.ReplaceAll(text, "{cutters:", "{"+own+", cutters:") + "weathers: {Same: {" + from + "}}\n"
				s := read(t, named)
				require.Len(t, s.elsewhere, 1+2*strings.Count(own, "{"))
				assert.Equal(t, plain.Groups(), s.Groups())
				assert.Equal(t, want, runs(t, s), "%s at %q, %s", from, where, own)
				assert.Equal(t, plain.WeatherWords(), s.WeatherWords())
			}
		}
	}
	all := strings.ReplaceAll(tiny, "{cutters:", "{weather: {wmo_station: 42410}, cutters:")
	alone := read(t, changed(t, "wmo_station: 41923", "wmo_station: 42410"))
	assert.Equal(t, runs(t, alone), runs(t, read(t, all)), "a region whose weather no site has")
	assert.NotEqual(t, runs(t, read(t, tiny)), runs(t, read(t, all)))
	assert.Equal(t, alone.WeatherWords(), read(t, all).WeatherWords())
}

// One dryer more, at either lake, changes no weather at any site.
func TestADryerMoreChangesNoWeatherOfTwoLakes(t *testing.T) {
	rain := func(changes ...string) (out [][]sim.SiteDay) {
		s, err := read(t, twoStations("81")).With(changes)
		require.NoError(t, err)
		c, err := s.Setup(3)
		require.NoError(t, err)
		l, err := c.Setup.DailyLedger(5)
		require.NoError(t, err)
		for i := range l.Sites {
			var days []sim.SiteDay
			for _, d := range l.Sites[i].Days {
				days = append(days, sim.SiteDay{Day: d.Day, RainMM: d.RainMM})
			}
			out = append(out, days)
		}
		return out
	}
	before := rain()
	require.Len(t, before, 2)
	require.Len(t, before[0], 122)
	assert.NotEqual(t, before[0], before[1])
	assert.Equal(t, before, rain("Stone Weir: dryers=2"))
	assert.Equal(t, before, rain("Upper Ford: dryers=3"))
}

// A site's own weather lies where its station does, with the sun and the air of that place; what
// the region says of warmer air holds everywhere.
func TestAWeatherOfItsOwnLiesElsewhere(t *testing.T) {
	s := read(t, strings.Replace(twoStations("81"), "{wmo_station: 41923}", "{wmo_station: 41923, warmer_c: 2}", 1))
	own, err := StationNormals("42410")
	require.NoError(t, err)
	c, err := s.Setup(1)
	require.NoError(t, err)
	require.Equal(t, []weather.Place{s.Region.Place, own.Place}, c.Setup.Places)
	assert.Equal(t, 2, c.Weathers)
	assert.Equal(t, own.Changed(weather.Change{TempC: 2}), s.weatherOf(1).Normals)
	assert.Nil(t, read(t, tiny).WithoutWeather(1).Setup.Places)
}

// What is written of two lakes reads back as the same; a site is given another weather by a change,
// and a key of a named weather is changed by its path. Every weather is explained.
func TestTwoLakesWrittenAndChanged(t *testing.T) {
	s := read(t, strings.Replace(twoStations("81"), "dryers: 1,", "dryers: 1, weather: {climate_file: climate.yaml},", 1))
	again := read(t, string(s.Write()))
	assert.Equal(t, s.Hash, again.Hash)
	assert.Equal(t, s.flat(), again.flat())
	assert.Equal(t, "Lake Velune", strings.Trim(s.flat()["sites.Upper Ford.weather"], `"`))
	assert.Equal(t, "115", s.flat()["weather.correlation_length_km"])

	other, err := s.With([]string{"Upper Ford: weather.wmo_station=1"})
	require.Error(t, err)
	require.Nil(t, other)
	other, err = s.With([]string{"weathers.Lake Velune: wmo_station=43057", "weather: correlation_length_km=50"})
	require.NoError(t, err)
	assert.Equal(t, "MUMBAI_COLABA 43057", other.weatherOf(1).Normals.Station)
	assert.Equal(t, 50.0, other.lengthKm)
	assert.NotEqual(t, s.Hash, other.Hash)
	_, err = Differences(s, other)
	require.ErrorContains(t, err, "cannot be compared in the same seasons: weather.correlation_length_km is 115 in the one and 50 in the other")
	moved, err := s.With([]string{"Upper Ford: longitude_deg=82"})
	require.NoError(t, err)
	_, err = Differences(s, moved)
	require.ErrorContains(t, err, "sites.Upper Ford.longitude_deg is 81 in the one and 82 in the other")

	text := s.Explain()
	for _, piece := range []string{
		"weather: rain of sites apart\n  correlation_nearby: 1 \n", "\nweather Lake Velune\n  station: GUWAHATI 42410", "\nweather of site Stone Weir\n  station: Lake Tavari 1",
		"\n  weather: Lake Velune\n", "\n  weather: its own, the fitted climate of Lake Tavari 1\n",
	} {
		assert.Contains(t, text, piece)
	}
	var names []string
	for _, a := range s.Assumptions() {
		names = append(names, a.Name)
	}
	assert.Contains(t, names, "Weather of Stone Weir")
	assert.Contains(t, names, "Weather of Upper Ford")
	assert.Contains(t, names, "Weather of sites apart")
	assert.Contains(t, s.WeatherWords(), "drawn for 2 climates at once: Stone Weir has the fitted climate of Lake Tavari 1, Upper Ford has the monthly normals of GUWAHATI 42410")
	c, err := s.Setup(1)
	require.NoError(t, err)
	require.Len(t, c.Files, 1)
	assert.Equal(t, "climate.yaml", c.Files[0].Name)
}

// What is wrong with a weather of its own is said in one line.
func TestFaultsOfWeathersOfTheirOwn(t *testing.T) {
	const site = "open_rack_m2: 75, latitude_deg: 24, longitude_deg: 90"
	two := func(weather string) string {
		return strings.Replace(changed(t, "open_rack_m2: 75", site, "open_rack_m2: 40", "open_rack_m2: 40, latitude_deg: 26, longitude_deg: 91, weather: "+weather), "contract:", "weathers: {North: {wmo_station: 42410}}\ncontract:", 1)
	}
	for text, want := range map[string]string{
		two("North"): "",
		two("Nort"):  `f:8: sites.Ferry Bank.weather: found "Nort", allowed: a weather of the group weathers (North), or a group of keys such as {wmo_station: 41923}; did you mean North?`,
		two("[3]"):   "f:8: sites.Ferry Bank.weather: found a list, allowed: a weather of the group weathers (North), or a group of keys such as {wmo_station: 41923}",
		two("{}"):    "f:8: sites.Ferry Bank.weather: found none or more than one of wmo_station, normals and climate_file, allowed: one of the three",
		two("{wmo_station: 42410, climate_file: climate.yaml}"):                                                                      "f:8: sites.Ferry Bank.weather: found none or more than one of wmo_station, normals and climate_file, allowed: one of the three",
		two("North, weather: {wmo_station: 42410}"):                                                                                  `f:8: found the key "weather" a second time, allowed: each key once`,
		two("{wmo_station: 42410, warmer_c: 2}"):                                                                                     "f:8: sites.Ferry Bank.weather.warmer_c: found 2, allowed: none here: it is stated once, as weather.warmer_c, and holds at all sites",
		two("{climate_file: climate.yaml, storms_per_year: 1}"):                                                                      "f:8: sites.Ferry Bank.weather.storms_per_year: found 1, allowed: none here: it is stated once, as weather.storms_per_year, and holds at all sites",
		two("{climate_file: nowhere.yaml}"):                                                                                          `f:8: sites.Ferry Bank.weather.climate_file: found "nowhere.yaml", allowed: a climate file beside the scenario (no such file)`,
		changed(t, "dryers: 2", "dryers: 2, weather: North"):                                                                         `f:6: sites.Stone Weir.weather: found "North", allowed: the name of a weather of the group weathers, which the file does not have, or a group of keys such as {wmo_station: 41923}`,
		changed(t, "dryers: 2", "dryers: 2, weather: {wmo_station: 42410}"):                                                          "f:6: sites.Stone Weir: found no coordinates, allowed: latitude_deg and longitude_deg at every site: sites have weathers of their own, and rain goes together by distance\nf:7: sites.Ferry Bank: found no coordinates, allowed: latitude_deg and longitude_deg at every site: sites have weathers of their own, and rain goes together by distance",
		strings.Replace(tiny, "contract:", "weathers: {North: 42410}\ncontract:", 1):                                                 "f:4: weathers.North: found 42410, allowed: a group of keys such as {wmo_station: 41923}",
		strings.Replace(tiny, "contract:", "weathers: 3\ncontract:", 1):                                                              "f:4: weathers: found 3, allowed: a group of keys",
		strings.Replace(two("North"), "wmo_station: 41923", "climate_file: climate.yaml, storms_per_year: 2, wetness_of_year: 1", 1): "f:3: weather.wetness_of_year: found 1, allowed: 0 while Ferry Bank has the monthly normals of GUWAHATI 42410, which cannot be changed so\nf:3: weather.storms_per_year: found 2, allowed: 0 while Ferry Bank has the monthly normals of GUWAHATI 42410, which cannot be changed so",
	} {
		assert.Equal(t, want, said(t, text), text)
	}
	s := read(t, two("North"))
	require.Len(t, s.Warnings, 0)
	unused := read(t, strings.Replace(tiny, "contract:", "weathers: {North: {wmo_station: 42410}}\ncontract:", 1))
	require.Len(t, unused.Warnings, 1)
	assert.Contains(t, unused.Warnings[0], "weathers.North: no site has this weather: state weather: North at its sites")
	far := read(t, strings.Replace(two("North"), "longitude_deg: 91,", "longitude_deg: 94,", 1))
	require.Len(t, far.Warnings, 1)
	assert.Contains(t, far.Warnings[0], "sites.Ferry Bank: the station of its weather, GUWAHATI, is 242 km away; beyond 100 km")
}

// Two weathers at one place, and three that meet, can be drawn: each keeps a thousandth of luck of
// its own.
func TestWeathersThatMeet(t *testing.T) {
	s := read(t, twoStations("80"))
	c := s.correlations(s.firstOfGroups())
	require.Len(t, c, 2)
	assert.Equal(t, [][]float64{{1, 0.999}, {0.999, 1}}, c)
	days := drawnAt(t, s, 1)
	assert.NotEqual(t, days[0], days[1])
	apart := read(t, twoStations("81"))
	assert.InDelta(t, math.Exp(-105.75/115), apart.correlations(apart.firstOfGroups())[0][1], 1e-3)
}

// Fourteen villages around two lakes: seven name the other lake's weather, which stands in the file
// once; each lake is one group, and its rains set in when they do there.
func TestFourteenVillagesAroundTwoLakes(t *testing.T) {
	data, err := os.ReadFile(folder + "two-lakes.good.yaml")
	require.NoError(t, err)
	s, err := Read("two-lakes.good.yaml", data)
	require.NoError(t, err)
	assert.Empty(t, s.Warnings)
	assert.Equal(t, []int{0, 0, 0, 0, 0, 0, 0, 1, 1, 1, 1, 1, 1, 1}, s.Groups())
	assert.Equal(t, 7, strings.Count(string(data), "weather: Lake Velune"))
	require.Len(t, s.elsewhere, 1)
	assert.Equal(t, weather.Monsoon{OnsetDOY: 140, OnsetSD: 9, WithdrawalDOY: 285, WithdrawalSD: 7}, s.weatherOf(13).Normals.Onset)
	assert.Equal(t, weather.Monsoon{OnsetDOY: 157, OnsetSD: 7, WithdrawalDOY: 271, WithdrawalSD: 7}, s.weatherOf(0).Normals.Onset)
}
