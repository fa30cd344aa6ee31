package charge

import (
	"math"

	"drystalk/sim/stalk"
)

// Load is what lies in a cabinet when it is lit.
type Load struct {
	Lots   []Lot
	FilmKg float64 // rain water that clings to the stalks: it is driven off before they dry
}

// Course is a load under a fire, from lighting until the fire is out. [Course.Begin] works it
// out and uses the memory of the charge before; the zero Course is ready.
//
// One rule holds between lots and within a lot: while the fire's limit binds, every stalk loses
// its own demand, but no more than a common rate r* by which all that is evaporated is just the
// limit. The heating up is stepped; at SetC the rule is solved piece by piece, see spans.
type Course struct {
	DryingH float64 // hours of fire; 0 for a load that is dry, infinite where the chamber cannot dry it

	fire   *Fire
	filmKg float64 // left so far
	lots   []Lot   // wettest first, as they are when the chamber is hot
	young  []young // by step of the heating up
	hotH   float64 // from then on stalks dry at SetC: their film is gone and all is warm
	spans  []span  // while the limit binds
	freeH  float64 // from then on it binds no stalk
	shared float64 // what a stalk on the common path lost from hotH to freeH
}

// young is how a step of the heating up is shared: the part of it that is left when the film is
// gone, and the most that a stalk may lose in it.
type young struct{ part, most float64 }

// span is a time at SetC in which the same lots are held at the common rate: those of massKg.
// What the drier lots demand, kg/h, falls by their own rate from demand to last.
type span struct {
	fromH, hours float64
	massKg       float64
	demand, last float64
	shared       float64 // what a stalk on the common path lost from hotH to fromH
	lost         float64 // what it loses in the span
	rate, end    float64 // at which it does at its beginning and at its end, 1/h
}

// Begin works out a load under a fire.
func (c *Course) Begin(f *Fire, load Load) {
	c.fire, c.DryingH = f, 0
	c.sort(load.Lots)
	c.filmKg = load.FilmKg
	wettest := float64(c.lots[0].Moisture)
	youngMJ, owedMJ := f.youngMJ(load.bill())
	slow := c.heatUp(wettest, youngMJ)
	c.hotH = f.c.HeatUpH + owedMJ/f.powerMJ + c.filmKg/f.capKgPH
	c.share()
	switch {
	case wettest <= f.target:
		c.DryingH = 0
	case c.DryingH > 0: // dry before the chamber was hot
	case f.emc >= f.target:
		c.DryingH = math.Inf(1)
	default:
		c.DryingH = c.reaches(slow-f.emc, f.slow/f.rate, f.target-f.emc)
	}
}

// A load whose hours at least are known need not be worked out where they are too many already.
// Both bounds are taken a hair lower, for the rounding of what they are compared with.
const aHairLess = 1 - 1e-9

// LeastH returns hours that no load whose wettest lot has moisture m can stay below: those of its
// slow stalk alone, which loses no more than its own demand.
func (f *Fire) LeastH(m stalk.DryBasis) float64 {
	hot := float64(m) * f.slowLeft // at least, when the chamber is
	switch {
	case hot <= f.target:
		return 0
	case f.emc >= f.target:
		return math.Inf(1)
	}
	return aHairLess * (f.c.HeatUpH + leastLog((hot-f.emc)/(f.target-f.emc))/f.slow)
}

// leastLog returns less than the logarithm of a number from 1 on, by 0.06 at most, or as much: its
// exponent and mantissa taken as a straight line between powers of 2.
func leastLog(x float64) float64 {
	const one, mantissa = 0x3ff << 52, 1 << 52
	return math.Ln2 / mantissa * float64(int64(math.Float64bits(x))-one)
}

// LeastToDriveOffH returns hours that no load of so much dry matter, with the water in and on it,
// can stay below if each of its lots is wetter than the target: when its fire is out, the mean stalk
// of each is at the target at most, for it is no slower than the slow stalk of the wettest. The
// rest of the water was driven off, and the fire drives off so much while it heats up and never
// more than its limit after that.
func (f *Fire) LeastToDriveOffH(dryKg, waterKg float64) float64 {
	left := waterKg - f.target*dryKg
	if youngMJ := f.sparesMJ - f.stalksMJ(WoodBill{DryKg: dryKg, LoadedWaterKg: waterKg}); youngMJ > 0 {
		left -= youngMJ * f.youngKgPMJ
	} else {
		left -= youngMJ / f.powerMJ * f.capKgPH // which is owed
	}
	if !(left > 0) {
		return 0
	}
	return aHairLess * (f.c.HeatUpH + left/f.capKgPH)
}

// sort copies the lots, wettest first.
func (c *Course) sort(lots []Lot) {
	c.lots = c.lots[:0]
	for _, l := range lots {
		c.lots = append(c.lots, l)
		for i := len(c.lots) - 1; i > 0 && c.lots[i-1].Moisture < l.Moisture; i-- {
			c.lots[i-1], c.lots[i] = l, c.lots[i-1]
		}
	}
}

// heatUp steps the lots through the heating up and returns the moisture of the slow stalk of
// the wettest. Where that is dry before, it sets DryingH. youngMJ is what is left for water, MJ/h.
func (c *Course) heatUp(slow, youngMJ float64) float64 {
	f := c.fire
	c.young = c.young[:0]
	for j := range f.heating {
		w := &f.heating[j]
		y := c.driveOff(w, youngMJ*f.stepH)
		c.young = append(c.young, y)
		before := slow
		slow -= y.loss(w.slows, slow-w.emc)
		c.lose(w, &y)
		if slow <= f.target && c.DryingH == 0 {
			c.DryingH = (float64(j) + (before-f.target)/(before-slow)) * f.stepH
		}
	}
	return slow
}

// lose takes from every lot what it loses in a step.
func (c *Course) lose(w *warmer, y *young) {
	for i := range c.lots {
		l := &c.lots[i]
		l.Moisture -= stalk.DryBasis(y.loss(w.dries, float64(l.Moisture)-w.emc))
	}
}

// loss returns what a stalk loses in the step that would lose a part of what it has above the
// equilibrium.
func (y *young) loss(dries, excess float64) float64 {
	if !(excess > 0) {
		return 0
	}
	if own := y.part * dries * excess; own < y.most {
		return own
	}
	return y.most
}

// driveOff takes the film off with the heat of a step, MJ, and shares what is left of it.
func (c *Course) driveOff(w *warmer, heatMJ float64) young {
	y := young{part: 1}
	waterKg := heatMJ / w.perKgMJ
	if film := min(c.filmKg, waterKg); film > 0 || c.filmKg > 0 {
		c.filmKg -= film
		if c.filmKg > 0 {
			return young{}
		}
		y.part -= film / waterKg
		waterKg -= film
	}
	y.most = c.commonLoss(w, y.part, waterKg)
	return y
}

// commonLoss returns the most that a stalk may lose in a part of a step of the heating up for all
// lots to give no more than the water given, kg: infinite where they want less.
func (c *Course) commonLoss(w *warmer, part, waterKg float64) float64 {
	want := 0.0
	for i := range c.lots {
		l := &c.lots[i]
		if excess := float64(l.Moisture) - w.emc; excess > 0 {
			want += l.DryKg * part * w.dries * excess
		}
	}
	if want <= waterKg {
		return math.Inf(1)
	}
	held, most := 0.0, 0.0
	for i := range c.lots { // from the wettest: until the next wants less than the common loss
		l := &c.lots[i]
		own := 0.0
		if excess := float64(l.Moisture) - w.emc; excess > 0 {
			own = part * w.dries * excess
		}
		if held > 0 && most >= own {
			break
		}
		held += l.DryKg
		want -= l.DryKg * own
		most = (waterKg - want) / held
	}
	return max(0, most)
}

// share works out the spans. Of the lots held at the common rate the driest goes free first:
// when all wetter ones, were they as dry, and those gone free before would together want just
// the limit.
func (c *Course) share() {
	f := c.fire
	k, limit := f.rate, f.capKgPH
	c.spans, c.freeH, c.shared = c.spans[:0], c.hotH, 0
	held, want := 0.0, 0.0
	for i := range c.lots {
		held += c.lots[i].DryKg
		if excess := float64(c.lots[i].Moisture) - f.emc; excess > 0 {
			want += c.lots[i].DryKg * k * excess
		}
	}
	if want <= limit {
		return
	}
	free := 0.0 // demand of the lots that went free
	for i := len(c.lots) - 1; i >= 0; i-- {
		l := &c.lots[i]
		excess := float64(l.Moisture) - f.emc
		hours := (held*k*(excess-c.shared) + free - limit) / (k * limit)
		if hours > 0 {
			s := span{fromH: c.freeH, hours: hours, massKg: held, demand: free, last: free, shared: c.shared}
			if free > 0 {
				s.last *= math.Exp(-k * hours)
			}
			s.lost = f.lost(&s, hours, s.last)
			s.rate, s.end = (limit-s.demand)/held, (limit-s.last)/held
			c.spans = append(c.spans, s)
			c.freeH += hours
			c.shared += s.lost
			free = s.last
		}
		held -= l.DryKg
		free += l.DryKg * k * max(0, excess-c.shared)
	}
}

// leaves returns when a stalk at SetC leaves the common path for its own, and how far above the
// equilibrium it is then. excess is that at hotH, factor its rate over the mean's.
func (c *Course) leaves(excess, factor float64) (atH, left float64) {
	f := c.fire
	for i := range c.spans {
		s := &c.spans[i]
		above := excess - s.shared
		if factor*f.rate*above <= s.rate {
			return s.fromH, above
		}
		after := above - s.lost
		if factor*f.rate*after > s.end {
			continue
		}
		hours := f.ownRateFrom(s, above, factor)
		return s.fromH + hours, above - f.lost(s, hours, f.wanted(s, hours))
	}
	return c.freeH, excess - c.shared
}

// lost returns what a stalk on the common path loses in the first hours of a span, at whose
// end the free lots want so much, kg/h.
func (f *Fire) lost(s *span, hours, want float64) float64 {
	return (f.capKgPH*hours - (s.demand-want)/f.rate) / s.massKg
}

// wanted returns what the free lots want after some hours of a span, kg/h.
func (f *Fire) wanted(s *span, hours float64) float64 {
	if s.demand == 0 { // none is free, as in the first span of every load
		return 0
	}
	return s.demand * math.Exp(-f.rate*hours)
}

// solverSteps bounds Newton's method; it takes three or four.
const solverSteps = 20

// ownRateFrom returns the hours of a span after which a stalk's own rate is the common one: the
// root of factor·k·(above − lost) = (limit − want)/mass, by Newton's method.
func (f *Fire) ownRateFrom(s *span, above, factor float64) float64 {
	k, limit := f.rate, f.capKgPH
	fixed := factor*(s.massKg*k*above+s.demand) - limit
	hours := (fixed + (1-factor)*s.demand) / (k * limit * factor)
	if s.demand == 0 || factor == 1 {
		return max(0, hours)
	}
	for range solverSteps {
		want := (1 - factor) * s.demand * math.Exp(-k*hours)
		step := (k*limit*factor*hours - fixed - want) / (k * (limit*factor + want))
		hours -= step
		if math.Abs(step) < 1e-9 {
			break
		}
	}
	return max(0, min(hours, s.hours))
}

// reaches returns the hour at which a stalk has come from excess at hotH down to a smaller one.
func (c *Course) reaches(excess, factor, goal float64) float64 {
	atH, left := c.leaves(excess, factor)
	if left > goal {
		return atH + math.Log(left/goal)/(factor*c.fire.rate)
	}
	return c.onCommonPath(excess - goal)
}

// onCommonPath returns the hour at which a stalk on the common path has lost so much since hotH.
func (c *Course) onCommonPath(loss float64) float64 {
	f := c.fire
	for i := range c.spans {
		s := &c.spans[i]
		end := c.shared
		if i+1 < len(c.spans) {
			end = c.spans[i+1].shared
		}
		if loss > end {
			continue
		}
		wanted := (loss - s.shared) * s.massKg
		hours := wanted / f.capKgPH
		for n := 0; s.demand > 0 && n < solverSteps; n++ {
			want := f.wanted(s, hours)
			step := (f.capKgPH*hours - (s.demand-want)/f.rate - wanted) / (f.capKgPH - want)
			hours -= step
			if math.Abs(step) < 1e-9 {
				break
			}
		}
		return s.fromH + hours
	}
	return c.freeH
}

// commonLossTo returns what a stalk on the common path has lost since hotH.
func (c *Course) commonLossTo(atH float64) float64 {
	for i := range c.spans {
		if s := &c.spans[i]; atH < s.fromH+s.hours {
			hours := max(0, atH-s.fromH)
			return s.shared + c.fire.lost(s, hours, c.fire.wanted(s, hours))
		}
	}
	return c.shared
}

// at returns the moisture, at an hour of the fire up to DryingH, of a stalk loaded at m whose
// rate is factor times the mean's.
func (c *Course) at(atH, m, factor float64) float64 {
	f := c.fire
	steps := atH / f.stepH
	for j := range f.heating {
		w, y := &f.heating[j], &c.young[j]
		part := steps - float64(j)
		if part <= 0 {
			return m
		}
		excess := m - w.emc
		if m-y.most == m || !(excess > 0) { // the fire still warms steel and stalks, or the air is too damp
			continue
		}
		own := y.part * w.mean * excess
		if factor != 1 {
			own = y.part * share(w.rate*factor*f.stepH) * excess
		}
		if own > y.most {
			own = y.most
		}
		if part < 1 {
			own *= part
		}
		m -= own
	}
	if atH <= c.hotH || m <= f.emc {
		return m
	}
	leftH, left := c.leaves(m-f.emc, factor)
	if atH <= leftH {
		return m - c.commonLossTo(atH)
	}
	return f.emc + left*math.Exp(-factor*f.rate*(atH-leftH))
}

// share is 1 − exp(−x) for a short step, within 1e-6 up to 0.4 and never above 1.
func share(x float64) float64 { return x / (1 + x/2 + x*x/12) }

// After returns the mean moisture of a lot that was loaded at m, when the fire is out.
func (c *Course) After(m stalk.DryBasis) stalk.DryBasis {
	if c.DryingH == 0 {
		return m
	}
	return stalk.DryBasis(c.at(c.DryingH, float64(m), 1))
}

// Hold lets the fire burn so many hours, from lighting, whatever the moisture of the stalks is then:
// for loads that were ended by a clock. Afterwards DryingH is those hours, and [Course.After] and
// [Course.Stalk] tell what came out.
func (c *Course) Hold(hours float64) { c.DryingH = hours }

// Stalk returns the moisture, when the fire is out, of a stalk loaded at m whose drying rate is
// factor times the mean's.
func (c *Course) Stalk(m stalk.DryBasis, factor float64) stalk.DryBasis {
	if c.DryingH == 0 {
		return m
	}
	return stalk.DryBasis(c.at(c.DryingH, float64(m), factor))
}
