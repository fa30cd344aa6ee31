package sim

import (
	"slices"

	"drystalk/sim/air"
	"drystalk/sim/charge"
	"drystalk/sim/stalk"
)

// wetWoodWeekMM is the rain of a week that wets wood lying outside, mm. Assumption.
const wetWoodWeekMM = 50

// woodFires is the cabinet lit on each day with the wood of the regions that have cabinets of one
// size and keep their wood alike: as dry as ever, or as wet as stated after a week of rain.
type woodFires struct {
	of       fireKey
	dry, wet *charge.Cabinet
	days     []charge.Fire // by day: lit in the mean air of the working day
}

// fireKey is what the fires of a region's dryers go by, besides the parameters of the season.
type fireKey struct {
	wetWood           stalk.WetBasis
	fire, steel, wall float64 // size
}

func fireKeyOf(d *Dryer) fireKey { return fireKey{d.WetWood, d.FireSize, d.SteelSize, d.WallSize} }

// prepareFires lights the cabinet of every day with the wood of each region.
func (s *Season) prepareFires(hours []air.Hour, regions []*Region) {
	s.fires = s.fires[:0]
	for _, r := range regions {
		key := fireKeyOf(&r.Dryer)
		if slices.ContainsFunc(s.fires, func(f woodFires) bool { return f.of == key }) {
			continue
		}
		n := len(s.fires)
		s.fires = slices.Grow(s.fires, 1)[:n+1] // keeps the memory of an earlier season
		f := &s.fires[n]
		dry := r.Dryer.Cabinet(s.Parameters.Cabinet)
		wet := dry
		wet.WoodMoisture = max(wet.WoodMoisture, key.wetWood)
		f.of, f.dry, f.wet, f.days = key, &dry, &wet, f.days[:0]
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
	return f.dry
}
