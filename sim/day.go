package sim

// totals adds up the months so far.
func (y *siteSeason) totals() (t SiteMonth) {
	for i := range y.months[:y.monthIndex+1] {
		t.Add(&y.months[i])
	}
	return t
}

// What a day says of its stalks: those lost, and those not cut, in the order in which equal
// reasons are named.
var (
	lostInDay   = OfKinds(Lost)
	notCutInDay = OfKinds(NotCutFor, NotWanted)
)

// closeDay writes what the site holds at the end of a day and what happened in it.
func (y *siteSeason) closeDay(d int) {
	y.dryers.bookAll(y.engine.NowH())
	day := SiteDay{Day: d, RainMM: y.season.Days[d].RainMM}
	did := y.sinceLastDay()
	y.holds(&day)
	day.add(&did)
	day.Why, _ = did.Most(notCutInDay)
	day.Short = day.lack(did.RoadShut > 0, y.region.Dryer.FireAtIndex)
	y.days = append(y.days, day)
}

// sinceLastDay returns what happened since it was asked last.
func (y *siteSeason) sinceLastDay() SiteMonth {
	t := y.totals()
	did := t.less(&y.soFar)
	y.soFar = t
	return did
}

// add books what happened into the day.
func (d *SiteDay) add(did *SiteMonth) {
	d.Cut += did.Cut
	d.ToHub += did.ToHub
	d.Charges += did.Charges
	d.Lost += int(did.Sum(lostInDay))
	d.NotCut += int(did.Sum(notCutInDay))
	d.Shift.Add(&did.Shift)
}

// holds writes where the stalks of the site lie.
func (y *siteSeason) holds(day *SiteDay) {
	day.InHeap, day.InDryers, day.InStore = y.yard.inHeap(), y.dryers.stalks(), y.store.stalks()
	day.OnRacks, day.Mould = y.yard.stalks()-day.InHeap, y.yard.mouldIndex()
}

// closeSeason books what happened in the last minute of the season, after its last day and
// month were closed: in a shift that runs over midnight a fire may go out then, and the next
// charge be graded and loaded.
func (y *siteSeason) closeSeason() {
	y.dryers.bookAll(y.engine.NowH())
	y.yard.close()
	y.month.Closing, y.water.Closing = y.held(), y.waterHeld()
	if len(y.days) == 0 {
		return
	}
	last, late := &y.days[len(y.days)-1], y.sinceLastDay()
	y.holds(last)
	last.add(&late)
}

// Lack is the one thing that was short on a day. The zero value is nothing.
type Lack uint8

// What may be short, from the water to the gate.
const (
	LacksNothing    Lack = iota
	LacksRoad            // that is open
	LacksDryDay          // without heavy rain, for cutting
	LacksOpenStand       // that may be cut
	LacksPlant           // within reach
	LacksPeople          // for cutting
	LacksDryer           // that works
	LacksWood            // for a charge
	LacksTenders         // people for the fire
	LacksShiftHours      // for a charge
	LacksRoom            // on racks and in dryers
	lacks
)

// lackKeys are the keys of what is short.
var lackKeys = [lacks]string{
	"", "road", "dry_day", "open_stand", "plant", "people", "working_dryer", "wood", "people_for_the_fire", "shift_hours", "racks_and_dryers",
}

// Lacks returns all that may be short.
func Lacks() (out []Lack) {
	for l := LacksRoad; l < lacks; l++ {
		out = append(out, l)
	}
	return out
}

// String returns the key; "" for nothing.
func (l Lack) String() string { return lackKeys[l] }

// MarshalText writes the key.
func (l Lack) MarshalText() ([]byte, error) { return []byte(l.String()), nil }

// lackFor says what was short where stalks were not cut for a reason that lies not in the yard.
var lackFor = map[FigureID]Lack{
	NotCutTarget: LacksNothing, NotCutRain: LacksDryDay, NotCutClosed: LacksOpenStand, NotCutStand: LacksPlant, NotCutPeople: LacksPeople,
}

// lack names the one thing that was short on the day: what kept people from cutting, and
// where the yard was full or stalks at risk, what kept it from emptying.
func (d *SiteDay) lack(roadShut bool, riskIndex float64) Lack {
	if roadShut {
		return LacksRoad
	}
	if d.Why == NoFigure && d.Mould < riskIndex {
		return LacksNothing
	}
	if l, ok := lackFor[d.Why]; ok {
		return l
	}
	h := &d.Shift
	most, what := 0.0, LacksNothing
	for _, s := range []struct {
		h    float64
		what Lack
	}{
		{h[DryerBroken] + h[DryerNotReady], LacksDryer},
		{h[DryerNoWood], LacksWood},
		{h[DryerNoPeople], LacksTenders},
	} {
		if s.h > most {
			most, what = s.h, s.what
		}
	}
	switch {
	case what != LacksNothing && most+h[DryerNoTime] > h[DryerFiring]: // what is missed in the morning cannot be caught up in the shift
		return what
	case h[DryerNoTime] > h[DryerFiring]:
		return LacksShiftHours
	}
	return LacksRoom
}
