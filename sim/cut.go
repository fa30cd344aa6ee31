package sim

// decideCut settles in the morning of day d how many stalks will be cut: what the people who
// are free bring from the stand, as far as the yard has room.
func (y *siteSeason) decideCut(d int) int {
	y.people.clearSheets(d)
	y.people.come(d)
	share := y.people.freeShare() * y.people.present
	y.stand.grow(d)
	if y.people.rest(d) {
		return 0
	}
	luck := y.stand.thinned(y.season.Output[y.index][d])
	could := y.cutOf(luck)
	if why := y.whyNoCut(d); why != nil {
		*why += could
		return 0
	}
	if share < 1 {
		less := y.cutOf(luck * share)
		y.month.NotCutPeople += could - less
		could = less
	}
	cut := min(could, y.yard.roomForCut())
	y.month.NotCutYardFull += could - cut
	y.people.cut(cut, could, share)
	return cut
}

// whyNoCut returns what keeps everybody from cutting on day d, as the entry of the month
// under which the stalks are booked; nil where nothing does. A closed stand, a day of much
// rain and a share already fulfilled each do, and the first of these counts.
func (y *siteSeason) whyNoCut(d int) *int {
	switch {
	case y.stand.closed(d):
		return &y.month.NotCutClosed
	case y.season.Days[d].RainMM > y.region.Yard.MaxCutRainMM,
		y.season.flushedWithin(d, y.region.Stand.FlushClosedDays, y.region.Stand.FlushAboveMM):
		return &y.month.NotCutRain
	case y.road.hasItsShare(&y.spans[y.monthIndex], y.store.stalks()):
		return &y.month.NotCutTarget
	}
	return nil
}
