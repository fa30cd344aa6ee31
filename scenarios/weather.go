package scenarios

import (
	"bytes"
	_ "embed" // the table of normals
	"fmt"
	"math/rand/v2"
	"strconv"
	"strings"
	"sync"
	"time"

	"drystalk/sim"
	"drystalk/sim/weather"
)

//go:embed normals/wmo_clino_1991_2020_monsoon_normals.csv
var wmoTable []byte

// Stations lists the stations of the table of WMO normals 1991-2020 that can
// drive a scenario: "name number".
func Stations() []string {
	raws, err := weather.ReadWMOTable(bytes.NewReader(wmoTable))
	if err != nil {
		panic(err) // the table is part of the program
	}
	var names []string
	for _, raw := range raws {
		names = append(names, raw.Station)
	}
	return names
}

// monthly is a list of twelve numbers in the file.
type monthly struct {
	key       string
	meaning   string
	unit      string
	low, high float64
	required  bool
	at        func(*weather.RawNormals) **[12]float64
}

var monthlyFields = []monthly{
	{"rain_mm", "rain of the month", "mm", 0, 5000, true, func(n *weather.RawNormals) **[12]float64 { return &n.RainMM }},
	{"rain_days", "days with at least 1 mm", "days", 0, 31, true, func(n *weather.RawNormals) **[12]float64 { return &n.Days1MM }},
	{"tmax_c", "mean daily maximum temperature", "°C", -20, 55, true, func(n *weather.RawNormals) **[12]float64 { return &n.TmaxC }},
	{"tmin_c", "mean daily minimum temperature", "°C", -30, 45, true, func(n *weather.RawNormals) **[12]float64 { return &n.TminC }},
	{"vapour_pressure_kpa", "mean vapour pressure", "kPa", 0.1, 5, false, func(n *weather.RawNormals) **[12]float64 { return &n.VapourKPa }},
	{"humidity_fraction", "mean relative humidity of day and night", "", 0.05, 1, false, func(n *weather.RawNormals) **[12]float64 { return &n.Humidity }},
	{"sunshine_fraction", "bright sunshine over day length", "", 0, 1, false, func(n *weather.RawNormals) **[12]float64 { return &n.SunFraction }},
	{"wind_m_per_s", "wind at 2 m", "m/s", 0.1, 15, false, func(n *weather.RawNormals) **[12]float64 { return &n.WindMS }},
}

func (r *reader) weather(s *Scenario, n *node) {
	if n == nil {
		return
	}
	before := len(r.faults)
	station, normals, fitted := n.get("wmo_station"), n.get("normals"), n.get("climate_file")
	given := 0
	for _, v := range []*node{station, normals, fitted} {
		if v != nil {
			given++
		}
	}
	switch {
	case given != 1:
		known := keysOf(normalsFields, "wmo_station", "normals", "climate_file", "monsoon")
		r.known(n, "weather", known)
		if given > 1 || !(n.excused("normals", known) || n.excused("wmo_station", known) || n.excused("climate_file", known)) {
			r.fault(n.line, "weather", "none or more than one of wmo_station, normals and climate_file", "one of the three")
		}
		return
	case fitted != nil:
		r.climate(s, n)
		return
	case station != nil:
		r.fields(&draft{Scenario: s}, n, "weather", changeFields, "wmo_station", "monsoon")
		r.station(s, station)
	default:
		r.fields(&draft{Scenario: s}, n, "weather", normalsFields, "wmo_station", "normals", "monsoon")
		s.raw = weather.RawNormals{Station: s.Region.Name, Place: s.Region.Place}
		r.normals(s, normals)
	}
	if len(r.faults) > before {
		return
	}
	filled, err := weather.FillNormals(s.raw)
	if err != nil {
		r.fault(n.line, "weather", err.Error(), "complete normals")
		return
	}
	s.Normals = filled.Changed(s.change)
	s.Region.Place = filled.Place
	if v := n.get("monsoon"); v != nil {
		r.monsoon(s, v)
	}
}

// climate reads a fitted climate and what the scenario changes in it.
func (r *reader) climate(s *Scenario, n *node) {
	v := n.get("climate_file")
	if r.open == nil || v.kind != scalar || v.text == "" {
		r.fault(v.line, "weather.climate_file", describe(v), "a climate file beside the scenario")
		return
	}
	data, err := r.open(v.text)
	if err != nil {
		r.fault(v.line, "weather.climate_file", strconv.Quote(v.text), "a climate file beside the scenario ("+err.Error()+")")
		return
	}
	c, err := ReadClimate(v.text, data)
	if err != nil {
		r.fault(v.line, "weather.climate_file", err.Error(), "a file that fit weather wrote")
		return
	}
	s.climate, s.climateName, s.climateData = &c, v.text, data
	r.fields(&draft{Scenario: s}, n, "weather", climateFields, "climate_file")
	c.Change = s.change
	s.Normals = c.Rest.Changed(s.change)
	s.Region.Place = c.Rest.Place
}

// Source builds the generator of the scenario's weather. It takes a moment: call it
// once.
func (s *Scenario) Source() (weather.Source, error) {
	if s.climate != nil {
		return weather.NewClimateSource(*s.climate)
	}
	source, err := generators.of(s.Normals)
	if err != nil {
		return nil, fmt.Errorf("%s: weather: %w", s.Name, err)
	}
	return source, nil
}

// kept holds the generators that were built last. Building one simulates years, and the two
// plans of a comparison, or the runs of the page, mostly share one. A generator is only read
// once it is built.
type kept struct {
	mu sync.Mutex
	by map[string]*weather.NormalsSource
}

var generators = kept{by: map[string]*weather.NormalsSource{}}

// mostKept is how many generators are kept.
const mostKept = 16

// of returns the generator of a climate, built anew if it is not among those kept.
func (k *kept) of(n weather.Normals) (*weather.NormalsSource, error) {
	key := fmt.Sprint(n.Place, n.Months, n.Onset) // all that it depends on; floats in full
	k.mu.Lock()
	defer k.mu.Unlock()
	if source := k.by[key]; source != nil {
		return source, nil
	}
	source, err := weather.NewNormalsSource(n)
	if err != nil {
		return nil, err
	}
	if len(k.by) >= mostKept {
		clear(k.by)
	}
	k.by[key] = source
	return source, nil
}

func (r *reader) station(s *Scenario, v *node) {
	raws, err := weather.ReadWMOTable(bytes.NewReader(wmoTable))
	if err != nil {
		panic(err) // the table is part of the program
	}
	for _, raw := range raws {
		name, number, _ := strings.Cut(raw.Station, " ")
		if v.kind == scalar && (v.text == number || strings.EqualFold(v.text, name)) {
			s.raw, s.station = raw, name
			return
		}
	}
	r.fault(v.line, "weather.wmo_station", describe(v), "a station of the table: "+strings.Join(Stations(), ", "))
}

func (r *reader) normals(s *Scenario, n *node) {
	if n.kind != mapping {
		r.fault(n.line, "weather.normals", describe(n), "a group of keys, each with 12 numbers")
		return
	}
	before := len(r.faults)
	var keys []string
	for _, f := range monthlyFields {
		keys = append(keys, f.key)
	}
	r.known(n, "weather.normals", keys)
	for _, f := range monthlyFields {
		key := "weather.normals." + f.key
		v := n.get(f.key)
		if v == nil {
			if f.required {
				r.fault(n.line, key, "nothing", "12 numbers, January to December")
			}
			continue
		}
		if v.kind != sequence || len(v.values) != 12 {
			found := describe(v)
			if v.kind == sequence {
				found = fmt.Sprintf("%d values", len(v.values))
			}
			r.fault(v.line, key, found, "12 numbers, January to December")
			continue
		}
		var x [12]float64
		for m := range x {
			low, high := f.bounds(m)
			x[m], _ = r.number(v.values[m], fmt.Sprintf("%s[%s]", key, monthNames[m]), low, high, false)
		}
		*f.at(&s.raw) = &x
	}
	if len(r.faults) == before {
		r.plausible(&s.raw, n)
	}
}

// bounds returns what is allowed in a month counted from 0, both ends included.
func (f *monthly) bounds(m int) (low, high float64) {
	if f.key == "rain_days" {
		return f.low, float64(sim.DaysInMonth(time.Month(m + 1)))
	}
	return f.low, f.high
}

// plausible checks months of complete lists against each other.
func (r *reader) plausible(raw *weather.RawNormals, n *node) {
	for m := range 12 {
		if raw.TmaxC[m] <= raw.TminC[m] {
			r.fault(n.get("tmin_c").line, "weather.normals.tmin_c["+monthNames[m]+"]", plain(raw.TminC[m]), "less than tmax_c, "+plain(raw.TmaxC[m]))
			return
		}
		if raw.RainMM[m] < raw.Days1MM[m] {
			r.fault(n.get("rain_days").line, "weather.normals.rain_days["+monthNames[m]+"]", plain(raw.Days1MM[m]), "no more than the month's rain in mm, "+plain(raw.RainMM[m])+": a rain day has at least 1 mm")
			return
		}
		if raw.RainMM[m] > 15 && raw.Days1MM[m] < 0.2 {
			r.fault(n.get("rain_days").line, "weather.normals.rain_days["+monthNames[m]+"]", plain(raw.Days1MM[m]), "some days for "+plain(raw.RainMM[m])+" mm of rain")
			return
		}
		if raw.TmaxC[m] > 48 {
			r.warn(n.get("tmax_c").line, "weather.normals.tmax_c", "%g is very hot for a month's mean; degrees Celsius are meant", raw.TmaxC[m])
		}
	}
}

func (r *reader) monsoon(s *Scenario, n *node) {
	if n.kind != mapping {
		r.fault(n.line, "weather.monsoon", describe(n), "a group of keys: onset, withdrawal")
		return
	}
	raw := &rawWeather{}
	r.fields(&draft{Scenario: s, weatherRaw: raw}, n, "weather.monsoon", monsoonFields, "onset", "withdrawal")
	var doy [2]float64
	for i, key := range []string{"onset", "withdrawal"} {
		v := n.get(key)
		if v == nil {
			r.fault(n.line, "weather.monsoon."+key, "nothing", `a day and a month, such as "12 jun"`)
			return
		}
		month, day, ok := r.date(v, "weather.monsoon."+key)
		if !ok {
			return
		}
		doy[i] = float64(sim.Calendar{StartMonth: month, StartDay: day}.StartDOY())
	}
	if doy[1] < doy[0]+20 || doy[0] < 20 || doy[1] > 345 {
		r.fault(n.line, "weather.monsoon", "onset and withdrawal in this order", "onset after 20 january, withdrawal before 11 december and at least 20 days later")
		return
	}
	s.Normals.Onset = weather.Monsoon{OnsetDOY: doy[0], OnsetSD: raw.onsetSD, WithdrawalDOY: doy[1], WithdrawalSD: raw.withdrawalSD}
}

// fixedRand is a stream nobody looks at: fixed knowledge takes no chance.
func fixedRand() *rand.Rand { return rand.New(rand.NewPCG(0, 0)) }
