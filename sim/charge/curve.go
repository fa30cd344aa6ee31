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
	points := []Point{{0, a.TempC, meanOf(course.lots), stalk.DryBasis(slow)}}
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
		slow -= min(y.part*w.slows*max(0, slow-w.emc), y.most)
		course.lose(&w, y)
		points = append(points, Point{float64(n) * stepH, tempC, meanOf(course.lots), stalk.DryBasis(slow)})
	}
	return points
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
