package sim

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"

	"drystalk/sim/air"
	"drystalk/sim/charge"
	"drystalk/sim/stalk"
)

// Spreading takes hands by the area: twice as thin, twice the hours, by hand 2,880 stalks of 65 g at
// 10 kg/m² are 18.72 m²; what is heaped takes none.
func TestThinSpreadingCostsHands(t *testing.T) {
	for load, want := range map[float64]float64{10: 0.1872 * 3, 5: 0.3744 * 3} {
		r, p, _ := still(t, 1)
		r.Sites[0].OpenRackM2, r.Sites[0].ClearRoofM2, r.Sites[0].LoadingKgPerM2 = 4000, 0, load
		r.People.SpreadingHPer100M2 = 3
		days, hours := calm(1)
		m := ledger(t, r, season(r, p, days, hours)).Sites[0].Months[0]
		assert.Equal(t, 2880, m.Cut)
		assert.InDelta(t, want, m.Tasks.Spreading, 1e-9)
		assert.InDelta(t, want, m.OtherH, 1e-9)
		r.Sites[0].OpenRackM2 = 0
		assert.Zero(t, ledger(t, r, season(r, p, days, hours)).Sites[0].Months[0].Tasks.Spreading)
	}
}

// Stalks with more water in the same fresh mass take longer and burn more wood: 1,000 fresh ones of
// 65 g at 89, 91 and 94 % wet basis, computed independently by stepping; tolerance 0.05 h and 2 %.
// They take the same rack.
func TestMoreWaterTakesMoreWood(t *testing.T) {
	outside := charge.Ambient{TempC: 28, VapourKPa: 0.8 * air.SaturationKPa(28)}
	for w0, want := range map[stalk.WetBasis][2]float64{0.89: {7.16, 49.0}, 0.91: {7.52, 50.4}, 0.94: {8.20, 52.5}} {
		p := parameters()
		p.Stalk.FreshMoisture = w0
		fire, fresh := p.Cabinet.Light(outside), w0.DryBasis()
		c := courseOf(&p, &fire, 1000, float64(fresh))
		dry := p.Stalk.DryG()
		assert.InDelta(t, 65, dry*(1+float64(fresh)), 1e-9)
		assert.InDelta(t, want[0], c.DryingH, 0.05, "%g", w0)
		wood := fire.WoodKg(charge.WoodBill{WaterKg: dry * float64(fresh-c.After(fresh)), LoadedWaterKg: dry * float64(fresh), DryKg: dry, DryingH: c.DryingH})
		assert.InDelta(t, want[1], wood, 0.02*want[1], "%g", w0)
		r := small(landing1(0))
		y := yard{given: &given{region: r, site: &r.Sites[0], p: &p}}
		assert.InDelta(t, 0.0065, y.m2PerStalkAt(r.Sites[0].LoadingKgPerM2, false), 1e-12)
	}
}

// A cabinet five times as large has a fire and steel five times as large: a full load takes as long
// and five times the wood but for the walls. Stated for the dryer itself they stay too.
func TestALargerCabinetHasALargerFire(t *testing.T) {
	p := parameters()
	outside := charge.Ambient{TempC: 28, VapourKPa: 0.8 * air.SaturationKPa(28)}
	d := Dryer{FireSize: 5, SteelSize: 5}
	small, large := p.Cabinet, d.Cabinet(p.Cabinet)
	assert.InDelta(t, 65, large.EvaporatesKgPerH, 1e-12)
	one, five := small.Light(outside), large.Light(outside)
	h := freshHours(&p, &one, 1000)
	assert.InDelta(t, h, freshHours(&p, &five, 5000), 1e-9)
	bill := charge.WoodBill{WaterKg: 50, LoadedWaterKg: 59, DryKg: 5.85, DryingH: h}
	times5 := charge.WoodBill{WaterKg: 250, LoadedWaterKg: 295, DryKg: 29.25, DryingH: h}
	assert.InDelta(t, 5*(one.Heat(bill).Total()-one.Heat(bill).WallsMJ), five.Heat(times5).Total()-five.Heat(times5).WallsMJ, 1e-9)
	assert.Equal(t, p.Cabinet, (&Dryer{}).Cabinet(p.Cabinet))
}

// Walls are a surface: a cabinet eight times as large has four times the wall, by hand (8^(2/3)). It
// loses more through them in all, less for each kg of stalks, and burns less wood for a stalk. One of
// the documented size is the documented one.
func TestALargerCabinetHasLessWallForAStalk(t *testing.T) {
	p := parameters()
	outside := charge.Ambient{TempC: 28, VapourKPa: 0.8 * air.SaturationKPa(28)}
	sizes := []float64{0.5, 1, 2, 8}
	var walls, wood []float64
	for _, size := range sizes {
		c := (&Dryer{FireSize: size, SteelSize: size, WallSize: math.Pow(size, 2.0/3)}).Cabinet(p.Cabinet)
		fire := c.Light(outside)
		h := freshHours(&p, &fire, 1000*size)
		bill := charge.WoodBill{WaterKg: 50 * size, LoadedWaterKg: 59 * size, DryKg: 5.85 * size, DryingH: h}
		walls, wood = append(walls, fire.Heat(bill).WallsMJ), append(wood, fire.WoodKg(bill)/size)
	}
	assert.InEpsilon(t, 4, walls[3]/walls[1], 1e-9)
	for k := 1; k < len(sizes); k++ {
		assert.Greater(t, walls[k], walls[k-1])
		assert.Less(t, walls[k]/sizes[k], walls[k-1]/sizes[k-1])
		assert.Less(t, wood[k], wood[k-1])
	}
	assert.Equal(t, p.Cabinet, (&Dryer{FireSize: 1, SteelSize: 1, WallSize: 1}).Cabinet(p.Cabinet))
}
