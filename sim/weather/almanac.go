package weather

import (
	"math"
	"math/rand/v2"

	"drystalk/sim/air"
)

// Almanac is what the calendar alone makes of the days of a season at a place, whatever their weather:
// the sun of each hour and how far the air is on its way between the day's lowest and highest
// temperature. Its days are worked out when they are first asked for, once for all seasons; it is not
// safe for concurrent use.
type Almanac struct {
	startDOY      int
	place         Place
	psychrometric float64 // kPa/°C
	days          []light
}

// light is a day of an almanac. Hours are taken at their middle.
type light struct {
	dayLengthH float64
	top        float64     // of the day, MJ/m²
	clearSky   float64     // of the day, MJ/m²
	atSunset   float64     // part of the way from the lowest to the highest temperature at sunset
	share      float64     // of the day that is light
	topHour    [24]float64 // MJ/m²
	way        [24]float64 // by day part of the way from the lowest to the highest, at night what is left of that from sunset to the next lowest
	part       [24]partOfDay
}

type partOfDay uint8

const (
	beforeSunrise partOfDay = iota
	byDay
	afterSunset
)

// NewAlmanac returns the almanac of a place for seasons that begin on a day of the year.
func NewAlmanac(startDOY int, place Place) *Almanac {
	return &Almanac{startDOY: startDOY, place: place, psychrometric: air.PsychrometricKPaPerC(air.PressureKPa(place.ElevationM))}
}

// light returns day d of the season.
func (a *Almanac) light(d int) *light {
	for len(a.days) <= d {
		a.days = append(a.days, lightOf((a.startDOY-1+len(a.days))%365+1, a.place))
	}
	return &a.days[d]
}

// lightOf returns a day of the year at a place.
func lightOf(doy int, place Place) light {
	l := light{dayLengthH: air.DayLengthH(place.LatitudeDeg, doy), top: air.ExtraterrestrialMJPerM2(place.LatitudeDeg, doy)}
	l.clearSky = air.ClearSkyMJPerM2(place.ElevationM, l.top)
	l.atSunset = math.Sin(math.Pi * l.dayLengthH / (l.dayLengthH + 2*tmaxLagH))
	l.share = l.dayLengthH / 24
	sun := air.SunOf(place.LatitudeDeg, doy)
	for h := range 24 {
		l.topHour[h] = sun.HourMJPerM2(float64(h))
		l.part[h], l.way[h] = l.wayAt(float64(h) + 0.5)
	}
	return l
}

// wayAt returns the part of the day at an hour of solar time, and how far temperature is then: a sine
// from sunrise, an exponential fall from sunset to the next lowest. Source: Parton & Logan 1981.
func (l *light) wayAt(atH float64) (partOfDay, float64) {
	rise, set := 12-l.dayLengthH/2, 12+l.dayLengthH/2
	night := 24 - l.dayLengthH
	switch {
	case atH < rise:
		return beforeSunrise, math.Exp(-nightCooling * ((atH + 24 - set) / night))
	case atH <= set:
		return byDay, math.Sin(math.Pi * (atH - rise) / (l.dayLengthH + 2*tmaxLagH))
	}
	return afterSunset, math.Exp(-nightCooling * ((atH - set) / night))
}

// HoursInto returns the air of every hour of the days of a season, in the memory of dst where it holds
// them. rng draws when and how long it rains, nothing else.
func (a *Almanac) HoursInto(dst []air.Hour, days []Day, rng *rand.Rand) []air.Hour {
	return a.hoursWith(dst, days, func(d int, rain *[24]float64) {
		drawRainHours(days[d].RainMM, a.place.Coast, rng, rain)
	})
}
