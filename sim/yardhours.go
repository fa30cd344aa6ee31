package sim

import (
	"slices"

	"drystalk/sim/stalk"
)

// later notes that the yard is to live through the hours up to hour before anybody looks at it.
func (y *yard) later(hour int) {
	last := y.advanced
	if n := len(y.due); n > 0 {
		last = y.due[n-1]
	}
	if hour > last {
		y.due = append(y.due, hour)
	}
}

// advance lets all batches of the yard live through the hours up to hour. What they exchange is added
// up from one of the hours noted to the next and batch by batch, as if the yard had been looked at in
// each of them: the rounding of a sum hangs on its order.
func (y *yard) advance(hour int) {
	y.later(hour)
	if len(y.due) == 0 {
		return
	}
	n := len(y.batches) * len(y.due)
	y.gave = slices.Grow(y.gave[:0], n)[:n]
	shared := y.paths != nil && y.due[len(y.due)-1] <= y.advanced+pathHours
	dryG := y.p.Stalk.DryG()
	for i := range y.batches {
		b := &y.batches[i]
		before := b.state.Predried
		if gave := y.gave[i*len(y.due) : (i+1)*len(y.due)]; shared {
			y.along(b, gave)
		} else {
			y.alone(b, gave)
		}
		if b.state.Predried != before {
			y.free.stale = true
		}
	}
	for k := range y.due {
		for i := range y.batches {
			x, dryKg := &y.gave[i*len(y.due)+k], float64(y.batches[i].stalks)*dryG/1000
			y.water.Rain += dryKg * x.Rain
			y.water.Evaporated += dryKg * x.Evaporated
		}
	}
	y.advanced, y.due = y.due[len(y.due)-1], y.due[:0]
	y.beginDay(y.advanced / 24)
}

// beginDay settles the full load of a day.
func (y *yard) beginDay(d int) {
	if d == y.today {
		return
	}
	y.today = d
	if full := y.fullLoad(d); full != y.fullKgPerM2 {
		y.fullKgPerM2, y.free.stale = full, true
	}
}

// alone lets a batch live by itself up to the hours that are due and says what it exchanged up to each.
func (y *yard) alone(b *batch, gave []stalk.Exchange) {
	b.path = nil
	load := y.dryLoad(b)
	from := y.advanced
	for k, hour := range y.due {
		gave[k] = stalk.Exchange{}
		for from < hour {
			cover, to := y.coverFrom(b.at, from, hour)
			y.live(b, y.season.covers.between(cover, from, to), load, &gave[k])
			from = to
		}
	}
}

// live lets a batch live through some hours and adds what it exchanged to a sum.
func (y *yard) live(b *batch, table []stalk.Hour, load float64, sum *stalk.Exchange) {
	if b.at != heap {
		b.state.RackHours(table, load, &y.p.Stalk, sum)
		return
	}
	for h := range table {
		x := b.state.HeapHour(&table[h], &y.p.Stalk)
		sum.Rain += x.Rain
		sum.Evaporated += x.Evaporated
	}
}

// dryLoad returns the dry matter of a batch on a square metre of covered rack, kg.
func (y *yard) dryLoad(b *batch) float64 { return y.p.Stalk.DryLoadKgPerM2(b.kgPerM2) }

// coverFrom returns the table by which batches at a place live from an hour, and up to
// which hour: an open rack with sheets is covered in the rain, unless nobody came in time,
// by day or in the night, when only who comes for it is there.
func (y *yard) coverFrom(at place, from, end int) (place, int) {
	if at != openRack || !y.site.Sheets {
		return at, end
	}
	day, hour := from/24, from%24
	missed := false
	switch {
	case hour < morningH:
		end, missed = min(end, 24*day+morningH), y.nobodyAtNight(day-1)
	case hour >= collectionH:
		end, missed = min(end, 24*day+24), y.nobodyAtNight(day)
	default:
		end = min(end, 24*day+collectionH)
		missed = y.season.Sheets != nil && y.season.Sheets[y.index][day]
	}
	if missed {
		return openRack, end
	}
	return sheeted, end
}

// nobodyAtNight tells whether nobody pulls the sheets in the night from the evening of a
// day.
func (y *yard) nobodyAtNight(day int) bool {
	return day >= 0 && y.season.Nights != nil && !y.region.Yard.SheetsAtNight && y.season.Nights[y.index][day]
}

// film returns the water of the film on a batch, kg per kg of dry matter.
func (y *yard) film(b *batch) float64 {
	if b.state.FilmKgPerM2 == 0 {
		return 0
	}
	if b.at == heap {
		return b.state.HeapFilm()
	}
	return b.state.RackFilm(y.dryLoad(b), &y.p.Stalk)
}
