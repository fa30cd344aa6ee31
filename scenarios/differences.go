package scenarios

import (
	"maps"
	"slices"
	"strings"

	"drystalk/sim/plans"
	"drystalk/tongue"
)

// outside are the sections that are no part of a plan.
var outside = []string{"invented", "currency", "numbers_as_in", "contract", "luck", "trouble", "stand", "money"}

// outsideKeys are keys of other sections that are none either: who is paid, for what.
var outsideKeys = []string{"people.cutters_are", "people.pay_for", "people.worth_of_hour"}

// refused are the sections that must be the same for two plans to live through the same
// seasons.
var refused = []string{"season", "weather", "weathers", "knowledge"}

// ofWeather tells whether a key of a site says what weather it has: its coordinates do where rain
// goes by distance.
func (s *Scenario) ofWeather(key string) bool {
	for _, name := range siteNames(s) {
		of, ok := strings.CutPrefix(key, "sites."+name+".")
		switch {
		case !ok:
		case of == "weather" || strings.HasPrefix(of, "weather."):
			return true
		case slices.Contains(keysOf(coordinateFields), of):
			return len(s.firstOfGroups()) > 1
		}
	}
	return false
}

// Differences returns the keys in which two scenarios differ, or an error where they cannot
// live through the same seasons: other weather, calendar, knowledge or sites.
func Differences(a, b *Scenario) ([]plans.Difference, error) {
	x, y := a.flat(), b.flat()
	if s, t := siteNames(a), siteNames(b); !slices.Equal(s, t) {
		return nil, tongue.Errorf("%s and %s cannot be compared: the sites are %s in the one and %s in the other; both need the same sites in the same order",
			a.Name, b.Name, strings.Join(s, ", "), strings.Join(t, ", "))
	}
	either := maps.Clone(x)
	maps.Copy(either, y)
	var out []plans.Difference
	for _, k := range slices.Sorted(maps.Keys(either)) {
		if x[k] == y[k] || k == "region" {
			continue
		}
		section, _, _ := strings.Cut(k, ".")
		if slices.Contains(refused, section) || a.ofWeather(k) || b.ofWeather(k) {
			return nil, tongue.Errorf("%s and %s cannot be compared in the same seasons: %s is %s in the one and %s in the other",
				a.Name, b.Name, k, orNothing(x[k]), orNothing(y[k]))
		}
		plan := !slices.Contains(outside, section) && !slices.Contains(outsideKeys, k) && !strings.HasSuffix(k, ".max_dryers") && !strings.HasSuffix(k, ".stand_m2") && !strings.HasSuffix(k, ".closed")
		out = append(out, plans.Difference{Key: k, A: x[k], B: y[k], Plan: plan})
	}
	return out, nil
}

func orNothing(s string) string {
	if s == "" {
		return tongue.Say("not stated")
	}
	return s
}

func siteNames(s *Scenario) []string {
	var out []string
	for i := range s.Region.Sites {
		out = append(out, s.Region.Sites[i].Name)
	}
	return out
}
