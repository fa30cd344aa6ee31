package scenarios

import (
	"cmp"
	"math"
	"slices"

	"drystalk/sim/plans"
	"drystalk/sim/weather"
	"drystalk/tongue"
)

// wetMonthMM is the rain from which a month counts as one of the rains: that from which wood costs
// what it costs in the rains.
const wetMonthMM = 100

// otherClimate is a station of the table beside the weather of a scenario.
type otherClimate struct {
	raw    weather.RawNormals
	months int     // that are wet in one of the two and not in the other
	apart  float64 // between the logarithms of their rain of a year
}

// Elsewhere returns the region in the climates of so many stations of the WMO table that are of the
// same kind as its own: those whose rainy months (100 mm and more) differ in the fewest months of the
// year, of equals those whose rain of a year is nearest. The station of the scenario itself is not
// among them. An error says why a region cannot be put elsewhere.
func (s *Scenario) Elsewhere(n int, seed uint64) ([]plans.Elsewhere, error) {
	if weathers, _ := s.living(); len(weathers) > 1 {
		return nil, tongue.Errorf("found sites with weathers of their own, allowed: a region in which all sites have one")
	}
	var out []plans.Elsewhere
	for _, c := range s.likeHere(n) {
		name, number := nameAndNumber(c.raw)
		if number == "" {
			number = name
		}
		there, err := s.movedTo(number)
		if err != nil {
			return nil, err
		}
		of, err := there.Setup(seed)
		if err != nil {
			return nil, err
		}
		out = append(out, plans.Elsewhere{Station: c.raw.Station, OtherMonths: c.months, RainMM: yearlyRain(of.Normals.Months), Setup: of.Setup})
	}
	return out, nil
}

// likeHere returns the stations whose climates are most like that of the scenario.
func (s *Scenario) likeHere(n int) []otherClimate {
	here := s.weatherOf(0).Normals
	var all []otherClimate
	for _, raw := range table() {
		there, err := weather.FillNormals(raw)
		if err != nil || raw.Station == here.Station {
			continue
		}
		c := otherClimate{raw: raw, apart: math.Abs(math.Log(yearlyRain(there.Months) / yearlyRain(here.Months)))}
		for m := range here.Months {
			if (here.Months[m].RainMM >= wetMonthMM) != (there.Months[m].RainMM >= wetMonthMM) {
				c.months++
			}
		}
		all = append(all, c)
	}
	slices.SortStableFunc(all, func(a, b otherClimate) int {
		return cmp.Or(cmp.Compare(a.months, b.months), cmp.Compare(a.apart, b.apart))
	})
	return all[:min(n, len(all))]
}

func yearlyRain(months [12]weather.MonthNormal) float64 {
	sum := 0.0
	for _, m := range months {
		sum += m.RainMM
	}
	return sum
}

// movedTo returns the scenario with the weather of a station of the table, its own changes of the
// climate left out.
func (s *Scenario) movedTo(station string) (*Scenario, error) {
	root := s.tree()
	w := &node{kind: mapping}
	w.add("wmo_station", quote(station))
	*root.get("weather") = *w
	r := &reader{file: s.Name, open: s.reopen}
	return r.build(s.Name, root)
}
