package sim

import (
	"math"
	"slices"

	"drystalk/sim/internal/engine"
)

// The events of a site, and their order within one instant: finished charges
// come in before the round looks at the yard, and the round before a free dryer
// looks for a charge; the month is closed last.
type eventKind uint8

const (
	dawn eventKind = iota
	unloaded
	fireOut
	morning
	landing
	evening
	collection
	shiftLook
	haulOut
	haulIn
	comesOnce
	dayEnd
	monthEnd
)

const (
	rankDawn = iota
	rankDryer
	rankRound
	rankAsk
	rankClose
)

// event is something that happens to a site: index is a dryer, a day or a
// number of stalks.
type event struct {
	kind  eventKind
	index int
}

// Hours of the day at which the group does its rounds. Common practice, no
// source: at sunrise, before dusk, and the pick-up after that.
const (
	morningH    = 6
	eveningH    = 17
	collectionH = 18
	monthEndH   = 24 - 1.0/64
)

// siteSeason is one site living through one season: its rooms, each with what lies in it, and
// the clock. A room knows what is given and writes into the book; it is handed the other room
// it needs and puts nothing on the clock. What goes from room to room is told here, of the crew
// at the dryers in crew.go, of the morning's decision in cut.go and of hauling in haul.go.
type siteSeason struct {
	given
	book

	people people
	stand  stand
	yard   yard
	dryers dryers
	store  store
	road   road

	engine      *engine.Engine[event]
	spans       []Span
	collections []int

	twin  *siteSeason // lives for this site; nil: it lives itself
	apart *siteSeason // the first of those that it lived for until this evening
	left  bool        // it goes on from where a twin was

	taken    *Start   // where what lies here is noted; nil: nowhere
	loaded   []Loaded // on the day on which the season is taken up
	everyDay bool
	days     []SiteDay
	soFar    SiteMonth // totals of the season at the end of the day before
}

// begin readies all rooms for a season of a site with so many dryers of its own.
func (y *siteSeason) begin(run *Runner, l *Lane, at *desk) {
	y.given = given{run.region, l.Season, l.Site, &run.region.Sites[l.Site], &l.Season.Parameters, run.common.gradesOf(l.Season)}
	y.open(&y.given, len(run.spans))
	g, b := &y.given, &y.book
	y.people.begin(g, b)
	y.stand.begin(g, b)
	y.yard.begin(g, b, run.common.ways())
	y.dryers.begin(g, b, l.Dryers, &run.common.cold)
	y.store.begin(g, b)
	y.road.begin(g, b, at)
	y.twin, y.apart, y.left = nil, nil, false
	y.spans, y.collections = run.spans, run.collections
	y.everyDay, y.days, y.soFar, y.loaded = run.EveryDay, nil, SiteMonth{}, y.loaded[:0]
	y.engine.Reset()
	if y.region.Start.Stated() {
		y.takeUp()
	} else {
		y.store.stock()
	}
	y.month.Opening = y.held()
	y.water.Opening = y.waterHeld()
}

// planDay puts the planned events of day d on the clock, and the next dawn; what would happen
// after the season the clock leaves undone.
func (y *siteSeason) planDay(d int) {
	e, day := y.engine, float64(24*d)
	e.At(day+morningH, rankRound, event{morning, d})
	e.At(day+eveningH, rankRound, event{evening, d})
	if len(y.dryers.cabinets) > 0 {
		e.At(day+y.region.Dryer.ShiftStartH, rankAsk, event{shiftLook, d})
	}
	if y.site.HaulTo != "" && y.site.HaulStalksPerDay > 0 {
		e.At(day+haulH, rankRound, event{haulOut, d})
	}
	if len(y.road.coming)+len(y.road.senders) > 0 {
		e.At(day+haulArrivesH, rankRound, event{haulIn, d})
	}
	y.planComing(d)
	if y.everyDay {
		e.At(day+monthEndH, rankClose, event{dayEnd, d})
	}
	if slices.Contains(y.collections, d) {
		e.At(day+collectionH, rankRound, event{collection, d})
	}
	if y.spans[y.monthIndex].LastDay == d {
		e.At(day+monthEndH, rankClose, event{monthEnd, d})
	}
	e.At(day+24, rankDawn, event{dawn, d + 1})
}

// handle tells the story of the site: each event in the words of the yard.
func (y *siteSeason) handle(nowH float64, e event) {
	if y.looksAtYard(nowH, e) {
		y.yard.advance(int(nowH))
	}
	switch e.kind {
	case dawn:
		y.take(e.index)
		y.planDay(e.index)
	case morning:
		y.startDay(nowH, e.index)
	case landing:
		y.land(nowH, e.index)
		if y.inShift(nowH) {
			y.lookAround(nowH)
		}
	case evening:
		y.round(nowH)
	case collection:
		y.collect(nowH, e.index)
	case shiftLook:
		y.lookAround(nowH)
		if next := nowH + lookEveryH; next < float64(24*e.index)+y.shiftEndH() {
			y.engine.At(next, rankAsk, e)
		}
	case fireOut:
		y.fireGoesOut(e.index, nowH)
	case unloaded:
		y.unload(e.index, nowH)
		if y.inShift(nowH) {
			y.lookAround(nowH)
		}
	case haulOut:
		y.haulAway(e.index)
	case haulIn:
		y.receive(e.index)
	case comesOnce:
		y.comeIn(nowH, e.index)
	case dayEnd:
		y.closeDay(e.index)
	case monthEnd:
		y.closeMonth(nowH)
	}
	y.bookSpreading()
}

// looksAtYard tells whether anybody looks at the yard, or lays or takes stalks there, in an event: a look
// for charges does not where no dryer is free.
func (y *siteSeason) looksAtYard(nowH float64, e event) bool {
	switch e.kind {
	case dawn:
		return y.taken != nil
	case fireOut:
		return false
	case shiftLook:
		return y.dryers.anyFree(nowH)
	}
	return true
}

// bookSpreading has what was laid spread evenly and books the hours of spreading.
func (y *siteSeason) bookSpreading() {
	y.yard.evenOut()
	if m2 := y.yard.laidM2; m2 > 0 {
		y.yard.laidM2 = 0
		y.people.work(m2/100*y.region.People.SpreadingHPer100M2, &y.month.Tasks.Spreading)
	}
}

// startDay is the morning of day d: the store has lived through the night, the group does its
// round and goes cutting. What it cuts lands when its hours are over, before the evening.
func (y *siteSeason) startDay(nowH float64, d int) {
	if d > 0 {
		y.store.age(nowH, d-1)
	}
	y.round(nowH)
	cut := y.decideCut(d)
	y.stand.cutYesterday = cut
	landed := math.Min(nowH+math.Ceil(y.site.CuttingHPerDay), float64(24*d)+eveningH)
	y.engine.At(landed, rankDryer, event{landing, cut})
}

// round is what the group does at sunrise and before dusk: carry dry stalks
// into the store, clear rotten batches when their place is needed, and spread
// the heap where racks came free.
func (y *siteSeason) round(nowH float64) {
	y.storeFinished(nowH)
	if y.yard.short() {
		y.yard.throwOutRotten()
	}
	y.yard.spreadHeap()
}

// storeFinished grades what is dry and carries it into the store, as far as that has room.
func (y *siteSeason) storeFinished(nowH float64) {
	target := y.p.Cabinet.Target.DryBasis()
	y.yard.keep(func(b *batch) bool {
		if b.state.Moisture > target {
			return true
		}
		n, kept := min(b.stalks, y.store.room()), b.kept
		s := y.yard.lift(b, n)
		n = y.people.breakBrittle(n, &s)
		y.store.put(nowH, y.people.bundle(n, &kept, &s), s)
		return b.stalks > 0 // the store is full: the rest stays where it lies
	})
}

// land lays what was cut into the yard.
func (y *siteSeason) land(nowH float64, stalks int) {
	y.month.Cut += stalks
	fresh := y.freshState()
	y.water.Cut += y.dryKg(stalks) * float64(fresh.Moisture)
	y.yard.spread(int(nowH)/24, stalks, 1, fresh)
}

// collect sends what is of full grade to the hub; where the road is shut, on the first day
// on which it is open. Damp lots go back on the racks.
func (y *siteSeason) collect(nowH float64, d int) {
	if y.road.shut(d) {
		y.month.RoadShut++
		y.engine.At(float64(24*(d+1)+collectionH), rankRound, event{collection, d + 1})
		return
	}
	y.road.calledOn = d
	if !y.road.worthIt(y.store.stalks()) {
		return
	}
	y.store.age(nowH, d)
	y.month.Trips++
	y.people.work(y.region.People.CollectionH, &y.month.Tasks.Collection)
	y.returnDamp(d)
	dry := y.store.stalks()
	sent := y.road.load(&y.store, &y.people)
	y.road.deliver(nowH, sent, dry-y.store.stalks())
}

// returnDamp puts lots that are too damp for the gate back on a rack.
func (y *siteSeason) returnDamp(d int) {
	y.store.keep(func(l *lot) bool {
		if !y.road.tooDamp(l) {
			return true
		}
		y.month.Redried += l.stalks
		l.state.Predried = true
		y.yard.spread(d, l.stalks, l.kept, l.state)
		return false
	})
}

// closeMonth writes the stock, here and at the hub.
func (y *siteSeason) closeMonth(nowH float64) {
	span := &y.spans[y.monthIndex]
	y.month.Closing = y.held()
	y.dryers.closeMonth(span, nowH)
	y.road.serve(span)
	if y.turn() {
		y.dryers.woodKg += y.region.Dryer.WoodKgPerMonth
	}
}

// held returns all stalks at the site.
func (y *siteSeason) held() int {
	return y.yard.stalks() + y.dryers.stalks() + y.store.stalks()
}

// waterHeld returns the water in all stalks of the site, kg.
func (y *siteSeason) waterHeld() float64 {
	return y.dryers.addWater(y.store.addWater(y.yard.addWater(0)))
}
