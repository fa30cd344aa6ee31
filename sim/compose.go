package sim

import (
	"drystalk/sim/charge"
	"drystalk/sim/stalk"
)

// mix is a charge thought of but not yet loaded.
type mix struct {
	last    int // place in the order of the last batch that goes in
	stalks  int // full-grade stalks loaded
	wettest stalk.DryBasis
	mean    stalk.DryBasis
	filmKg  float64 // rain water on the stalks
	dryingH float64
}

// beginning is the order of loading up to one batch, which may go in in part.
type beginning struct {
	last     int // place of that batch in the order
	good     int // its full-grade stalks
	moisture stalk.DryBasis
	onKg     float64 // rain water on a kg of its dry matter

	before  int     // full-grade stalks of the batches before it
	water   float64 // those stalks times their moisture
	filmKg  float64 // rain water on them
	wettest stalk.DryBasis
}

// filling is a charge of so many stalks that may be the best.
type filling struct {
	of       *beginning
	stalks   int
	finishes int  // stalks, by charges like it: at most so many
	slow     bool // its slow stalk has been looked at for that
}

// search is the best charge found so far, and those that may be better.
type search struct {
	fire      *charge.Fire
	restH     float64 // of the shift
	available int     // good stalks of all batches

	best    filling
	bestMix mix
	begins  []beginning
	fills   []filling // not worked out yet
}

// compose returns the charge that finishes most stalks in the rest of the
// shift: over all beginnings of the order, and smaller fills where a full
// cabinet would take too long, stalks loaded times whole charges that fit,
// never more than there are, the larger load of equals, and of loads as large the shorter
// beginning. The most promising filling is worked out first, so that most others need not be.
func (ds *dryers) compose(y *yard, fire *charge.Fire, nowH float64) (best mix, ok bool) {
	s := &ds.search
	*s = search{
		fire: fire, restH: ds.shiftEndH() - ds.hourOfShift(nowH), available: y.gradeOrder(),
		begins: s.begins[:0], fills: s.fills[:0],
	}
	s.begin(y)
	for k := range s.begins {
		ds.addFills(&s.begins[k], s)
	}
	for {
		f, any := s.mostPromising()
		switch {
		case !any:
			return s.bestMix, s.best.finishes > 0
		case ds.lookAtSlow(&f, s):
			s.fills = append(s.fills, f)
		default:
			ds.try(&f, s)
		}
	}
}

// begin lists the beginnings of the order of a yard.
func (s *search) begin(y *yard) {
	var b beginning
	for k, i := range y.order {
		if y.good[k] == 0 {
			continue
		}
		on := &y.batches[i]
		b.last, b.good, b.moisture, b.onKg = k, y.good[k], on.state.Moisture, y.film(on)
		b.wettest = max(b.wettest, b.moisture)
		s.begins = append(s.begins, b)
		b.before += b.good
		b.water += float64(b.good) * float64(b.moisture)
		b.filmKg += y.dryKg(b.good) * b.onKg
	}
}

// addFills lists the fills of a cabinet with a beginning.
func (ds *dryers) addFills(b *beginning, s *search) {
	holds := float64(ds.capacity(b.wettest))
	last := 0
	for part := 1.0; part >= 0.25; part -= 0.25 {
		n := min(b.before+b.good, int(holds*part))
		if n <= b.before || float64(n) < ds.region.Dryer.MinimumFill*holds {
			return
		}
		if n != last {
			s.fills = append(s.fills, filling{of: b, stalks: n, finishes: ds.most(b, n, s)})
		}
		last = n
	}
}

// most returns stalks that charges of so many stalks of a beginning do not exceed in the rest of
// the shift, as far as the heat of the fire goes.
func (ds *dryers) most(b *beginning, stalks int, s *search) int {
	if ds.hoursOf != nil {
		return s.available
	}
	last := float64(stalks - b.before)
	kgAStalk := ds.dryKg(1)
	water := kgAStalk*(b.water+last*float64(b.moisture)) + b.filmKg + kgAStalk*last*b.onKg
	leastH := s.fire.LeastToDriveOffH(kgAStalk*float64(stalks), water)
	return min(s.available, stalks*ds.chargesThatFit(s.fire, leastH, s.restH))
}

// lookAtSlow lowers what a filling may finish to what its slow stalk allows. It tells whether that
// is less.
func (ds *dryers) lookAtSlow(f *filling, s *search) (less bool) {
	if f.slow || ds.hoursOf != nil {
		return false
	}
	f.slow = true
	before := f.finishes
	f.finishes = min(before, f.stalks*ds.chargesThatFit(s.fire, s.fire.LeastH(f.of.wettest), s.restH))
	return f.finishes < before
}

// mixOf returns the charge of so many stalks of a beginning, its hours not known yet.
func (ds *dryers) mixOf(b *beginning, stalks int) mix {
	n := stalks - b.before
	return mix{
		last: b.last, stalks: stalks, wettest: b.wettest,
		mean:   stalk.DryBasis((b.water + float64(n)*float64(b.moisture)) / float64(stalks)),
		filmKg: b.filmKg + ds.dryKg(n)*b.onKg,
	}
}

// mostPromising takes the filling that may be the best of those not worked out yet; false where none
// may beat the best so far.
func (s *search) mostPromising() (f filling, any bool) {
	most, at := &s.best, -1
	for i := range s.fills {
		if o := &s.fills[i]; o.beats(most) {
			most, at = o, i
		}
	}
	if at < 0 {
		return f, false
	}
	f = *most
	last := len(s.fills) - 1
	s.fills[at] = s.fills[last]
	s.fills = s.fills[:last]
	return f, true
}

// beats tells whether a charge is better than another, by the stalks that both finish.
func (f *filling) beats(o *filling) bool {
	switch {
	case f.finishes != o.finishes:
		return f.finishes > o.finishes
	case f.finishes == 0:
		return false
	case f.stalks != o.stalks:
		return f.stalks > o.stalks
	}
	return f.of.last < o.of.last
}

// try works out a filling and keeps it if it is the best so far.
func (ds *dryers) try(f *filling, s *search) {
	m := ds.mixOf(f.of, f.stalks)
	ds.thinkOf(m.filmKg)
	for k := range s.begins {
		b := &s.begins[k]
		if b == f.of {
			break
		}
		ds.think(ds.dryKg(b.good), b.moisture)
	}
	ds.think(ds.dryKg(f.stalks-f.of.before), f.of.moisture)
	m.dryingH = ds.workOut(s.fire)
	f.finishes = min(s.available, f.stalks*ds.chargesThatFit(s.fire, m.dryingH, s.restH))
	if f.beats(&s.best) {
		s.best, s.bestMix = *f, m
	}
}

// thinkOf begins a load with so much rain water on it, kg.
func (ds *dryers) thinkOf(filmKg float64) {
	ds.load.Lots, ds.load.FilmKg = ds.load.Lots[:0], filmKg
}

// think adds a lot to the load thought of, wettest first.
func (ds *dryers) think(dryKg float64, m stalk.DryBasis) {
	ds.load.Lots = append(ds.load.Lots, charge.Lot{DryKg: dryKg, Moisture: m})
	for i := len(ds.load.Lots) - 1; i > 0 && ds.load.Lots[i-1].Moisture < m; i-- {
		ds.load.Lots[i-1], ds.load.Lots[i] = ds.load.Lots[i], ds.load.Lots[i-1]
	}
}

// noCharge says why no charge could be put together: too few stalks for the smallest one,
// or too little time to the end of the shift.
func (ds *dryers) noCharge(y *yard) DryerState {
	good, wettest := 0, ds.p.Cabinet.Target.DryBasis()
	for k, i := range y.order {
		good += y.good[k]
		wettest = max(wettest, y.batches[i].state.Moisture)
	}
	if good > 0 && float64(good) >= ds.region.Dryer.MinimumFill*float64(ds.capacity(wettest)) {
		return DryerNoTime
	}
	return DryerNoStalks
}

// capacity returns the stalks a cabinet holds when its wettest batch has the
// given moisture.
func (ds *dryers) capacity(wettest stalk.DryBasis) int {
	d := &ds.region.Dryer
	holds := charge.Capacity(d.HoldsFresh, d.HoldsPredried, wettest, ds.p.Stalk.FreshMoisture.DryBasis())
	if d.HoldsFraction > 0 {
		holds = int(float64(holds) * d.HoldsFraction)
	}
	return holds
}

// chargesThatFit returns how many whole charges of the given drying hours fit
// into the rest of the shift, restH. The fire must be out when the shift ends; cooling
// and unloading of the last charge need nobody that day.
func (ds *dryers) chargesThatFit(fire *charge.Fire, dryingH, restH float64) int {
	d := &ds.region.Dryer
	firstH := d.HandlingH + dryingH
	if firstH > restH {
		return 0
	}
	cycleH := firstH + fire.CoolingH() + d.HandlingH
	return 1 + int((restH-firstH)/cycleH)
}

// lacksWood tells whether the wood at hand is too little for a charge.
func (ds *dryers) lacksWood(m mix, fire *charge.Fire) bool {
	if !ds.region.Dryer.WoodLimited {
		return false
	}
	dry := ds.dryKg(m.stalks)
	water := dry*float64(m.mean) + m.filmKg
	return ds.woodKg < fire.WoodKg(charge.WoodBill{WaterKg: water, LoadedWaterKg: water, DryKg: dry, DryingH: m.dryingH})
}
