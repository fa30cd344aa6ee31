package stalk

import (
	"math"

	"gonum.org/v1/gonum/stat/distuv"
)

// table is a smooth function read off with linear interpolation. The season asks
// for the same few functions a hundred million times; TestTables says how far they are
// off. The steps are even, so that no search is needed, which the library's interpolation
// does at every reading.
type table struct {
	from, perStep float64 // perStep: steps for each unit of the argument
	values        []float64
}

func newTable(from, to float64, steps int, f func(float64) float64) table {
	t := table{from, float64(steps) / (to - from), make([]float64, steps+2)}
	for i := range t.values {
		t.values[i] = f(from + float64(i)/t.perStep)
	}
	return t
}

// at returns the function at x, which must lie between from and to.
func (t *table) at(x float64) float64 {
	u := (x - t.from) * t.perStep
	i := int(u)
	low := t.values[i]
	return low + (u-float64(i))*(t.values[i+1]-low)
}

// The tables. Relative errors are below 2e-5, see TestTables.
var (
	onsetPower  = newTable(0.78, 1, 2048, func(h float64) float64 { return math.Pow(h, 13.9) })
	ratioPower  = newTable(0.78, 1, 2048, func(h float64) float64 { return math.Pow(h, 13.9-12.72) })
	normalTable = newTable(-normalReach, normalReach, 8192, distuv.UnitNormal.CDF)
	fallOff     = newTable(-deepest, 0, 4096, math.Exp)                                                     // exp(x)
	sorbed      = newTable(0, mostSorbed, 8192, func(y float64) float64 { return math.Pow(y, hendersonB) }) // y^B
	humidTerm   = newTable(0.01, 0.98, 8192, func(h float64) float64 { return math.Pow(-math.Log1p(-h), 1/hendersonB) })
	warmthTerm  = newTable(-20, 120, 4096, func(t float64) float64 { return math.Pow(hendersonA*(t+hendersonC), -1/hendersonB) })
	mouldTable  = newTable(mouldFromC, growthMaxC, 2048, func(t float64) float64 { return 1 / (168 * WeeksToOnset(t, 100)) })
	ratioTable  = newTable(mouldFromC, growthMaxC, 2048, func(t float64) float64 { return WeeksToVisible(t, 100) / WeeksToOnset(t, 100) })
)

const (
	normalReach = 8.0
	deepest     = 9.5   // exp(-9.5) is below 1e-4 and taken as 0
	mostSorbed  = 110.0 // 100 M/f of stalks that are not wet
	mouldFromC  = 8.0   // below it the tables would be coarse; colder air is worked out
)
