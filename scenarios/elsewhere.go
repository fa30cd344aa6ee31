package scenarios

import (
	"slices"
	"strconv"
	"strings"

	"drystalk/sim/weather"
	"drystalk/tongue"
)

// namedWeather is a weather beside the region's: one that sites name, or one that a site states
// for itself.
type namedWeather struct {
	localWeather
	name   string // of the weather, or of the site that states it
	ofSite bool
	used   bool // by a site
}

// weathers reads the weathers that sites may name.
func (r *reader) weathers(s *Scenario, n *node) {
	if n == nil {
		return
	}
	if len(n.keys) > 60 {
		r.fault(n.line, "weathers", tongue.Plainf("%d weathers", len(n.keys)), tongue.Say("at most 60 weathers"))
		return
	}
	for i, name := range n.keys {
		v, key := n.values[i], join("weathers", name)
		if name == "" || len(name) > 80 || strings.ContainsFunc(name, unprintable) {
			r.fault(v.line, key, strconv.Quote(name), tongue.Say("a name of 1 to 80 letters"))
			continue
		}
		r.addWeather(s, v, key, namedWeather{name: name})
	}
}

// addWeather reads a weather beside the region's and adds it; a site that names one which could not
// be read is no second fault.
func (r *reader) addWeather(s *Scenario, v *node, key string, w namedWeather) {
	w.raw.Station = w.name
	if v.kind == mapping {
		r.local(&draft{Scenario: s, here: &w.localWeather}, v, key)
	} else {
		r.fault(v.line, key, describe(v), tongue.Say("a group of keys such as {wmo_station: 41923}"))
	}
	s.elsewhere = append(s.elsewhere, w)
}

// siteWeather reads which weather site number i has: the region's where it states none.
func (r *reader) siteWeather(s *Scenario, i int, v *node, key string) {
	switch {
	case v == nil:
	case v.kind == mapping:
		r.addWeather(s, v, key, namedWeather{name: s.Region.Sites[i].Name, ofSite: true, used: true})
		s.weatherFrom[i] = len(s.elsewhere)
	default:
		at := slices.IndexFunc(s.elsewhere, func(w namedWeather) bool { return !w.ofSite && w.name == v.text })
		if v.kind != scalar || at < 0 {
			r.fault(v.line, key, describe(v), s.weatherAllowed(v.text))
			return
		}
		s.elsewhere[at].used = true
		s.weatherFrom[i] = at + 1
	}
}

// weatherAllowed says what a site may state as its weather.
func (s *Scenario) weatherAllowed(found string) string {
	var names []string
	for i := range s.elsewhere {
		if !s.elsewhere[i].ofSite {
			names = append(names, s.elsewhere[i].name)
		}
	}
	if len(names) == 0 {
		return tongue.Say("the name of a weather of the group weathers, which the file does not have, or a group of keys such as {wmo_station: 41923}")
	}
	allowed := tongue.Plainf("a weather of the group weathers (%s), or a group of keys such as {wmo_station: 41923}", strings.Join(names, ", "))
	if near := nearest(found, names); near != "" {
		allowed += tongue.Plainf("; did you mean %s?", near)
	}
	return allowed
}

// weatherOf returns the weather of a site.
func (s *Scenario) weatherOf(site int) *localWeather {
	if site < len(s.weatherFrom) && s.weatherFrom[site] > 0 {
		return &s.elsewhere[s.weatherFrom[site]-1].localWeather
	}
	return &s.localWeather
}

// weatherName returns what a site states as its weather, "" where it is the region's.
func (s *Scenario) weatherName(site int) string {
	if site >= len(s.weatherFrom) || s.weatherFrom[site] == 0 {
		return ""
	}
	w := &s.elsewhere[s.weatherFrom[site]-1]
	if w.ofSite {
		return tongue.Plainf("its own, %s", w.words())
	}
	return w.name
}

// words says in short where a weather comes from.
func (l *localWeather) words() string {
	if l.climate != nil {
		return tongue.Plainf("the fitted climate of %s", l.climate.Station)
	}
	return tongue.Plainf("the monthly normals of %s", l.Normals.Station)
}

// identity is the same for two weathers that are one, however they are stated.
func (l *localWeather) identity() string {
	if l.climate != nil {
		return "climate " + ContentOf(l.climateData)
	}
	return keyOf(&l.Normals)
}

// weathersOfSites returns for each site the first site that has the same weather.
func (s *Scenario) weathersOfSites() []int {
	out, first := make([]int, len(s.at)), map[string]int{}
	known := map[*localWeather]string{}
	for i := range out {
		w := s.weatherOf(i)
		if _, seen := known[w]; !seen {
			known[w] = w.identity()
		}
		if _, seen := first[known[w]]; !seen {
			first[known[w]] = i
		}
		out[i] = first[known[w]]
	}
	return out
}

// living returns the weathers that sites live in, each once, with the first site of each.
func (s *Scenario) living() (weathers []*localWeather, sites []int) {
	for i, first := range s.weathersOfSites() {
		if i == first {
			weathers, sites = append(weathers, s.weatherOf(i)), append(sites, i)
		}
	}
	return weathers, sites
}

// all returns the region's weather and those beside it.
func (s *Scenario) all() []*localWeather {
	out := []*localWeather{&s.localWeather}
	for i := range s.elsewhere {
		out = append(out, &s.elsewhere[i].localWeather)
	}
	return out
}

// climates returns the contents of the climate files, each once.
func (s *Scenario) climates() (out [][]byte) {
	seen := map[string]bool{}
	for _, w := range s.all() {
		if w.climate != nil && !seen[w.climateName] {
			seen[w.climateName] = true
			out = append(out, w.climateData)
		}
	}
	return out
}

// reopen hands out the climates that the scenario was read with.
func (s *Scenario) reopen(name string) ([]byte, error) {
	for _, w := range s.all() {
		if w.climate != nil && w.climateName == name {
			return w.climateData, nil
		}
	}
	return nil, tongue.Errorf("the scenario was read without it")
}

// checkElsewhere checks what the weathers of a region must have in common, and names what no
// site uses.
func (r *reader) checkElsewhere(s *Scenario, root *node) {
	if n := root.get("weathers"); n != nil {
		for i := range s.elsewhere {
			if w := &s.elsewhere[i]; !w.used {
				r.warn(n.get(w.name).line, join("weathers", w.name), "no site has this weather: state weather: %s at its sites", w.name)
			}
		}
	}
	if s.climate == nil || len(r.faults) > 0 {
		return
	}
	living, sites := s.living()
	for k, w := range living {
		if w.climate != nil {
			continue
		}
		for i := range climateFields {
			f := &climateFields[i]
			now := f.value(&draft{Scenario: s})
			if now != f.missing && changesRain(f.key) {
				r.fault(root.get("weather").get(f.key).line, join("weather", f.key), now,
					tongue.Plainf("%s while %s has %s, which cannot be changed so", f.missing, s.Region.Sites[sites[k]].Name, w.words()))
			}
		}
	}
}

// changesRain tells whether a key changes the rain of fitted climates and not that of normals.
func changesRain(key string) bool {
	return slices.Contains([]string{"wetness_of_year", "storms_per_year", "rain_amount_factor", "rain_chance_probit", "later_onset_days"}, key)
}

// places returns where the groups of sites lie; nil where all lie at the place of the region.
func (s *Scenario) places(first []int) []weather.Place {
	out := make([]weather.Place, len(first))
	other := false
	for g, site := range first {
		out[g] = s.weatherOf(site).Normals.Place
		other = other || out[g] != s.Region.Place
	}
	if !other {
		return nil
	}
	return out
}

// WeatherWords says how the weather of the scenario is made, and how that was proven.
func (s *Scenario) WeatherWords() string {
	weathers, sites := s.living()
	fitted, byNormals := false, false
	var each []string
	for k, w := range weathers {
		each = append(each, tongue.Plainf("%s has %s", s.Region.Sites[sites[k]].Name, w.words()))
		fitted, byNormals = fitted || w.climate != nil, byNormals || w.climate == nil
	}
	how := tongue.Plainf("The weather is drawn from %s.", s.weatherOf(0).words())
	switch {
	case len(weathers) > 1:
		how = tongue.Plainf("The weather is drawn for %d climates at once: %s, and sites with the same weather have the same. Their rain goes together by distance, and a wet or late year is one everywhere.", len(weathers), strings.Join(each, ", "))
	case fitted:
		c := s.weatherOf(0).climate
		how = tongue.Plainf("The weather is drawn from a generator fitted to %d complete years of %s.", c.FittedYears, c.Station)
	}
	checked := tongue.Say("weather was checked against long daily records: spreads of months come out right on average, long dry spells within the rains too rare where the monsoon is sharp. A daily record of your own station (drystalk fit weather) is better.")
	switch {
	case fitted && len(weathers) > 1:
		how += tongue.Say(" How well a fitted climate repeats its record stands in the report of its fit.")
	case fitted:
		how += tongue.Say(" How well it repeats that record, month by month and in its spells, stands in the report of the fit, with its verdict; --record runs the plan through the years of the record themselves.")
	}
	switch {
	case byNormals && fitted:
		how += tongue.Plainf(" By normals, %s", checked)
	case byNormals:
		how += tongue.Plainf(" Such %s", checked)
	}
	return how
}
