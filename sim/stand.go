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
		if y.flushes(d - 1) {
			y.standKgM2 *= 1 - stand.FlushedFraction
		}
	}
	return y.standKgM2 / (y.standKgM2 + stand.ThinAtKgM2)
}

// flushes tells whether day d is the first of a wet spell that flushes mats away.
func (y *siteSeason) flushes(d int) bool {
	limit := y.region.Stand.FlushAboveMM
	sum := func(d int) (mm float64) {
		for i := max(0, d-2); i <= d; i++ {
			mm += y.season.Days[i].RainMM
		}
		return mm
	}
	return limit > 0 && sum(d) > limit && (d == 0 || sum(d-1) <= limit)
}
