package table

import (
	"drystalk/report/words"
	"drystalk/sim/money"
	"drystalk/sim/ways"
	"drystalk/tongue"
)

// WaysOdds lists ways of working one on top of the other, with their odds.
func WaysOdds(a ways.Answer) Table {
	t := Table{
		Title: tongue.Sayf("One change on top of the other (%s fresh seasons; gains in the same seasons with 95 %% interval)", words.Grouped(a.Seasons)),
		Head:  []string{tongue.Say("way of working"), tongue.Say("now"), tongue.Say("worst month"), tongue.Say("reached in"), tongue.Say("gain, points"), tongue.Say("on the row before"), tongue.Say("all months met in")}, Left: 3,
		Apart: []string{tongue.Say("way of working"), tongue.Say("now"), tongue.Say("worst month"), tongue.Say("reached in"), tongue.Say("gain of the share"), tongue.Say("on the row before"), tongue.Say("all months met in")},
	}
	t.Rows = append(t.Rows, []Cell{text(tongue.Say("as now")), text(""), text(a.Now.Worst), odds(a.Now.Odds), text(""), text(""), odds(a.Now.All)})
	for _, w := range a.Together {
		c := w.Changes[len(w.Changes)-1]
		t.Rows = append(t.Rows, []Cell{text(tongue.Sayf("and %s", words.WayAt(c))), text(words.WayFrom(c)), text(w.Worst), odds(w.Odds), points(w.Gain), points(w.Step), odds(w.All)})
	}
	return t
}

// WaysAlone lists changes of working each alone, with their odds.
func WaysAlone(a ways.Answer) Table {
	t := Table{
		Title: tongue.Sayf("Each change alone (the first %s fresh seasons; gains in the same seasons with 95 %% interval)", words.Grouped(a.AloneSeasons)),
		Head:  []string{tongue.Say("way of working"), tongue.Say("now"), tongue.Say("worst month"), tongue.Say("reached in"), tongue.Say("gain, points")}, Left: 3,
		Apart: []string{tongue.Say("way of working"), tongue.Say("now"), tongue.Say("worst month"), tongue.Say("reached in"), tongue.Say("gain of the share")},
	}
	for _, w := range a.Alone {
		c := w.Changes[0]
		t.Rows = append(t.Rows, []Cell{text(words.WayAt(c)), text(words.WayFrom(c)), text(w.Worst), odds(w.Odds), points(w.Gain)})
	}
	return t
}

// WaysLives lists what those whose work it is have of ways of working.
func WaysLives(a ways.Answer, currency string) Table {
	whose := map[string]string{"": "", money.Members.String(): tongue.Say("income of members"), money.Hired.String(): tongue.Say("left to the groups")}[a.Cutters]
	t := Table{Title: tongue.Sayf("What people have of it a year (%s seasons, each alone %s; difference to now in the same seasons with 95 %% interval)", words.Grouped(a.Seasons), words.Grouped(a.AloneSeasons)), Left: 1}
	t.Head = []string{tongue.Say("way of working")}
	if whose != "" {
		t.Head = append(t.Head, whose+", "+currency, tongue.Say("difference"))
	}
	t.Head = append(t.Head, tongue.Say("hours"), tongue.Say("difference of hours"))
	perHour := a.Cutters == money.Members.String()
	if perHour {
		t.Head = append(t.Head, tongue.Sayf("of an hour, %s", currency))
	}
	t.Head = append(t.Head, tongue.Say("wood, kg"), tongue.Say("difference of wood"), tongue.Say("second grade of the cut"))
	add := func(name string, w ways.Way, now bool) {
		row := []Cell{text(name)}
		differ := func(p money.Pair, unit string) Cell {
			if now {
				return text("")
			}
			return more(p.More, unit)
		}
		if whose != "" {
			row = append(row, meanAmount(w.Income.B.Mean, currency), differ(w.Income, currency))
		}
		row = append(row, mean(w.Hours.B, "h"), differ(w.Hours, "h"))
		if perHour {
			row = append(row, one(tongue.Figures("%.2f", w.PerHour.B.Mean), Real, currency, w.PerHour.B.Mean))
		}
		t.Rows = append(t.Rows, append(row, mean(w.WoodKg.B, "kg"), differ(w.WoodKg, "kg"), percent(w.Second.B.Mean)))
	}
	add(tongue.Say("as now"), a.Now, true)
	for _, w := range a.Together {
		add(tongue.Sayf("and %s", words.WayAt(w.Changes[len(w.Changes)-1])), w, false)
	}
	for _, w := range a.Alone {
		add(tongue.Sayf("alone: %s", words.WayAt(w.Changes[0])), w, false)
	}
	return t
}

// WaysEdits lists what a scenario says of all changes together.
func WaysEdits(a ways.Answer) Table {
	t := Table{Title: tongue.Say("What the scenario says then"), Head: []string{tongue.Say("changes")}, Left: 1}
	if n := len(a.Together); n > 0 {
		for _, e := range a.Together[n-1].Edits {
			t.Rows = append(t.Rows, texts(e))
		}
	}
	return t
}

// WaysElsewhere lists what the ways do in other climates, and what the best of the others does more
// there.
func WaysElsewhere(a ways.Answer) Table {
	t := Table{Sheet: tongue.Say("In other climates"), Title: tongue.Sayf("In other climates of the WMO table (%s seasons each; regret: what the best of all ways judged does more there)", words.Grouped(a.Elsewhere[0].Seasons)), Head: []string{tongue.Say("station"), tongue.Say("rainy months otherwise"), tongue.Say("rain a year, mm"), tongue.Say("as now"), tongue.Say("with all"), tongue.Say("gain, points"), tongue.Say("best there"), tongue.Say("regret, points")}, Left: 1}
	t.Apart = []string{tongue.Say("station"), tongue.Say("rainy months otherwise"), tongue.Say("rain a year"), tongue.Say("as now"), tongue.Say("with all"), tongue.Say("gain of the share"), tongue.Say("best there"), tongue.Say("regret of the share")}
	for _, e := range a.Elsewhere {
		t.Rows = append(t.Rows, []Cell{text(e.Station), plain(e.OtherMonths, tongue.Say("months")), whole(e.RainMM, "mm"), odds(e.Now), odds(e.Odds), points(e.Gain), odds(e.BestOdds), points(e.Regret)})
	}
	return t
}
