package sim

import (
	"slices"
	"sync"
	"sync/atomic"

	"drystalk/sim/air"
	"drystalk/sim/charge"
	"drystalk/sim/stalk"
	"drystalk/sim/weather"
)

// wetWoodWeekMM is the rain of a week that wets wood lying outside, mm. Assumption.
const wetWoodWeekMM = 50

// woodFires is the cabinet lit on each day with the wood of the regions that have cabinets of one
// size and keep their wood alike: as dry as ever, or as wet as stated after a week of rain. A day is
// worked out when somebody first thinks of a fire on it; several runners may do so at the same time.
type woodFires struct {
	of       fireKey
	dry, wet charge.Cabinet
	weather  []weather.Day
	air      []air.Hour

	mutex sync.Mutex
	lit   []atomic.Bool // by day
	fires []charge.Fire // by day: lit in the mean air of the working day
}

// days returns for how many days there are fires; of none where there is no such list.
func (f *woodFires) days() int {
	if f == nil {
		return 0
	}
	return len(f.fires)
}

// on returns the cabinet lit on a day.
func (f *woodFires) on(d int) *charge.Fire {
	if !f.lit[d].Load() {
		f.light(d)
	}
	return &f.fires[d]
}

func (f *woodFires) light(d int) {
	f.mutex.Lock()
	defer f.mutex.Unlock()
	if !f.lit[d].Load() {
		f.fires[d].Relight(f.cabinetOn(d), ambient(f.air[24*d+morningH:24*d+collectionH]))
		f.lit[d].Store(true)
	}
}

// cabinetOn returns the cabinet with the wood of day d.
func (f *woodFires) cabinetOn(d int) *charge.Cabinet {
	if weekMM(f.weather, d) >= wetWoodWeekMM {
		return &f.wet
	}
	return &f.dry
}

// fireKey is what the fires of a region's dryers go by, besides the parameters of the season.
type fireKey struct {
	wetWood           stalk.WetBasis
	fire, steel, wall float64 // size
}

func fireKeyOf(d *Dryer) fireKey { return fireKey{d.WetWood, d.FireSize, d.SteelSize, d.WallSize} }

// prepareFires readies the fires with the wood of each region.
func (s *Season) prepareFires(hours []air.Hour, regions []*Region) {
	s.fires = s.fires[:0]
	for _, r := range regions {
		key := fireKeyOf(&r.Dryer)
		if slices.ContainsFunc(s.fires, func(f *woodFires) bool { return f.of == key }) {
			continue
		}
		n := len(s.fires)
		s.fires = slices.Grow(s.fires, 1)[:n+1] // keeps the memory of an earlier season
		if s.fires[n] == nil {
			s.fires[n] = &woodFires{}
		}
		f := s.fires[n]
		f.of, f.weather, f.air = key, s.Days, hours
		f.dry = r.Dryer.Cabinet(s.Parameters.Cabinet)
		f.wet = f.dry
		f.wet.WoodMoisture = max(f.wet.WoodMoisture, key.wetWood)
		days := len(hours) / 24
		f.fires, f.lit = slices.Grow(f.fires[:0], days)[:days], unknown(f.lit, days)
	}
}

// unknown returns notes, in the memory of earlier ones, that nothing is known yet of so many days.
func unknown(notes []atomic.Bool, days int) []atomic.Bool {
	notes = slices.Grow(notes[:0], days)[:days]
	for d := range notes {
		notes[d].Store(false)
	}
	return notes
}
