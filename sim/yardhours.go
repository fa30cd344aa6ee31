package sim

// advance lets all batches of the yard live through the hours up to hour. What they exchange with the
// air is booked when stalks of them are taken away, so it does not hang on how often somebody looks.
func (y *yard) advance(hour int) {
	if hour <= y.advanced {
		return
	}
	shared := y.paths != nil && hour <= y.advanced+pathHours
	for i := range y.batches {
		b := &y.batches[i]
		before := b.state.Predried
		if shared {
			y.along(b, hour)
		} else {
			y.alone(b, hour)
		}
		if b.state.Predried != before {
			y.free.stale = true
		}
	}
	y.advanced = hour
	y.beginDay(hour / 24)
}

// exchanged books what stalks of a batch have caught and given to the air since they were laid down. They
// leave it, or are laid down anew.
func (y *yard) exchanged(b *batch, stalks int) {
	dryKg := y.dryKg(stalks)
	y.water.Rain += dryKg * b.gave.Rain
	y.water.Evaporated += dryKg * b.gave.Evaporated
}

// close books the water of what lies in the yard at the end of the season.
func (y *yard) close() {
	for i := range y.batches {
		y.exchanged(&y.batches[i], y.batches[i].stalks)
	}
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

// alone lets a batch live by itself up to an hour.
func (y *yard) alone(b *batch, hour int) {
	b.path = nil
	load := y.dryLoad(b)
	for from := y.advanced; from < hour; {
		cover, to := y.coverFrom(b.at, from, hour)
		table := y.season.covers.between(cover, from, to)
		if b.at == heap {
			b.state.HeapHours(table, &y.p.Stalk, &b.gave, nil)
		} else {
			b.state.RackHours(table, load, &y.p.Stalk, &b.gave, nil)
		}
		from = to
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
