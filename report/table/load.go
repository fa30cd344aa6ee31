package table

import (
	"fmt"

	"drystalk/sim/charge"
)

// Load lists the course of a load every half hour; curve holds it minute by minute.
func Load(curve []charge.Point) Table {
	t := Table{Title: "Course of the load", Head: []string{"hours", "chamber °C", "mean moisture, % wet basis", "slow stalks, % wet basis"}}
	t.Apart = []string{"time since lighting", "chamber", "mean moisture, wet basis", "slow stalks, wet basis"}
	for i, p := range curve {
		if i%30 != 0 && i != len(curve)-1 {
			continue
		}
		t.Rows = append(t.Rows, []Cell{
			one(fmt.Sprintf("%.1f", p.H), Real, "h", p.H), one(fmt.Sprintf("%.0f", p.TempC), Real, "°C", p.TempC), wet(float64(p.MeanMoisture.WetBasis())), wet(float64(p.SlowMoisture.WetBasis())),
		})
	}
	return t
}

// wet is a moisture on the wet basis, kg of water per kg.
func wet(x float64) Cell {
	return one(fmt.Sprintf("%.0f", 100*x), Share, "", x)
}
