package table

import (
	"fmt"

	"drystalk/report/words"
	"drystalk/sim/weather"
	"drystalk/tongue"
)

// Normals sets the rain of a record beside monthly normals, and says which months differ by more than
// matters for drying.
func Normals(s weather.Summary, n weather.Normals) Table {
	t := Table{
		Title: tongue.Sayf("The record beside the monthly normals of %s", n.Station),
		Head:  []string{tongue.Say("month"), tongue.Say("rain mm, record"), tongue.Say("rain mm, normals"), tongue.Say("days with 1 mm, record"), tongue.Say("days with 1 mm, normals"), tongue.Say("what it says")}, Left: 1,
	}
	for m := range 12 {
		says := tongue.Say("agrees")
		if of := n.Months[m]; weather.MonthDiffers(of.RainMM, s.RainMM[m]) {
			says = tongue.Say("drier")
			if s.RainMM[m] > of.RainMM {
				says = tongue.Say("wetter")
			}
		}
		t.Rows = append(t.Rows, []Cell{
			text(words.MonthName(m)), mm(s.RainMM[m]), mm(n.Months[m].RainMM), decimal(s.RainDays[m], ""), decimal(n.Months[m].RainDays, ""), text(says),
		})
	}
	return t
}

// mm is some rain.
func mm(x float64) Cell { return one(fmt.Sprint(words.Round(x)), Real, "mm", x) }
