package charge

import "drystalk/sim/stalk"

// Lot is one batch's part of a charge.
type Lot struct {
	DryKg    float64
	Moisture stalk.DryBasis
}

// Point is the state of a charge at one instant.
type Point struct {
	H            float64        `json:"h"`      // hours since lighting
	TempC        float64        `json:"temp_c"` // of the chamber
	MeanMoisture stalk.DryBasis `json:"mean_moisture_dry_basis"`
	SlowMoisture stalk.DryBasis `json:"slow_moisture_dry_basis"` // of the slow 5 % stalk of the wettest lot
	WoodKg       float64        `json:"wood_kg"`                 // burnt since lighting, as fired
}

// longest is where a charge that never gets dry is given up, h.
const longest = 100

// Curve steps a charge from lighting until the slow 5 % stalk of the wettest lot is dry, in steps
// of stepH hours, and returns every point. This is the model itself; Course is its closed form.
func (c *Cabinet) Curve(a Ambient, load Load, stepH float64) []Point {
	f := c.Light(a)
	var course Course // its lots, wettest first, and the rule by which they share
	course.fire = &f
	course.sort(load.Lots)
	course.filmKg = load.FilmKg
	youngMJ, owedMJ := f.youngMJ(load.bill())
	slow := float64(course.lots[0].Moisture)
	points := []Point{{H: 0, TempC: a.TempC, MeanMoisture: meanOf(course.lots), SlowMoisture: stalk.DryBasis(slow)}}
	filmKg := []float64{load.FilmKg} // left at each point
	for n := 1; slow > f.target && float64(n)*stepH < longest; n++ {
		mid := (float64(n) - 0.5) * stepH
		tempC, powerMJ := c.SetC, f.powerMJ
		if mid < c.HeatUpH {
			tempC, powerMJ = a.TempC+(c.SetC-a.TempC)*mid/c.HeatUpH, youngMJ
		} else if owedMJ > 0 {
			owedMJ, powerMJ = owedMJ-powerMJ*stepH, max(0, powerMJ-owedMJ/stepH)
		}
		w := f.warmAt(tempC, stepH)
		y := course.driveOff(&w, powerMJ*stepH)
		slow -= y.loss(w.slows, slow-w.emc)
		course.lose(&w, &y)
		points = append(points, Point{H: float64(n) * stepH, TempC: tempC, MeanMoisture: meanOf(course.lots), SlowMoisture: stalk.DryBasis(slow)})
		filmKg = append(filmKg, course.filmKg)
	}
	f.burn(points, filmKg, load)
	return points
}

// burn works out the wood that is burnt up to each point, as if the fire were fed what it needs at
// that time: warming in step with the chamber, walls by the hour, water as it leaves. The last
// point has what WoodKg says of the whole charge.
func (f *Fire) burn(points []Point, filmKg []float64, load Load) {
	bill := load.bill()
	warmH := min(f.c.HeatUpH, points[len(points)-1].H)
	for i := range points {
		p := &points[i]
		bill.DryingH = p.H
		bill.WaterKg = bill.DryKg*float64(points[0].MeanMoisture-p.MeanMoisture) + filmKg[0] - filmKg[i]
		q, warm := f.Heat(bill), 1.0
		if p.H < warmH {
			warm = p.H / warmH
		}
		p.WoodKg = (q.ExhaustMJ + q.WallsMJ + warm*(q.StalksMJ+q.CabinetMJ)) / (f.c.FurnaceEfficiency * f.c.HeatingValueMJPerKg(f.c.WoodMoisture))
	}
}

// meanOf returns the moisture of all lots by dry mass.
func meanOf(lots []Lot) stalk.DryBasis {
	var water, dry float64
	for _, l := range lots {
		water += l.DryKg * float64(l.Moisture)
		dry += l.DryKg
	}
	return stalk.DryBasis(water / dry)
}
