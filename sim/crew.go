package sim

import (
	"math"

	"drystalk/sim/charge"
	"drystalk/sim/stalk"
)

// lookEveryH is how often in a shift the crew looks whether a charge should be
// fired, besides when stalks land and when a dryer comes free. Assumption.
const lookEveryH = 4

// look is when a crew last looked for a charge in vain, and what it found.
type look struct {
	changes int // of the yard until then
	atH     float64
	why     DryerState
}

// lookAround lets every free dryer look for a charge.
func (y *siteSeason) lookAround(nowH float64) {
	cabinets := y.dryers.cabinets
	for n := range cabinets {
		if !cabinets[n].free(nowH) || y.ask(n, nowH) {
			continue
		}
		for k := n + 1; k < len(cabinets); k++ { // what one working dryer does not want, the next does not either
			if len(cabinets[k].charge) == 0 {
				y.dryers.idle(k, cabinets[n].why, nowH)
			}
		}
		return
	}
}

// ask lets a free dryer look for a charge. It tells whether one was loaded.
func (y *siteSeason) ask(n int, nowH float64) bool {
	if last := &y.dryers.asked; y.yard.changes == last.changes && nowH < last.atH+lookEveryH {
		y.dryers.idle(n, last.why, nowH)
		return false
	}
	fire, m, why := y.findCharge(nowH)
	if fire == nil {
		y.dryers.idle(n, why, nowH)
		return false
	}
	y.dryers.bookHours(n, nowH)
	y.load(n, m, fire)
	return true
}

// findCharge looks for a charge that should be fired now. Where there is none it returns no
// fire, and why.
func (y *siteSeason) findCharge(nowH float64) (*charge.Fire, mix, DryerState) {
	if !y.wantsFire() {
		if y.yard.wet() {
			return nil, mix{}, DryerNotWanted // the sun may do it
		}
		return nil, mix{}, DryerNoStalks
	}
	if !y.people.canTend(y.dryers.burning(nowH)) {
		return nil, mix{}, DryerNoPeople
	}
	y.yard.orderWet()
	fire := y.dryers.fires.on(int(nowH) / 24)
	m, ok := y.dryers.compose(&y.yard, fire, nowH)
	if !ok {
		y.dryers.asked = look{y.yard.changes, nowH, y.dryers.noCharge(&y.yard)}
		return nil, mix{}, y.dryers.asked.why
	}
	if y.dryers.lacksWood(m, fire) {
		y.month.NoWood++
		return nil, mix{}, DryerNoWood
	}
	return fire, m, 0
}

// wantsFire tells whether a charge should be fired now: enough stalks are at risk of mould or
// the yard wants room.
func (y *siteSeason) wantsFire() bool {
	if y.yard.short() {
		return true
	}
	atRisk, wettest := y.yard.atRisk(y.region.Dryer.FireAtIndex)
	return atRisk > 0 && float64(atRisk) >= y.region.Dryer.AtRiskFraction*float64(y.dryers.capacity(wettest))
}

// load takes the stalks of a mix out of the yard, sorts out what is not of
// full grade, and lights the fire when the cabinet is loaded.
func (y *siteSeason) load(n int, m mix, fire *charge.Fire) {
	d := &y.dryers.cabinets[n]
	y.beginLoad()
	d.charge = d.charge[:0]
	loaded, water := 0, 0.0
	m.filmKg = 0
	for k := range m.last + 1 {
		l, filmKg := y.draw(k, m.stalks-loaded)
		y.noteDrawn(k, &l)
		m.filmKg += filmKg
		if l.stalks > 0 {
			d.charge = append(d.charge, l)
			loaded += l.stalks
			water += float64(l.stalks) * float64(l.state.Moisture)
		}
	}
	y.yard.dropEmpty()
	y.yard.changes++
	if loaded == 0 {
		return
	}
	y.people.work(2*float64(loaded)/1000*y.region.People.HandlingHPer1000, &y.month.Tasks.Handling)
	m.stalks, m.mean = loaded, stalk.DryBasis(water/float64(loaded))
	y.engine.At(y.dryers.light(n, m, fire, y.engine.NowH()), rankDryer, event{fireOut, n})
	y.noteLit(d)
}

// draw takes stalks of a batch of the order out of the yard and grades them until so many
// are of full grade, or none is left. It returns them with their film, which the fire drives
// off, kg; that of stalks sorted out is shaken off.
func (y *siteSeason) draw(k, want int) (l lot, filmKg float64) {
	b := &y.yard.batches[y.yard.order[k]]
	drawn := b.stalks
	if good := y.yard.good[k]; good > want {
		drawn = min(drawn, int(math.Ceil(float64(want)*float64(b.stalks)/float64(good))))
	}
	film := y.yard.film(b)
	l = lot{kept: b.kept, state: b.state}
	l.state.FilmKgPerM2 = 0
	l.stalks = y.people.grade(drawn, &l.kept, &l.state)
	if over := l.stalks - want; over > 0 { // rounding of whole stalks: the odd one stays out
		drawn, l.stalks = drawn-over, l.stalks-over
	}
	y.yard.takeFrom(b, drawn)
	y.water.Shed += y.dryKg(drawn-l.stalks) * film
	return l, y.dryKg(l.stalks) * film
}

// fireGoesOut books the tending, which is done, and puts the unloading on the clock.
func (y *siteSeason) fireGoesOut(n int, nowH float64) {
	d := &y.dryers.cabinets[n]
	tendH := d.dryingH / max(1, y.region.People.TendsDryers)
	y.people.work(tendH, &y.month.Tasks.Tending)
	if d.dryingH > 0 {
		y.month.Tasks.Night += tendH * nightHours(d.lightH, d.fireOutH) / d.dryingH
	}
	y.engine.At(y.dryers.fireGoesOut(n, nowH), rankDryer, event{unloaded, n})
}

// unload brings the charge to the store; where that is full, dry stalks lie on the racks.
func (y *siteSeason) unload(n int, nowH float64) {
	lots := y.dryers.open(n, nowH)
	for i := range lots {
		l := &lots[i]
		full := y.people.bundle(l.stalks, &l.kept, &l.state)
		fits := min(full, y.store.room())
		y.store.put(nowH, fits, l.state)
		if full > fits {
			l.state.Predried = true
			y.yard.spread(int(nowH)/24, full-fits, l.kept, l.state)
		}
	}
}
