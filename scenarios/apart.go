package scenarios

import (
	"fmt"
	"math"
	"slices"

	"drystalk/sim/weather"
	"drystalk/tongue"
)

// Groups returns for each site the number of its group, from 0: sites that state the same weather
// and lie within 10 km of one another, directly or through others, share its days. Without
// coordinates all of them do.
func (s *Scenario) Groups() []int {
	group := make([]int, len(s.at))
	weathers := s.weathersOfSites()
	for i := range group {
		group[i] = i
	}
	for changed := true; changed; {
		changed = false
		for i := range s.at {
			for j := range s.at {
				if weathers[i] == weathers[j] && s.near(i, j) && group[j] > group[i] {
					group[j], changed = group[i], true
				}
			}
		}
	}
	number := map[int]int{}
	for i, g := range group {
		if _, seen := number[g]; !seen {
			number[g] = len(number)
		}
		group[i] = number[g]
	}
	return group
}

func (s *Scenario) near(i, j int) bool {
	return !s.at[i].given || !s.at[j].given || s.distanceKm(i, j) <= weather.SharedWeatherKm
}

func (s *Scenario) distanceKm(i, j int) float64 {
	return weather.DistanceKm(s.at[i].latitudeDeg, s.at[i].longitudeDeg, s.at[j].latitudeDeg, s.at[j].longitudeDeg)
}

// apart checks that coordinates are given for all sites or none, and for all where rain goes by
// distance; then it reads how it does.
func (r *reader) apart(s *Scenario, root *node) {
	if len(r.faults) > 0 {
		return
	}
	given := 0
	for _, at := range s.at {
		if at.given {
			given++
		}
	}
	sites := root.get("sites")
	weathers, _ := s.living()
	switch {
	case len(weathers) > 1 && given < len(s.at):
		for i, at := range s.at {
			if !at.given {
				r.fault(sites.values[i].line, join("sites", s.Region.Sites[i].Name), tongue.Say("no coordinates"), tongue.Say("latitude_deg and longitude_deg at every site: sites have weathers of their own, and rain goes together by distance"))
			}
		}
		return
	case given > 0 && given < len(s.at):
		r.fault(sites.line, "sites", tongue.Plainf("coordinates of %d of %d sites", given, len(s.at)), tongue.Say("coordinates of all sites or of none"))
		return
	}
	r.correlation(s, root.get("weather"))
}

// correlation reads how rain goes together at a distance, where that is needed or stated. With a
// climate file it has been read with its other keys.
func (r *reader) correlation(s *Scenario, n *node) {
	if s.climate != nil {
		return
	}
	s.correlated = len(s.firstOfGroups()) > 1 || slices.ContainsFunc(apartFields, func(f field) bool { return n.get(f.key) != nil })
	if s.correlated {
		r.fields(&draft{Scenario: s}, n, "weather", apartFields, n.keys...)
	}
}

// firstOfGroups returns the site that stands for each group.
func (s *Scenario) firstOfGroups() (first []int) {
	for i, g := range s.Groups() {
		if g == len(first) {
			first = append(first, i)
		}
	}
	return first
}

// leastApart is by how much two weathers at one place still differ: with the very same numbers
// behind both, no more could be drawn.
const leastApart = 0.001

// correlations returns the correlations of the normal numbers behind the rain of groups of sites,
// row by row, from the distances of the sites that stand for them.
func (s *Scenario) correlations(first []int) [][]float64 {
	nearby := s.nearby
	out := make([][]float64, len(first))
	for i, a := range first {
		out[i] = make([]float64, len(first))
		for _, b := range first[:i] {
			if s.distanceKm(a, b) < weather.SharedWeatherKm { // two weathers that meet
				nearby = min(nearby, 1-leastApart)
			}
		}
	}
	for i, a := range first {
		out[i][i] = 1
		for j, b := range first[:i] {
			out[i][j] = nearby * math.Exp(-s.distanceKm(a, b)/s.lengthKm)
			out[j][i] = out[i][j]
		}
	}
	return out
}

// Field builds the weather of groups of sites that lie apart or have weathers of their own, with
// the generator of each and correlation by distance; nil where all sites share one weather.
func (s *Scenario) Field() (weather.FieldSource, error) {
	first := s.firstOfGroups()
	if len(first) < 2 {
		return nil, nil
	}
	sources := make([]weather.Source, len(first))
	for i, site := range first {
		source, err := s.weatherOf(site).source()
		if err != nil {
			return nil, fmt.Errorf("%s: %w", s.Name, err)
		}
		sources[i] = source
	}
	correlation := s.correlations(first)
	f, err := weather.NewField(sources, correlation, correlation)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", s.Name, err)
	}
	return f, nil
}

// coordinates returns latitude and longitude of each site, nil where they are not given for all.
func (s *Scenario) coordinates() (out [][2]float64) {
	for _, at := range s.at {
		if !at.given {
			return nil
		}
		out = append(out, [2]float64{at.latitudeDeg, at.longitudeDeg})
	}
	return out
}
