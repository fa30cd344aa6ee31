package sim

import "drystalk/sim/stalk"

// advance lets all batches of the yard live through the hours up to hour.
func (y *yard) advance(hour int) {
	if hour <= y.advanced {
		return
	}
	shared := y.paths != nil && hour <= y.advanced+pathHours
	for i := range y.batches {
		b := &y.batches[i]
		var x stalk.Exchange
		before := b.state.Predried
		if shared {
			x = y.along(b, hour)
		} else {
			x = y.alone(b, hour)
		}
		if b.state.Predried != before {
			y.free.stale = true
		}
		dryKg := y.dryKg(b.stalks)
		y.water.Rain += dryKg * x.Rain
		y.water.Evaporated += dryKg * x.Evaporated
	}
	y.advanced = hour
	if hour/24 != y.today {
		y.today = hour / 24
		if full := y.fullLoad(y.today); full != y.fullKgPerM2 {
			y.fullKgPerM2, y.free.stale = full, true
		}
	}
}

// alone lets a batch live up to an hour by itself and returns what it exchanged.
func (y *yard) alone(b *batch, hour int) (sum stalk.Exchange) {
	b.path = nil
	load := y.dryLoad(b)
	for from := y.advanced; from < hour; {
		cover, to := y.coverFrom(b.at, from, hour)
		table := y.season.hours[cover][from:to]
		from = to
		if b.at != heap {
			b.state.RackHours(table, load, &y.p.Stalk, &sum)
			continue
		}
		for h := range table {
			x := b.state.HeapHour(&table[h], &y.p.Stalk)
			sum.Rain += x.Rain
			sum.Evaporated += x.Evaporated
		}
	}
	return sum
}

// hour lets what lies in a place, with so much dry matter on a square metre, live through an hour.
func (y *yard) hour(at place, s *stalk.State, h *stalk.Hour, dryLoadKgPerM2 float64) stalk.Exchange {
	if at == heap {
		return s.HeapHour(h, &y.p.Stalk)
	}
	return s.RackHour(h, dryLoadKgPerM2, &y.p.Stalk)
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
