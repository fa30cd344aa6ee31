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

// compose returns the charge that finishes most stalks in the rest of the
// shift: over all beginnings of the order, and smaller fills where a full
// cabinet would take too long, stalks loaded times whole charges that fit,
// never more than there are, and the larger load of equals.
func (ds *dryers) compose(y *yard, fire *charge.Fire, nowH float64) (best mix, ok bool) {
	available := y.gradeOrder()
	mostFinished := 0
	var loaded int    // good stalks of the batches before the last
	var water float64 // their stalks times moisture
	var film float64  // rain water on them, kg
	var wettest stalk.DryBasis
	ds.load.Lots = ds.load.Lots[:0]
	for k, i := range y.order {
		b := &y.batches[i]
		if y.good[k] == 0 {
			continue
		}
		wettest = max(wettest, b.state.Moisture)
		last, most := ds.think(b.state.Moisture), ds.mostThatFit(fire, wettest, nowH)
		onKg := y.film(&b.state, b.at)
		for fill := 1.0; fill >= 0.25; fill -= 0.25 {
			m := mix{last: k, wettest: wettest}
			holds := ds.capacity(wettest)
			m.stalks = min(loaded+y.good[k], int(float64(holds)*fill))
			if m.stalks <= loaded || float64(m.stalks) < ds.region.Dryer.MinimumFill*float64(holds) {
				break
			}
			m.mean = stalk.DryBasis((water + float64(m.stalks-loaded)*float64(b.state.Moisture)) / float64(m.stalks))
			if m.beyond(min(available, m.stalks*most), mostFinished, &best) {
				continue
			}
			last.DryKg = ds.dryKg(m.stalks - loaded)
			m.filmKg = film + last.DryKg*onKg
			ds.load.FilmKg = m.filmKg
			m.dryingH = ds.workOut(fire)
			finished := min(available, m.stalks*ds.chargesThatFit(fire, m.dryingH, nowH))
			if finished > mostFinished || (finished == mostFinished && m.stalks > best.stalks) {
				best, mostFinished = m, finished
			}
		}
		last.DryKg = ds.dryKg(y.good[k])
		film += last.DryKg * onKg
		loaded += y.good[k]
		water += float64(y.good[k]) * float64(b.state.Moisture)
	}
	return best, mostFinished > 0
}

// mostThatFit returns a number of charges that no load with such a wettest lot exceeds in the
// rest of the shift: it spares working out loads that cannot be the best.
func (ds *dryers) mostThatFit(fire *charge.Fire, wettest stalk.DryBasis, nowH float64) int {
	if ds.hoursOf != nil {
		return math.MaxInt32
	}
	return ds.chargesThatFit(fire, fire.LeastH(wettest), nowH)
}

// beyond tells whether a load that finishes at most so many stalks cannot be better than the best.
func (m *mix) beyond(most, mostFinished int, best *mix) bool {
	return most == 0 || most < mostFinished || most == mostFinished && m.stalks <= best.stalks
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
// into the rest of the shift. The fire must be out when the shift ends; cooling
// and unloading of the last charge need nobody that day.
func (ds *dryers) chargesThatFit(fire *charge.Fire, dryingH, nowH float64) int {
	d := &ds.region.Dryer
	restH := ds.shiftEndH() - ds.hourOfShift(nowH)
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
