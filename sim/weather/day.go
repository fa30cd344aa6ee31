package weather

import "math/rand/v2"

// Day is the weather of one calendar day, rounded to station resolution.
type Day struct {
	RainMM      float64 // rain of the day, mm
	TmaxC       float64 // highest temperature, °C
	TminC       float64 // lowest temperature, °C
	SunFraction float64 // bright sunshine over day length, n/N, 0 to 1
	VapourKPa   float64 // mean vapour pressure, kPa
	WindMS      float64 // mean wind speed at 2 m, m/s
}

// Place is where the weather falls.
type Place struct {
	LatitudeDeg float64 // degrees, north positive
	ElevationM  float64 // m above sea level
	Coast       bool    // on a coast: FAO-56 eq. 50 uses 0.19 instead of 0.16
}

// Source draws the days of one season. The same rng state gives the same
// days; startDOY is 1 for 1 January in a 365-day year, and n days follow,
// running over New Year where the season does.
type Source interface {
	Days(startDOY, n int, rng *rand.Rand) []Day
}

// FieldSource draws the days of several places at once: one list for each.
type FieldSource interface {
	Days(startDOY, n int, rng *rand.Rand) [][]Day
}
