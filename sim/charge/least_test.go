package charge

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"drystalk/sim/air"
	"drystalk/sim/stalk"
)

// No load is dry before the hours that it takes at least, whatever the cabinet, the air and the
// load: a charge that could be the best is never left out.
func TestLeastHours(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := Default()
		c.SetC = rapid.Float64Range(45, 95).Draw(t, "set")
		c.HeatUpH = rapid.SampledFrom([]float64{0, 0.1, 0.75, 3}).Draw(t, "heat up")
		c.EvaporatesKgPerH = rapid.Float64Range(0.5, 40).Draw(t, "evaporates")
		c.MassKg = rapid.Float64Range(0, 400).Draw(t, "mass")
		c.RateSpread = rapid.SampledFrom([]float64{0, 0.15, 0.4}).Draw(t, "spread")
		a := Ambient{TempC: rapid.Float64Range(5, 40).Draw(t, "outside")}
		a.VapourKPa = rapid.Float64Range(0.2, 1).Draw(t, "humidity") * air.SaturationKPa(a.TempC)
		f := c.Light(a)
		load := Load{FilmKg: rapid.SampledFrom([]float64{0, 0.2, 30}).Draw(t, "film")}
		bill := WoodBill{LoadedWaterKg: load.FilmKg}
		wettest := stalk.DryBasis(0)
		for range rapid.IntRange(1, 4).Draw(t, "lots") {
			l := Lot{DryKg: rapid.Float64Range(0.01, 20).Draw(t, "dry"), Moisture: stalk.DryBasis(rapid.Float64Range(0.1629, 12).Draw(t, "moisture"))}
			load.Lots = append(load.Lots, l)
			bill.DryKg += l.DryKg
			bill.LoadedWaterKg += l.DryKg * float64(l.Moisture)
			wettest = max(wettest, l.Moisture)
		}
		var course Course
		course.Begin(&f, load)
		require.GreaterOrEqual(t, course.DryingH, f.LeastH(wettest))
		require.GreaterOrEqual(t, course.DryingH, f.LeastToDriveOffH(bill.DryKg, bill.LoadedWaterKg))
	})
}

// The bounds are worth having: a few stalks take little more than their slow stalk alone, and a
// full cabinet of fresh stalks little more than its fire needs for the water.
func TestLeastHoursAreClose(t *testing.T) {
	c := Default()
	f := c.Light(outside())
	var few, full Course
	few.Begin(&f, loadOf(10, 4))
	full.Begin(&f, loadOf(3000, float64(fresh)))
	assert.Greater(t, f.LeastH(4), 0.85*few.DryingH)
	assert.Greater(t, f.LeastToDriveOffH(dryKg(3000), dryKg(3000)*float64(fresh)), 0.85*full.DryingH)
	assert.Zero(t, f.LeastH(0.1), "dry")
	for x := 1.0; x < 2000; x *= 1.003 {
		assert.LessOrEqual(t, leastLog(x), math.Log(x)+1e-15)
		assert.InDelta(t, math.Log(x), leastLog(x), 0.06)
	}
	assert.Zero(t, f.LeastToDriveOffH(1, 0.1), "dry")
}

// plainAt is Course.at before the hour at which the chamber is hot, as its rule is said: in every step
// a stalk loses its own demand, but no more than the common rate.
func plainAt(c *Course, atH, m, factor float64) float64 {
	for j := range c.fire.heating {
		w, y := &c.fire.heating[j], &c.young[j]
		part := max(0, min(1, atH/c.fire.stepH-float64(j)))
		m -= part * min(y.part*share(w.rate*factor*c.fire.stepH)*max(0, m-w.emc), y.most)
	}
	return m
}

// plainBrowned is BrownedShare with every rate worked out where it stands.
func plainBrowned(f *Fire, hours, ratePerH float64) float64 {
	rate := func(tempC float64) float64 { return ratePerH * math.Exp2((tempC-brownsAtC)/doublesEveryC) }
	heatingH := min(hours, f.c.HeatUpH)
	dose := rate(f.c.SetC) * (hours - heatingH)
	if rise := f.c.SetC - f.ambient.TempC; rise > 0 && heatingH > 0 {
		reachedC := f.ambient.TempC + rise*heatingH/f.c.HeatUpH
		dose += (rate(reachedC) - rate(f.ambient.TempC)) * f.c.HeatUpH / rise * doublesEveryC / math.Ln2
	}
	return -math.Expm1(-dose)
}

// What is worked out once for a fire, and steps in which nothing is lost that are left out, change no
// bit of what a charge comes to.
func TestShortcutsOfAFire(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := Default()
		c.SetC = rapid.Float64Range(45, 95).Draw(t, "set")
		c.HeatUpH = rapid.SampledFrom([]float64{0, 0.1, 0.75, 3}).Draw(t, "heat up")
		c.MassKg = rapid.SampledFrom([]float64{0, 120, 400}).Draw(t, "mass")
		a := Ambient{TempC: rapid.Float64Range(5, 40).Draw(t, "outside")}
		a.VapourKPa = rapid.Float64Range(0.2, 1).Draw(t, "humidity") * air.SaturationKPa(a.TempC)
		f := c.Light(a)
		load := Load{FilmKg: rapid.SampledFrom([]float64{0, 0.2, 30}).Draw(t, "film")}
		for range rapid.IntRange(1, 4).Draw(t, "lots") {
			load.Lots = append(load.Lots, Lot{
				DryKg: rapid.Float64Range(0.01, 20).Draw(t, "dry"), Moisture: stalk.DryBasis(rapid.Float64Range(0.01, 12).Draw(t, "moisture")),
			})
		}
		var course Course
		course.Begin(&f, load)
		atH := rapid.Float64Range(0, 1).Draw(t, "hour") * min(c.HeatUpH, course.hotH)
		for _, factor := range []float64{1, 0.5, f.fastest} {
			for i := range load.Lots {
				m := float64(load.Lots[i].Moisture)
				require.Equal(t, plainAt(&course, atH, m, factor), course.at(atH, m, factor))
			}
		}
		hours := rapid.SampledFrom([]float64{atH, c.HeatUpH, 7}).Draw(t, "hours of fire")
		if hours > 0 {
			require.Equal(t, plainBrowned(&f, hours, 0.05), f.BrownedShare(hours, 0.05))
		}
	})
}
