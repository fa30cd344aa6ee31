package scenarios

import (
	"fmt"

	"drystalk/sim/weather"
)

// Groups returns for each site the number of its group, from 0: sites within 10 km of one
// another, directly or through others, share one weather. Without coordinates all sites
// are one group.
func (s *Scenario) Groups() []int {
	group := make([]int, len(s.at))
	for i := range group {
		group[i] = i
	}
	for changed := true; changed; {
		changed = false
		for i := range s.at {
			for j := range s.at {
				if s.near(i, j) && group[j] > group[i] {
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

// apart checks that coordinates are given for all sites or none, and that a weather for
// several places can be drawn.
func (r *reader) apart(s *Scenario, root *node) {
	given := 0
	for _, at := range s.at {
		if at.given {
			given++
		}
	}
	if given == 0 || len(r.faults) > 0 {
		return
	}
	line := root.get("sites").line
	if given < len(s.at) {
		r.fault(line, "sites", fmt.Sprintf("coordinates of %d of %d sites", given, len(s.at)), "coordinates of all sites or of none")
		return
	}
	groups := s.Groups()
	for _, g := range groups {
		if g > 0 && s.climate == nil {
			r.fault(line, "sites", fmt.Sprintf("sites more than %d km apart", weather.SharedWeatherKm), "with weather: climate_file, or without coordinates for one shared weather")
			return
		}
	}
}

// Field builds the weather of groups of sites that lie apart, from the fitted climate at
// each and correlation by distance; nil where all sites share one weather.
func (s *Scenario) Field() (weather.FieldSource, error) {
	groups := s.Groups()
	first := []int{} // site that stands for its group
	for i, g := range groups {
		if g == len(first) {
			first = append(first, i)
		}
	}
	if len(first) < 2 {
		return nil, nil
	}
	sources := make([]weather.Source, len(first))
	correlation := make([][]float64, len(first))
	for i := range first {
		source, err := s.Source()
		if err != nil {
			return nil, fmt.Errorf("%s: %w", s.Name, err)
		}
		sources[i] = source
		correlation[i] = make([]float64, len(first))
		for j := range first {
			correlation[i][j] = weather.CorrelationAt(s.distanceKm(first[i], first[j]), s.nearby, s.lengthKm)
		}
	}
	f, err := weather.NewField(sources, correlation, correlation)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", s.Name, err)
	}
	return f, nil
}
