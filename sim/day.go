package sim

import "math"

// totals adds up the months so far.
func (y *siteSeason) totals() (t SiteMonth) {
	for i := range y.months[:y.monthIndex+1] {
		m := &y.months[i]
		t.Cut += m.Cut
		t.ToHub += m.ToHub
		t.Second += m.Second
		t.Rejected += m.Rejected
		t.ThrownOut += m.ThrownOut
		t.Broken += m.Broken
		t.Charges += m.Charges
		t.NotCutRain += m.NotCutRain
		t.NotCutYardFull += m.NotCutYardFull
		t.NotCutPeople += m.NotCutPeople
		t.NotCutStand += m.NotCutStand
		t.NotCutTarget += m.NotCutTarget
		t.NotCutClosed += m.NotCutClosed
		t.RoadShut += m.RoadShut
		t.Shift.Add(&m.Shift)
	}
	return t
}

// Add adds other hours, each state for itself.
func (h *DryerHours) Add(o *DryerHours) {
	h.Handling += o.Handling
	h.Firing += o.Firing
	h.Cooling += o.Cooling
	h.Waiting += o.Waiting
	h.NoStalks += o.NoStalks
	h.NotWanted += o.NotWanted
	h.NoTime += o.NoTime
	h.NoPeople += o.NoPeople
	h.NoWood += o.NoWood
	h.Broken += o.Broken
	h.NotReady += o.NotReady
}

// less returns the hours less others, each state for itself.
func (h DryerHours) less(o *DryerHours) DryerHours {
	return DryerHours{
		h.Handling - o.Handling, h.Firing - o.Firing, h.Cooling - o.Cooling, h.Waiting - o.Waiting,
		h.NoStalks - o.NoStalks, h.NotWanted - o.NotWanted, h.NoTime - o.NoTime, h.NoPeople - o.NoPeople,
		h.NoWood - o.NoWood, h.Broken - o.Broken, h.NotReady - o.NotReady,
	}
}

// closeDay writes what the site holds at the end of a day and what happened in it.
func (y *siteSeason) closeDay(d int) {
	for n := range y.dryers {
		y.bookDryer(n, math.Ceil(y.engine.NowH())) // to midnight
	}
	t, b := y.totals(), &y.soFar
	day := SiteDay{
		Day: d, RainMM: y.season.Days[d].RainMM, Cut: t.Cut - b.Cut, InHeap: y.inHeap(), InStore: y.store.stalks(), ToHub: t.ToHub - b.ToHub,
		Lost:    t.Second + t.Rejected + t.ThrownOut + t.Broken - b.Second - b.Rejected - b.ThrownOut - b.Broken,
		Charges: t.Charges - b.Charges,
		Shift:   t.Shift.less(&b.Shift),
	}
	for i := range y.batches {
		if y.batches[i].at != heap {
			day.OnRacks += y.batches[i].stalks
		}
		day.Mould = max(day.Mould, y.batches[i].state.MouldIndex)
	}
	day.InDryers = y.held() - day.OnRacks - day.InHeap - day.InStore
	most := 0
	for _, r := range []struct {
		n   int
		why string
	}{
		{t.NotCutRain - b.NotCutRain, "rain"},
		{t.NotCutYardFull - b.NotCutYardFull, "yard full"},
		{t.NotCutPeople - b.NotCutPeople, "people at other work"},
		{t.NotCutStand - b.NotCutStand, "little plant within reach"},
		{t.NotCutTarget - b.NotCutTarget, "share reached"},
		{t.NotCutClosed - b.NotCutClosed, "stand closed"},
	} {
		day.NotCut += r.n
		if r.n > most {
			most, day.Why = r.n, r.why
		}
	}
	day.Short = day.short(t.RoadShut > b.RoadShut, y.region.Dryer.FireAtIndex)
	y.soFar = t
	y.days = append(y.days, day)
}

// short names the one thing that was short on the day, from the water to the gate: what
// kept people from cutting, and where the yard was full or stalks at risk, what kept it
// from emptying.
func (d *SiteDay) short(roadShut bool, riskIndex float64) string {
	stood := []struct {
		h    float64
		what string
	}{
		{d.Shift.Broken + d.Shift.NotReady, "a working dryer"},
		{d.Shift.NoWood, "wood"},
		{d.Shift.NoPeople, "people for the fire"},
	}
	switch {
	case roadShut:
		return "road"
	case d.Why == "share reached", d.Why == "" && d.Mould < riskIndex:
		return ""
	case d.Why == "rain":
		return "a day without heavy rain"
	case d.Why == "stand closed":
		return "a stand that may be cut"
	case d.Why == "little plant within reach":
		return "plant"
	case d.Why == "people at other work":
		return "people"
	}
	most, what := 0.0, ""
	for _, s := range stood {
		if s.h > most {
			most, what = s.h, s.what
		}
	}
	switch {
	case what != "" && most+d.Shift.NoTime > d.Shift.Firing: // what is missed in the morning cannot be caught up in the shift
		return what
	case d.Shift.NoTime > d.Shift.Firing:
		return "hours of the shift"
	}
	return "racks and dryers"
}
