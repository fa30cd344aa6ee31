package scenarios

import (
	"bytes"
	_ "embed" // the table of normals
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"drystalk/sim/weather"
	"drystalk/tongue"
)

//go:embed normals/wmo_clino_1991_2020_monsoon_normals.csv
var wmoTable []byte

// table reads the stations of the table of WMO normals 1991-2020.
func table() []weather.RawNormals {
	raws, err := weather.ReadWMOTable(bytes.NewReader(wmoTable))
	if err != nil {
		panic(err) // the table is part of the program
	}
	return raws
}

// Stations lists the stations of the table of WMO normals 1991-2020 that can
// drive a scenario: "name number".
func Stations() []string {
	var names []string
	for _, raw := range table() {
		names = append(names, raw.Station)
	}
	return names
}

// StationNormals returns the completed normals of a station of the WMO table, by number
// or name.
func StationNormals(station string) (weather.Normals, error) {
	r := &reader{file: tongue.Say("WMO normals")}
	var l localWeather
	r.station(&l, &node{text: station, quoted: true}, "weather.wmo_station")
	if err := r.err(); err != nil {
		return weather.Normals{}, err
	}
	return weather.FillNormals(l.raw)
}

// station takes the station that a weather names out of the table.
func (r *reader) station(l *localWeather, v *node, key string) {
	for _, raw := range table() {
		name, number, _ := strings.Cut(raw.Station, " ")
		if v.kind == scalar && (v.text == number || strings.EqualFold(v.text, name)) {
			l.raw, l.station = raw, name
			return
		}
	}
	r.fault(v.line, key, describe(v), tongue.Plainf("a station of the table: %s", strings.Join(Stations(), ", ")))
}

// A station far from a place, or much higher or lower, has another climate. Common practice, no
// source.
const (
	farKm       = 100
	otherHeight = 300 // m
)

// nearestShown is how many stations near a place are listed.
const nearestShown = 5

// StationList is what FindStations found.
type StationList struct {
	Lines    []string // one for each station, the nearest first where a place was stated
	Warnings []string // why none of them may stand for the place
}

// FindStations looks in the table of WMO normals 1991-2020 for the stations of which name, number
// or country holds some words, for all of them ("all"), or for the nearest to a place:
// "near 10.2,77.5", latitude and longitude in degrees, with a third number, the height of the place
// in m, to have heights compared. An error says what was found and what is allowed.
func FindStations(wanted string) (StationList, error) {
	wanted = strings.TrimSpace(wanted)
	if place, ok := strings.CutPrefix(strings.ToLower(wanted), "near"); ok {
		return nearPlace(place)
	}
	var list StationList
	var countries []string
	for _, raw := range table() {
		if !slices.Contains(countries, raw.Country) {
			countries = append(countries, raw.Country)
		}
		name, number := nameAndNumber(raw)
		if wanted != "" && (wanted == "all" || wanted == number || plainly(name, wanted) || plainly(raw.Country, wanted)) {
			list.Lines = append(list.Lines, stationLine(raw))
		}
	}
	if len(list.Lines) == 0 {
		return list, tongue.Errorf("found %q, allowed: part of the name or the number of a station of the table, a country of it (%s), all, or a place such as \"near 10.2,77.5\"", wanted, strings.Join(countries, ", "))
	}
	return list, nil
}

// plainly tells whether a name holds some words, whatever the size of letters, spaces and lines
// between them.
func plainly(name, words string) bool {
	bare := strings.NewReplacer(" ", "", "_", "", "-", "")
	return strings.Contains(strings.ToLower(bare.Replace(name)), strings.ToLower(bare.Replace(words)))
}

// nameAndNumber returns the name of a station and its number, "" where it has none.
func nameAndNumber(raw weather.RawNormals) (name, number string) {
	name, number, _ = strings.Cut(raw.Station, " ")
	if _, err := strconv.Atoi(number); err != nil {
		number = ""
	}
	return name, number
}

// stationLine says how a station is named in a scenario, who and where it is.
func stationLine(raw weather.RawNormals) string {
	name, number := nameAndNumber(raw)
	if number == "" {
		number = name
	}
	return fmt.Sprintf("wmo_station: %s  %s, %s, %.2f, %.2f, %.0f m", number, name, raw.Country, raw.Place.LatitudeDeg, raw.LongitudeDeg, raw.Place.ElevationM)
}

// nearPlace lists the stations nearest to a place.
func nearPlace(text string) (StationList, error) {
	var list StationList
	at, err := placeFrom(text)
	if err != nil {
		return list, err
	}
	raws := table()
	km := func(raw weather.RawNormals) float64 {
		return weather.DistanceKm(at[0], at[1], raw.Place.LatitudeDeg, raw.LongitudeDeg)
	}
	slices.SortStableFunc(raws, func(a, b weather.RawNormals) int { return int(math.Copysign(1, km(a)-km(b))) })
	for _, raw := range raws[:nearestShown] {
		line := tongue.Plainf("%s, %.0f km away", stationLine(raw), km(raw))
		if len(at) > 2 {
			line += ", " + heightWords(raw.Place.ElevationM-at[2])
		}
		list.Lines = append(list.Lines, line)
	}
	first := raws[0]
	name, _ := nameAndNumber(first)
	if d := km(first); d > farKm {
		list.Warnings = append(list.Warnings, tongue.Plainf("the nearest station, %s, is %.0f km away: beyond %d km its climate may be another (common practice); monthly normals or a record of a place nearby are better", name, d, farKm))
	}
	if len(at) > 2 && math.Abs(first.Place.ElevationM-at[2]) > otherHeight {
		list.Warnings = append(list.Warnings, tongue.Plainf("the nearest station, %s, lies %s: with more than %d m between them its air is warmer or cooler and its rain another (common practice)", name, heightWords(first.Place.ElevationM-at[2]), otherHeight))
	}
	return list, nil
}

// heightWords says how much higher or lower a station lies, m.
func heightWords(m float64) string {
	if m < 0 {
		return tongue.Plainf("%.0f m lower", -m)
	}
	return tongue.Plainf("%.0f m higher", m)
}

// placeFrom reads latitude, longitude and, if stated, height of a place.
func placeFrom(text string) ([]float64, error) {
	limits := []struct{ low, high float64 }{{-90, 90}, {-180, 180}, {-500, 9000}}
	parts := strings.Split(text, ",")
	at := make([]float64, len(parts))
	ok := len(parts) == 2 || len(parts) == 3
	for i := 0; ok && i < len(parts); i++ {
		x, err := strconv.ParseFloat(strings.TrimSpace(parts[i]), 64)
		at[i], ok = x, err == nil && x >= limits[i].low && x <= limits[i].high
	}
	if !ok {
		return nil, tongue.Errorf("found %q, allowed: near latitude,longitude in degrees, north and east positive, such as \"near 10.2,77.5\", and if wanted the height in m, \"near 10.2,77.5,350\"", "near"+text)
	}
	return at, nil
}

// farStations warns of sites whose station lies far from them.
func (r *reader) farStations(s *Scenario, sites *node) {
	for i, at := range s.at {
		w := s.weatherOf(i)
		if !at.given || w.station == "" || w.climate != nil {
			continue
		}
		if km := weather.DistanceKm(at.latitudeDeg, at.longitudeDeg, w.raw.Place.LatitudeDeg, w.raw.LongitudeDeg); km > farKm {
			r.warn(sites.values[i].line, join("sites", s.Region.Sites[i].Name), "the station of its weather, %s, is %.0f km away; beyond %d km its climate may be another (common practice)", w.station, km, farKm)
		}
	}
}
