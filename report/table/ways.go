package table

import (
	"fmt"

	"drystalk/report/words"
	"drystalk/sim/money"
	"drystalk/sim/ways"
	"drystalk/tongue"
)

// WaysOdds lists ways of working one on top of the other, with their odds.
func WaysOdds(a ways.Answer) Table {
	t := Table{
		Title: fmt.Sprintf("One change on top of the other (%s fresh seasons; gains in the same seasons with 95 %% interval)", words.Grouped(a.Seasons)),
		Head:  []string{"way of working", "now", "worst month", "reached in", "gain, points", "on the row before", "all months met in"}, Left: 3,
		Apart: []string{"way of working", "now", "worst month", "reached in", "gain of the share", "on the row before", "all months met in"},
	}
	t.Rows = append(t.Rows, []Cell{text("as now"), text(""), text(a.Now.Worst), odds(a.Now.Odds), text(""), text(""), odds(a.Now.All)})
	for _, w := range a.Together {
		c := w.Changes[len(w.Changes)-1]
		t.Rows = append(t.Rows, []Cell{text("and " + words.WayAt(c)), text(words.WayFrom(c)), text(w.Worst), odds(w.Odds), points(w.Gain), points(w.Step), odds(w.All)})
	}
	return t
}

// WaysAlone lists changes of working each alone, with their odds.
func WaysAlone(a ways.Answer) Table {
	t := Table{
		Title: fmt.Sprintf("Each change alone (the first %s fresh seasons; gains in the same seasons with 95 %% interval)", words.Grouped(a.AloneSeasons)),
		Head:  []string{"way of working", "now", "worst month", "reached in", "gain, points"}, Left: 3,
		Apart: []string{"way of working", "now", "worst month", "reached in", "gain of the share"},
	}
	for _, w := range a.Alone {
		c := w.Changes[0]
		t.Rows = append(t.Rows, []Cell{text(words.WayAt(c)), text(words.WayFrom(c)), text(w.Worst), odds(w.Odds), points(w.Gain)})
	}
	return t
}

// WaysLives lists what those whose work it is have of ways of working.
func WaysLives(a ways.Answer, currency string) Table {
	whose := map[string]string{"": "", money.Members.String(): "income of members", money.Hired.String(): "left to the groups"}[a.Cutters]
	t := Table{Title: fmt.Sprintf("What people have of it a year (%s seasons, each alone %s; difference to now in the same seasons with 95 %% interval)", words.Grouped(a.Seasons), words.Grouped(a.AloneSeasons)), Left: 1}
	t.Head = []string{"way of working"}
	if whose != "" {
		t.Head = append(t.Head, whose+", "+currency, "difference")
	}
	t.Head = append(t.Head, "hours", "difference of hours")
	perHour := a.Cutters == money.Members.String()
	if perHour {
		t.Head = append(t.Head, "of an hour, "+currency)
	}
	t.Head = append(t.Head, "wood, kg", "difference of wood", "second grade of the cut")
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
	add("as now", a.Now, true)
	for _, w := range a.Together {
		add("and "+words.WayAt(w.Changes[len(w.Changes)-1]), w, false)
	}
	for _, w := range a.Alone {
		add("alone: "+words.WayAt(w.Changes[0]), w, false)
	}
	return t
}

// WaysEdits lists what a scenario says of all changes together.
func WaysEdits(a ways.Answer) Table {
	t := Table{Title: "What the scenario says then", Head: []string{"changes"}, Left: 1}
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
	t := Table{Sheet: "In other climates", Title: fmt.Sprintf("In other climates of the WMO table (%s seasons each; regret: what the best of all ways judged does more there)", words.Grouped(a.Elsewhere[0].Seasons)), Head: []string{"station", "rainy months otherwise", "rain a year, mm", "as now", "with all", "gain, points", "best there", "regret, points"}, Left: 1}
	t.Apart = []string{"station", "rainy months otherwise", "rain a year", "as now", "with all", "gain of the share", "best there", "regret of the share"}
	for _, e := range a.Elsewhere {
		t.Rows = append(t.Rows, []Cell{text(e.Station), plain(e.OtherMonths, "months"), whole(e.RainMM, "mm"), odds(e.Now), odds(e.Odds), points(e.Gain), odds(e.BestOdds), points(e.Regret)})
	}
	return t
}
