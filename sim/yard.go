package sim

import "drystalk/sim/stalk"

// yard is where the day's cut is spread: racks of three kinds and the heap, with what lies
// on them.
type yard struct {
	*given
	*book

	batches     []batch
	advanced    int     // hours the batches have lived
	paths       *paths  // shared with sites that live side by side; nil: none
	today       int     // the day of the load below
	fullKgPerM2 float64 // fresh stalks on a square metre of a full rack, today
	uneven      bool    // stalks were laid, or the group is at its round: time to spread them evenly
	changes     int     // of the batches: laid, moved, taken
	free        freeRoom
	laidM2      float64 // of rack on which stalks were spread and whose hours are not booked yet
	rottenAbove float64 // peak index above which too few stalks of a batch are of full grade

	scratch []batch
	order   []int // of the batches that are not dry, by the loading rule
	good    []int // full-grade stalks of each batch of the order
}

// batch is stalks of one site cut on one day and lying in one place.
type batch struct {
	cutDay  int
	at      place
	stalks  int
	kgPerM2 float64 // at which it was spread, fresh stalks; means nothing in a heap
	fresh   bool    // just laid: the hands that spread it are not booked yet
	kept    float64 // share of the stalks cut that earlier gradings left in, by rank of their mould
	state   stalk.State
	gave    stalk.Exchange // with the air, per kg of dry matter, since it was laid down so
	path    *path          // on which the state is found; nil: not asked for yet
	number  int            // of that path
}

// freeRoom is the room for fresh stalks as last counted, after so many changes of the yard
// and so many hours.
type freeRoom struct {
	stalks, changes, hour int

	stale bool // another hour may find other room: stalks were closed up or taken, or the full load is another
}

func (y *yard) begin(g *given, b *book, shared *paths) {
	y.given, y.book, y.paths = g, b, shared
	y.fullKgPerM2, y.uneven = y.fullLoad(0), false
	y.batches, y.advanced, y.today, y.changes = y.batches[:0], 0, 0, 0
	y.free, y.laidM2 = freeRoom{changes: -1}, 0 // never counted
	y.rottenAbove = stalk.IndexOfFullShare(g.region.Yard.DiscardBelowFullShare, g.p.Stalk.MouldSpread)
}

// areaM2 returns the area of a kind of rack, m²; a heap takes none.
func (s *Site) areaM2(at place) float64 {
	switch at {
	case clearRack:
		return s.ClearRoofM2
	case openRack:
		return s.OpenRackM2
	case solidRack:
		return s.SolidRoofM2
	}
	return 0
}

// freeM2 returns the free rack of one kind, m².
func (y *yard) freeM2(at place) float64 {
	free := y.site.areaM2(at)
	for i := range y.batches {
		if b := &y.batches[i]; b.at == at {
			free -= y.takesM2(b)
		}
	}
	return max(0, free)
}

// roomForFresh returns how many fresh stalks the free racks of all kinds take.
func (y *yard) roomForFresh() int {
	if y.free.changes == y.changes && (y.free.hour == y.advanced || !y.free.stale) {
		return y.free.stalks
	}
	y.free = freeRoom{stalks: y.countRoom(), changes: y.changes, hour: y.advanced}
	return y.free.stalks
}

// countRoom counts the room for fresh stalks.
func (y *yard) countRoom() (stalks int) {
	for at := clearRack; at < heap; at++ {
		if y.site.areaM2(at) > 0 {
			stalks += int(y.freeM2(at) / y.m2PerStalk(false))
		}
	}
	return stalks
}

// roomForCut returns the stalks for which there is room today. Nobody cuts into a
// rotting heap: the yard takes what the racks hold and a stated overflow.
func (y *yard) roomForCut() int {
	overflow := int(y.region.Yard.HeapDaysOfCut * float64(y.ordinaryCut()))
	return y.roomForFresh() + max(0, overflow-y.inHeap())
}

// short tells whether the yard wants room: something lies in the heap or the
// free racks take less than an ordinary day's cut.
func (y *yard) short() bool {
	return y.inHeap() > 0 || y.roomForFresh() < y.ordinaryCut()
}

// inHeap returns the stalks that lie in the heap.
func (y *yard) inHeap() int {
	n := 0
	for i := range y.batches {
		if y.batches[i].at == heap {
			n += y.batches[i].stalks
		}
	}
	return n
}

// stalks returns what lies in the yard, on racks and in the heap.
func (y *yard) stalks() int {
	n := 0
	for i := range y.batches {
		n += y.batches[i].stalks
	}
	return n
}

// addWater adds the water in and on the stalks of the yard to a sum, kg.
func (y *yard) addWater(kg float64) float64 {
	for i := range y.batches {
		b := &y.batches[i]
		kg += y.dryKg(b.stalks) * (float64(b.state.Moisture) + y.film(b))
	}
	return kg
}

// mouldIndex returns the highest mould index of a batch.
func (y *yard) mouldIndex() float64 {
	most := 0.0
	for i := range y.batches {
		most = max(most, y.batches[i].state.MouldIndex)
	}
	return most
}

// spread lays fresh stalks under the clear roof first, then on open racks,
// then under the solid roof, and heaps what finds no place.
func (y *yard) spread(cutDay, stalks int, kept float64, state stalk.State) {
	even := y.region.Yard.Spreading == SpreadOverFreeRack // and its hands are booked when it is
	for at := clearRack; at < heap && stalks > 0; at++ {
		n := min(stalks, int(y.freeM2(at)/y.m2PerStalk(state.Predried)))
		y.lay(batch{cutDay: cutDay, at: at, stalks: n, kept: kept, state: state, fresh: even})
		if even {
			y.uneven = true
		} else {
			y.laidM2 += float64(n) * y.m2PerStalk(state.Predried)
		}
		stalks -= n
	}
	y.lay(batch{cutDay: cutDay, at: heap, stalks: stalks, kept: kept, state: state})
}

// lay puts a batch down at full load, behind those that were laid before.
func (y *yard) lay(b batch) {
	if b.stalks == 0 {
		return
	}
	b.kgPerM2 = y.fullKgPerM2
	y.changes++
	y.batches = append(y.batches, b)
}

// lift takes stalks of a batch up, with their film shaken off, and returns their state.
func (y *yard) lift(b *batch, stalks int) stalk.State {
	s := b.state
	y.water.Shed += y.dryKg(stalks) * y.film(b)
	s.FilmKgPerM2 = 0
	y.takeFrom(b, stalks)
	y.free.stale = true
	return s
}

// takeFrom takes stalks of a batch away.
func (y *yard) takeFrom(b *batch, stalks int) {
	y.exchanged(b, stalks)
	b.stalks -= stalks
}

// throwOutRotten clears batches of which too little is left.
func (y *yard) throwOutRotten() {
	y.keep(func(b *batch) bool {
		if b.state.PeakIndex <= y.rottenAbove {
			return true
		}
		y.month.ThrownOut += b.stalks
		y.left(b.stalks, b.state.Moisture)
		y.lift(b, b.stalks)
		return false
	})
}

// spreadHeap lays what is heaped where racks came free. It is done at a round, when people look at
// all racks.
func (y *yard) spreadHeap() {
	y.uneven = y.region.Yard.Spreading == SpreadOverFreeRack
	heaped := y.scratch[:0]
	y.keep(func(b *batch) bool {
		if b.at != heap {
			return true
		}
		y.exchanged(b, b.stalks)
		heaped = append(heaped, *b)
		return false
	})
	for i := range heaped {
		b := &heaped[i]
		before := y.film(b)
		at := len(y.batches)
		y.spread(b.cutDay, b.stalks, b.kept, b.state)
		for k := at; k < len(y.batches); k++ { // the film of a rack is thinner or thicker to the kilogram
			n := &y.batches[k]
			y.water.Shed += y.dryKg(n.stalks) * (before - y.film(n))
		}
	}
	y.scratch = heaped
}

// keep keeps, in order, the batches for which keep holds.
func (y *yard) keep(keep func(*batch) bool) {
	n := 0
	for i := range y.batches {
		if keep(&y.batches[i]) {
			if n < i {
				y.batches[n] = y.batches[i]
			}
			n++
		}
	}
	if n < len(y.batches) {
		y.batches = y.batches[:n]
		y.changes++
	}
}

// dropEmpty forgets batches of which nothing is left.
func (y *yard) dropEmpty() { y.keep(func(b *batch) bool { return b.stalks > 0 }) }
