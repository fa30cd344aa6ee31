package air

import "math"

// SaturationKPa returns the vapour pressure, kPa, at which air of temperature
// tempC, °C, holds all the water it can:
//
//	e° = 0.6108 · exp(17.27·T / (T + 237.3))
//
// Within 0.11 % of the ASHRAE form from 1 to 60 °C and 0.5 % to 90 °C. Not to be
// used from 100 °C on.
//
// Source: Allen et al. 1998, FAO Irrigation and Drainage Paper 56 (FAO-56), eq. 11.
func SaturationKPa(tempC float64) float64 {
	return 0.6108 * math.Exp(17.27*tempC/(tempC+237.3))
}

// SaturationTempC returns the temperature, °C, at which air with the vapour
// pressure vapourKPa, kPa, is saturated: the dew point. It is the inverse of
// SaturationKPa; vapourKPa must be above 0.
func SaturationTempC(vapourKPa float64) float64 {
	l := math.Log(vapourKPa / 0.6108)
	return 237.3 * l / (17.27 - l)
}

// SaturationSlopeKPaPerC returns the slope of the saturation vapour pressure
// curve at tempC, °C, in kPa/°C. Source: FAO-56 eq. 13.
func SaturationSlopeKPaPerC(tempC float64) float64 {
	return slopeKPaPerC(tempC, SaturationKPa(tempC))
}

// slopeKPaPerC is SaturationSlopeKPaPerC where SaturationKPa at that temperature is known.
func slopeKPaPerC(tempC, saturationKPa float64) float64 {
	d := tempC + 237.3
	return 4098 * saturationKPa / (d * d)
}

// DailySaturationKPa returns the mean saturation vapour pressure of a day, kPa,
// from its highest and lowest temperature, °C. Source: FAO-56 eq. 12.
func DailySaturationKPa(tmaxC, tminC float64) float64 {
	return (SaturationKPa(tmaxC) + SaturationKPa(tminC)) / 2
}

// PressureKPa returns the air pressure, kPa, at an elevation, m above sea level.
// Source: FAO-56 eq. 7.
func PressureKPa(elevationM float64) float64 {
	return 101.3 * math.Pow((293-0.0065*elevationM)/293, 5.26)
}

// PsychrometricKPaPerC returns the psychrometric constant, kPa/°C, at an air
// pressure, kPa. Source: FAO-56 eq. 8.
func PsychrometricKPaPerC(pressureKPa float64) float64 { return 0.665e-3 * pressureKPa }

// VapourFromWetBulbKPa returns the actual vapour pressure, kPa, from dry and wet
// bulb temperatures, °C, of a psychrometer ventilated at about 5 m/s.
// Source: FAO-56 eq. 15 with a = 0.000662.
func VapourFromWetBulbKPa(dryC, wetC, pressureKPa float64) float64 {
	return SaturationKPa(wetC) - 0.000662*pressureKPa*(dryC-wetC)
}

// VapourFromHumidityKPa returns the mean vapour pressure of a day, kPa, from the
// humidity, fraction, at the lowest and the highest temperature, °C.
// Source: FAO-56 eq. 17.
func VapourFromHumidityKPa(tminC, humidityMax, tmaxC, humidityMin float64) float64 {
	return (SaturationKPa(tminC)*humidityMax + SaturationKPa(tmaxC)*humidityMin) / 2
}

// HumidityRatio returns kg of water vapour per kg of dry air at a vapour
// pressure and an air pressure, both kPa.
// Source: ASHRAE Handbook, Fundamentals 2017, ch. 1 (from memory).
func HumidityRatio(vapourKPa, pressureKPa float64) float64 {
	return 0.621945 * vapourKPa / (pressureKPa - vapourKPa)
}

// LatentHeatMJPerKg returns the heat that evaporates a kg of water at tempC, °C.
// Source: FAO-56, annex 3, eq. 3-1.
func LatentHeatMJPerKg(tempC float64) float64 { return 2.501 - 0.002361*tempC }
