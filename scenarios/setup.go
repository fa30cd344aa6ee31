package scenarios

import (
	"slices"
	"strconv"
	"strings"

	"drystalk/sim/plans"
	"drystalk/sim/trials"
)

// Setup returns the scenario as a plan that questions can be asked of, with the seed of all
// chance. It builds the generator of the weather, which takes a moment: call it once and ask
// many questions. An error means that the generator cannot be built from the normals or the
// climate.
func (s *Scenario) Setup(seed uint64) (plans.Case, error) {
	c := s.WithoutWeather(seed)
	weathers, _ := s.living()
	for _, w := range weathers {
		if w.Normals.HumidityGuessed() {
			c.HumidityGuessed = append(c.HumidityGuessed, w.Normals.Station)
		}
	}
	var err error
	if c.Setup.Source, err = s.Source(); err != nil {
		return c, err
	}
	field, err := s.Field()
	if field != nil {
		c.Setup.Field = field
	}
	return c, err
}

// WithoutWeather is Setup without a generator of weather, at once: for what is asked of no
// season, such as one load of a dryer.
func (s *Scenario) WithoutWeather(seed uint64) plans.Case {
	c := plans.Case{
		Name: s.Name, Invented: s.Invented, File: s.File, Hash: s.Hash, Ways: s.Ways, WaysSaid: s.WaysChanges(), Changes: s.Changes,
		Setup:   trials.Setup{Region: &s.Region, Base: s.Base, Knowledge: s.Knowledge, Group: s.Groups(), Places: s.places(s.firstOfGroups()), Seed: seed},
		Normals: s.weatherOf(0).Normals, MaxDryers: s.MaxDryers, Target: s.TargetOdds, Goal: s.goal(), Currency: s.Currency,
		DayOf: s.DayOf, Weather: s.WeatherWords(), Warnings: s.Warnings, Assumptions: s.Assumptions(),
	}
	c.Coordinates = s.coordinates()
	c.Elsewhere = func(n int) ([]plans.Elsewhere, error) { return s.Elsewhere(n, seed) }
	living, _ := s.living()
	c.Weathers = len(living)
	c.Changed = s.changedClimate()
	for _, w := range living {
		if w.climate != nil {
			c.Fits = append(c.Fits, plans.Fitted{Station: w.climate.Station, Judgement: w.climate.Judged})
		} else {
			c.Drawn = append(c.Drawn, w.Normals)
		}
		if w.climate != nil && !slices.ContainsFunc(c.Files, func(f plans.File) bool { return f.Name == w.climateName }) {
			c.Files = append(c.Files, plans.File{Name: w.climateName, Content: ContentOf(w.climateData)})
		}
	}
	for _, f := range s.measuredFiles {
		c.Files = append(c.Files, plans.File{Name: f.name, Content: ContentOf(f.data)})
	}
	if s.Ways != "" {
		c.Files = append(c.Files, plans.File{Name: s.Ways, Content: ContentOf(s.waysData)})
	}
	if s.HasMoney {
		c.Prices = &s.Money
	}
	return c
}

// changedClimate returns the keys by which the climate differs from that of record or normals.
func (s *Scenario) changedClimate() []string {
	d, fields := &draft{Scenario: s, here: &s.localWeather}, changeFields
	if s.climate != nil {
		fields = climateFields
	}
	var out []string
	for _, f := range fields {
		if f.number == nil || strings.HasPrefix(f.key, "storm_") || strings.HasPrefix(f.key, "correlation_") { // how storms are where there are any, and how sites go together
			continue
		}
		if usual, err := strconv.ParseFloat(f.missing, 64); err == nil && *f.number(d) != usual {
			out = append(out, f.key)
		}
	}
	return out
}

// Pair returns two scenarios as plans that live through the same seasons, or an error where
// they cannot: other weather, calendar, knowledge or sites.
func Pair(first, second *Scenario, seed uint64) (plans.Pair, error) {
	var p plans.Pair
	var err error
	if p.Differences, err = Differences(first, second); err != nil {
		return p, err
	}
	if p.First, err = first.Setup(seed); err != nil {
		return p, err
	}
	p.Second, err = second.Setup(seed)
	return p, err
}

// said returns what values of entries change, as With takes it, in the order of the form.
func (s *Scenario) said(values map[string]string) []string {
	var out []string
	for _, g := range s.Entries() {
		for _, e := range g.Entries {
			value, stated := values[e.Path]
			if value = strings.TrimSpace(value); !stated || value == e.Value {
				continue
			}
			group, key := g.Site, e.Key
			if group == "" {
				group, key, _ = strings.Cut(e.Path, ".")
				if slices.Contains(siteNames(s), group) { // there the site comes first
					out = append(out, e.Path+"="+value)
					continue
				}
			}
			out = append(out, group+": "+key+"="+value)
		}
	}
	return out
}
