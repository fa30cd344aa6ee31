package sim

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
	}
	return t
}

// closeDay writes what the site holds at the end of a day and what happened in it.
func (y *siteSeason) closeDay(d int) {
	t, b := y.totals(), &y.soFar
	day := SiteDay{
		Day: d, RainMM: y.season.Days[d].RainMM, Cut: t.Cut - b.Cut, InHeap: y.inHeap(), InStore: y.inStore(), ToHub: t.ToHub - b.ToHub,
		Lost:    t.Second + t.Rejected + t.ThrownOut + t.Broken - b.Second - b.Rejected - b.ThrownOut - b.Broken,
		Charges: t.Charges - b.Charges,
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
	} {
		day.NotCut += r.n
		if r.n > most {
			most, day.Why = r.n, r.why
		}
	}
	y.soFar = t
	y.days = append(y.days, day)
}
