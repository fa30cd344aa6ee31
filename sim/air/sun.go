package air

import "math"

// solarConstant is G_sc of FAO-56 eq. 21, MJ/m²/min.
const solarConstant = 0.0820

// sunDistance returns the inverse relative distance of the sun on a day of the
// year. Source: FAO-56 eq. 23.
func sunDistance(doy int) float64 { return 1 + 0.033*math.Cos(2*math.Pi*float64(doy)/365) }

// DeclinationRad returns the declination of the sun, radians, on a day of the
// year. Source: FAO-56 eq. 24.
func DeclinationRad(doy int) float64 { return 0.409 * math.Sin(2*math.Pi*float64(doy)/365-1.39) }

// SunsetAngleRad returns the hour angle of sunset, radians, 0 in polar night and
// π in polar day. Source: FAO-56 eq. 25.
func SunsetAngleRad(latitudeDeg float64, doy int) float64 {
	x := -math.Tan(latitudeDeg*math.Pi/180) * math.Tan(DeclinationRad(doy))
	return math.Acos(max(-1, min(1, x)))
}

// DayLengthH returns the hours from sunrise to sunset. Source: FAO-56 eq. 34.
func DayLengthH(latitudeDeg float64, doy int) float64 {
	return 24 / math.Pi * SunsetAngleRad(latitudeDeg, doy)
}

// Sun is the sun of one day at one latitude. What its hours have in common is worked out once.
type Sun struct {
	setRad         float64 // hour angle of sunset
	distance       float64
	sinLat, sinDec float64
	cosines        float64 // of both, multiplied
}

// SunOf returns the sun on a day of the year.
func SunOf(latitudeDeg float64, doy int) Sun {
	lat, dec := latitudeDeg*math.Pi/180, DeclinationRad(doy)
	return Sun{SunsetAngleRad(latitudeDeg, doy), sunDistance(doy), math.Sin(lat), math.Sin(dec), math.Cos(lat) * math.Cos(dec)}
}

// ExtraterrestrialMJPerM2 returns the radiation of a day at the top of the
// atmosphere, MJ/m². Source: FAO-56 eq. 21.
func ExtraterrestrialMJPerM2(latitudeDeg float64, doy int) float64 {
	s := SunOf(latitudeDeg, doy)
	return 24 * 60 / math.Pi * solarConstant * s.distance * s.integral(-s.setRad, s.setRad) / 2
}

// HourMJPerM2 returns the radiation at the top of the atmosphere,
// MJ/m², in the hour of solar time that begins at startH, 0 to 23. The hour is
// clipped to daylight, so that 24 hours add up to the day.
// Source: FAO-56 eq. 28.
func (s *Sun) HourMJPerM2(startH float64) float64 {
	from := max(-s.setRad, math.Pi/12*(startH-12))
	to := min(s.setRad, math.Pi/12*(startH+1-12))
	if to <= from {
		return 0
	}
	return 12 * 60 / math.Pi * solarConstant * s.distance * s.integral(from, to)
}

// integral integrates the sine of the sun's height over hour angles, radians.
func (s *Sun) integral(from, to float64) float64 {
	return (to-from)*s.sinLat*s.sinDec + s.cosines*(math.Sin(to)-math.Sin(from))
}

// SolarMJPerM2 returns the solar radiation of a day, MJ/m², from bright sunshine
// over day length and the radiation at the top of the atmosphere.
// Source: FAO-56 eq. 35 with a_s = 0.25, b_s = 0.50.
func SolarMJPerM2(sunFraction, extraterrestrial float64) float64 {
	return (0.25 + 0.50*sunFraction) * extraterrestrial
}

// ClearSkyMJPerM2 returns the solar radiation of a cloudless day, MJ/m², at an
// elevation, m. Source: FAO-56 eq. 37.
func ClearSkyMJPerM2(elevationM, extraterrestrial float64) float64 {
	return (0.75 + 2e-5*elevationM) * extraterrestrial
}

// SolarFromTemperatureMJPerM2 estimates the solar radiation of a day, MJ/m², from
// the temperature range where no sunshine is recorded; never above a clear sky.
// Source: FAO-56 eq. 50, k_Rs 0.16 inland and 0.19 on a coast.
func SolarFromTemperatureMJPerM2(tmaxC, tminC, extraterrestrial, clearSky float64, coast bool) float64 {
	k := 0.16
	if coast {
		k = 0.19
	}
	return min(clearSky, k*math.Sqrt(max(0, tmaxC-tminC))*extraterrestrial)
}

// WindAt2M returns the wind speed at 2 m, m/s, from one measured at heightM, m.
// Source: FAO-56 eq. 47.
func WindAt2M(windMS, heightM float64) float64 {
	return windMS * 4.87 / math.Log(67.8*heightM-5.42)
}
