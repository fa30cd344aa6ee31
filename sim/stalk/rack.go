package stalk

import "drystalk/sim/knowledge"

// Properties are the material's constants. Those that nobody has measured for
// this trade are drawn anew each season.
type Properties struct {
	FreshMoisture      WetBasis // as cut; 0.91 measured
	FreshG             float64  // fresh mass of a stalk, g. Assumption: 60 cm by 15 mm at 0.61 g/cm³
	RateAt80CPerH      float64  // Lewis drying rate of the mean stalk at 80 °C, 1/h; bracketed by one published run, see package charge
	ActivationKJPerMol float64  // of the drying rate. Assumption
	RateSpread         float64  // standard deviation of the logarithm of the rate between stalks. Assumption
	EMCFactor          float64  // stalk over wood. Assumption
	SkinFactor         float64  // of reference evapotranspiration that a rack of waxy, shading stalks reaches. Assumption
	FilmMM             float64  // rain that clings. Assumption
	LayerKgPerM2       float64  // fresh stalks on a rack of which one layer covers all; thinner ones leave it partly bare. Assumption: touching they weigh 7.2
	RewettingFactor    float64  // rate of re-wetting over rate of drying. Assumption
	PredriedMoisture   DryBasis // below it batches are closed up
	AreaAfterPredry    float64  // of the fresh area once closed up. Assumption
	MouldFactor        float64  // stalk over pine. Assumption
	LivingH            float64  // hours after cutting without mould. Common practice, no source
	MouldSpread        float64  // standard deviation of the logarithm of the index between stalks. Assumption
}

// Default returns the modes.
func Default() Properties {
	return Properties{
		FreshMoisture: WetBasis(knowledge.Mode(knowledge.FreshMoisture)), FreshG: knowledge.Mode(knowledge.FreshStalkG),
		RateAt80CPerH: knowledge.Mode(knowledge.RateAt80CPerH), ActivationKJPerMol: 28, RateSpread: knowledge.Mode(knowledge.RateSpread),
		EMCFactor: knowledge.Mode(knowledge.EMCFactor), SkinFactor: knowledge.Mode(knowledge.SkinFactor), FilmMM: 0.3, LayerKgPerM2: 6, RewettingFactor: 0.3,
		PredriedMoisture: 0.7, AreaAfterPredry: 0.6,
		MouldFactor: knowledge.Mode(knowledge.MouldFactor), LivingH: knowledge.Mode(knowledge.LivingH), MouldSpread: knowledge.Mode(knowledge.MouldSpread),
	}
}

// DryG returns the dry matter of a stalk, g: what is left of its fresh mass without the water.
func (p *Properties) DryG() float64 { return p.FreshG * (1 - float64(p.FreshMoisture)) }

// DryLoadKgPerM2 returns the dry matter on a square metre of rack that is covered, from the fresh
// stalks spread on a square metre, kg. Below one layer the rack is partly bare, and bare rack dries
// nothing and catches no rain for the stalks: those that lie there dry as one layer does.
func (p *Properties) DryLoadKgPerM2(freshKgPerM2 float64) float64 {
	return max(freshKgPerM2, p.LayerKgPerM2) * (1 - float64(p.FreshMoisture))
}

// rehydrated is the moisture that soaked dry stalks reach: rehydration ratio 4.25
// less 1 (abstract of an undergraduate thesis of 2008 that names no author).
const rehydrated DryBasis = 3.25

// State is the condition of a batch.
type State struct {
	Moisture    DryBasis // mean of the batch
	FilmKgPerM2 float64  // rain water on the stalks
	MouldIndex  float64  // of the mean stalk, 0 to 6
	PeakIndex   float64  // the highest so far: dead mould is still a stain, so grading goes by it
	AgeH        float64  // since cutting
	StillH      float64  // since mould last grew
	Predried    bool     // has been below PredriedMoisture and is closed up
}

// Fresh returns the state of stalks just cut.
func Fresh(p *Properties) State { return State{Moisture: p.FreshMoisture.DryBasis()} }

// RackHour lets a batch on a rack live through an hour. dryLoadKgPerM2 is the dry
// matter on a square metre when spread fresh.
//
// The steps and their order are in the package's guide. Rain clings as a film up to FilmMM
// and drips off beyond. The film is taken up by dry stalks and evaporates first. What is then left of the potential
// evaporation and the inner resistance of the stalk act in series:
//
//	dM/dt = −r_int·r_ext/(r_int + r_ext),  r_int = k(M−Me),  r_ext = PET/L
//
// and the surface humidity, which feeds the mould, lies between that of the air
// and the water activity by the same resistances.
//
// It returns the water that the batch exchanged, kg per kg of dry matter.
func (s *State) RackHour(h *Hour, dryLoadKgPerM2 float64, p *Properties) (x Exchange) {
	if s.Predried {
		dryLoadKgPerM2 /= p.AreaAfterPredry
	}
	if h.rain > 0 || s.FilmKgPerM2 > 0 {
		x = s.hour(h, dryLoadKgPerM2, false, p)
	} else {
		x.Evaporated = s.dryHour(h, dryLoadKgPerM2, p)
	}
	if !s.Predried && s.Moisture <= p.PredriedMoisture {
		x.Rain -= s.closeUp(dryLoadKgPerM2, p)
	}
	return x
}

// Lived is the condition of a batch and what it exchanged with the air since it was laid down.
type Lived struct {
	State State
	Gave  Exchange
}

// RackHours is RackHour for one hour after another, and adds what the batch exchanges to gave. Where after
// is given, it holds what the batch is after each of the hours.
func (s *State) RackHours(hours []Hour, dryLoadKgPerM2 float64, p *Properties, gave *Exchange, after []Lived) {
	load := dryLoadKgPerM2
	if s.Predried {
		load /= p.AreaAfterPredry
	}
	for i := range hours {
		var x Exchange
		if h := &hours[i]; h.rain > 0 || s.FilmKgPerM2 > 0 {
			x = s.hour(h, load, false, p)
		} else {
			x.Evaporated = s.dryHour(h, load, p)
		}
		if !s.Predried && s.Moisture <= p.PredriedMoisture {
			x.Rain -= s.closeUp(load, p)
			load /= p.AreaAfterPredry
		}
		gave.Rain += x.Rain
		gave.Evaporated += x.Evaporated
		if after != nil {
			after[i].set(s, gave)
		}
	}
}

// HeapHours is HeapHour for one hour after another, as RackHours is for a rack.
func (s *State) HeapHours(hours []Hour, p *Properties, gave *Exchange, after []Lived) {
	for i := range hours {
		x := s.HeapHour(&hours[i], p)
		gave.Rain += x.Rain
		gave.Evaporated += x.Evaporated
		if after != nil {
			after[i].set(s, gave)
		}
	}
}

// set and CopyTo copy number by number: a copy in wider pieces waits for what was written just before, and
// this is done for every hour that a batch lives.
func (l *Lived) set(s *State, gave *Exchange) {
	s.copyTo(&l.State)
	l.Gave.Rain, l.Gave.Evaporated = gave.Rain, gave.Evaporated
}

// CopyTo copies what became of a batch.
func (l *Lived) CopyTo(s *State, gave *Exchange) {
	l.State.copyTo(s)
	gave.Rain, gave.Evaporated = l.Gave.Rain, l.Gave.Evaporated
}

func (s *State) copyTo(to *State) {
	to.Moisture, to.FilmKgPerM2 = s.Moisture, s.FilmKgPerM2
	to.MouldIndex, to.PeakIndex = s.MouldIndex, s.PeakIndex
	to.AgeH, to.StillH, to.Predried = s.AgeH, s.StillH, s.Predried
}

// dryHour is hour on a rack where there is neither film nor rain, and returns the water given to the
// air. It is hour written out in one piece, for speed: most hours are such.
func (s *State) dryHour(h *Hour, load float64, p *Properties) (evaporated float64) {
	m := float64(s.Moisture)
	excess := m - float64(h.emc)
	inner, outer := h.rate*excess, h.potential/load
	psi, surface := 1.0, 1.0 // surface: were the stalks wet
	if excess > 0 {
		if outer > 0 {
			psi = inner / (inner + outer)
		}
		if psi != 1 {
			surface = h.humidity + psi*(1-h.humidity)
		}
		evaporated = psi * outer
	} else {
		evaporated = p.RewettingFactor * inner
	}
	s.Moisture = DryBasis(m - evaporated)
	s.AgeH++
	if m <= 1 && surface >= h.mould.critical {
		surface = 1
		if y := 100 * m / p.EMCFactor; y < mostSorbed {
			if x := h.activity * sorbed.at(y); x <= wetExponent {
				surface = 1 - fallOff.at(-x)
			}
		}
		if psi != 1 {
			surface = h.humidity + psi*(surface-h.humidity)
		}
	}
	if surface < h.mould.critical {
		s.decline(1)
	} else {
		s.grow(&h.mould, surface, 1, p)
	}
	return evaporated
}

// closeUp closes a batch up and returns the film of the area given up, which drips off, kg per kg of
// dry matter.
func (s *State) closeUp(load float64, p *Properties) float64 {
	s.Predried = true
	return s.FilmKgPerM2 / load * (1 - p.AreaAfterPredry)
}

// HeapHour lets a batch in a heap live through an hour: the same step, with the
// heap's own load, and mould at the water activity of the stalks.
func (s *State) HeapHour(h *Hour, p *Properties) Exchange { return s.hour(h, heapDryKgPerM2, true, p) }

// Exchange is water that a batch took and gave, kg per kg of dry matter.
type Exchange struct {
	Rain       float64 // caught, less what dripped off
	Evaporated float64 // given to the air, less what was taken up from it
}

// RackFilm returns the water of the film, kg per kg of dry matter, of a batch on a rack
// with dryLoadKgPerM2 of dry matter on a square metre when spread fresh.
func (s *State) RackFilm(dryLoadKgPerM2 float64, p *Properties) float64 {
	if s.Predried {
		dryLoadKgPerM2 /= p.AreaAfterPredry
	}
	return s.FilmKgPerM2 / dryLoadKgPerM2
}

// HeapFilm returns the water of the film, kg per kg of dry matter, of a batch in a heap.
func (s *State) HeapFilm() float64 { return s.FilmKgPerM2 / heapDryKgPerM2 }

func (s *State) hour(h *Hour, load float64, heap bool, p *Properties) (x Exchange) {
	filmed, left := false, h.potential
	if h.rain > 0 || s.FilmKgPerM2 > 0 {
		x.Rain = s.catch(h, p) / load
		filmed = s.soak(h, load, p)
		left = s.evaporateFilm(h.potential)
		x.Evaporated = (h.potential - left) / load
	}
	excess := s.Moisture - h.emc
	inner, outer := h.rate*float64(excess), left/load
	psi := 1.0 // share of the resistance that lies outside the stalk
	if excess > 0 && outer > 0 {
		psi = inner / (inner + outer)
	}
	surface := 1.0
	switch {
	case filmed:
	case heap || psi == 1:
		surface = s.activity(h, p)
	default:
		surface = h.humidity + psi*(1-h.humidity) // were the stalks wet
		if s.Moisture <= 1 && surface >= h.mould.critical {
			surface = h.humidity + psi*(s.activity(h, p)-h.humidity)
		}
	}
	s.AgeH++
	if surface < h.mould.critical {
		s.decline(1)
	} else {
		s.grow(&h.mould, surface, 1, p)
	}

	switch {
	case excess > 0:
		s.Moisture -= DryBasis(psi * outer)
		x.Evaporated += psi * outer
	case !filmed:
		s.Moisture -= DryBasis(p.RewettingFactor * inner)
		x.Evaporated += p.RewettingFactor * inner
	}
	return x
}

// evaporateFilm takes the film off the potential evaporation, kg/m², and returns
// what is left of it.
func (s *State) evaporateFilm(potential float64) float64 {
	if s.FilmKgPerM2 == 0 {
		return potential
	}
	if s.FilmKgPerM2 >= potential {
		s.FilmKgPerM2 -= potential
		return 0
	}
	potential -= s.FilmKgPerM2
	s.FilmKgPerM2 = 0
	return potential
}

// catch adds rain to the film and returns what stayed, kg/m².
func (s *State) catch(h *Hour, p *Properties) float64 {
	if !(h.rain > 0) {
		return 0
	}
	before := s.FilmKgPerM2
	s.FilmKgPerM2 = min(p.FilmMM, before+h.rain)
	return s.FilmKgPerM2 - before
}

// soak lets dry stalks take up the film. It tells whether there was a film in this
// hour.
func (s *State) soak(h *Hour, load float64, p *Properties) bool {
	if !(s.FilmKgPerM2 > 0) {
		return false
	}
	if s.Moisture < rehydrated {
		taken, left := s.FilmKgPerM2/load, 0.0
		if most := p.RewettingFactor * h.rate * float64(rehydrated-s.Moisture); most < taken {
			taken, left = most, max(0, s.FilmKgPerM2-most*load)
		}
		s.Moisture += DryBasis(taken)
		s.FilmKgPerM2 = left
	}
	return true
}

// wetExponent is where the water activity is 1 to better than 1e-4.
const wetExponent = 9.5

// activity returns the water activity of the batch: at the air's temperature on a rack, at
// the warmer one inside a heap.
func (s *State) activity(h *Hour, p *Properties) float64 {
	if s.Moisture > 1 { // 100 M/f is above 71, and the exponent above wetExponent
		return 1
	}
	return activityAt(h.activity, s.Moisture, p)
}

func activityAt(warmth float64, m DryBasis, p *Properties) float64 {
	x, wet := exponentAt(warmth, m, p)
	if wet {
		return 1
	}
	return 1 - fallOff.at(-x)
}

// exponentAt returns the x of a water activity of 1 − exp(−x); wet where that is 1.
func exponentAt(warmth float64, m DryBasis, p *Properties) (x float64, wet bool) {
	y := 100 * float64(m) / p.EMCFactor
	if y >= mostSorbed {
		return 0, true
	}
	x = warmth * sorbed.at(y)
	return x, x > wetExponent
}
