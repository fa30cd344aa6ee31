package weather

import (
	"math"
	"math/rand/v2"
	"slices"

	"drystalk/sim/air"
)

// Constants of the course of a day. Sources: Parton & Logan 1981 (temperature,
// with the lag of the maximum and the night coefficient); rain hours, wind and wet
// air are own fits and assumptions.
const (
	tmaxLagH      = 1.0
	nightCooling  = 2.2
	wetHumidity   = 0.92 // at least, in rain hours and wetAfterH later
	wetAfterH     = 2
	wetFromMM     = 0.2 // rain of an hour that makes it a rain hour
	rainsDownToC  = 0.0 // colder than that rain does not make the air
	windDayNight  = 1.6
	leastHumidity = 0.15
)

// HoursInto returns the air of every hour of the days, in the memory of dst where it holds them.
// rng draws when and how long it rains, nothing else. Who needs the hours of many seasons keeps an
// Almanac.
func HoursInto(dst []air.Hour, days []Day, startDOY int, place Place, rng *rand.Rand) []air.Hour {
	return NewAlmanac(startDOY, place).HoursInto(dst, days, rng)
}

// HoursWithRain returns the air of every hour of the days where the rain of each hour is known:
// rain fills in the 24 hours, mm, of a day counted from 0, which begin as dry. Nothing is drawn.
// No season uses it; it is for records by the hour, and for tests.
func HoursWithRain(days []Day, startDOY int, place Place, rain func(day int, hours *[24]float64)) []air.Hour {
	return NewAlmanac(startDOY, place).hoursWith(nil, days, rain)
}

func (a *Almanac) hoursWith(dst []air.Hour, days []Day, rainOf func(int, *[24]float64)) []air.Hour {
	dst = slices.Grow(dst[:0], 24*len(days))[:24*len(days)]
	wetUntil := -1 // hour of the season up to which the air is wet
	for d := range days {
		c := a.courseOf(days, d)
		var rain [24]float64
		rainOf(d, &rain)
		for h := range 24 {
			if rain[h] >= wetFromMM {
				wetUntil = 24*d + h + wetAfterH
			}
			c.hour(&dst[24*d+h], h, rain[h], 24*d+h <= wetUntil, a.psychrometric)
		}
	}
	return dst
}

// course is what the hours of a day are made of.
type course struct {
	*light
	today, tomorrow Day
	sunsetBefore    float64 // temperature at the sunset before, °C
	sunset          float64 // temperature at sunset, °C
	solar           float64 // of the day, MJ/m²
	clearness       float64
	dayWind         float64
	nightWind       float64
}

func (a *Almanac) courseOf(days []Day, d int) course {
	l := a.light(d)
	c := course{light: l, today: days[d], tomorrow: days[min(d+1, len(days)-1)]}
	c.sunsetBefore = l.sunsetC(&days[max(d-1, 0)])
	c.sunset = l.sunsetC(&c.today)
	c.solar = air.SolarMJPerM2(c.today.SunFraction, l.top)
	c.clearness = c.solar / l.clearSky
	c.nightWind = c.today.WindMS / (windDayNight*l.share + 1 - l.share)
	c.dayWind = windDayNight * c.nightWind
	return c
}

// sunsetC returns the temperature at sunset, °C.
func (l *light) sunsetC(d *Day) float64 { return d.TminC + (d.TmaxC-d.TminC)*l.atSunset }

// tempC returns the temperature in hour h, °C.
func (c *course) tempC(h int) float64 {
	switch c.part[h] {
	case beforeSunrise:
		return c.today.TminC + (c.sunsetBefore-c.today.TminC)*c.way[h]
	case byDay:
		return c.today.TminC + (c.today.TmaxC-c.today.TminC)*c.way[h]
	}
	return c.tomorrow.TminC + (c.sunset-c.tomorrow.TminC)*c.way[h]
}

// hour works out the air of hour h of the day, in its place.
func (c *course) hour(out *air.Hour, h int, rainMM float64, wet bool, psychrometric float64) {
	tempC, vapour := c.tempC(h), c.today.VapourKPa
	saturation := air.SaturationKPa(tempC)
	vapour = min(vapour, saturation)
	humidity := max(leastHumidity, vapour/saturation)
	if wet && humidity < wetHumidity {
		tempC, humidity = rainedOn(tempC, vapour)
		saturation = air.SaturationKPa(tempC)
	}
	topHour := c.topHour[h]
	wind := c.nightWind
	if math.Abs(float64(h)+0.5-12) < c.dayLengthH/2 {
		wind = c.dayWind
	}
	radiation := 0.0
	if c.top > 0 {
		radiation = c.solar * topHour / c.top
	}
	net := air.NetHourMJPerM2(radiation, tempC, vapour, c.clearness)
	et := air.ET0Hour{
		TempC: tempC, SaturationKPa: saturation, VapourKPa: vapour, WindMS: wind, NetMJPerM2: net,
		GroundMJPerM2: air.GroundHourMJPerM2(net, topHour > 0), Psychrometric: psychrometric,
	}
	out.TempC, out.Humidity, out.VapourKPa, out.RadiationMJPerM2, out.RainMM = tempC, humidity, vapour, radiation, rainMM
	out.ET0SunMM, out.ET0AirMM, out.WindShare = et.Terms()
}

// rainedOn returns temperature, °C, and humidity, fraction, of drier air after rain: it is cooled until
// its vapour, which stays, gives it wetHumidity, but not to frost.
func rainedOn(tempC, vapourKPa float64) (cooledC, humidity float64) {
	cooledC = air.SaturationTempC(vapourKPa / wetHumidity)
	if cooledC >= rainsDownToC {
		return cooledC, wetHumidity
	}
	cooledC = min(tempC, rainsDownToC)
	return cooledC, max(leastHumidity, vapourKPa/air.SaturationKPa(cooledC))
}

// drawRainHours spreads a day's rain over hours: 1.6 R^0.4 hours with lognormal
// scatter, in one block or, when longer than 8 hours, two; most often in the
// afternoon, on a coast at any hour. Within a block the intensity is a triangle
// with its peak after a third. Assumption, tuned to 400 mm a month falling in 150
// hours.
func drawRainHours(rainMM float64, coast bool, rng *rand.Rand, rain *[24]float64) {
	if !(rainMM > 0) {
		return
	}
	lengthH := max(0.5, min(20, 1.6*math.Pow(rainMM, 0.4)*math.Exp(0.4*rng.NormFloat64())))
	blocks := 1.0
	if lengthH > 8 {
		blocks = 2
	}
	for range int(blocks) {
		startH := 15 + 3*rng.NormFloat64()
		if coast {
			startH = 24 * rng.Float64()
		}
		addBlock(rainMM/blocks, max(0, min(startH, 24-lengthH/blocks)), lengthH/blocks, rain)
	}
}

func addBlock(rainMM, startH, lengthH float64, rain *[24]float64) {
	done := 0.0
	for h := int(startH); h < 24 && done < 1; h++ {
		now := triangle((float64(h+1) - startH) / lengthH)
		rain[h] += rainMM * (now - done)
		done = now
	}
}

// triangle returns the share of a block's rain that has fallen after the share x
// of its time.
func triangle(x float64) float64 {
	const peak = 1.0 / 3
	switch {
	case x >= 1:
		return 1
	case x > peak:
		return 1 - (1-x)*(1-x)/(1-peak)
	}
	return x * x / peak
}
