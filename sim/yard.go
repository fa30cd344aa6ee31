package sim

import (
	"drystalk/sim/stalk"
)

// batch is stalks of one site cut on one day and lying in one place.
type batch struct {
	id     int
	cutDay int
	at     place
	stalks int
	kept   float64 // share of the stalks cut that earlier gradings left in, by rank of their mould
	state  stalk.State
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

// dryLoadKgPerM2 returns the dry matter spread on a square metre of rack.
func (y *siteSeason) dryLoadKgPerM2() float64 {
	return y.site.LoadingKgPerM2 * (1 - float64(y.p.Stalk.FreshMoisture))
}

// m2PerStalk returns the rack that one stalk takes, m²; less once pre-dried,
// when batches are closed up.
func (y *siteSeason) m2PerStalk(predried bool) float64 {
	m2 := y.p.Stalk.DryG / 1000 / y.dryLoadKgPerM2()
	if predried {
		m2 *= y.p.Stalk.AreaAfterPredry
	}
	return m2
}

// freeM2 returns the free rack of one kind, m².
func (y *siteSeason) freeM2(at place) float64 {
	free := y.site.areaM2(at)
	for i := range y.batches {
		if b := &y.batches[i]; b.at == at {
			free -= float64(b.stalks) * y.m2PerStalk(b.state.Predried)
		}
	}
	return max(0, free)
}

// roomForFresh returns how many fresh stalks the free racks of all kinds take.
func (y *siteSeason) roomForFresh() int {
	if y.roomAt == y.advanced && y.roomChanges == y.changes {
		return y.room
	}
	y.room, y.roomAt, y.roomChanges = 0, y.advanced, y.changes
	for at := clearRack; at < heap; at++ {
		if y.site.areaM2(at) > 0 {
			y.room += int(y.freeM2(at) / y.m2PerStalk(false))
		}
	}
	return y.room
}

// inHeap returns the stalks that lie in the heap.
func (y *siteSeason) inHeap() int {
	n := 0
	for i := range y.batches {
		if y.batches[i].at == heap {
			n += y.batches[i].stalks
		}
	}
	return n
}

// advance lets all batches of the yard live through the hours up to hour.
func (y *siteSeason) advance(hour int) {
	hour = min(hour, len(y.season.air))
	if hour <= y.advanced {
		return
	}
	load := y.dryLoadKgPerM2()
	for i := range y.batches {
		b := &y.batches[i]
		var rain, evaporated float64
		for from := y.advanced; from < hour; {
			cover, to := y.coverFrom(b.at, from, hour)
			table := y.season.hours[cover][from:to]
			for h := range table {
				var x stalk.Exchange
				if b.at == heap {
					x = b.state.HeapHour(&table[h], &y.p.Stalk)
				} else {
					x = b.state.RackHour(&table[h], load, &y.p.Stalk)
				}
				rain += x.Rain
				evaporated += x.Evaporated
			}
			from = to
		}
		y.water.Rain += y.dryKg(b.stalks) * rain
		y.water.Evaporated += y.dryKg(b.stalks) * evaporated
	}
	y.advanced = hour
}

// coverFrom returns the table by which batches at a place live from an hour, and up to
// which hour: an open rack with sheets is covered in the rain, unless nobody came in time,
// by day or in the night, when only who comes for it is there.
func (y *siteSeason) coverFrom(at place, from, end int) (place, int) {
	if at != openRack || !y.site.Sheets {
		return at, end
	}
	day, hour := from/24, from%24
	switch {
	case hour < morningH:
		end = min(end, 24*day+morningH)
		if y.nobodyAtNight(day - 1) {
			return openRack, end
		}
	case hour >= collectionH:
		end = min(end, 24*day+24)
		if y.nobodyAtNight(day) {
			return openRack, end
		}
	default:
		end = min(end, 24*day+collectionH)
	}
	if y.season.Sheets != nil && y.season.Sheets[y.index][day] {
		return openRack, end
	}
	return sheeted, end
}

// nobodyAtNight tells whether nobody pulls the sheets in the night from the evening of a
// day.
func (y *siteSeason) nobodyAtNight(day int) bool {
	return day >= 0 && y.season.Nights != nil && !y.region.Yard.SheetsAtNight && y.season.Nights[y.index][day]
}

// film returns the water of the film on a batch, kg per kg of dry matter.
func (y *siteSeason) film(s *stalk.State, at place) float64 {
	if s.FilmKgPerM2 == 0 {
		return 0
	}
	if at == heap {
		return s.HeapFilm()
	}
	return s.RackFilm(y.dryLoadKgPerM2(), &y.p.Stalk)
}

// shake takes the film off stalks that leave a place of the yard.
func (y *siteSeason) shake(stalks int, s *stalk.State, at place) {
	y.water.Shed += y.dryKg(stalks) * y.film(s, at)
	s.FilmKgPerM2 = 0
}

// waterHeld returns the water in all stalks of the site, kg.
func (y *siteSeason) waterHeld() float64 {
	kg := 0.0
	for i := range y.batches {
		b := &y.batches[i]
		kg += y.dryKg(b.stalks) * (float64(b.state.Moisture) + y.film(&b.state, b.at))
	}
	kg = y.store.addWater(kg)
	for i := range y.dryers {
		for j := range y.dryers[i].charge {
			l := &y.dryers[i].charge[j]
			kg += y.dryKg(l.stalks) * float64(l.state.Moisture)
		}
	}
	return kg
}

// spread lays fresh stalks under the clear roof first, then on open racks,
// then under the solid roof, and heaps what finds no place.
func (y *siteSeason) spread(cutDay, stalks int, kept float64, state stalk.State) {
	for at := clearRack; at < heap && stalks > 0; at++ {
		n := min(stalks, int(y.freeM2(at)/y.m2PerStalk(state.Predried)))
		y.lay(cutDay, n, at, kept, state)
		stalks -= n
	}
	y.lay(cutDay, stalks, heap, kept, state)
}

func (y *siteSeason) lay(cutDay, stalks int, at place, kept float64, state stalk.State) {
	if stalks == 0 {
		return
	}
	y.changes++
	y.batches = append(y.batches, batch{y.nextBatch, cutDay, at, stalks, kept, state})
	y.nextBatch++
}

// round is what the group does at sunrise and before dusk: carry dry stalks
// into the store, clear rotten batches when their place is needed, and spread
// the heap where racks came free.
func (y *siteSeason) round() {
	y.storeFinished()
	if y.short() {
		y.throwOutRotten()
	}
	y.spreadHeap()
}

// short tells whether the yard wants room: something lies in the heap or the
// free racks take less than an ordinary day's cut.
func (y *siteSeason) short() bool {
	return y.inHeap() > 0 || y.roomForFresh() < y.ordinaryCut()
}

func (y *siteSeason) storeFinished() {
	target := y.p.Cabinet.Target.DryBasis()
	y.keepBatches(func(b *batch) bool {
		if b.state.Moisture > target {
			return true
		}
		n := min(b.stalks, y.store.room())
		s, kept := b.state, b.kept
		y.shake(n, &s, b.at)
		full := y.people.grade(n, &kept, &s)
		y.store.put(y.engine.NowH(), full, s)
		b.stalks -= n
		return b.stalks > 0 // the store is full: the rest stays where it lies
	})
}

func (y *siteSeason) throwOutRotten() {
	y.keepBatches(func(b *batch) bool {
		if b.state.PeakIndex <= y.rottenAbove {
			return true
		}
		y.month.ThrownOut += b.stalks
		y.shake(b.stalks, &b.state, b.at)
		y.left(b.stalks, b.state.Moisture)
		return false
	})
}

func (y *siteSeason) spreadHeap() {
	heaped := y.scratch[:0]
	y.keepBatches(func(b *batch) bool {
		if b.at != heap {
			return true
		}
		heaped = append(heaped, *b)
		return false
	})
	for i := range heaped {
		b := &heaped[i]
		before := y.film(&b.state, heap)
		at := len(y.batches)
		y.spread(b.cutDay, b.stalks, b.kept, b.state)
		for k := at; k < len(y.batches); k++ { // the film of a rack is thinner or thicker to the kilogram
			n := &y.batches[k]
			y.water.Shed += y.dryKg(n.stalks) * (before - y.film(&n.state, n.at))
		}
	}
	y.scratch = heaped
}

// keepBatches keeps, in order, the batches for which keep holds.
func (y *siteSeason) keepBatches(keep func(*batch) bool) {
	n := 0
	for i := range y.batches {
		if keep(&y.batches[i]) {
			y.batches[n] = y.batches[i]
			n++
		}
	}
	if n < len(y.batches) {
		y.batches = y.batches[:n]
		y.changes++
	}
}
