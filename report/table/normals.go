package table

import (
	"fmt"

	"drystalk/report/words"
	"drystalk/sim/weather"
)

// Normals sets the rain of a record beside monthly normals, and says which months differ by more than
// matters for drying.
func Normals(s weather.Summary, n weather.Normals) Table {
	t := Table{
		Title: fmt.Sprintf("The record beside the monthly normals of %s", n.Station),
		Head:  []string{"month", "rain mm, record", "rain mm, normals", "days with 1 mm, record", "days with 1 mm, normals", "what it says"}, Left: 1,
	}
	for m := range 12 {
		says := "agrees"
		if of := n.Months[m]; weather.MonthDiffers(of.RainMM, s.RainMM[m]) {
			says = "drier"
			if s.RainMM[m] > of.RainMM {
				says = "wetter"
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
