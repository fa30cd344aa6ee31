package stalk

import "math"

// Constants of the modified Henderson equation (ASABE D245 form), fitted to the
// equilibrium moisture equation of the Wood Handbook over 15 to 90 °C and 10 to
// 90 % humidity (rmse 0.33, at most 0.98 points of moisture).
//
// Assumption: stalks take up water like wood times a factor; no sorption
// constants for this stalk have been published.
const (
	hendersonA = 2.3865e-4
	hendersonB = 1.467
	hendersonC = 90.535
)

// EquilibriumMoisture returns the moisture at which a stalk neither gains nor
// loses water in air of tempC, °C, and humidity, fraction clamped to 0.01 to
// 0.98:
//
//	M = f · 0.01 · (−ln(1−h) / (A·(T+C)))^(1/B)
//
// emcFactor f scales wood to stalks. Source: ASABE D245, modified Henderson;
// constants as above.
func EquilibriumMoisture(tempC, humidity, emcFactor float64) DryBasis {
	h := max(0.01, min(0.98, humidity))
	return DryBasis(emcFactor * 0.01 * math.Pow(-math.Log1p(-h)/(hendersonA*(tempC+hendersonC)), 1/hendersonB))
}

const (
	gasConstantKJ = 8.314e-3 // kJ/mol/K
	kelvin        = 273.15
	referenceK    = 353.15 // 80 °C
)

// DryingRatePerH returns the Lewis drying rate, 1/h, at tempC, °C, from the rate
// at 80 °C and the activation energy, kJ/mol (Arrhenius):
//
//	k(T) = k80 · exp(−(Ea/R)(1/T − 1/353.15))
func DryingRatePerH(tempC, rateAt80CPerH, activationKJPerMol float64) float64 {
	return rateAt80CPerH * math.Exp(-activationKJPerMol/gasConstantKJ*(1/(tempC+kelvin)-1/referenceK))
}
