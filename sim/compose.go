package sim

import (
	"math"

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

// search is the best charge found so far, and what the batches looked at would load together.
type search struct {
	fire      *charge.Fire
	restH     float64 // of the shift
	available int     // good stalks of all batches
	best      mix
	finished  int // stalks by charges like the best

	loaded  int     // good stalks
	water   float64 // their stalks times moisture
	filmKg  float64 // rain water on them
	wettest stalk.DryBasis
	holds   float64 // stalks of a full cabinet with so wet a lot
	most    int     // charges with so wet a lot in the rest of the shift
}

// compose returns the charge that finishes most stalks in the rest of the
// shift: over all beginnings of the order, and smaller fills where a full
// cabinet would take too long, stalks loaded times whole charges that fit,
// never more than there are, and the larger load of equals.
func (ds *dryers) compose(y *yard, fire *charge.Fire, nowH float64) (best mix, ok bool) {
	s := search{fire: fire, restH: ds.shiftEndH() - ds.hourOfShift(nowH), available: y.gradeOrder()}
	ds.load.Lots = ds.load.Lots[:0]
	for k := range y.order {
		if y.good[k] > 0 {
			ds.tryUpTo(k, y, &s)
		}
	}
	return s.best, s.finished > 0
}

// tryUpTo tries the fills of a cabinet with the beginning of the order up to batch k.
func (ds *dryers) tryUpTo(k int, y *yard, s *search) {
	b := &y.batches[y.order[k]]
	moisture, onKg := b.state.Moisture, y.film(b)
	if moisture > s.wettest {
		s.wettest, s.holds, s.most = moisture, float64(ds.capacity(moisture)), ds.mostThatFit(s, moisture)
	}
	last := ds.think(moisture)
	for fill := 1.0; fill >= 0.25; fill -= 0.25 {
		m := mix{last: k, wettest: s.wettest, stalks: min(s.loaded+y.good[k], int(s.holds*fill))}
		if m.stalks <= s.loaded || float64(m.stalks) < ds.region.Dryer.MinimumFill*s.holds {
			break
		}
		if s.beats(&m, m.stalks*s.most) {
			last.DryKg = ds.dryKg(m.stalks - s.loaded)
			m.mean = stalk.DryBasis((s.water + float64(m.stalks-s.loaded)*float64(moisture)) / float64(m.stalks))
			m.filmKg = s.filmKg + last.DryKg*onKg
			ds.try(m, s)
		}
	}
	last.DryKg = ds.dryKg(y.good[k])
	s.filmKg += last.DryKg * onKg
	s.loaded += y.good[k]
	s.water += float64(y.good[k]) * float64(moisture)
}

// try works out the load thought of and keeps it if it is the best so far.
func (ds *dryers) try(m mix, s *search) {
	ds.load.FilmKg = m.filmKg
	m.dryingH = ds.workOut(s.fire)
	if finishes := m.stalks * ds.chargesThatFit(s.fire, m.dryingH, s.restH); s.beats(&m, finishes) {
		s.best, s.finished = m, min(s.available, finishes)
	}
}

// beats tells whether a charge by which so many stalks are finished is better than the best.
func (s *search) beats(m *mix, finishes int) bool {
	finishes = min(s.available, finishes)
	return finishes > s.finished || finishes == s.finished && finishes > 0 && m.stalks > s.best.stalks
}

// mostThatFit returns a number of charges that no load with such a wettest lot exceeds in the
// rest of the shift: it spares working out loads that cannot be the best.
func (ds *dryers) mostThatFit(s *search, wettest stalk.DryBasis) int {
	if ds.hoursOf != nil {
		return math.MaxInt32
	}
	return ds.chargesThatFit(s.fire, s.fire.LeastH(wettest), s.restH)
}

// think adds a lot to the load thought of, wettest first, and returns it.
func (ds *dryers) think(m stalk.DryBasis) *charge.Lot {
	ds.load.Lots = append(ds.load.Lots, charge.Lot{Moisture: m})
	i := len(ds.load.Lots) - 1
	for ; i > 0 && ds.load.Lots[i-1].Moisture < m; i-- {
		ds.load.Lots[i-1], ds.load.Lots[i] = ds.load.Lots[i], ds.load.Lots[i-1]
	}
	return &ds.load.Lots[i]
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
