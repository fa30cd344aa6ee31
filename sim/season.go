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

	air    []air.Hour
	hours  [places][]stalk.Hour
	stores []stalk.StillAir // by day: 24 h mean of outside air
	fires  []charge.Fire    // by day: a cabinet lit in the mean air of the working day
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
	for d := 0; d < len(hours)/24; d++ {
		tempC, humidity := meanAir(hours[24*d : 24*d+24])
		s.stores = append(s.stores, stalk.NewStillAir(tempC, humidity, &p.Stalk))
		s.fires = append(s.fires, p.Cabinet.Light(ambient(hours[24*d+morningH:24*d+collectionH])))
	}
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
