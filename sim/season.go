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
	Number      int
	Parameters  Parameters
	Days        []weather.Day
	Output      [][]float64   // by site and day: factor on the site's output, luck only
	Sheets      [][]bool      // by site and day: sheets are not pulled in time; nil where none are missed
	Nights      [][]bool      // by site and night from the evening of a day: nobody pulls the sheets; nil where none are missed
	Dryers      [][]DryerLuck // by site and dryer; nil where nothing troubles them
	Refused     []float64     // by site: factor on the share refused at the gate; nil for 1
	StatedShare float64       // good stalks accepted at the gate as stated, which the hub goes by until the first collection; 0: those of Parameters
	Hub         *Season       // the season whose air is at the hub, where sites lie apart; nil: this one

	air    []air.Hour
	covers *covers
	stores []storeAir
	onset  int // day on which the rains set in; after the last day if they do not
	fires  []*woodFires
}

// storeAir is the air of stores kept at one humidity, 0 for that of the outside air, by
// day: the 24 h mean.
type storeAir struct {
	humidity float64
	days     []stalk.StillAir
}

// prepareStores works out the air of the stores and hubs of all regions.
func (s *Season) prepareStores(regions []*Region) {
	s.stores = s.stores[:0]
	for _, r := range regions {
		s.prepareStore(r.Store.Humidity)
		s.prepareStore(r.Hub.Humidity)
	}
}

// prepareStore works out the air of stores kept at a humidity, if that was not done.
func (s *Season) prepareStore(h float64) {
	if slices.ContainsFunc(s.stores, func(a storeAir) bool { return a.humidity == h }) {
		return
	}
	n := len(s.stores)
	s.stores = slices.Grow(s.stores, 1)[:n+1] // keeps the memory of an earlier season
	a := &s.stores[n]
	a.humidity, a.days = h, a.days[:0]
	for d := 0; d < len(s.air)/24; d++ {
		tempC, humidity := meanAir(s.air[24*d : 24*d+24])
		if h > 0 {
			humidity = h
		}
		a.days = append(a.days, stalk.NewStillAir(tempC, humidity, &s.Parameters.Stalk))
	}
}

// DryerLuck is what happens to one dryer in a season.
type DryerLuck struct {
	Out     bool      // all season
	FailsAt []float64 // firing hours at which it breaks, from the start of the season
	RepairH []float64 // hours of each repair
}

// Prepare readies the season's tables from its days, hours and parameters, and
// reuses the memory of an earlier season. Only the covers that a site of one of the
// regions has are tabulated. The hours stay those of the season, to be read when somebody lives
// through them.
func (s *Season) Prepare(hours []air.Hour, regions ...*Region) {
	if s.covers == nil {
		s.covers = &covers{}
	}
	s.air = hours
	s.covers.prepare(hours, &s.Parameters, regions)
	s.prepareStores(regions)
	s.onset = onsetOf(s.Days)
	s.prepareFires(hours, regions)
}

// onsetWeekMM is the rain of a week that marks the onset, mm. Assumption.
const onsetWeekMM = 60

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

// presentShare returns the part of the cutters who are there on day d: not planting after
// the onset of the rains, and not away by the calendar.
func (s *Season) presentShare(r *Region, d int) float64 {
	share := 1.0
	p := &r.People.Planting
	if from := s.onset + p.AfterOnsetDays; d >= from && d < from+p.Days {
		share *= 1 - p.AwayFraction
	}
	for i := range r.People.Away {
		if a := &r.People.Away[i]; a.FirstDay <= d && d <= a.LastDay {
			share *= 1 - a.Fraction
		}
	}
	return share
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
