package table

import (
	"fmt"

	"drystalk/report/words"
	"drystalk/sim"
)

// Site lists the months of one site's season, with a column for each loss.
func Site(l sim.SiteLedger, hub []sim.HubMonth) Table {
	losses := sim.OfKinds(sim.Lost)
	t := Table{Title: fmt.Sprintf("%s, %s", l.Site, words.Dryers(l.Dryers)), Head: []string{"month", "at start", "cut", "to hub"}, Left: 1}
	for _, id := range losses {
		t.Head = append(t.Head, words.FigureHead(id))
	}
	t.Head = append(t.Head, "at end", "charges", "fire h", "wood kg", "not cut")
	for i := range l.Months {
		m := &l.Months[i]
		row := []string{hub[i].Month.String(), words.Grouped(m.Opening), words.Grouped(m.Cut), words.Grouped(m.ToHub)}
		for _, id := range losses {
			row = append(row, words.Whole(id.Figure().Of(m)))
		}
		t.Rows = append(t.Rows, append(row, words.Grouped(m.Closing), words.Grouped(m.Charges), words.Whole(m.FiringH), words.Whole(m.WoodKg), words.NotCut(*m)))
	}
	return t
}

// Days lists the days of one site from one day of the season to another.
func Days(site string, days []sim.SiteDay, from, to int, date func(d int) string) Table {
	t := Table{
		Title: site + ", day by day (stalks at the end of the day)",
		Head:  []string{"day", "rain mm", "cut", "on racks", "heap", "dryers", "store", "to hub", "lost", "fires out", "mould", "not cut", "short"}, Left: 1,
	}
	for _, d := range days[from : to+1] {
		notCut := words.Grouped(d.NotCut)
		if d.NotCut > 0 {
			notCut += " " + words.NotCutInDay(d.Why)
		}
		t.Rows = append(t.Rows, []string{
			date(d.Day), fmt.Sprintf("%.1f", d.RainMM), words.Grouped(d.Cut), words.Grouped(d.OnRacks), words.Grouped(d.InHeap), words.Grouped(d.InDryers), words.Grouped(d.InStore),
			words.Grouped(d.ToHub), words.Grouped(d.Lost), words.Grouped(d.Charges), fmt.Sprintf("%.1f", d.Mould), notCut, words.Short(d.Short),
		})
	}
	return t
}

// Hub lists the months at the hub.
func Hub(hub []sim.HubMonth) Table {
	t := Table{Title: "The hub", Head: []string{"month", "at start", "arrived", "refused", "asked", "delivered", "made good", "at end", "met"}, Left: 1}
	for _, m := range hub {
		met := "no"
		switch {
		case m.Asked == 0:
			met = "-"
		case m.Met:
			met = "yes"
		}
		t.Rows = append(t.Rows, []string{
			m.Month.String(), words.Grouped(m.Opening), words.Grouped(m.Arrived), words.Grouped(m.RefusedAtGate), words.Grouped(m.Asked), words.Grouped(m.Delivered), words.Grouped(m.MadeGood), words.Grouped(m.Closing), met,
		})
	}
	return t
}
