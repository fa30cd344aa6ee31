package charge

import (
	"math"
	"slices"

	"drystalk/sim/air"
	"drystalk/sim/knowledge"
	"drystalk/sim/stalk"
)

// Cabinet is a dryer as it is built and set.
type Cabinet struct {
	SetC               float64        // temperature of the chamber, °C
	HeatUpH            float64        // from lighting to SetC, h. Assumption
	CoolTauH           float64        // time constant of cooling, h. Assumption
	EvaporatesKgPerH   float64        // water at most, at 80 °C with wood at 20 % wet basis, kg/h. Assumption
	VapourGain         float64        // vapour pressure in the chamber over outside. Assumption: hides the draught
	RateAt80CPerH      float64        // Lewis drying rate of the mean stalk, 1/h
	ActivationKJPerMol float64        // of the drying rate, kJ/mol
	RateSpread         float64        // standard deviation of the logarithm of the rate between stalks
	EMCFactor          float64        // stalk over wood
	Target             stalk.WetBasis // a charge ends when its slow stalks are this dry

	WoodMoisture      stalk.WetBasis
	WoodHeatMJPerKg   float64 // lower heating value of dry wood, MJ/kg
	ExhaustFactor     float64 // latent and exhaust heat over latent heat at 80 °C in air of 28 °C. Assumption
	FurnaceEfficiency float64 // fraction. Assumption
	WallLossWPerK     float64 // of a cabinet of 1,000 fresh stalks: 15 m² at 2 W/m²/K. Assumption
	MassKg            float64 // steel and brick heated with the chamber, kg. Assumption
}

// Default returns the modes. One published run brackets the drying rate and the evaporation
// limit together, and no more: 80 kg of fresh stalks came to 12.195 % wet basis in 10 h, at a
// temperature that is not given; the hottest run, of 50 kg, had 62.3 °C (Purbono, Ainuri &
// Suryandono, Agritech 30(2), 2010). With the modes 80 kg come to that moisture at a temperature
// between 56 and 62.3 °C. Where in the bracket the pair lies is an assumption, set so that a
// full fresh load takes 6 to 8 h at 80 °C (common practice, no source).
func Default() Cabinet {
	return Cabinet{
		SetC: 80, HeatUpH: 0.75, CoolTauH: 0.5, EvaporatesKgPerH: knowledge.Mode(knowledge.EvaporatesKgPerH), VapourGain: 2,
		RateAt80CPerH: knowledge.Mode(knowledge.RateAt80CPerH), ActivationKJPerMol: 28, RateSpread: knowledge.Mode(knowledge.RateSpread),
		EMCFactor: knowledge.Mode(knowledge.EMCFactor), Target: 0.14,
		WoodMoisture: 0.20, WoodHeatMJPerKg: 19.0, ExhaustFactor: knowledge.Mode(knowledge.ExhaustFactor),
		FurnaceEfficiency: knowledge.Mode(knowledge.FurnaceEfficiency), WallLossWPerK: 30, MassKg: knowledge.Mode(knowledge.CabinetKg),
	}
}

// Ambient is the air around the cabinet.
type Ambient struct {
	TempC     float64 // °C
	VapourKPa float64 // kPa
}

// slowQuantile is the normal score of the slow stalks that end a charge: 5 % are
// slower. It is rounded as in tables; the digits beyond would change every charge.
const slowQuantile = 1.645

// Fire is a cabinet lit in one ambient, with all that depends on the two alone.
type Fire struct {
	c       *Cabinet
	ambient Ambient
	powerMJ float64 // for water and exhaust, MJ/h
	capKgPH float64 // water at most at SetC, kg/h
	rate    float64 // mean stalk at SetC, 1/h
	slow    float64 // slow stalk at SetC, 1/h
	emc     float64 // equilibrium moisture at SetC
	target  float64
	coolH   float64  // until the chamber is open
	stepH   float64  // of the heating up
	heating []warmer // by step

	sparesMJ   float64 // of the heat of the fire that heats up, for stalks and water
	slowLeft   float64 // part of its moisture that the slow stalk has left, at least, when the chamber is hot
	youngKgPMJ float64 // water that a MJ drives off while the fire heats up, kg

	fastest float64 // rate of the fastest stalks of a lot over the mean's
	browns  browns
}

// warmer is a step of the heating up, at the temperature of its middle.
type warmer struct {
	rate         float64 // mean stalk, 1/h
	emc          float64
	perKgMJ      float64 // heat of a kg of water with its exhaust
	dries, slows float64 // part of what is above emc that the mean and the slow stalk lose
	mean         float64 // as dries, by share
}

// Light returns the cabinet lit in an ambient.
func (c *Cabinet) Light(a Ambient) (f Fire) {
	f.Relight(c, a)
	return f
}

// Relight is Cabinet.Light in the memory of a fire that burns no more.
func (f *Fire) Relight(c *Cabinet, a Ambient) {
	*f = Fire{c: c, ambient: a, target: float64(c.Target.DryBasis()), heating: f.heating[:0]}
	f.rate = stalk.DryingRatePerH(c.SetC, c.RateAt80CPerH, c.ActivationKJPerMol)
	f.slow = f.rate * math.Exp(-slowQuantile*c.RateSpread)
	f.emc = c.equilibrium(a, c.SetC)
	f.powerMJ = c.powerMJPerH()
	f.capKgPH = f.powerMJ / c.perKgMJ(a.TempC, c.SetC)
	f.sparesMJ = f.powerMJ*min(c.HeatUpH, fullYoungH) - f.cabinetMJ()
	f.heat()
	f.coolH = f.coolingH()
	f.fastest = math.Exp(farthestScore * c.RateSpread)
	f.browns = f.brownsWhenHot()
}

// longestStepH is the longest step of the heating up, h: charges come out as when stepped by the
// minute within 1 % (TestMixedChargesAreOneRule).
const longestStepH = 0.2

// heat works out the steps of the heating up.
func (f *Fire) heat() {
	steps := int(math.Ceil(f.c.HeatUpH / longestStepH))
	f.heating = slices.Grow(f.heating, steps)[:steps]
	f.stepH = f.c.HeatUpH / float64(max(1, steps))
	f.slowLeft = 1
	for j := range f.heating {
		tempC := f.ambient.TempC + (float64(j)+0.5)/float64(steps)*(f.c.SetC-f.ambient.TempC)
		f.heating[j] = f.warmAt(tempC, f.stepH)
		f.slowLeft *= 1 - f.heating[j].slows
		f.youngKgPMJ += 1 / (f.heating[j].perKgMJ * float64(steps))
	}
}

// warmAt returns a step of so many hours at a temperature of the chamber.
func (f *Fire) warmAt(tempC, stepH float64) warmer {
	k := stalk.DryingRatePerH(tempC, f.c.RateAt80CPerH, f.c.ActivationKJPerMol)
	return warmer{
		rate: k, emc: f.c.equilibrium(f.ambient, tempC), perKgMJ: f.c.perKgMJ(f.ambient.TempC, tempC),
		dries: -math.Expm1(-k * stepH), slows: -math.Expm1(-k * f.slow / f.rate * stepH), mean: share(k * stepH),
	}
}

// Humidity returns the relative humidity in the chamber, fraction, at tempC, °C.
func (c *Cabinet) Humidity(a Ambient, tempC float64) float64 {
	return min(0.90, c.VapourGain*a.VapourKPa/air.SaturationKPa(tempC))
}

func (c *Cabinet) equilibrium(a Ambient, tempC float64) float64 {
	return float64(stalk.EquilibriumMoisture(tempC, c.Humidity(a, tempC), c.EMCFactor))
}

// OpenC is the temperature at which a chamber may be opened and unloaded, °C. Common practice, no
// source: wait for 45 °C or less.
const OpenC = 45

// leastAboveOutsideC is how far above the air outside a chamber is open at the least, °C: in the
// hottest air it would never come to OpenC.
const leastAboveOutsideC = 5

// CoolingH returns the hours until the chamber without fire has cooled to OpenC in the air around
// it, or to 5 °C above that air where this is more.
func (f *Fire) CoolingH() float64 { return f.coolH }

func (f *Fire) coolingH() float64 {
	outside := f.ambient.TempC
	open := max(OpenC, outside+leastAboveOutsideC)
	if f.c.SetC <= open {
		return 0
	}
	return f.c.CoolTauH * math.Log((f.c.SetC-outside)/(open-outside))
}

// Predried moisture at which a cabinet holds its full pre-dried number.
const fullAt stalk.DryBasis = 0.7

// Capacity returns the stalks a cabinet holds when its wettest lot has the given
// moisture: stalks shrink as they dry, in a straight line between the two numbers
// of the cabinet. Assumption.
func Capacity(holdsFresh, holdsPredried int, wettest, fresh stalk.DryBasis) int {
	x := max(0, min(1, float64((wettest-fullAt)/(fresh-fullAt))))
	return int(float64(holdsPredried) - x*float64(holdsPredried-holdsFresh))
}
