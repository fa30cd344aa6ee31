package sim

import (
	"math"

	"drystalk/sim/charge"
	"drystalk/sim/stalk"
)

// coolToC is the temperature at which a chamber may be opened and unloaded.
// Common practice, no source: wait for 45 °C or less.
const coolToC = 40

// warmWithinH and warmShare: a charge lit soon after the last fire finds the
// cabinet warm. Assumption: 0.4 of the temperature rise is still there.
const (
	warmWithinH = 4
	warmShare   = 0.4
)

// dryer is one cabinet: loaded, heating and drying, cooling, unloaded.
type dryer struct {
	charge    []lot // what lies in the cabinet; empty when free
	lightH    float64
	coldFromH float64
	unloadedH float64
	fireOutH  float64 // end of the last fire
	dryingH   float64
	woodKg    float64
	firedH    float64    // in the season so far
	fails     int        // breakdowns so far
	worksAtH  float64    // under repair, or out, until then
	readyH    float64    // put up and ready from then
	goneH     float64    // taken to another site then
	why       DryerState // it stands without a charge
	bookedH   float64    // up to when its shift hours are in the ledger
	spent     DryerHours
}

// mix is a charge thought of but not yet loaded.
type mix struct {
	last    int // place in the order of the last batch that goes in
	stalks  int // full-grade stalks loaded
	wettest stalk.DryBasis
	mean    stalk.DryBasis
	dryingH float64
}

// wantsFire tells whether a charge should be fired now: a batch is at risk of
// mould or the yard wants room.
func (y *siteSeason) wantsFire() bool {
	for i := range y.batches {
		if y.batches[i].state.MouldIndex >= y.region.Dryer.FireAtIndex {
			return true
		}
	}
	return y.short()
}

// lookEveryH is how often in a shift the crew looks whether a charge should be
// fired, besides when stalks land and when a dryer comes free. Assumption.
const lookEveryH = 4

// ask lets a free dryer look for a charge. It tells whether one was loaded.
func (y *siteSeason) ask(n int) bool {
	now := y.engine.NowH()
	if y.changes == y.changesAsked && now < y.askedH+lookEveryH {
		y.idle(n, y.whyAsked)
		return false
	}
	if !y.wantsFire() {
		y.idle(n, y.noNeed())
		return false
	}
	if !y.people.canTend(y.burning()) {
		y.idle(n, DryerNoPeople)
		return false
	}
	y.orderBatches()
	fire := y.season.fireOn(int(now)/24, y.region)
	best, ok := y.compose(fire)
	if !ok {
		y.askedH, y.changesAsked, y.whyAsked = now, y.changes, y.noCharge()
		y.idle(n, y.whyAsked)
		return false
	}
	if y.lacksWood(best, fire) {
		y.month.NoWood++
		y.idle(n, DryerNoWood)
		return false
	}
	y.bookDryer(n, now)
	y.load(n, best, fire)
	return true
}

// orderBatches sorts the batches that are not yet dry by the loading rule;
// ties by day cut, then by number. The order is a list of indices.
func (y *siteSeason) orderBatches() {
	y.order = y.order[:0]
	target := y.p.Cabinet.Target.DryBasis()
	for i := range y.batches {
		if y.batches[i].state.Moisture <= target {
			continue
		}
		j := len(y.order)
		y.order = append(y.order, i)
		for ; j > 0 && y.before(i, y.order[j-1]); j-- {
			y.order[j], y.order[j-1] = y.order[j-1], y.order[j]
		}
	}
}

// before tells whether batch i is loaded before batch j.
func (y *siteSeason) before(i, j int) bool {
	a, b := &y.batches[i], &y.batches[j]
	switch y.region.Dryer.LoadingRule {
	case MostAtRiskFirst:
		if a.state.MouldIndex != b.state.MouldIndex {
			return a.state.MouldIndex > b.state.MouldIndex
		}
	case DriestFirst:
		if a.state.Moisture != b.state.Moisture {
			return a.state.Moisture < b.state.Moisture
		}
	case WettestFirst:
		if a.state.Moisture != b.state.Moisture {
			return a.state.Moisture > b.state.Moisture
		}
	}
	if a.cutDay != b.cutDay {
		return a.cutDay < b.cutDay
	}
	return a.id < b.id
}

// compose returns the charge that finishes most stalks in the rest of the
// shift: over all beginnings of the order, and smaller fills where a full
// cabinet would take too long, stalks loaded times whole charges that fit,
// never more than there are, and the larger load of equals.
func (y *siteSeason) compose(fire *charge.Fire) (best mix, ok bool) {
	available := y.gradeOrder()
	mostFinished := 0
	var loaded int    // good stalks of the batches before the last
	var water float64 // their stalks times moisture
	var wettest stalk.DryBasis
	for k, i := range y.order {
		b := &y.batches[i]
		wettest = max(wettest, b.state.Moisture)
		for fill := 1.0; fill >= 0.25; fill -= 0.25 {
			m := mix{last: k, wettest: wettest}
			holds := y.capacity(wettest)
			m.stalks = min(loaded+y.good[k], int(float64(holds)*fill))
			if m.stalks <= loaded || float64(m.stalks) < y.region.Dryer.MinimumFill*float64(holds) {
				break
			}
			m.mean = stalk.DryBasis((water + float64(m.stalks-loaded)*float64(b.state.Moisture)) / float64(m.stalks))
			m.dryingH = y.hoursOf(fire, m.wettest, m.mean, y.dryKg(m.stalks))
			finished := min(available, m.stalks*y.chargesThatFit(m.dryingH))
			if finished > mostFinished || (finished == mostFinished && finished > 0 && m.stalks > best.stalks) {
				best, mostFinished = m, finished
			}
		}
		loaded += y.good[k]
		water += float64(y.good[k]) * float64(b.state.Moisture)
	}
	return best, mostFinished > 0
}

// gradeOrder fills good with the full-grade stalks of each batch of the order
// and returns their sum.
func (y *siteSeason) gradeOrder() int {
	y.good = y.good[:0]
	sum := 0
	for _, i := range y.order {
		b := &y.batches[i]
		n := b.stalks
		full := stalk.FullShare(b.state.PeakIndex, y.p.Stalk.MouldSpread)
		if full < b.kept {
			n = int(float64(n) * full / b.kept)
		}
		y.good = append(y.good, n)
		sum += n
	}
	return sum
}

// capacity returns the stalks a cabinet holds when its wettest batch has the
// given moisture.
func (y *siteSeason) capacity(wettest stalk.DryBasis) int {
	d := &y.region.Dryer
	holds := charge.Capacity(d.HoldsFresh, d.HoldsPredried, wettest, y.p.Stalk.FreshMoisture.DryBasis())
	if d.HoldsFraction > 0 {
		holds = int(float64(holds) * d.HoldsFraction)
	}
	return holds
}

// chargesThatFit returns how many whole charges of the given drying hours fit
// into the rest of the shift. The fire must be out when the shift ends; cooling
// and unloading of the last charge need nobody that day.
func (y *siteSeason) chargesThatFit(dryingH float64) int {
	d := &y.region.Dryer
	restH := y.shiftEndH() - y.hourOfShift(y.engine.NowH())
	firstH := d.HandlingH + dryingH
	if firstH > restH {
		return 0
	}
	cycleH := firstH + y.coolingH + d.HandlingH
	return 1 + int((restH-firstH)/cycleH)
}

// load takes the stalks of a mix out of the yard, sorts out what is not of
// full grade, and lights the fire when the cabinet is loaded.
func (y *siteSeason) load(n int, m mix, fire *charge.Fire) {
	d := &y.dryers[n]
	d.charge = d.charge[:0]
	want, loaded := m.stalks, 0
	var water float64
	for k, i := range y.order[:m.last+1] {
		b := &y.batches[i]
		drawn := b.stalks
		if left := want - loaded; y.good[k] > left {
			drawn = min(drawn, int(math.Ceil(float64(left)*float64(b.stalks)/float64(y.good[k]))))
		}
		kept := b.kept
		s := b.state
		y.water.DrivenOff += y.dryKg(drawn) * y.film(&s, b.at)
		s.FilmKgPerM2 = 0
		full := y.people.grade(drawn, &kept, &s)
		if over := full - (want - loaded); over > 0 { // rounding of whole stalks: the odd one stays out
			y.water.DrivenOff -= y.dryKg(over) * y.film(&b.state, b.at)
			drawn, full = drawn-over, full-over
		}
		b.stalks -= drawn
		if full > 0 {
			d.charge = append(d.charge, lot{full, kept, s, 0})
			loaded += full
			water += float64(full) * float64(b.state.Moisture)
		}
	}
	y.keepBatches(func(b *batch) bool { return b.stalks > 0 })
	y.changes++
	if loaded == 0 {
		return
	}
	y.people.work(2*float64(loaded)/1000*y.region.People.HandlingHPer1000, &y.month.Tasks.Handling)
	y.burn(n, m, fire, stalk.DryBasis(water/float64(loaded)), loaded)
}

// burn books what the fire will do and schedules its end. Hours and wood are
// those of the mix really loaded.
func (y *siteSeason) burn(n int, m mix, fire *charge.Fire, mean stalk.DryBasis, loaded int) {
	d, now := &y.dryers[n], y.engine.NowH()
	dry := y.dryKg(loaded)
	d.dryingH = y.hoursOf(fire, m.wettest, mean, dry)
	d.lightH = now + y.region.Dryer.HandlingH
	warm := 0.0
	if d.fireOutH > 0 && d.lightH-d.fireOutH <= warmWithinH {
		warm = warmShare
	}
	evaporated := 0.0
	for i := range d.charge {
		l := &d.charge[i]
		after := fire.After(d.dryingH, l.state.Moisture, mean, dry)
		overdried := fire.OverdriedShare(d.dryingH, l.state.Moisture, mean, dry)
		evaporated += y.dryKg(l.stalks) * float64(l.state.Moisture-after)
		l.state.Moisture = after
		broken := int(math.Round(float64(l.stalks) * overdried * y.region.Dryer.BreakFraction))
		browned := int(math.Round(float64(l.stalks-broken) * y.brownedShare()))
		l.stalks -= broken + browned
		y.month.Broken += broken
		y.month.Browned += browned
		y.month.Second += browned
		y.left(broken+browned, after)
	}
	y.water.DrivenOff += evaporated
	d.woodKg = fire.WoodKg(charge.WoodBill{
		WaterKg: evaporated, LoadedWaterKg: dry * float64(mean), DryKg: dry, DryingH: d.dryingH, Warm: warm,
	})
	y.woodKg -= d.woodKg
	d.fireOutH = d.lightH + d.dryingH
	d.coldFromH, d.unloadedH = math.Inf(1), math.Inf(1)
	y.engine.At(d.fireOutH, rankDryer, event{kind: fireOut, index: n})
}

// fireGoesOut starts the cooling. Nobody tends it.
func (y *siteSeason) fireGoesOut(n int) {
	d := &y.dryers[n]
	y.month.Charges++
	y.month.FiringH += d.dryingH
	y.month.WoodKg += d.woodKg
	tendH := d.dryingH / max(1, y.region.People.TendsDryers)
	y.people.work(tendH, &y.month.Tasks.Tending)
	if d.dryingH > 0 {
		y.month.Tasks.Night += tendH * nightHours(d.lightH, d.fireOutH) / d.dryingH
	}
	y.mayBreak(n)
	d.coldFromH = y.engine.NowH() + y.coolingH
	unloadedH := d.coldFromH + y.region.Dryer.HandlingH
	day := math.Floor((d.fireOutH - y.region.Dryer.ShiftStartH) / 24) // of the shift
	if unloadedH > 24*day+y.shiftEndH() {                             // next morning
		unloadedH = 24*(day+1) + y.region.Dryer.ShiftStartH + y.region.Dryer.HandlingH
	}
	d.unloadedH = unloadedH
	y.engine.At(unloadedH, rankDryer, event{kind: unloaded, index: n})
}

// mayBreak lets a dryer break when it has fired its hours. Breakdowns show when the fire is
// out; the charge in it is dry.
func (y *siteSeason) mayBreak(n int) {
	d := &y.dryers[n]
	d.firedH += d.dryingH
	luck := y.dryerLuck(n)
	if luck == nil || d.fails >= len(luck.FailsAt) || d.firedH < luck.FailsAt[d.fails] {
		return
	}
	repairH := luck.RepairH[d.fails]
	d.worksAtH = y.engine.NowH() + repairH
	y.month.BrokenH += repairH
	d.fails++
}

// dryerLuck returns what happens to a dryer this season; nil for nothing.
func (y *siteSeason) dryerLuck(n int) *DryerLuck {
	if y.region.Trouble.Ignore || y.season.Dryers == nil || n >= len(y.season.Dryers[y.index]) {
		return nil
	}
	return &y.season.Dryers[y.index][n]
}

// lacksWood tells whether the wood at hand is too little for a charge.
func (y *siteSeason) lacksWood(m mix, fire *charge.Fire) bool {
	if !y.region.Dryer.WoodLimited {
		return false
	}
	dry := y.dryKg(m.stalks)
	water := dry * float64(m.mean)
	return y.woodKg < fire.WoodKg(charge.WoodBill{WaterKg: water, LoadedWaterKg: water, DryKg: dry, DryingH: m.dryingH})
}

// unload brings the charge to the store. What lay overnight in the cold cabinet
// has taken up moisture from the air at the re-wetting rate.
func (y *siteSeason) unload(n int) {
	d := &y.dryers[n]
	y.bookDryer(n, y.engine.NowH())
	fromH, toH := int(math.Ceil(d.coldFromH)), int(y.engine.NowH())
	for h := fromH; h < toH; h++ {
		a := &y.season.air[h]
		still, exchange := stalk.NewStillAir(a.TempC, a.Humidity, &y.p.Stalk), y.rewettingPerH(a.TempC)
		for i := range d.charge {
			l := &d.charge[i]
			y.water.Evaporated -= y.dryKg(l.stalks) * l.state.Still(&still, exchange, 1, &y.p.Stalk)
		}
	}
	for i := range d.charge {
		l := &d.charge[i]
		full := y.people.grade(l.stalks, &l.kept, &l.state)
		fits := min(full, y.store.room())
		y.store.put(y.engine.NowH(), fits, l.state)
		if full > fits { // no room: dry stalks lie on the racks
			l.state.Predried = true
			y.spread(int(y.engine.NowH())/24, full-fits, l.kept, l.state)
		}
	}
	d.charge = d.charge[:0]
	d.why = DryerNoStalks // until somebody looks
}
