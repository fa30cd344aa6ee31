package sim

import (
	"math"

	"drystalk/sim/stalk"
)

// given is what a site lives with through a season and does not change: the rules of the
// region, the site itself, the weather and luck of the season and its draw of the parameters.
type given struct {
	region *Region
	season *Season
	index  int // of the site in the region
	site   *Site
	p      *Parameters
	grades *grades // by its spread of mould between stalks
}

// dryKg returns the dry matter of some stalks, kg.
func (g *given) dryKg(stalks int) float64 { return float64(stalks) * g.p.Stalk.DryG() / 1000 }

// freshState returns the state of a stalk just cut.
func (g *given) freshState() stalk.State { return stalk.Fresh(&g.p.Stalk) }

// cutOf returns the stalks that all cutters bring in a day of the given luck.
func (g *given) cutOf(luck float64) int {
	s := g.site
	hours := float64(s.Cutters) * s.CuttingHPerDay
	return int(math.Round(hours * s.OutputPerPersonH * g.p.OutputFactor * luck))
}

// ordinaryCut returns the stalks that a day without luck would bring.
func (g *given) ordinaryCut() int { return g.cutOf(1) }

// shiftEndH returns the hour at which the last fire of the site must be out.
func (g *given) shiftEndH() float64 { return g.region.Dryer.ShiftEndH + g.site.LongerShiftH }

// hourOfShift returns the hour of the day of the shift's start: a shift that runs over
// midnight ends at 24 and more.
func (g *given) hourOfShift(nowH float64) float64 {
	hour := nowH - 24*float64(int(nowH/24))
	if hour < 0 { // rounded up to a whole day
		hour += 24
	}
	if hour < g.shiftEndH()-24 {
		hour += 24
	}
	return hour
}

// inShift tells whether the crew is at the dryers.
func (g *given) inShift(nowH float64) bool {
	hour := g.hourOfShift(nowH)
	return hour >= g.region.Dryer.ShiftStartH && hour < g.shiftEndH()
}

// shiftHours returns the hours of shifts between two times. Those of one day, which are asked for most,
// lie in no other shift, where none runs over midnight.
func (g *given) shiftHours(fromH, toH float64) float64 {
	day := float64(int(fromH / 24))
	if end := g.shiftEndH(); fromH >= 0 && end <= 24 && float64(int(toH/24)) == day {
		return max(0, min(toH, 24*day+end)-max(fromH, 24*day+g.region.Dryer.ShiftStartH))
	}
	return g.hoursOfShifts(fromH, toH)
}

// hoursOfShifts is shiftHours shift by shift.
func (g *given) hoursOfShifts(fromH, toH float64) float64 {
	sum := 0.0
	for day := math.Floor(fromH/24) - 1; day <= math.Floor(toH/24); day++ {
		start, end := 24*day+g.region.Dryer.ShiftStartH, 24*day+g.shiftEndH()
		sum += max(0, min(toH, end)-max(fromH, start))
	}
	return sum
}
