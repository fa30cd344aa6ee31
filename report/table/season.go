package table

import (
	"fmt"

	"drystalk/report/words"
	"drystalk/sim"
	"drystalk/tongue"
)

// Site lists the months of one site's season, with a column for each loss.
func Site(l sim.SiteLedger, hub []sim.HubMonth) Table {
	losses := sim.OfKinds(sim.Lost)
	t := Table{Title: fmt.Sprintf("%s, %s", l.Site, words.Dryers(l.Dryers)), Head: []string{tongue.Say("month"), tongue.Say("at start"), tongue.Say("cut"), tongue.Say("to hub")}, Left: 1}
	for _, id := range losses {
		t.Head = append(t.Head, words.FigureHead(id))
	}
	t.Head = append(t.Head, tongue.Say("at end"), tongue.Say("charges"), tongue.Say("fire h"), tongue.Say("wood kg"), tongue.Say("not cut"))
	for i := range l.Months {
		m := &l.Months[i]
		row := []Cell{text(tongue.Month(hub[i].Month.String())), count(m.Opening, stalks), count(m.Cut, stalks), count(m.ToHub, stalks)}
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
		Title: tongue.Sayf("%s, day by day (stalks at the end of the day)", site),
		Head:  []string{tongue.Say("day"), tongue.Say("rain mm"), tongue.Say("cut"), tongue.Say("on racks"), tongue.Say("heap"), tongue.Say("dryers"), tongue.Say("store"), tongue.Say("to hub"), tongue.Say("lost"), tongue.Say("fires out"), tongue.Say("mould"), tongue.Say("not cut"), tongue.Say("short")}, Left: 1,
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
	t := Table{Title: tongue.Say("The hub"), Head: []string{tongue.Say("month"), tongue.Say("at start"), tongue.Say("arrived"), tongue.Say("refused"), tongue.Say("spoiled"), tongue.Say("asked"), tongue.Say("delivered"), tongue.Say("made good"), tongue.Say("at end"), tongue.Say("met")}, Left: 1}
	for _, m := range hub {
		met := tongue.Say("no")
		switch {
		case m.Asked == 0:
			met = "-"
		case m.Met:
			met = tongue.Say("yes")
		}
		t.Rows = append(t.Rows, []Cell{
			text(tongue.Month(m.Month.String())), count(m.Opening, stalks), count(m.Arrived, stalks), count(m.RefusedAtGate, stalks), count(m.Spoiled, stalks), count(m.Asked, stalks), count(m.Delivered, stalks), count(m.MadeGood, stalks), count(m.Closing, stalks), text(met),
		})
	}
	return t
}
