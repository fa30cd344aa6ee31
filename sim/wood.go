package sim

import (
	"slices"

	"drystalk/sim/air"
	"drystalk/sim/charge"
	"drystalk/sim/stalk"
)

// wetWoodWeekMM is the rain of a week that wets wood lying outside, mm. Assumption.
const wetWoodWeekMM = 50

// woodFires is the cabinet lit on each day with the wood of the regions that keep theirs
// alike: as dry as ever, or as wet as stated after a week of rain.
type woodFires struct {
	wetWood stalk.WetBasis // as Dryer.WetWood says
	wet     *charge.Cabinet
	days    []charge.Fire // by day: lit in the mean air of the working day
}

// prepareFires lights the cabinet of every day with the wood of each region.
func (s *Season) prepareFires(hours []air.Hour, regions []*Region) {
	s.fires = s.fires[:0]
	for _, r := range regions {
		w := r.Dryer.WetWood
		if slices.ContainsFunc(s.fires, func(f woodFires) bool { return f.wetWood == w }) {
			continue
		}
		n := len(s.fires)
		s.fires = slices.Grow(s.fires, 1)[:n+1] // keeps the memory of an earlier season
		f := &s.fires[n]
		wet := s.Parameters.Cabinet
		wet.WoodMoisture = max(wet.WoodMoisture, w)
		f.wetWood, f.wet, f.days = w, &wet, f.days[:0]
		for d := 0; d < len(hours)/24; d++ {
			f.days = append(f.days, s.cabinetOn(d, f).Light(ambient(hours[24*d+morningH:24*d+collectionH])))
		}
	}
}

// cabinetOn returns the cabinet with the wood of day d.
func (s *Season) cabinetOn(d int, f *woodFires) *charge.Cabinet {
	if weekMM(s.Days, d) >= wetWoodWeekMM {
		return f.wet
	}
	return &s.Parameters.Cabinet
}
