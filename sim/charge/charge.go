package charge

import (
	"math"

	"gonum.org/v1/gonum/stat/distuv"

	"drystalk/sim/air"
	"drystalk/sim/knowledge"
	"drystalk/sim/stalk"
)

// Cabinet is a dryer as it is built and set.
type Cabinet struct {
	SetC               float64        // temperature of the chamber, °C
	HeatUpH            float64        // from lighting to SetC, h. Assumption
	CoolTauH           float64        // time constant of cooling, h. Assumption
	EvaporatesKgPerH   float64        // water at most, with wood at 20 % wet basis, kg/h. Assumption
	VapourGain         float64        // vapour pressure in the chamber over outside. Assumption: hides the draught
	AirKgPerH          float64        // draught, kg dry air/h; 0: not a limit
	RateAt80CPerH      float64        // Lewis drying rate of the mean stalk, 1/h
	ActivationKJPerMol float64        // of the drying rate, kJ/mol
	RateSpread         float64        // standard deviation of the logarithm of the rate between stalks
	EMCFactor          float64        // stalk over wood
	Target             stalk.WetBasis // a charge ends when its slow stalks are this dry

	WoodMoisture      stalk.WetBasis
	WoodHeatMJPerKg   float64 // lower heating value of dry wood, MJ/kg
	ExhaustFactor     float64 // exhaust heat over latent heat. Assumption
	FurnaceEfficiency float64 // fraction. Assumption
	WallLossWPerK     float64 // Assumption
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

// rampNodes are the points of Simpson's rule over the heating up.
const rampNodes = 5

// Fire is a cabinet lit in one ambient, with all that depends on the two alone.
type Fire struct {
	c       *Cabinet
	ambient Ambient
	capKgPH float64 // water at most, kg/h
	rate    float64 // mean stalk at SetC, 1/h
	slow    float64 // slow stalk at SetC, 1/h
	emc     float64 // equilibrium moisture at SetC
	target  float64
	node    [rampNodes]struct{ rate, emc float64 } // rate relative to SetC, while heating up
}

// Light returns the cabinet lit in an ambient.
func (c *Cabinet) Light(a Ambient) Fire {
	f := Fire{c: c, ambient: a, target: float64(c.Target.DryBasis())}
	f.rate = stalk.DryingRatePerH(c.SetC, c.RateAt80CPerH, c.ActivationKJPerMol)
	f.slow = f.rate * math.Exp(-slowQuantile*c.RateSpread)
	f.emc = c.equilibrium(a, c.SetC)
	f.capKgPH = c.evaporationLimit(a)
	for i := range f.node {
		t := a.TempC + float64(i)/(rampNodes-1)*(c.SetC-a.TempC)
		f.node[i].rate = stalk.DryingRatePerH(t, c.RateAt80CPerH, c.ActivationKJPerMol) / f.rate
		f.node[i].emc = c.equilibrium(a, t)
	}
	return f
}

// Humidity returns the relative humidity in the chamber, fraction, at tempC, °C.
func (c *Cabinet) Humidity(a Ambient, tempC float64) float64 {
	if c.AirKgPerH > 0 {
		return min(0.90, outHumidity*air.SaturationKPa(outC)/air.SaturationKPa(tempC))
	}
	return min(0.90, c.VapourGain*a.VapourKPa/air.SaturationKPa(tempC))
}

func (c *Cabinet) equilibrium(a Ambient, tempC float64) float64 {
	return float64(stalk.EquilibriumMoisture(tempC, c.Humidity(a, tempC), c.EMCFactor))
}

// The air leaves a draught-limited chamber so. Assumption.
const (
	outC        = 50
	outHumidity = 0.8
	seaLevelKPa = 101.325
)

// evaporationLimit returns the water the fire can evaporate, kg/h: less with wet
// wood, by heating value, and no more than the draught carries, if that is given.
func (c *Cabinet) evaporationLimit(a Ambient) float64 {
	limit := c.EvaporatesKgPerH * c.HeatingValueMJPerKg(c.WoodMoisture) / c.HeatingValueMJPerKg(0.20)
	if c.AirKgPerH > 0 {
		out := air.HumidityRatio(outHumidity*air.SaturationKPa(outC), seaLevelKPa)
		limit = min(limit, c.AirKgPerH*(out-air.HumidityRatio(a.VapourKPa, seaLevelKPa)))
	}
	return limit
}

// capped returns the loss of moisture that the limit allows the wettest lot, 1/h,
// while it binds. The water is shared in proportion to demand, k(M−Me), so that
// all lots near the equilibrium by one common factor.
func (f *Fire) capped(wettest, mean, dryKg float64) float64 {
	if !(mean > f.emc) {
		return math.Inf(1)
	}
	return f.capKgPH / dryKg * (wettest - f.emc) / (mean - f.emc)
}

// rampLoss returns the part of the heating up by which it prolongs a charge, for
// a stalk of moisture m with rate k at SetC and the given limit, 1/h. Simpson's rule
// over temperatures that are evenly spaced: the library's is for any spacing and would
// change last digits.
func (f *Fire) rampLoss(m, k, limit float64) float64 {
	demand := m - f.emc
	if !(demand > 0) {
		return 0
	}
	x := min(1, limit/(k*demand))
	weights := [rampNodes]float64{1, 4, 2, 4, 1}
	sum := 0.0
	for i, n := range f.node {
		y := n.rate * max(0, m-n.emc) / demand
		sum += weights[i] * max(0, 1-y/x)
	}
	return sum / 12
}

// DryingH returns the hours from lighting until the slow 5 % stalk of the wettest
// lot has reached the target: at the limit of the fire first, by its own rate
// after, prolonged by the heating up. mean is the moisture of all lots by dry
// mass, dryKg their dry mass. It is 0 for a charge that is dry and infinite where
// the chamber cannot reach the target.
//
// Within 0.7 % or 0.05 h of stepping by the minute for one lot, see Curve.
func (f *Fire) DryingH(wettest, mean stalk.DryBasis, dryKg float64) float64 {
	m := float64(wettest)
	switch {
	case m <= f.target:
		return 0
	case f.emc >= f.target:
		return math.Inf(1)
	}
	limit := f.capped(m, float64(mean), dryKg)
	free := f.emc + limit/f.slow // below it the limit does not bind the slow stalk
	var t float64
	if f.target >= free {
		t = (m - f.target) / limit
	} else {
		t = max(0, m-free)/limit + math.Log((min(m, free)-f.emc)/(f.target-f.emc))/f.slow
	}
	return t + f.rampLoss(m, f.slow, limit)*f.c.HeatUpH
}

// After returns the mean moisture of a lot when the fire has burned dryingH
// hours: the lots' common path.
func (f *Fire) After(dryingH float64, lot, mean stalk.DryBasis, dryKg float64) stalk.DryBasis {
	if !(float64(mean) > f.emc) {
		return lot
	}
	return stalk.DryBasis(f.emc + (float64(lot)-f.emc)*f.factor(dryingH, float64(mean), dryKg))
}

// factor returns the common factor by which all lots have neared the equilibrium.
func (f *Fire) factor(dryingH, mean, dryKg float64) float64 {
	limit := f.capKgPH / dryKg
	t := dryingH - f.rampLoss(mean, f.rate, limit)*f.c.HeatUpH
	if t <= 0 {
		return 1
	}
	free := f.emc + limit/f.rate
	cappedH := max(0, mean-free) / limit
	if t <= cappedH {
		return (mean - limit*t - f.emc) / (mean - f.emc)
	}
	return (min(mean, free) - f.emc) / (mean - f.emc) * math.Exp(-f.rate*(t-cappedH))
}

// overdried is the moisture below which stalks break, 8 % wet basis. Assumption.
const overdried = 0.0870

// OverdriedShare returns the share of a lot's stalks that came out below 8 % wet
// basis: those whose rate is that much above the slow one.
func (f *Fire) OverdriedShare(dryingH float64, lot, mean stalk.DryBasis, dryKg float64) float64 {
	m := float64(lot)
	after := float64(f.After(dryingH, lot, mean, dryKg))
	if f.emc >= overdried || !(f.c.RateSpread > 0) {
		if after < overdried {
			return 1
		}
		return 0
	}
	limit := f.capped(m, float64(mean), dryKg)
	start := min(m, f.emc+limit/f.rate)
	if start <= overdried {
		return 1
	}
	// A stalk with rate factor e^(s·z) has moved this far, in rates of the mean
	// stalk, when the mean stalk has moved l.
	l := math.Log((start - f.emc) / (after - f.emc))
	l8 := math.Log((start - f.emc) / (overdried - f.emc))
	if !(l > 0) {
		return 0
	}
	z := math.Log(l8/l) / f.c.RateSpread
	return distuv.UnitNormal.CDF(-z)
}

// CoolingH returns the hours until a chamber without fire has cooled to toC, °C: infinite or
// not a number where the air outside is not colder than toC.
func (c *Cabinet) CoolingH(ambientC, toC float64) float64 {
	if c.SetC <= toC {
		return 0
	}
	return c.CoolTauH * math.Log((c.SetC-ambientC)/(toC-ambientC))
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
