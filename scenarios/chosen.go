package scenarios

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"drystalk/sim/weather"
)

// StationChoice is a station of the table of WMO normals to choose from.
type StationChoice struct {
	Key     string // by which a scenario names it: its number, or its name where it has none
	Name    string
	Country string
}

// StationChoices lists the stations of the table of WMO normals 1991-2020 by country and name.
func StationChoices() []StationChoice {
	var out []StationChoice
	for _, raw := range table() {
		name, number := nameAndNumber(raw)
		out = append(out, StationChoice{cmp.Or(number, name), strings.ReplaceAll(name, "_", " "), raw.Country})
	}
	slices.SortFunc(out, func(a, b StationChoice) int { return strings.Compare(a.Country+"\n"+a.Name, b.Country+"\n"+b.Name) })
	return out
}

// AtStation returns the scenario as a file of some name that takes the weather of the region from a
// station of the table. What else it states stays, changes of temperature and humidity too; sites with
// a weather of their own keep it. An error is what is wrong with such a file, as Faults.
func (s *Scenario) AtStation(file, station string) (*Scenario, error) {
	w := &node{kind: mapping}
	w.add("wmo_station", quote(station))
	return s.inWeather(file, w, s.reopen)
}

// InClimate is AtStation with the weather of a climate file that lies beside.
func (s *Scenario) InClimate(file, climate string, data []byte) (*Scenario, error) {
	w := &node{kind: mapping}
	w.add("climate_file", quote(climate))
	return s.inWeather(file, w, func(name string) ([]byte, error) {
		if name == climate {
			return data, nil
		}
		return s.reopen(name)
	})
}

// inWeather writes the scenario with another weather of the region, and reads it as a file of some
// name.
func (s *Scenario) inWeather(file string, w *node, open func(string) ([]byte, error)) (*Scenario, error) {
	w.table(&draft{Scenario: s}, changeFields)
	if s.correlated {
		w.table(&draft{Scenario: s}, apartFields)
	}
	root := s.tree()
	*root.get("weather") = *w
	var b strings.Builder
	root.block(&b, 0)
	there, err := ReadWith(file, []byte(b.String()), open)
	if err != nil {
		return nil, err
	}
	return ReadWith(file, there.Write(), open) // as whoever takes the file away reads it: all is stated
}

// ChosenWeather says where the weather of the region comes from: the key of a station of the table, or
// a climate file; "" and nil where the file states monthly normals.
func (s *Scenario) ChosenWeather() (station string, climate *weather.Climate, data []byte) {
	if s.climate != nil {
		return "", s.climate, s.climateData
	}
	for _, raw := range table() {
		if name, number := nameAndNumber(raw); s.station != "" && name == s.station {
			return cmp.Or(number, name), nil, nil
		}
	}
	return "", nil, nil
}

// Beside is a file that a scenario names.
type Beside struct {
	Name string
	Data []byte
}

// WriteBeside is Write for a file that lies beside others: its climate files are named by a stem,
// stem.climate.yaml, stem.climate-2.yaml and so on, and are returned with it.
func (s *Scenario) WriteBeside(stem string) (scenario []byte, beside []Beside) {
	out := *s
	out.elsewhere = slices.Clone(s.elsewhere)
	renamed := map[string]string{}
	for _, w := range out.all() {
		if w.climate == nil {
			continue
		}
		if renamed[w.climateName] == "" {
			name := stem + ".climate.yaml"
			if n := len(renamed); n > 0 {
				name = fmt.Sprintf("%s.climate-%d.yaml", stem, n+1)
			}
			renamed[w.climateName] = name
			beside = append(beside, Beside{name, w.climateData})
		}
		w.climateName = renamed[w.climateName]
	}
	return out.Write(), beside
}

// Climates returns the climate files that the scenario names, each once.
func (s *Scenario) Climates() (out []Beside) {
	for _, w := range s.all() {
		if w.climate != nil && !slices.ContainsFunc(out, func(b Beside) bool { return b.Name == w.climateName }) {
			out = append(out, Beside{w.climateName, w.climateData})
		}
	}
	return out
}

// AsWritten returns a climate as its file says it, rounded as it is there.
func AsWritten(c weather.Climate) (weather.Climate, error) {
	return ReadClimate("climate.yaml", WriteClimate(c))
}

// ContractMonths returns the months in which the contract asks for stalks, 1 to 12.
func (s *Scenario) ContractMonths() (months []int) {
	for month, asked := range s.Region.Contract.StalksByMonth {
		if asked > 0 {
			months = append(months, int(month))
		}
	}
	slices.Sort(months)
	return months
}

// WeatherOfRegion says in short where the weather of the region comes from.
func (s *Scenario) WeatherOfRegion() string { return s.words() }

// HasOwnWeathers tells whether sites have weathers of their own.
func (s *Scenario) HasOwnWeathers() bool {
	return slices.ContainsFunc(s.weatherFrom, func(from int) bool { return from > 0 })
}
