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
		row := []Cell{text(hub[i].Month.String()), count(m.Opening, stalks), count(m.Cut, stalks), count(m.ToHub, stalks)}
		for _, id := range losses {
			row = append(row, whole(id.Figure().Of(m), stalks))
		}
		t.Rows = append(t.Rows, append(row, count(m.Closing, stalks), count(m.Charges, ""), whole(m.FiringH, "h"), whole(m.WoodKg, "kg"), text(words.NotCut(*m))))
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
		t.Rows = append(t.Rows, []Cell{
			text(date(d.Day)), decimal(d.RainMM, "mm"), count(d.Cut, stalks), count(d.OnRacks, stalks), count(d.InHeap, stalks), count(d.InDryers, stalks), count(d.InStore, stalks),
			count(d.ToHub, stalks), count(d.Lost, stalks), count(d.Charges, ""), decimal(d.Mould, ""), text(notCut), text(words.Short(d.Short)),
		})
	}
	return t
}

// Hub lists the months at the hub.
func Hub(hub []sim.HubMonth) Table {
	t := Table{Title: "The hub", Head: []string{"month", "at start", "arrived", "refused", "spoiled", "asked", "delivered", "made good", "at end", "met"}, Left: 1}
	for _, m := range hub {
		met := "no"
		switch {
		case m.Asked == 0:
			met = "-"
		case m.Met:
			met = "yes"
		}
		t.Rows = append(t.Rows, []Cell{
			text(m.Month.String()), count(m.Opening, stalks), count(m.Arrived, stalks), count(m.RefusedAtGate, stalks), count(m.Spoiled, stalks), count(m.Asked, stalks), count(m.Delivered, stalks), count(m.MadeGood, stalks), count(m.Closing, stalks), text(met),
		})
	}
	return t
}
