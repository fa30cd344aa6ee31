package scenarios

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strconv"
	"sync"
	"time"

	"drystalk/sim"
	"drystalk/sim/weather"
	"drystalk/tongue"
)

// monthly is a list of twelve numbers in the file.
type monthly struct {
	key       string
	meaning   tongue.Text
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
	{"humidity_morning_fraction", "mean relative humidity read at dawn, when the day is coolest; with humidity_afternoon_fraction, in place of a mean of day and night", "", 0.05, 1, false, func(n *weather.RawNormals) **[12]float64 { return &n.Morning }},
	{"humidity_afternoon_fraction", "mean relative humidity read in the afternoon, when the day is hottest; with humidity_morning_fraction", "", 0.02, 1, false, func(n *weather.RawNormals) **[12]float64 { return &n.Afternoon }},
	{"sunshine_fraction", "bright sunshine over day length", "", 0, 1, false, func(n *weather.RawNormals) **[12]float64 { return &n.SunFraction }},
	{"wind_m_per_s", "wind at 2 m", "m/s", 0.1, 15, false, func(n *weather.RawNormals) **[12]float64 { return &n.WindMS }},
}

// localWeather is the weather of one place: where it comes from, and what was made of that.
type localWeather struct {
	Normals weather.Normals

	station     string // WMO number, "" where normals are given
	raw         weather.RawNormals
	climate     *weather.Climate // nil where the weather comes from normals
	climateName string
	climateData []byte
}

// weather reads the weather of the region.
func (r *reader) weather(s *Scenario, n *node) {
	if n == nil {
		return
	}
	s.raw.Station = s.Region.Name
	r.local(&draft{Scenario: s, here: &s.localWeather}, n, "weather")
	s.Region.Place = s.Normals.Place
}

// kinds are the keys of which a weather has one: where it comes from.
var kinds = []string{"wmo_station", "normals", "climate_file"}

// weatherKeys returns the table of a weather that comes from the key kind. What changes the
// climate, and how rain goes together, is stated once, with the weather of the region, and holds
// everywhere.
func (d *draft) weatherKeys(kind string) (fields []field, others []string) {
	others = []string{kind, "monsoon"}
	ofRegion := d.here == &d.localWeather
	switch kind {
	case "climate_file":
		others = others[:1]
		fields = climateFields
	case "normals":
		fields = normalsFields
	default:
		fields = changeFields
	}
	switch {
	case ofRegion && kind != "climate_file":
		others = keysOf(apartFields, others...)
	case !ofRegion && kind == "normals":
		fields = placeFields
	case !ofRegion:
		fields = nil
	}
	return fields, others
}

// local reads the weather of one place.
func (r *reader) local(d *draft, n *node, path string) {
	var given []string
	for _, kind := range kinds {
		if n.get(kind) != nil {
			given = append(given, kind)
		}
	}
	if len(given) != 1 {
		fields, others := d.weatherKeys("normals")
		known := keysOf(fields, append(others, "wmo_station", "climate_file")...)
		r.known(n, path, known)
		if len(given) > 1 || !slices.ContainsFunc(kinds, func(kind string) bool { return n.excused(kind, known) }) {
			r.fault(n.line, path, tongue.Say("none or more than one of wmo_station, normals and climate_file"), tongue.Say("one of the three"))
		}
		return
	}
	before := len(r.faults)
	v, key := n.get(given[0]), join(path, given[0])
	fields, others := d.weatherKeys(given[0])
	if d.here != &d.localWeather {
		others = append(others, r.ofRegion(n, path)...)
	}
	switch given[0] {
	case "climate_file":
		if r.climate(d, v, key) {
			r.fields(d, n, path, fields, others...)
			d.here.climate.Change = d.change
			if v := n.get("later_onset_days"); v != nil && d.change.OnsetDays != 0 && !d.here.climate.ClockMoves {
				r.fault(v.line, join(path, "later_onset_days"), describe(v), tongue.Say("0: the rains of this climate come on no date that could move (clock_moves: false)"))
			}
			d.here.Normals = d.here.climate.Rest.Changed(d.change)
		}
		return
	case "wmo_station":
		r.fields(d, n, path, fields, others...)
		r.station(d.here, v, key)
	default:
		r.fields(d, n, path, fields, others...)
		r.normals(d.here, v, key)
	}
	if len(r.faults) > before {
		return
	}
	filled, err := weather.FillNormals(d.here.raw)
	if err != nil {
		r.fault(n.line, path, err.Error(), tongue.Say("complete normals"))
		return
	}
	d.here.Normals = filled.Changed(d.change)
	if v := n.get("monsoon"); v != nil {
		r.monsoon(d, v, join(path, "monsoon"))
	}
}

// ofRegion books a fault for each key that is stated for one weather of several and can be stated
// once only, for all; it returns these keys.
func (r *reader) ofRegion(n *node, path string) (keys []string) {
	for i := range climateFields {
		key := climateFields[i].key
		if v := n.get(key); v != nil {
			keys = append(keys, key)
			r.fault(v.line, join(path, key), describe(v), tongue.Plainf("none here: it is stated once, as weather.%s, and holds at all sites", key))
		}
	}
	return keys
}

// climate reads a fitted climate, and tells whether it could.
func (r *reader) climate(d *draft, v *node, key string) bool {
	if r.open == nil || v.kind != scalar || v.text == "" {
		r.fault(v.line, key, describe(v), tongue.Say("a climate file beside the scenario"))
		return false
	}
	data, err := r.open(v.text)
	if err != nil {
		r.fault(v.line, key, strconv.Quote(v.text), tongue.Plainf("a climate file beside the scenario (%s)", err.Error()))
		return false
	}
	c, err := ReadClimate(v.text, data)
	if err != nil {
		r.fault(v.line, key, err.Error(), tongue.Say("a file that fit weather wrote"))
		return false
	}
	if d.climate != nil { // what the region says of its years holds everywhere
		c.Wetness, c.Storms = d.climate.Wetness, d.climate.Storms
	}
	d.here.climate, d.here.climateName, d.here.climateData = &c, v.text, data
	return true
}

// source builds the generator of a weather.
func (l *localWeather) source() (weather.Source, error) {
	if l.climate != nil {
		return weather.NewClimateSource(*l.climate)
	}
	source, err := generators.of(l.Normals)
	if err != nil {
		return nil, tongue.Errorf("weather: %w", err)
	}
	return source, nil
}

// Source builds the generator of the weather of the first site. It takes a moment: call it
// once.
func (s *Scenario) Source() (weather.Source, error) {
	source, err := s.weatherOf(0).source()
	if err != nil {
		return nil, fmt.Errorf("%s: %w", s.Name, err)
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

// keyOf holds all that a generator from normals depends on, floats in full.
func keyOf(n *weather.Normals) string { return fmt.Sprint(n.Place, n.Months, n.Onset) }

// of returns the generator of a climate, built anew if it is not among those kept.
func (k *kept) of(n weather.Normals) (*weather.NormalsSource, error) {
	key := keyOf(&n)
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

func (r *reader) normals(l *localWeather, n *node, path string) {
	if n.kind != mapping {
		r.fault(n.line, path, describe(n), tongue.Say("a group of keys, each with 12 numbers"))
		return
	}
	before := len(r.faults)
	var keys []string
	for _, f := range monthlyFields {
		keys = append(keys, f.key)
	}
	r.known(n, path, keys)
	for _, f := range monthlyFields {
		key := join(path, f.key)
		v := n.get(f.key)
		if v == nil {
			if f.required {
				r.fault(n.line, key, tongue.Say("nothing"), tongue.Say("12 numbers, January to December"))
			}
			continue
		}
		if v.kind != sequence || len(v.values) != 12 {
			found := describe(v)
			if v.kind == sequence {
				found = tongue.Plainf("%d values", len(v.values))
			}
			r.fault(v.line, key, found, tongue.Say("12 numbers, January to December"))
			continue
		}
		var x [12]float64
		for m := range x {
			low, high := f.bounds(m)
			x[m], _ = r.number(v.values[m], fmt.Sprintf("%s[%s]", key, monthNames[m]), low, high, false)
		}
		*f.at(&l.raw) = &x
	}
	r.oneHumidity(n, path)
	if len(r.faults) == before {
		r.plausible(&l.raw, n, path)
	}
}

// oneHumidity books a fault where the humidity of the air is stated in two ways, or by a reading of the
// morning or the afternoon alone.
func (r *reader) oneHumidity(n *node, path string) {
	const morning, afternoon = "humidity_morning_fraction", "humidity_afternoon_fraction"
	for _, pair := range [][2]string{{morning, afternoon}, {afternoon, morning}} {
		if v := n.get(pair[0]); v != nil && n.get(pair[1]) == nil {
			r.fault(v.line, join(path, pair[1]), tongue.Say("nothing"), tongue.Plainf("12 numbers, January to December: %s and %s go together", morning, afternoon))
		}
	}
	first := ""
	for _, key := range []string{"vapour_pressure_kpa", "humidity_fraction", morning} {
		switch v := n.get(key); {
		case v == nil:
		case first == "":
			first = key
		default:
			r.fault(v.line, join(path, key), tongue.Say("humidity stated a second time"), tongue.Plainf("one of vapour_pressure_kpa, humidity_fraction, or %s with %s", morning, afternoon))
		}
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
func (r *reader) plausible(raw *weather.RawNormals, n *node, path string) {
	for m := range 12 {
		if raw.TmaxC[m] <= raw.TminC[m] {
			r.fault(n.get("tmin_c").line, path+".tmin_c["+monthNames[m]+"]", plain(raw.TminC[m]), tongue.Plainf("less than tmax_c, %s", plain(raw.TmaxC[m])))
			return
		}
		if raw.RainMM[m] < raw.Days1MM[m] {
			r.fault(n.get("rain_days").line, path+".rain_days["+monthNames[m]+"]", plain(raw.Days1MM[m]), tongue.Plainf("no more than the month's rain in mm, %s: a rain day has at least 1 mm", plain(raw.RainMM[m])))
			return
		}
		if raw.RainMM[m] > 15 && raw.Days1MM[m] < 0.2 {
			r.fault(n.get("rain_days").line, path+".rain_days["+monthNames[m]+"]", plain(raw.Days1MM[m]), tongue.Plainf("some days for %s mm of rain", plain(raw.RainMM[m])))
			return
		}
		if raw.RainMM[m] > 0 && raw.Days1MM[m] == 0 {
			r.warn(n.get("rain_days").line, path+".rain_days["+monthNames[m]+"]", "0, so the %s mm of rain of the month never fall", plain(raw.RainMM[m]))
		}
		if raw.RainMM[m] >= 1000 {
			r.warn(n.get("rain_mm").line, path+".rain_mm", "%s mm of rain in %s: see that mm are meant; floods stop all work on the water", plain(raw.RainMM[m]), monthNames[m])
		}
		if raw.Morning != nil && raw.Afternoon[m] > raw.Morning[m] {
			r.fault(n.get("humidity_afternoon_fraction").line, path+".humidity_afternoon_fraction["+monthNames[m]+"]", plain(raw.Afternoon[m]), tongue.Plainf("no more than humidity_morning_fraction, %s: air is driest when the day is hottest", plain(raw.Morning[m])))
			return
		}
		if raw.TmaxC[m] > 48 {
			r.warn(n.get("tmax_c").line, join(path, "tmax_c"), "%g is very hot for a month's mean; degrees Celsius are meant", raw.TmaxC[m])
		}
	}
}

func (r *reader) monsoon(d *draft, n *node, path string) {
	if n.kind != mapping {
		r.fault(n.line, path, describe(n), tongue.Say("a group of keys: onset, withdrawal"))
		return
	}
	raw := &rawWeather{}
	r.fields(&draft{Scenario: d.Scenario, weatherRaw: raw}, n, path, monsoonFields, "onset", "withdrawal")
	var doy [2]float64
	for i, key := range []string{"onset", "withdrawal"} {
		v := n.get(key)
		if v == nil {
			r.fault(n.line, join(path, key), tongue.Say("nothing"), tongue.Say(`a day and a month, such as "12 jun"`))
			return
		}
		month, day, ok := r.date(v, join(path, key))
		if !ok {
			return
		}
		doy[i] = float64(sim.Calendar{StartMonth: month, StartDay: day}.StartDOY())
	}
	if allowed := d.here.monsoonAllowed(doy[0], doy[1]); allowed != "" {
		r.fault(n.line, path, tongue.Say("onset and withdrawal in this order"), allowed)
		return
	}
	d.here.Normals.Onset = weather.Monsoon{OnsetDOY: doy[0], OnsetSD: raw.onsetSD, WithdrawalDOY: doy[1], WithdrawalSD: raw.withdrawalSD}
}

// monsoonAllowed says what is allowed instead of an onset and a withdrawal, days of the year; "" where
// they can be.
func (l *localWeather) monsoonAllowed(onset, withdrawal float64) string {
	const (
		sameYear tongue.Text = "onset after 20 january, withdrawal before 11 december and at least 20 days later"
		twoYears tongue.Text = "; or rains that run over New Year, of at least 20 days and with a dry season of at least 45, more rain falling in them than outside"
	)
	switch {
	case onset <= withdrawal && (withdrawal < onset+20 || onset < 20 || withdrawal > 345):
		return sameYear.String() + twoYears.String()
	case onset > withdrawal && (onset-withdrawal < 45 || onset-withdrawal > 345 || !l.rainsBetween(onset, withdrawal)):
		return sameYear.String() + twoYears.String()
	}
	return ""
}

// rainsBetween tells whether more rain falls in a day from onset over New Year to withdrawal, days of
// the year, than in one of the rest.
func (l *localWeather) rainsBetween(onset, withdrawal float64) bool {
	var in, out, inDays, outDays float64
	for d := range sim.DaysPerYear {
		month, _ := sim.Calendar{StartMonth: time.January, StartDay: 1}.Date(d)
		mm := l.Normals.Months[month-1].RainMM / float64(sim.DaysInMonth(month))
		if doy := float64(d + 1); doy >= onset || doy < withdrawal {
			in, inDays = in+mm, inDays+1
		} else {
			out, outDays = out+mm, outDays+1
		}
	}
	return in/inDays > out/outDays
}

// fixedRand is a stream nobody looks at: fixed knowledge takes no chance.
func fixedRand() *rand.Rand { return rand.New(rand.NewPCG(0, 0)) }
