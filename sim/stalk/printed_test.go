package stalk

import "math"

// The published equations as they are printed, one call each, which the tests hold against the
// tables and steps of the season. The season itself does not use them.

// waterActivity returns the humidity, fraction, of air in balance with a stalk
// of moisture m at tempC, °C. It is the inverse of EquilibriumMoisture and goes
// to 1 by itself for wet stalks.
func waterActivity(m DryBasis, tempC, emcFactor float64) float64 {
	return -math.Expm1(-hendersonA * (tempC + hendersonC) * math.Pow(100*float64(m)/emcFactor, hendersonB))
}

// maxIndex returns the index that mould does not pass at tempC, °C, and
// humidity, %.
func maxIndex(tempC, humidityPct float64) float64 {
	crit := CriticalHumidityPct(tempC)
	x := (crit - humidityPct) / (crit - 100)
	return 1 + 7*x - 2*x*x
}

// growthPerH returns how fast the index of pine grows, per hour, at tempC, °C,
// humidity, %, and the present index; 0 where it does not grow.
func growthPerH(tempC, humidityPct, index float64) float64 {
	if !grows(tempC, humidityPct) {
		return 0
	}
	tm := WeeksToOnset(tempC, humidityPct)
	k1 := 1.0
	if index >= 1 {
		k1 = 2 / (WeeksToVisible(tempC, humidityPct)/tm - 1)
	}
	k2 := max(0, -math.Expm1(2.3*(index-maxIndex(tempC, humidityPct))))
	return k1 * k2 / (168 * tm)
}

func grows(tempC, humidityPct float64) bool {
	return tempC > 0 && tempC < growthMaxC && humidityPct >= CriticalHumidityPct(tempC)
}
