package sim

import "math"

// Cardinal temperatures of growth, °C: nothing at and below the first, most at the second,
// nothing at and above the third, straight lines between. Shape: Wilson, Holst & Rees 2005;
// values: published range, optimum 28 to 30 °C.
const (
	growsFromC = 10
	growsBestC = 29
	growsToC   = 40
)

// growthResponse returns the part of the best growth at a temperature, °C.
func growthResponse(tempC float64) float64 {
	switch {
	case tempC <= growsFromC || tempC >= growsToC:
		return 0
	case tempC <= growsBestC:
		return (tempC - growsFromC) / (growsBestC - growsFromC)
	}
	return (growsToC - tempC) / (growsToC - growsBestC)
}

// GrownKgM2 returns the fresh mass of a mat, kg/m², that held kgM2 some days ago, at the
// given growth, 1/day, response 0 to 1, and capacity, kg/m²: the closed form of the
// logistic between cuts.
func GrownKgM2(kgM2, growthPerDay, response, capacity, days float64) float64 {
	if !(kgM2 > 0) {
		return 0
	}
	return capacity / (1 + (capacity/kgM2-1)*math.Exp(-growthPerDay*response*days))
}

// growStand lets the stand grow through the last day and takes off what was cut and what a
// wet spell flushed away. It returns the part of the output that the stand still gives:
// where little is left, cutters walk further. Without a stated stand there is always enough.
func (y *siteSeason) growStand(d int) float64 {
	stand := &y.region.Stand
	if !(y.site.StandM2 > 0) {
		return 1
	}
	if d > 0 {
		day := &y.season.Days[d-1]
		y.standKgM2 = GrownKgM2(y.standKgM2, stand.GrowthPerDay, growthResponse((day.TmaxC+day.TminC)/2), stand.CapacityKgM2, 1)
		y.standKgM2 = max(0, y.standKgM2-float64(y.cutYesterday)*stand.KgPerStalk/y.site.StandM2)
		if y.season.flushes(d-1, stand.FlushAboveMM) {
			y.standKgM2 *= 1 - stand.FlushedFraction
		}
		for i := range y.site.Closed {
			if c := &y.site.Closed[i]; c.FirstDay == d {
				y.standKgM2 *= 1 - c.Removed
			}
		}
	}
	return y.standKgM2 / (y.standKgM2 + stand.ThinAtKgM2)
}

// closed tells whether the stand of the site must not be cut on day d.
func (y *siteSeason) closed(d int) bool {
	for i := range y.site.Closed {
		if c := &y.site.Closed[i]; c.FirstDay <= d && d <= c.LastDay {
			return true
		}
	}
	return false
}

// flushedWithin tells whether a wet spell that flushes mats began within the last days.
func (s *Season) flushedWithin(d, days int, limitMM float64) bool {
	if !(limitMM > 0) {
		return false
	}
	for i := max(0, d-days+1); i <= d; i++ {
		if s.flushes(i, limitMM) {
			return true
		}
	}
	return false
}

// flushes tells whether day d is the first of a wet spell that flushes mats away: three
// days with more rain than the limit, mm; 0 for none.
func (s *Season) flushes(d int, limitMM float64) bool {
	return limitMM > 0 && s.threeDaysMM(d) > limitMM && (d == 0 || s.threeDaysMM(d-1) <= limitMM)
}

// threeDaysMM returns the rain of the three days up to day d, mm.
func (s *Season) threeDaysMM(d int) (mm float64) {
	for i := max(0, d-2); i <= d; i++ {
		mm += s.Days[i].RainMM
	}
	return mm
}
