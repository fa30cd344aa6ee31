package table

import (
	"fmt"
	"math"
	"strings"

	"drystalk/report/words"
	"drystalk/sim/ahead"
	"drystalk/tongue"
)

// AheadWays sets the ways of working on from today beside each other.
func AheadWays(a ahead.Answer, currency string) Table {
	now := a.Ways[0]
	t := Table{
		Sheet: tongue.Say("Odds of the months ahead"), Title: tongue.Sayf("Odds of the months ahead by way of working (%s seasons; gains in the same seasons with 95 %% interval)", words.Grouped(a.Seasons)),
		Head: []string{tongue.Say("way of working")}, Left: 1,
	}
	for _, m := range now.Months {
		t.Head = append(t.Head, tongue.Month(m.Name))
	}
	t.Head = append(t.Head, tongue.Say("all months ahead"), tongue.Say("gain, points"), tongue.Say("missing stalks"))
	money := false
	for _, w := range a.Ways {
		money = money || w.Money != nil
	}
	if money {
		t.Head = append(t.Head, tongue.Sayf("money more, %s", currency))
	}
	for _, w := range a.Ways {
		row := []Cell{text(words.WayAhead(w))}
		for _, m := range w.Months {
			row = append(row, odds(m.Odds))
		}
		row = append(row, odds(w.All))
		if w.Key == ahead.AsNow {
			row = append(row, text(""))
		} else {
			row = append(row, points(w.Gain))
		}
		row = append(row, mean(w.Missed, stalks))
		switch {
		case w.Money != nil:
			row = append(row, more(*w.Money, currency))
		case money:
			row = append(row, text(""))
		}
		t.Rows = append(t.Rows, row)
	}
	return t
}

// AheadMonths lists the months ahead, working as now.
func AheadMonths(a ahead.Answer) Table {
	t := Table{
		Title: tongue.Say("Months ahead, working as now (good stalks at the hub before delivery)"),
		Head:  []string{tongue.Say("month"), tongue.Say("collections"), tongue.Say("still asked"), tongue.Say("median"), tongue.Say("5 to 95 % of seasons"), tongue.Say("met in"), tongue.Say("mean missing")}, Left: 2,
	}
	for _, m := range a.Ways[0].Months {
		t.Rows = append(t.Rows, []Cell{
			text(tongue.Month(m.Name)), text(strings.Join(m.Collected, ", ")), count(m.Asked, stalks), whole(m.Available.Median, stalks), band(m.Available, stalks), odds(m.Odds), mean(m.Missing, stalks),
		})
	}
	return t
}

// AheadStock lists how much must lie in store by when.
func AheadStock(a ahead.Answer) Table {
	t := Table{
		Sheet: tongue.Say("Stalks that must lie in store"), Title: tongue.Sayf("Good stalks that must lie in store (for all months after the day to be met in %s)", words.OfTen(a.Target)),
		Head: []string{tongue.Say("end of"), tongue.Say("must lie there"), tongue.Say("as now, median"), tongue.Say("5 to 95 % of seasons"), tongue.Say("so much lies there in")}, Left: 1,
	}
	for _, s := range a.Stock {
		t.Rows = append(t.Rows, []Cell{text(words.StockDay(s.Date)), count(s.Needed, stalks), whole(s.Expected.Median, stalks), band(s.Expected, stalks), odds(s.Enough)})
	}
	return t
}

// AheadLoad lists what the dryers would be loaded with first today.
func AheadLoad(a ahead.Answer) Table {
	t := Table{
		Sheet: tongue.Say("The first charge of today"), Title: tongue.Say("The first charge of today by site (where fewer than half of the seasons fire, leave it to the sun)"),
		Head: []string{tongue.Say("site"), tongue.Say("why"), tongue.Say("load"), tongue.Say("fired in"), tongue.Say("at"), tongue.Say("hours of fire, 5 to 95 %"), tongue.Say("wood, kg")}, Left: 3,
	}
	for _, l := range a.Load {
		row := []Cell{text(l.Site), text(""), text(tongue.Say("nothing")), odds(l.Fired), text(""), text(""), text("")}
		if l.Fired.Share > 0 {
			why := tongue.Say("stalks at risk of mould")
			if l.Room.Share > 0.5 {
				why = tongue.Say("racks are short of room")
			}
			row = []Cell{text(l.Site), text(why), text(loadWords(l)), odds(l.Fired), clock(l.AtH), hoursBand(l), band(l.WoodKg, "kg")}
		}
		t.Rows = append(t.Rows, row)
	}
	return t
}

// clock is a time of day, said as 7:30 and kept in hours.
func clock(atH float64) Cell {
	minutes := int(math.Round(60*atH)) % (24 * 60)
	return one(fmt.Sprintf("%d:%02d", minutes/60, minutes%60), Real, "h", atH)
}

// hoursBand is the spread of the hours of fire, with a decimal.
func hoursBand(l ahead.Load) Cell {
	return between(tongue.Sayf("%.1f to %.1f", l.DryingH.P5, l.DryingH.P95), Real, "h", [2]float64{l.DryingH.P5, l.DryingH.P95})
}

// fewOfLoad are so few stalks of a load that they are no line of their own.
const fewOfLoad = 0.03

// loadWords says what to load: "850 cut 8 days ago (40 % water), 150 cut 4 days ago (80 % water)".
func loadWords(l ahead.Load) string {
	var parts []string
	for _, of := range l.Of {
		if of.Stalks < fewOfLoad*l.Stalks {
			continue
		}
		ago := tongue.Say("today")
		if of.DaysAgo == 1 {
			ago = tongue.Say("yesterday")
		} else if of.DaysAgo > 1 {
			ago = tongue.Sayf("%d days ago", of.DaysAgo)
		}
		parts = append(parts, tongue.Sayf("%s cut %s (%s water)", words.Whole(of.Stalks), ago, words.Percent(of.MoistureWet)))
	}
	return strings.Join(parts, ", ")
}

// AheadTruck says what a truckload bought once does by month.
func AheadTruck(a ahead.Answer) Table {
	t := Table{
		Sheet: tongue.Say("Stalks bought once"), Title: tongue.Sayf("With %s dry good stalks bought once, at the hub on %s", words.Grouped(a.Truck.Stalks), a.Truck.On),
		Head: []string{tongue.Say("month"), tongue.Say("as now met in"), tongue.Say("with them"), tongue.Say("gain, points")}, Left: 1,
	}
	for k, m := range a.Truck.Months {
		t.Rows = append(t.Rows, []Cell{text(tongue.Month(m.Name)), odds(a.Ways[0].Months[k].Odds), odds(m.Odds), points(m.Gain)})
	}
	t.Rows = append(t.Rows, []Cell{text(tongue.Say("all months ahead")), odds(a.Ways[0].All), odds(a.Truck.All), points(a.Truck.Gain)})
	t.Sums = 1
	return t
}
