package measured

import (
	"math"

	"drystalk/sim/charge"
	"drystalk/sim/stalk"
	"drystalk/tongue"
)

// Exact is how exactly a log is read: what its readings are rounded to.
type Exact struct {
	ScaleKg        float64 // of a whole load
	ClockH         float64
	MoisturePoints float64 // points of moisture, wet basis
	ThermometerC   float64
}

// Load is a load of a dryer as it was logged. What was not read is not a number.
type Load struct {
	Line        int // of the file
	Name        string
	Stalks      float64
	InKg, OutKg float64 // weights of the load
	In, Out     float64 // moisture of the mean stalk, wet basis, fractions
	ChamberC    float64 // mean while hot
	Hours       float64 // of fire
	WoodKg      float64
	WoodWet     float64 // moisture of the wood, wet basis
	Outside     charge.Ambient

	Sampled         int     // stalks whose moisture was read one by one at the end
	Driest, Wettest float64 // of them, wet basis
	StalkDryKg      float64 // dry matter of a stalk as documented, for loads that were not weighed
}

// state is what a load was by its readings.
type state struct {
	dryKg   float64
	in, out float64 // kg per kg of dry matter
}

func has(x float64) bool { return !math.IsNaN(x) }

// dry returns kg per kg of dry matter.
func dry(wet float64) float64 { return wet / (1 - wet) }

// state works out dry matter and moistures; ok is false where readings are missing.
func (l *Load) state() (s state, ok bool) {
	weighed := has(l.InKg) && has(l.OutKg)
	switch {
	case weighed && has(l.Out):
		s.dryKg = l.OutKg * (1 - l.Out)
		s.in, s.out = l.InKg/s.dryKg-1, dry(l.Out)
	case weighed && has(l.In):
		s.dryKg = l.InKg * (1 - l.In)
		s.in, s.out = dry(l.In), l.OutKg/s.dryKg-1
	case !has(l.In) || !has(l.Out):
		return s, false
	default:
		s.in, s.out = dry(l.In), dry(l.Out)
		switch {
		case has(l.InKg):
			s.dryKg = l.InKg * (1 - l.In)
		case has(l.OutKg):
			s.dryKg = l.OutKg * (1 - l.Out)
		case has(l.Stalks):
			s.dryKg = l.Stalks * l.StalkDryKg
		default:
			return s, false
		}
	}
	return s, true
}

// DryKg returns the dry matter of the load by its readings, kg; not a number where they are missing.
func (l *Load) DryKg() float64 {
	s, ok := l.state()
	if !ok {
		return math.NaN()
	}
	return s.dryKg
}

// Needed says which readings a load needs.
const Needed = "weight in and out with one of the moistures, or both moistures with a weight or the stalks"

// mostContrary is how many standard deviations two ways to the dry matter may lie apart.
const mostContrary = 4

// Contrary says what of the readings of a load cannot be together; "" where they can.
func (l *Load) Contrary(e Exact) (found, allowed string) {
	s, ok := l.state()
	switch {
	case !ok:
		return tongue.Say("too few readings"), Needed
	case !(s.out >= 0):
		return tongue.Plainf("%.1f kg out of a load of %.1f kg at %.0f %% moisture, which has %.1f kg of dry matter", l.OutKg, l.InKg, 100*l.In, s.dryKg), tongue.Say("a weight out of at least the dry matter")
	case s.in > dry(wettestIn):
		return tongue.Plainf("%.3g kg in that hold %.2g kg of dry matter, %.1f %% moisture", l.InKg, s.dryKg, 100*s.in/(1+s.in)), tongue.Plainf("up to %.0f %%: look whether a decimal mark is missing", 100*wettestIn)
	case !(s.in > s.out):
		return tongue.Say("a load that comes out no drier than it went in"), tongue.Say("less moisture out than in")
	}
	if has(l.InKg) && has(l.OutKg) && has(l.In) && has(l.Out) {
		byIn, sd := l.InKg*(1-l.In), l.InKg*pointsSD(e)
		if math.Abs(byIn-s.dryKg) > mostContrary*sd {
			return tongue.Plainf("%.1f kg of dry matter by weight and moisture in, %.1f kg by weight and moisture out", byIn, s.dryKg), tongue.Say("readings that belong together")
		}
	}
	if has(l.Stalks) {
		if g := 1000 * s.dryKg / l.Stalks; g < leastStalkG || g > mostStalkG {
			return tongue.Plainf("%.3g g of dry matter to a stalk", g), tongue.Plainf("%g to %g g: look whether stalks and kg are in their columns", leastStalkG, mostStalkG)
		}
	}
	return "", ""
}

// wettestIn is the moisture that no stalk passes, wet basis.
const wettestIn = 0.97

// A stalk has 2.7 to 11 g of dry matter (assumption); with some room for what is odd.
const (
	leastStalkG = 1.5
	mostStalkG  = 20.0
)

// pointsSD is the standard deviation of a moisture that was read, as a fraction.
func pointsSD(e Exact) float64 { return e.MoisturePoints / 200 }

// stalkMassSD is the standard deviation of the logarithm of the dry matter of a stalk where only
// stalks were counted (assumption: from 50 to 85 g fresh).
const stalkMassSD = 0.15

// reading is one of the things read of a load, and how exactly.
type reading struct {
	of func(l *Load) *float64
	sd float64
}

// readings lists what was read of a load.
func (l *Load) readings(e Exact) []reading {
	all := []reading{
		{func(l *Load) *float64 { return &l.InKg }, e.ScaleKg / 2},
		{func(l *Load) *float64 { return &l.OutKg }, e.ScaleKg / 2},
		{func(l *Load) *float64 { return &l.In }, pointsSD(e)},
		{func(l *Load) *float64 { return &l.Out }, pointsSD(e)},
		{func(l *Load) *float64 { return &l.ChamberC }, e.ThermometerC / 2},
		{func(l *Load) *float64 { return &l.Hours }, e.ClockH / 2},
		{func(l *Load) *float64 { return &l.StalkDryKg }, stalkMassSD * l.StalkDryKg},
	}
	out := all[:0]
	for _, r := range all {
		if has(*r.of(l)) && r.sd > 0 {
			out = append(out, r)
		}
	}
	return out
}

// most is the moisture out, kg per kg of dry matter, that may be uncertain by at most this: beyond,
// the load does not tell how dry it came out.
const mostUnsure = 0.05

// unsure tells whether the moisture out is not known well enough for the load to be of use.
func (l *Load) unsure(e Exact) bool {
	s, ok := l.state()
	if !ok {
		return true
	}
	variance := 0.0
	for _, r := range l.readings(e) {
		moved := *l
		*r.of(&moved) += r.sd
		if m, ok := moved.state(); ok {
			variance += square(m.out - s.out)
		}
	}
	return math.Sqrt(variance) > mostUnsure*max(1, s.out)
}

// course works out a load in a cabinet of a given drying rate and limit.
func (l *Load) course(c charge.Cabinet, rate, evaporates float64) (course charge.Course, s state) {
	s, _ = l.state()
	c.SetC, c.WoodMoisture, c.RateAt80CPerH, c.EvaporatesKgPerH = l.ChamberC, stalk.WetBasis(l.WoodWet), rate, evaporates
	f := c.Light(l.Outside)
	course.Begin(&f, charge.Load{Lots: []charge.Lot{{DryKg: s.dryKg, Moisture: stalk.DryBasis(s.in)}}})
	course.Hold(l.Hours)
	return course, s
}

// off returns the moisture out as it was read less what is expected, kg per kg of dry matter.
func (l *Load) off(c charge.Cabinet, theta []float64) float64 {
	course, s := l.course(c, math.Exp(theta[0]), math.Exp(theta[1]))
	return s.out - float64(course.After(stalk.DryBasis(s.in)))
}
