package sim

import (
	"math"
	"slices"

	"drystalk/sim/charge"
)

// warmWithinH and warmShare: a charge lit soon after the last fire finds the
// cabinet warm. Assumption: 0.4 of the temperature rise is still there.
const (
	warmWithinH = 4
	warmShare   = 0.4
)

// never is a time after every season.
var never = math.Inf(1)

// dryers are the cabinets of a site and the wood at hand for them.
type dryers struct {
	*given
	*book

	cabinets []dryer
	woodKg   float64                      // at hand
	hoursOf  func(*charge.Course) float64 // of a load just worked out; nil: its own
	fires    *woodFires
	asked    look
	spent    []DryerHours // of the season, by dryer, when it has ended
	cold     *coldHours

	search search
	load   charge.Load   // thought of last
	course charge.Course // of the load worked out last
	worked worked        // that load
}

// worked is a load that was worked out, and under which fire.
type worked struct {
	load charge.Load
	fire *charge.Fire // nil: none
}

// is tells whether it is the load, to the last bit.
func (w *worked) is(load *charge.Load, fire *charge.Fire) bool {
	return w.fire == fire && w.load.FilmKg == load.FilmKg && slices.Equal(w.load.Lots, load.Lots)
}

// keep notes the load.
func (w *worked) keep(load *charge.Load, fire *charge.Fire) {
	w.fire, w.load.FilmKg, w.load.Lots = fire, load.FilmKg, append(w.load.Lots[:0], load.Lots...)
}

// dryer is one cabinet: loaded, heating and drying, cooling, unloaded.
type dryer struct {
	charge    []lot // what lies in the cabinet; empty when free
	lightH    float64
	coldFromH float64
	unloadedH float64
	fireOutH  float64 // end of the last fire
	coolingH  float64 // after it
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

// free tells whether a dryer could take a charge now.
func (d *dryer) free(nowH float64) bool {
	return len(d.charge) == 0 && nowH >= d.worksAtH && nowH >= d.readyH && nowH < d.goneH
}

// anyFree tells whether a dryer could take a charge now.
func (ds *dryers) anyFree(nowH float64) bool {
	for i := range ds.cabinets {
		if ds.cabinets[i].free(nowH) {
			return true
		}
	}
	return false
}

func (ds *dryers) begin(g *given, b *book, own int, cold *coldHours) {
	ds.given, ds.book, ds.cold = g, b, cold
	ds.fires, ds.asked = g.season.firesOf(g.region), look{changes: -1}
	ds.worked.fire = nil
	ds.woodKg = g.region.Dryer.OpeningWoodKg + g.region.Dryer.WoodKgPerMonth
	ds.putUp(own)
}

// stalks returns what lies in the dryers.
func (ds *dryers) stalks() int {
	n := 0
	for i := range ds.cabinets {
		for j := range ds.cabinets[i].charge {
			n += ds.cabinets[i].charge[j].stalks
		}
	}
	return n
}

// addWater adds the water in the stalks of the dryers to a sum, kg.
func (ds *dryers) addWater(kg float64) float64 {
	for i := range ds.cabinets {
		for j := range ds.cabinets[i].charge {
			l := &ds.cabinets[i].charge[j]
			kg += ds.dryKg(l.stalks) * float64(l.state.Moisture)
		}
	}
	return kg
}

// burning returns the dryers that are being loaded or fired.
func (ds *dryers) burning(nowH float64) int {
	n := 0
	for i := range ds.cabinets {
		if d := &ds.cabinets[i]; len(d.charge) > 0 && nowH < d.fireOutH {
			n++
		}
	}
	return n
}

// light books what the fire under a loaded charge will do and returns when it goes out. The
// mix is that of the stalks really loaded; its drying hours are worked out here.
func (ds *dryers) light(n int, m mix, fire *charge.Fire, nowH float64) (fireOutH float64) {
	d, dry := &ds.cabinets[n], ds.dryKg(m.stalks)
	ds.thinkOf(m.filmKg)
	for i := range d.charge {
		l := &d.charge[i]
		ds.load.Lots = append(ds.load.Lots, charge.Lot{DryKg: ds.dryKg(l.stalks), Moisture: l.state.Moisture})
	}
	m.dryingH = ds.workOut(fire)
	d.dryingH, d.lightH = m.dryingH, nowH+ds.region.Dryer.HandlingH
	warm := 0.0
	if d.fireOutH > 0 && d.lightH-d.fireOutH <= warmWithinH {
		warm = warmShare
	}
	evaporated := ds.dry(d.charge, fire.BrownedShare(m.dryingH, ds.region.Dryer.BrownsPerH)) + m.filmKg
	ds.water.DrivenOff += evaporated
	d.woodKg = fire.WoodKg(charge.WoodBill{
		WaterKg: evaporated, LoadedWaterKg: dry*float64(m.mean) + m.filmKg, DryKg: dry, DryingH: d.dryingH, Warm: warm,
	})
	ds.woodKg -= d.woodKg
	d.fireOutH = d.lightH + d.dryingH
	d.coolingH = fire.CoolingH()
	d.coldFromH, d.unloadedH = never, never
	return d.fireOutH
}

// workOut works out the course of the load thought of last and returns its hours. What is loaded is
// mostly the load that was found the best before, which is not worked out once more.
func (ds *dryers) workOut(fire *charge.Fire) (dryingH float64) {
	if ds.hoursOf != nil || !ds.worked.is(&ds.load, fire) {
		ds.course.Begin(fire, ds.load)
		ds.worked.keep(&ds.load, fire)
	}
	if ds.hoursOf != nil {
		ds.course.DryingH = ds.hoursOf(&ds.course)
	}
	return ds.course.DryingH
}

// dry takes the lots of the charge just worked out to what they are when the fire is out, books
// what breaks and the share that browns, and returns the water driven off, kg.
func (ds *dryers) dry(lots []lot, brownedShare float64) (evaporatedKg float64) {
	for i := range lots {
		l := &lots[i]
		after := ds.course.After(l.state.Moisture)
		overdried := ds.course.OverdriedShare(l.state.Moisture, after)
		evaporatedKg += ds.dryKg(l.stalks) * float64(l.state.Moisture-after)
		l.state.Moisture = after
		broken := int(math.Round(float64(l.stalks) * overdried * ds.region.Dryer.BreakFraction))
		browned := int(math.Round(float64(l.stalks-broken) * brownedShare))
		l.stalks -= broken + browned
		ds.month.Broken += broken
		ds.month.Browned += browned
		ds.month.Second += browned
		ds.left(broken+browned, after)
	}
	return evaporatedKg
}

// fireGoesOut starts the cooling, which nobody tends, and returns when the charge is
// unloaded: still in the shift, or the next morning.
func (ds *dryers) fireGoesOut(n int, nowH float64) (unloadedH float64) {
	d, rules := &ds.cabinets[n], &ds.region.Dryer
	ds.month.Charges++
	ds.month.FiringH += d.dryingH
	ds.month.WoodKg += d.woodKg
	ds.mayBreak(n, nowH)
	d.coldFromH = nowH + d.coolingH
	d.unloadedH = d.coldFromH + rules.HandlingH
	day := math.Floor((d.fireOutH - rules.ShiftStartH) / 24) // of the shift
	if d.unloadedH > 24*day+ds.shiftEndH() {
		d.unloadedH = 24*(day+1) + rules.ShiftStartH + rules.HandlingH
	}
	return d.unloadedH
}

// mayBreak lets a dryer break when it has fired its hours. Breakdowns show when the fire is
// out; the charge in it is dry.
func (ds *dryers) mayBreak(n int, nowH float64) {
	d := &ds.cabinets[n]
	d.firedH += d.dryingH
	luck := ds.luck(n)
	if luck == nil || d.fails >= len(luck.FailsAt) || d.firedH < luck.FailsAt[d.fails] {
		return
	}
	repairH := luck.RepairH[d.fails]
	d.worksAtH = nowH + repairH
	ds.month.BrokenH += repairH
	d.fails++
}

// luck returns what happens to a dryer this season; nil for nothing.
func (ds *dryers) luck(n int) *DryerLuck {
	if ds.region.Trouble.Ignore || ds.season.Dryers == nil || n >= len(ds.season.Dryers[ds.index]) {
		return nil
	}
	return &ds.season.Dryers[ds.index][n]
}

// open ends the charge of a dryer and returns its lots, good until the next charge. What lay
// overnight in the cold cabinet has taken up moisture from the air at the re-wetting rate.
func (ds *dryers) open(n int, nowH float64) []lot {
	ds.bookHours(n, nowH)
	d := &ds.cabinets[n]
	lots := d.charge
	fromH, toH := int(math.Ceil(d.coldFromH)), int(nowH)
	for h := fromH; h < toH; h++ {
		c := ds.outside(h)
		for i := range lots {
			l := &lots[i]
			ds.water.Evaporated -= ds.dryKg(l.stalks) * l.state.Settle(&c.air, c.takenUp, 1, &ds.p.Stalk)
		}
	}
	d.charge = d.charge[:0]
	d.why = DryerNoStalks // until somebody looks
	return lots
}
