package sim

import (
	"slices"

	"drystalk/sim/air"
	"drystalk/sim/charge"
	"drystalk/sim/stalk"
	"drystalk/sim/weather"
)

// place is where a batch lies.
type place int

const (
	clearRack place = iota
	openRack
	solidRack
	heap
	sheeted // an open rack whose sheets are pulled over when it rains
	places
)

// Season is what all sites of a region share in one season: its weather hour
// by hour, one draw of the parameters, and how good each site's cutting days
// are. It is built once and read by every site and every compared plan.
type Season struct {
	Number     int
	Parameters Parameters
	Days       []weather.Day
	Output     [][]float64   // by site and day: factor on the site's output, luck only
	Sheets     [][]bool      // by site and day: sheets are not pulled in time; nil where none are missed
	Dryers     [][]DryerLuck // by site and dryer; nil where nothing troubles them

	air     []air.Hour
	hours   [places][]stalk.Hour
	stores  []stalk.StillAir // by day: 24 h mean of outside air
	onset   int              // day on which the rains set in; after the last day if they do not
	wetWood charge.Cabinet   // the cabinet fired with wet wood
	fires   []charge.Fire    // by day: a cabinet lit in the mean air of the working day
}

// DryerLuck is what happens to one dryer in a season.
type DryerLuck struct {
	Out     bool      // all season
	FailsAt []float64 // firing hours at which it breaks, from the start of the season
	RepairH []float64 // hours of each repair
}

// Prepare fills the season's tables from its days, hours and parameters, and
// reuses the memory of an earlier season. Only the covers that a site of one of the
// regions has are tabulated.
func (s *Season) Prepare(hours []air.Hour, regions ...*Region) {
	p := &s.Parameters
	s.air = hours
	covers := [places]stalk.Cover{
		clearRack: stalk.ClearRoof(p.ClearRoofSunFactor),
		openRack:  stalk.OpenRack(),
		solidRack: stalk.SolidRoof(p.SolidRoofSunFactor, p.SolidRoofAirFactor),
		heap:      stalk.Heap(),
		sheeted:   stalk.OpenRack(),
	}
	for at := range covers {
		s.hours[at] = s.hours[at][:0]
		if !slices.ContainsFunc(regions, func(r *Region) bool { return r.uses(place(at)) }) {
			continue
		}
		for i := range hours {
			cover := covers[at]
			if place(at) == sheeted && (hours[i].RainMM > 0 || (i > 0 && hours[i-1].RainMM > 0)) {
				cover = stalk.Sheet()
			}
			s.hours[at] = append(s.hours[at], stalk.NewHour(&hours[i], cover, &p.Stalk))
		}
	}
	s.stores, s.fires = s.stores[:0], s.fires[:0]
	s.onset = onsetOf(s.Days)
	s.wetWood = s.Parameters.Cabinet
	s.wetWood.WoodMoisture = max(s.wetWood.WoodMoisture, regions[0].Dryer.WetWood)
	for d := 0; d < len(hours)/24; d++ {
		tempC, humidity := meanAir(hours[24*d : 24*d+24])
		s.stores = append(s.stores, stalk.NewStillAir(tempC, humidity, &p.Stalk))
		s.fires = append(s.fires, s.cabinetOn(d, regions[0]).Light(ambient(hours[24*d+morningH:24*d+collectionH])))
	}
}

// Rain that marks the onset and that wets wood lying outside: of a week, mm. Assumptions.
const (
	onsetWeekMM   = 60
	wetWoodWeekMM = 50
)

// weekMM returns the rain of the seven days up to day d, mm.
func weekMM(days []weather.Day, d int) float64 {
	sum := 0.0
	for i := max(0, d-6); i <= d; i++ {
		sum += days[i].RainMM
	}
	return sum
}

// onsetOf returns the first day with a wet week before it.
func onsetOf(days []weather.Day) int {
	for d := range days {
		if weekMM(days, d) >= onsetWeekMM {
			return d
		}
	}
	return len(days)
}

// planting tells whether day d lies in the planting after the onset.
func (s *Season) planting(r *Region, d int) bool {
	p := &r.People.Planting
	from := s.onset + p.AfterOnsetDays
	return p.Days > 0 && d >= from && d < from+p.Days
}

// cabinetOn returns the cabinet with the wood of day d.
func (s *Season) cabinetOn(d int, r *Region) *charge.Cabinet {
	if r.Dryer.WetWood > 0 && weekMM(s.Days, d) >= wetWoodWeekMM {
		return &s.wetWood
	}
	return &s.Parameters.Cabinet
}

// uses tells whether any site of the region has the place.
func (r *Region) uses(at place) bool {
	if at == heap {
		return true
	}
	for i := range r.Sites {
		if r.Sites[i].areaM2(at) > 0 || (at == sheeted && r.Sites[i].Sheets) {
			return true
		}
	}
	return false
}

// ambient returns the mean air around a cabinet over some hours.
func ambient(hours []air.Hour) charge.Ambient {
	var a charge.Ambient
	for i := range hours {
		a.TempC += hours[i].TempC / float64(len(hours))
		a.VapourKPa += hours[i].VapourKPa / float64(len(hours))
	}
	return a
}

// meanAir returns the mean temperature, °C, and humidity, fraction, of hours.
func meanAir(hours []air.Hour) (tempC, humidity float64) {
	for i := range hours {
		tempC += hours[i].TempC
		humidity += hours[i].Humidity
	}
	n := float64(len(hours))
	return tempC / n, humidity / n
}
