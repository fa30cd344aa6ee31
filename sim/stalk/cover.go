package stalk

import "drystalk/sim/air"

// Cover is how a place changes sun, air and rain. All factors are assumptions.
type Cover struct {
	SunFactor float64 // on the radiation term
	AirFactor float64 // on the wind, everywhere in FAO-56 eq. 53
	RainShare float64 // of the rain that reaches the stalks
	heap      bool
}

// OpenRack is a rack without a roof.
func OpenRack() Cover { return Cover{SunFactor: 1, AirFactor: 1, RainShare: 1} }

// ClearRoof is a rack under clear sheet: warmer, calmer, no rain.
func ClearRoof(sunFactor float64) Cover { return Cover{SunFactor: sunFactor, AirFactor: 0.7} }

// SolidRoof is a rack under tin or thatch: little sun, no rain.
func SolidRoof(sunFactor, airFactor float64) Cover {
	return Cover{SunFactor: sunFactor, AirFactor: airFactor}
}

// Sheet is a sheet pulled over an open rack in the rain and for the hour after: a hundredth
// of the rain comes through, and little air and light. Assumption.
func Sheet() Cover { return Cover{SunFactor: 0.2, AirFactor: 0.2, RainShare: 0.01} }

// Heap is stalks thrown together: nearly no evaporation, the outer share gets the
// rain, and the inside is warm.
func Heap() Cover {
	return Cover{SunFactor: heapEvaporation, AirFactor: heapEvaporation, RainShare: 0.2, heap: true}
}

// Assumptions of the heap.
const (
	heapEvaporation = 0.03 // of a rack's
	heapDryKgPerM2  = 0.9
	heapWarmC       = 4.0
	sunlitWarmC     = 8.0 // a stalk in full sun over air
	fullSunMJPerM2  = 2.6
)

// Hour is what one hour of air under one cover does to any batch that lies
// there. It is worked out once and shared.
type Hour struct {
	potential float64  // evaporation of a wet rack, kg/m²
	rate      float64  // drying rate k at the stalk, 1/h
	emc       DryBasis // equilibrium moisture at the stalk
	rain      float64  // mm that reach the stalks
	humidity  float64  // of the air, fraction
	activity  float64  // A·(T+C) of the water activity
	mould     mouldAir
}

// NewHour works out an hour under a cover, see the package's guide. A heap's hour is warm
// however dry its stalks are: a heap is spread or thrown out long before it is dry.
func NewHour(a *air.Hour, c Cover, p *Properties) Hour {
	if !c.heap {
		var o Open
		o.In(a)
		var h Hour
		o.Under(&c, p, &h)
		return h
	}
	warmC := a.TempC + heapWarmC
	return Hour{
		potential: p.SkinFactor * c.evaporationMM(a),
		rate:      DryingRatePerH(warmC, p.RateAt80CPerH, p.ActivationKJPerMol),
		emc:       equilibrium(warmC, a.Humidity, p),
		rain:      c.RainShare * a.RainMM,
		humidity:  a.Humidity,
		activity:  hendersonA * (warmC + hendersonC),
		mould:     newMouldAir(warmC),
	}
}

// Open is the air of an hour as far as it is the same under the cover of every rack.
type Open struct {
	air           *air.Hour
	saturationKPa float64 // where the sun shines
	activity      float64
	mould         mouldAir
}

// In works out the air of an hour for racks of any cover.
//
// Here and below results are written where they are wanted, number by number: a copy of what was written
// just before waits for it, and every hour of every season comes by here.
func (o *Open) In(a *air.Hour) {
	o.air, o.activity = a, hendersonA*(a.TempC+hendersonC)
	o.mould.set(a.TempC)
	if a.RadiationMJPerM2 > 0 {
		o.saturationKPa = air.SaturationKPa(a.TempC)
	}
}

// Under works out NewHour of that air under the cover of a rack.
func (o *Open) Under(c *Cover, p *Properties, h *Hour) {
	a := o.air
	stalkC, surface := a.TempC, a.Humidity
	if lit := c.SunFactor * a.RadiationMJPerM2 / fullSunMJPerM2; lit > 0 {
		stalkC += sunlitWarmC * min(1, lit)
		surface *= o.saturationKPa / air.SaturationKPa(stalkC)
	}
	h.potential = p.SkinFactor * c.evaporationMM(a)
	h.rate = DryingRatePerH(stalkC, p.RateAt80CPerH, p.ActivationKJPerMol)
	h.emc = equilibrium(stalkC, surface, p)
	h.rain = c.RainShare * a.RainMM
	h.humidity = a.Humidity
	h.activity = o.activity
	h.mould.critical, h.mould.perH, h.mould.ratio = o.mould.critical, o.mould.perH, o.mould.ratio
}

// UnderNoSun works out the hour of the same air under another cover of a rack, of which one is known, where
// no sun shines: only the sun warms stalks there, so that nothing but what evaporates and rains in is another.
func (o *Open) UnderNoSun(c *Cover, p *Properties, known, h *Hour) {
	h.potential = p.SkinFactor * c.evaporationMM(o.air)
	h.rate, h.emc = known.rate, known.emc
	h.rain = c.RainShare * o.air.RainMM
	h.humidity = known.humidity
	h.activity = known.activity
	h.mould.critical, h.mould.perH, h.mould.ratio = known.mould.critical, known.mould.perH, known.mould.ratio
}

// evaporationMM returns the reference evapotranspiration under a cover, mm, not below 0: FAO-56 eq.
// 53 with the cover's part of the radiation and of the wind, in both of the places where the wind
// stands. In its denominator the wind stands for the resistance of a lawn, which would let it slow
// the drying in sun and damp air; stalks have a resistance of their own, so wind never takes
// anything from what there would be without it. Assumption.
func (c *Cover) evaporationMM(a *air.Hour) float64 {
	sun := c.SunFactor * a.ET0SunMM
	windy := (sun + c.AirFactor*a.ET0AirMM) / (1 - a.WindShare*(1-c.AirFactor))
	return max(0, windy, sun/(1-a.WindShare))
}

// equilibrium is EquilibriumMoisture by table; air is taken as within -20 to 120 °C.
func equilibrium(tempC, humidity float64, p *Properties) DryBasis {
	h := max(0.01, min(0.98, humidity))
	return DryBasis(0.01 * p.EMCFactor * humidTerm.at(h) * warmthTerm.at(max(-20, min(120, tempC))))
}
