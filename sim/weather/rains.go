package weather

import "sync"

// Moist is a source of days that can make its rains more or less humid than its normals say. All
// sources of this package are; a source that is not leaves its days as they are.
type Moist interface {
	// Moisten changes the vapour pressure of days from startDOY on so that the relative humidity of
	// the rains changes by points, hundredths.
	Moisten(days []Day, startDOY int, points float64)
}

// rains is what points of humidity do in the months of a climate.
type rains [12]struct {
	hours     *humidHours
	vapourKPa float64
	share     float64 // of the points that the month takes: how much it belongs to the rains
}

// newRains prepares the months of normals.
func newRains(n *Normals) *rains {
	var r rains
	var wg sync.WaitGroup
	for m, x := range n.Months {
		r[m].vapourKPa, r[m].share = x.VapourKPa, rainy(x.RainDays/monthLength[m])
		wg.Go(func() { r[m].hours = n.humidHours(m) }) // each draws from a stream of its own
	}
	wg.Wait()
	return &r
}

// moistRoomC is how far above its lowest temperature a moistened day may be saturated, °C. Assumption.
const moistRoomC = 2

// rainy returns how much a month belongs to the rains, from 0 with a share of rain days of 0.05 or
// less to 1 from 0.5 on.
func rainy(share float64) float64 { return max(0, min(1, (share-0.05)/0.45)) }

// moisten changes days so that the hours of a month in the rains are more humid by points, those
// of a month half in the rains by half of them. Days hold no more than saturation two degrees
// above their lowest temperature: a degree more than days drawn, so that the points find room where
// nights are near saturation already.
func (r *rains) moisten(days []Day, startDOY int, points float64) {
	if points == 0 {
		return
	}
	var more [12]float64
	for m := range r {
		x := &r[m]
		before := x.hours.humidity(x.vapourKPa)
		if x.share > 0 {
			more[m] = x.hours.vapourKPa(max(leastHumidity, min(1, before+x.share*points/100))) - x.vapourKPa
		}
	}
	curve := between(more)
	for i := range days {
		day := &days[i]
		vapour := max(leastHumidity*saturationAt(day.TmaxC), day.VapourKPa+curve[(startDOY-1+i)%365])
		day.VapourKPa = min(vapour, max(day.VapourKPa, saturationAt(day.TminC+moistRoomC)))
	}
}

// Moisten implements [Moist].
func (s *NormalsSource) Moisten(days []Day, startDOY int, points float64) {
	s.rains.moisten(days, startDOY, points)
}

// Moisten implements [Moist].
func (s *ClimateSource) Moisten(days []Day, startDOY int, points float64) {
	s.rest.Moisten(days, startDOY, points)
}

// Moisten implements [Moist]: what was recorded is as doubtful as normals are.
func (s *RealYears) Moisten(days []Day, startDOY int, points float64) {
	s.rest.Moisten(days, startDOY, points)
}

// Moisten changes the days of each station as [Moist] does.
func (f *Field) Moisten(days [][]Day, startDOY int, points float64) {
	for i := range days {
		f.sources[i].Moisten(days[i], startDOY, points)
	}
}
