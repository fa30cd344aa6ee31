package stalk

import "math"

// StillAir is air in which stalks lie without sun, wind or rain: a store or a
// cold cabinet.
type StillAir struct {
	emc      DryBasis
	activity float64
	mould    mouldAir
}

// NewStillAir works out still air of tempC, °C, and humidity, fraction.
func NewStillAir(tempC, humidity float64, p *Properties) StillAir {
	return StillAir{
		emc:      equilibrium(tempC, humidity, p),
		activity: hendersonA * (tempC + hendersonC),
		mould:    newMouldAir(tempC),
	}
}

// WithoutSun returns the air of an hour in which no sun shines, as still air, and the drying rate of
// a stalk in it, 1/h. It is the same under the cover of any rack, for only the sun warms stalks there,
// and it is what NewStillAir and DryingRatePerH say of that air.
func (h *Hour) WithoutSun() (a StillAir, dryingRatePerH float64) {
	return StillAir{h.emc, h.activity, h.mould}, h.rate
}

// TakenUp returns the part of the way to the equilibrium that stalks in still air go in some hours
// with first-order exchange of moisture, 1/h.
func TakenUp(exchangePerH, hours float64) float64 { return -math.Expm1(-exchangePerH * hours) }

// Still lets stalks lie in still air for hours, with first-order exchange of
// moisture, 1/h, and mould at their water activity. It returns the water taken up from
// the air, kg per kg of dry matter.
func (s *State) Still(a *StillAir, exchangePerH, hours float64, p *Properties) float64 {
	return s.Settle(a, TakenUp(exchangePerH, hours), hours, p)
}

// Settle is Still where TakenUp of the exchange and the hours is known.
func (s *State) Settle(a *StillAir, takenUp, hours float64, p *Properties) float64 {
	taken := DryBasis(takenUp) * (a.emc - s.Moisture)
	s.Moisture += taken
	if s.Moisture < dryMoisture*DryBasis(p.EMCFactor) {
		s.AgeH += hours
		s.decline(hours)
		return float64(taken)
	}
	s.settleMould(a, hours, p)
	return float64(taken)
}

// settleMould lets mould live for hours in still air on stalks that may be moist enough for it.
func (s *State) settleMould(a *StillAir, hours float64, p *Properties) {
	x, wet := exponentAt(a.activity, s.Moisture, p)
	switch {
	case wet:
		s.mouldStep(&a.mould, 1, hours, p)
	case x < dryExponent:
		s.AgeH += hours
		s.decline(hours)
	default:
		s.mouldStep(&a.mould, 1-fallOff.at(-x), hours, p)
	}
}

// dryMoisture, times EMCFactor, is a moisture at which the exponent is below dryExponent in all air in
// which mould grows, up to growthMaxC.
const dryMoisture = 0.138

// dryExponent is below what makes stalks moist enough for mould at any temperature: a water activity
// of 79.6 %, where the critical humidity is never below 79.9 %.
const dryExponent = 1.59
