package table

import (
	"fmt"

	"drystalk/report/words"
	"drystalk/sim"
)

// Site lists the months of one site's season.
func Site(l sim.SiteLedger, hub []sim.HubMonth) Table {
	t := Table{
		Title: fmt.Sprintf("%s, %s", l.Site, words.Dryers(l.Dryers)),
		Head:  []string{"month", "at start", "cut", "to hub", "second", "rejected", "thrown out", "broken", "at end", "charges", "fire h", "wood kg", "not cut"}, Left: 1,
	}
	for i, m := range l.Months {
		t.Rows = append(t.Rows, []string{
			hub[i].Month.String(), words.Grouped(m.Opening), words.Grouped(m.Cut), words.Grouped(m.ToHub), words.Grouped(m.Second), words.Grouped(m.Rejected),
			words.Grouped(m.ThrownOut), words.Grouped(m.Broken), words.Grouped(m.Closing), words.Grouped(m.Charges), words.Whole(m.FiringH),
			words.Whole(m.WoodKg), words.NotCut(m),
		})
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
