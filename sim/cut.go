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
	room, full := y.roomForCut(d)
	cut := min(could, room)
	*full += could - cut
	y.people.cut(cut, could, share)
	return cut
}

// whyNoCut returns what keeps everybody from cutting on day d, as the entry of the month
// under which the stalks are booked; nil where nothing does. A closed stand, a day of much
// rain and a hub that has enough each do, and the first of these counts.
func (y *siteSeason) whyNoCut(d int) *int {
	switch {
	case y.stand.closed(d):
		return &y.month.NotCutClosed
	case y.season.Days[d].RainMM > y.region.Yard.MaxCutRainMM,
		y.season.flushedWithin(d, y.region.Stand.FlushClosedDays, y.region.Stand.FlushAboveMM):
		return &y.month.NotCutRain
	case y.road.enough:
		return &y.month.NotCutTarget
	}
	return nil
}

// CutLimit says when cutting stops for what lies in the yard.
type CutLimit int

// The limits of cutting.
const (
	CutIntoFullYard CutLimit = iota // when the racks are full and Yard.HeapDaysOfCut lie in the heap
	CutWhatCanDry                   // when the racks are full or more lies wet than racks and dryers bring home
)

// roomForCut returns the stalks for which the yard has room on day d, by the rule of the region,
// and the entry of the month under which those are booked for which there is none.
func (y *siteSeason) roomForCut(d int) (stalks int, full *int) {
	if y.region.Yard.CutUntil == CutIntoFullYard {
		return y.yard.roomForCut(), &y.month.NotCutYardFull
	}
	racks, limit := y.yard.roomForFresh(), max(0, y.canDry(float64(24*d+morningH))-y.yard.wetStalks())
	if limit < racks {
		return limit, &y.month.NotCutTooWet
	}
	return racks, &y.month.NotCutYardFull
}

// canDry returns the stalks that may lie wet in the yard: what racks and dryers bring home before
// they mould, as far as the group can know it from what stands there and is not broken.
func (y *siteSeason) canDry(nowH float64) int {
	rules := &y.region.Yard
	charge := float64(y.dryers.capacity(y.p.Stalk.FreshMoisture.DryBasis()))
	return int(rules.WetKgPerM2*y.site.rackM2()*1000/y.p.Stalk.FreshG + rules.WetCharges*charge*float64(y.dryers.working(nowH)))
}

// rackM2 returns the area of all racks, m².
func (s *Site) rackM2() float64 { return s.ClearRoofM2 + s.OpenRackM2 + s.SolidRoofM2 }

// wetStalks returns the stalks of the yard that are not dry yet.
func (y *yard) wetStalks() int {
	n, target := 0, y.p.Cabinet.Target.DryBasis()
	for i := range y.batches {
		if b := &y.batches[i]; b.state.Moisture > target {
			n += b.stalks
		}
	}
	return n
}

// working returns the dryers that stand, ready and not known to be broken, at a time.
func (ds *dryers) working(nowH float64) int {
	n := 0
	for i := range ds.cabinets {
		if d := &ds.cabinets[i]; nowH >= d.worksAtH && nowH >= d.readyH && nowH < d.goneH {
			n++
		}
	}
	return n
}
