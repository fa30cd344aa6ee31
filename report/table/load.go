package table

import (
	"fmt"

	"drystalk/report/words"
	"drystalk/sim/charge"
	"drystalk/tongue"
)

// Load lists the course of a load every half hour; curve holds it minute by minute.
func Load(curve []charge.Point) Table {
	t := Table{Title: tongue.Say("Course of the load"), Head: []string{tongue.Say("hours"), tongue.Say("chamber °C"), tongue.Say("mean moisture, % wet basis"), tongue.Say("slow stalks, % wet basis"), tongue.Say("wood fed, kg")}}
	t.Apart = []string{tongue.Say("time since lighting"), tongue.Say("chamber"), tongue.Say("mean moisture, wet basis"), tongue.Say("slow stalks, wet basis"), tongue.Say("wood fed")}
	for i, p := range curve {
		if i%30 != 0 && i != len(curve)-1 {
			continue
		}
		if last := len(t.Rows) - 1; i == len(curve)-1 && last >= 0 && t.Rows[last][0].Text == tongue.Figures("%.1f", p.H) {
			t.Rows = t.Rows[:last] // the end falls so near a half hour that both would be called the same
		}
		t.Rows = append(t.Rows, []Cell{
			one(tongue.Figures("%.1f", p.H), Real, "h", p.H), one(fmt.Sprintf("%.0f", p.TempC), Real, "°C", p.TempC), wet(float64(p.MeanMoisture.WetBasis())), wet(float64(p.SlowMoisture.WetBasis())), one(tongue.Figures("%.1f", p.WoodKg), Real, "kg", p.WoodKg),
		})
	}
	return t
}

// FullLoad is a full load of one moisture.
type FullLoad struct {
	MoistureWet       float64 // fraction
	Stalks            int
	LoadedKg          float64
	DryingH, LowH     float64 // as written; 90 of 100 draws of what nobody has measured lie from LowH
	HighH             float64 // to HighH; both 0 where knowledge is fixed
	WoodKg            float64
	LowWood, HighWood float64
}

// FullLoads lists hours and wood of full loads by their moisture.
func FullLoads(loads []FullLoad) Table {
	t := Table{
		Sheet: tongue.Say("Full loads by moisture"), Title: tongue.Say("Full loads by the moisture of the stalks: hours of fire and wood"),
		Head: []string{tongue.Say("moisture, % wet basis"), tongue.Say("stalks"), tongue.Say("weight, kg"), tongue.Say("hours of fire"), tongue.Say("wood, kg")},
	}
	t.Apart = []string{tongue.Say("moisture, wet basis"), tongue.Say("stalks"), tongue.Say("weight"), tongue.Say("hours of fire"), tongue.Say("wood")}
	if len(loads) > 0 && loads[0].HighH > 0 {
		t.Title += tongue.Say(" (in brackets: 90 of 100 trials)")
	}
	for _, l := range loads {
		t.Rows = append(t.Rows, []Cell{
			wet(l.MoistureWet), one(words.Grouped(l.Stalks), Count, "", float64(l.Stalks)), one(fmt.Sprintf("%.0f", l.LoadedKg), Real, "kg", l.LoadedKg),
			ranging("%.1f", "h", [3]float64{l.DryingH, l.LowH, l.HighH}), ranging("%.0f", "kg", [3]float64{l.WoodKg, l.LowWood, l.HighWood}),
		})
	}
	return t
}

// ranging is a cell of a figure with its range; without one where its high end is 0.
func ranging(format, unit string, x [3]float64) Cell {
	said := tongue.Figures(format, x[0])
	if x[2] == 0 {
		return one(said, Real, unit, x[0])
	}
	return cell(said+tongue.Sayf(" (%s to %s)", tongue.Figures(format, x[1]), tongue.Figures(format, x[2])), Real, unit, x)
}

// wet is a moisture on the wet basis, kg of water per kg.
func wet(x float64) Cell {
	return one(fmt.Sprintf("%.0f", 100*x), Share, "", x)
}
