package sim

import (
	"fmt"
	"math"
	"slices"

	"drystalk/sim/charge"
	"drystalk/sim/internal/engine"
	"drystalk/sim/stalk"
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

// siteSeason is one site living through one season.
type siteSeason struct {
	given
	book

	people people
	stand  stand
	store  store
	road   road

	engine      *engine.Engine[event]
	spans       []Span
	collections []int

	batches     []batch
	nextBatch   int
	advanced    int // hours the batches have lived
	dryers      []dryer
	coolingH    float64
	hoursOf     func(f *charge.Fire, wettest, mean stalk.DryBasis, dryKg float64) float64 // of a charge
	rottenAbove float64                                                                   // peak index above which too few stalks of a batch are of full grade
	woodKg      float64                                                                   // at hand

	changes      int // of the batches in the yard: cut, moved, taken
	changesAsked int // changes when a dryer last found no charge
	whyAsked     DryerState
	askedH       float64
	room         int // for fresh stalks, as of roomAt and roomChanges
	roomAt       int
	roomChanges  int

	sent   []parcel // to another site, this season
	coming []parcel // from other sites

	everyDay bool
	days     []SiteDay
	soFar    SiteMonth // totals of the season at the end of the day before

	scratch []batch
	order   []int
	good    []int
}

// Runner runs site-seasons one after another and reuses their memory. It is
// not safe for concurrent use: one runner to a worker.
type Runner struct {
	region      *Region
	spans       []Span
	collections []int
	shares      []float64
	site        siteSeason

	parcels   [][]parcel // by site that sent them, in season number parcelsOf
	parcelsOf int

	EveryDay bool // ledgers hold the days of each site too
}

// NewRunner returns a runner for a region.
func NewRunner(r *Region) *Runner {
	run := &Runner{
		region:      r,
		spans:       r.Calendar.Months(),
		collections: r.Calendar.CollectionDays(r.Hub.CollectionsPerMonth),
		shares:      r.Shares(),
	}
	run.site.engine = engine.New(run.site.handle)
	run.site.hoursOf = (*charge.Fire).DryingH
	return run
}

// Shares returns each site's share of the contract: its cutters' ordinary
// output over that of all sites. Where nobody cuts, all shares are equal.
func (r *Region) Shares() []float64 {
	shares := make([]float64, len(r.Sites))
	sum := 0.0
	for i := range r.Sites {
		s := &r.Sites[i]
		shares[i] = float64(s.Cutters) * s.OutputPerPersonH * s.CuttingHPerDay
		sum += shares[i]
	}
	for i := range shares {
		if sum > 0 {
			shares[i] /= sum
		} else {
			shares[i] = 1 / float64(len(shares))
		}
	}
	return shares
}

// Site runs site number index of the region through the season with the given
// number of dryers and returns its months, valid until the next call. The
// error names the season and the time; it means a bug, such as stalks that do
// not balance.
func (run *Runner) Site(index, dryers int, season *Season) ([]SiteMonth, error) {
	y := &run.site
	y.begin(run, index, dryers, season)
	run.takeParcels(index, season)
	y.engine.At(0, rankDawn, event{dawn, 0})
	if err := y.engine.RunDays(run.region.Calendar.Days); err != nil {
		return nil, fmt.Errorf("season %d, site %s: %w", season.Number, y.site.Name, err)
	}
	y.closeSeason()
	if err := y.checkBalance(y.spans); err != nil {
		return nil, fmt.Errorf("season %d, site %s: %w", season.Number, y.site.Name, err)
	}
	run.parcels[index] = y.sent
	return y.months, nil
}

// Water returns the water of the site-season that ran last.
func (run *Runner) Water() Water { return run.site.water }

func (y *siteSeason) begin(run *Runner, index, dryers int, season *Season) {
	y.given = given{run.region, season, index, &run.region.Sites[index], &season.Parameters}
	y.open(&y.given, len(run.spans))
	y.people.begin(&y.given, &y.book)
	y.stand.begin(&y.given, &y.book)
	y.store.begin(&y.given, &y.book)
	y.road.begin(&y.given, &y.book, run.shares[index])
	y.spans, y.collections = run.spans, run.collections
	y.batches, y.nextBatch, y.advanced = y.batches[:0], 0, 0
	y.everyDay, y.days, y.soFar = run.EveryDay, nil, SiteMonth{}
	y.changes, y.changesAsked = 0, -1
	y.roomAt, y.roomChanges = -1, -1
	y.coolingH = y.p.Cabinet.CoolingH(28, coolToC)
	y.rottenAbove = stalk.IndexOfFullShare(run.region.Yard.DiscardBelowFullShare, y.p.Stalk.MouldSpread)
	y.woodKg = run.region.Dryer.OpeningWoodKg + run.region.Dryer.WoodKgPerMonth
	y.putUpDryers(dryers)
	y.engine.Reset()
	y.store.stock()
	y.month.Opening = y.held()
	y.water.Opening = y.waterHeld()
}

// planDay puts the planned events of day d on the clock, and the next dawn.
func (y *siteSeason) planDay(d int) {
	e, day := y.engine, float64(24*d)
	e.At(day+morningH, rankRound, event{morning, d})
	e.At(day+eveningH, rankRound, event{evening, d})
	if len(y.dryers) > 0 {
		e.At(day+y.region.Dryer.ShiftStartH, rankAsk, event{shiftLook, d})
	}
	if y.site.HaulTo != "" && y.site.HaulStalksPerDay > 0 {
		e.At(day+haulH, rankRound, event{haulOut, d})
	}
	if len(y.coming) > 0 {
		e.At(day+haulArrivesH, rankRound, event{haulIn, d})
	}
	if y.everyDay {
		e.At(day+monthEndH, rankClose, event{dayEnd, d})
	}
	if slices.Contains(y.collections, d) {
		e.At(day+collectionH, rankRound, event{collection, d})
	}
	if y.spans[y.monthIndex].LastDay == d {
		e.At(day+monthEndH, rankClose, event{monthEnd, d})
	}
	if d+1 < y.region.Calendar.Days {
		e.At(day+24, rankDawn, event{dawn, d + 1})
	}
}

// handle tells the story of the site: each event in the words of the yard.
func (y *siteSeason) handle(nowH float64, e event) {
	y.advance(int(nowH))
	switch e.kind {
	case dawn:
		y.planDay(e.index)
	case morning:
		if e.index > 0 {
			y.store.age(nowH, e.index-1)
		}
		y.round()
		cut := y.decideCut(e.index)
		y.stand.cutYesterday = cut
		landed := math.Min(nowH+math.Ceil(y.site.CuttingHPerDay), float64(24*e.index)+eveningH)
		y.engine.At(landed, rankDryer, event{landing, cut})
	case landing:
		y.month.Cut += e.index
		fresh := y.freshState()
		y.water.Cut += y.dryKg(e.index) * float64(fresh.Moisture)
		y.spread(int(nowH)/24, e.index, 1, fresh)
		if y.inShift(nowH) {
			y.lookAround()
		}
	case evening:
		y.round()
	case collection:
		y.collect(nowH, e.index)
	case shiftLook:
		y.lookAround()
		if next := nowH + lookEveryH; next < float64(24*e.index)+y.shiftEndH() {
			y.engine.At(next, rankAsk, e)
		}
	case fireOut:
		y.fireGoesOut(e.index)
	case unloaded:
		y.unload(e.index)
		if y.inShift(nowH) {
			y.lookAround()
		}
	case haulOut:
		y.haulAway(e.index)
	case haulIn:
		y.receive(e.index)
	case dayEnd:
		y.closeDay(e.index)
	case monthEnd:
		y.closeMonth()
	}
}

// lookAround lets every free dryer look for a charge.
func (y *siteSeason) lookAround() {
	for n := range y.dryers {
		d := &y.dryers[n]
		if now := y.engine.NowH(); len(d.charge) == 0 && now >= d.worksAtH && now >= d.readyH && now < d.goneH && !y.ask(n) {
			for k := n + 1; k < len(y.dryers); k++ { // what one working dryer does not want, the next does not either
				if len(y.dryers[k].charge) == 0 {
					y.idle(k, d.why)
				}
			}
			return
		}
	}
}

// closeMonth writes the stock and lets the contract take the site's share.
func (y *siteSeason) closeMonth() {
	y.month.Closing = y.held()
	span := &y.spans[y.monthIndex]
	shiftH := y.shiftEndH() - y.region.Dryer.ShiftStartH
	for i := range y.dryers {
		y.bookDryer(i, math.Ceil(y.engine.NowH())) // to midnight
		if math.IsInf(y.dryers[i].worksAtH, 1) {   // out for the season
			y.month.BrokenH += float64(span.LastDay-span.FirstDay+1) * shiftH
		}
	}
	y.month.IdleH = y.month.Shift.Idle()
	y.road.serve(span)
	if y.turn() {
		y.woodKg += y.region.Dryer.WoodKgPerMonth
	}
}

// collect sends what is of full grade to the hub; where the road is shut, on the first day
// on which it is open. Damp lots go back on the racks.
func (y *siteSeason) collect(nowH float64, d int) {
	if y.road.shut(d) {
		y.month.RoadShut++
		if d+1 < y.region.Calendar.Days {
			y.engine.At(float64(24*(d+1)+collectionH), rankRound, event{collection, d + 1})
		}
		return
	}
	if !y.road.worthIt(y.store.stalks()) {
		return
	}
	y.store.age(nowH, d)
	y.month.Trips++
	y.people.work(y.region.People.CollectionH, &y.month.Tasks.Collection)
	y.returnDamp(d)
	y.road.deliver(y.road.load(&y.store, &y.people))
}

// returnDamp puts lots that are too damp for the gate back on a rack.
func (y *siteSeason) returnDamp(d int) {
	y.store.keep(func(l *lot) bool {
		if !y.road.tooDamp(l) {
			return true
		}
		y.month.Redried += l.stalks
		l.state.Predried = true
		y.spread(d, l.stalks, l.kept, l.state)
		return false
	})
}

// held returns all stalks at the site: racks, heap, dryers, store.
func (y *siteSeason) held() int {
	n := y.store.stalks()
	for i := range y.batches {
		n += y.batches[i].stalks
	}
	for i := range y.dryers {
		for j := range y.dryers[i].charge {
			n += y.dryers[i].charge[j].stalks
		}
	}
	return n
}
