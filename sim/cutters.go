package sim

// decideCut settles in the morning of day d how many stalks will be cut. A day
// of much rain, a share already fulfilled and a full yard each stop it; the
// stalks that could have been cut are booked under the first of these.
func (y *siteSeason) decideCut(d int) int {
	if d > 0 && y.site.Sheets && (y.season.Days[d-1].RainMM > 0 || y.region.Yard.SheetsAtNight) {
		y.work(y.site.OpenRackM2/100*y.region.People.SheetHPer100M2, &y.month.Tasks.Sheets)
	}
	y.present = y.season.presentShare(y.region, d)
	share := y.freeShare() * y.present
	thin := y.growStand(d)
	if s := &y.region.Stand; y.season.flushedWithin(d, s.SiltedDays, s.FlushAboveMM) {
		thin *= 1 - s.SiltedFraction
	}
	if rest := y.region.Yard.RestEveryDays; rest > 0 && d%rest == rest-1 {
		return 0
	}
	luck := y.season.Output[y.index][d]
	could := y.cutOf(luck)
	if thin < 1 {
		y.month.NotCutStand += could - y.cutOf(luck*thin)
		luck *= thin
		could = y.cutOf(luck)
	}
	switch {
	case y.closed(d):
		y.month.NotCutClosed += could
		return 0
	case y.season.Days[d].RainMM > y.region.Yard.MaxCutRainMM,
		y.season.flushedWithin(d, y.region.Stand.FlushClosedDays, y.region.Stand.FlushAboveMM):
		y.month.NotCutRain += could
		return 0
	case y.hasItsShare():
		y.month.NotCutTarget += could
		return 0
	}
	if share < 1 {
		less := y.cutOf(luck * share)
		y.month.NotCutPeople += could - less
		could = less
	}
	// Nobody cuts into a rotting heap: the yard takes what the racks hold and a
	// stated overflow.
	room := y.roomForFresh() + max(0, int(y.region.Yard.HeapDaysOfCut*float64(y.ordinaryCut()))-y.inHeap())
	cut := min(could, room)
	y.month.NotCutYardFull += could - cut
	if cut > 0 {
		y.month.WorkDays++
		if could > 0 {
			y.month.CutH += share * float64(y.site.Cutters) * y.site.CuttingHPerDay * float64(cut) / float64(could)
		}
	}
	return cut
}

// hasItsShare tells whether the site has, finished, its share of this month's
// contract and of the stock wanted ahead. Stalks still drying do not count:
// counting them would make a further dryer stop the cutting.
func (y *siteSeason) hasItsShare() bool {
	month := y.spans[y.monthIndex].Month
	c := y.region.Contract
	wanted := y.share * float64(c.StalksByMonth[month]+c.TargetStock[month])
	finished := y.own + float64(y.inStore())*y.accepted
	return finished >= wanted
}

// work books hours of a task other than cutting; the next morning they are taken off.
func (y *siteSeason) work(hours float64, task *float64) {
	y.owedH += hours
	y.month.OtherH += hours
	*task += hours
}

// freeShare returns the part of today's cutting that the other work of the last day leaves
// hands for, and settles that work. What exceeds a day's hours is owed on.
func (y *siteSeason) freeShare() float64 {
	p := &y.region.People
	if !p.Pool {
		y.owedH = 0
		return 1
	}
	y.owedH = max(0, y.owedH-float64(y.site.Crew)*p.CrewHPerDay)
	people := float64(y.site.Cutters)
	hours := people * max(p.WorkHPerDay, y.site.CuttingHPerDay) * y.present
	left := max(0, hours-y.owedH)
	y.owedH = max(0, y.owedH-hours)
	cutting := people * y.site.CuttingHPerDay * y.present
	if !(cutting > 0) {
		return 1
	}
	return min(1, left/cutting)
}

// fires returns how many fires the people present can tend at a time.
func (y *siteSeason) fires() int {
	p := &y.region.People
	if !p.Pool {
		return len(y.dryers)
	}
	people := float64(y.site.Cutters)*y.present + float64(y.site.Crew)
	return int(people * max(1, p.TendsDryers))
}
