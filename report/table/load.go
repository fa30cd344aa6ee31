package table

import (
	"fmt"

	"drystalk/sim/charge"
)

// Load lists the course of a load every half hour; curve holds it minute by minute.
func Load(curve []charge.Point) Table {
	t := Table{Title: "Course of the load", Head: []string{"hours", "chamber °C", "mean moisture, % wet basis", "slow stalks, % wet basis"}}
	for i, p := range curve {
		if i%30 != 0 && i != len(curve)-1 {
			continue
		}
		t.Rows = append(t.Rows, []string{
			fmt.Sprintf("%.1f", p.H), fmt.Sprintf("%.0f", p.TempC),
			fmt.Sprintf("%.0f", 100*float64(p.MeanMoisture.WetBasis())), fmt.Sprintf("%.0f", 100*float64(p.SlowMoisture.WetBasis())),
		})
	}
	return t
}
