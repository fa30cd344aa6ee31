package charge

import (
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/stat/distuv"

	"drystalk/sim/air"
	"drystalk/sim/stalk"
)

// hundred is the number of stalks by rank of their rate.
const hundred = 100

// stepped is a load stepped at a quarter of a minute, written from the printed rules alone: it
// shares no code with Course and Curve but the equations of package stalk and air.
type stepped struct {
	h     float64 // until the slow stalk of the wettest lot is dry
	after []float64
	each  [][hundred]float64 // of each lot the moisture of stalks by rank of their rate
}

// step drives a load off. stop ends it at an hour instead of at the target; 0: at the target.
func step(c Cabinet, a Ambient, load Load, stop float64) stepped {
	const dt = 1.0 / 240
	m := make([]float64, len(load.Lots))
	wettest := 0
	for i, l := range load.Lots {
		m[i] = float64(l.Moisture)
		if m[i] > m[wettest] {
			wettest = i
		}
	}
	slow, factor := m[wettest], math.Exp(-1.645*c.RateSpread)
	target := float64(c.Target) / (1 - float64(c.Target))
	perKg := func(tempC float64) float64 { // φ(T) λ(T)
		lambda, at80 := 2.501-0.002361*tempC, 2.501-0.002361*80
		return (1 + (c.ExhaustFactor-1)*(tempC-a.TempC)/(80-28)*at80/lambda) * lambda
	}
	power := c.EvaporatesKgPerH * perKg(80) * c.HeatingValueMJPerKg(c.WoodMoisture) / c.HeatingValueMJPerKg(0.20)
	warm, film := c.MassKg*0.8+load.FilmKg*4.19, load.FilmKg
	for _, l := range load.Lots {
		warm += l.DryKg * (1.4 + 4.19*float64(l.Moisture))
	}
	left := power*min(c.HeatUpH, 0.75) - warm*(c.SetC-a.TempC)/1000
	young, owed := max(0, left)/c.HeatUpH, max(0, -left)
	out := stepped{each: make([][hundred]float64, len(m))}
	var factors [hundred]float64
	for j := range factors {
		factors[j] = math.Exp(c.RateSpread * distuv.UnitNormal.Quantile((float64(j)+0.5)/hundred))
		for i := range m {
			out.each[i][j] = m[i]
		}
	}
	for n := 0; n < 200/dt; n++ {
		if out.h = float64(n) * dt; stop == 0 && slow <= target || stop > 0 && out.h >= stop {
			break
		}
		at := out.h + dt/2
		tempC := a.TempC + (c.SetC-a.TempC)*min(1, at/c.HeatUpH)
		humidity := min(0.90, c.VapourGain*a.VapourKPa/air.SaturationKPa(tempC))
		emc := float64(stalk.EquilibriumMoisture(tempC, humidity, c.EMCFactor))
		k := stalk.DryingRatePerH(tempC, c.RateAt80CPerH, c.ActivationKJPerMol)
		limit := power / perKg(tempC)
		if at < c.HeatUpH {
			limit = young / perKg(tempC)
		} else if owed > 0 {
			owed -= power * dt
			continue
		}
		if film > 0 {
			off := min(film, limit*dt)
			film -= off
			if limit -= off / dt; film > 0 {
				continue
			}
		}
		own := make([]float64, len(m))
		for i := range m {
			own[i] = k * max(0, m[i]-emc)
		}
		most := level(load.Lots, own, limit)
		slow -= dt * min(factor*k*max(0, slow-emc), most)
		for i := range m {
			m[i] -= dt * min(own[i], most)
			for j := range factors {
				if e := &out.each[i][j]; stop > 0 {
					*e -= dt * min(factors[j]*k*max(0, *e-emc), most)
				}
			}
		}
	}
	out.after = m
	return out
}

// level is the water-filling of one moment: the rate at which lots that want their own rates are
// held for all to give the limit, found by halving.
func level(lots []Lot, own []float64, limit float64) float64 {
	given := func(r float64) (sum float64) {
		for i := range own {
			sum += lots[i].DryKg * min(own[i], r)
		}
		return sum
	}
	high := slices.Max(own)
	if given(high) <= limit {
		return math.Inf(1)
	}
	low := 0.0
	for range 60 {
		if mid := (low + high) / 2; given(mid) > limit {
			high = mid
		} else {
			low = mid
		}
	}
	return low
}

// course works a load out.
func course(c *Cabinet, a Ambient, load Load) Course {
	f := c.Light(a)
	var out Course
	out.Begin(&f, load)
	return out
}

// loadOf is a load of stalks of 5.85 g by number and moisture.
func loadOf(pairs ...float64) Load {
	var l Load
	for i := 0; i < len(pairs); i += 2 {
		l.Lots = append(l.Lots, Lot{DryKg: dryKg(pairs[i]), Moisture: stalk.DryBasis(pairs[i+1])})
	}
	return l
}

// rainedOn is a load with rain water on its stalks, kg.
func rainedOn(filmKg float64, pairs ...float64) Load {
	l := loadOf(pairs...)
	l.FilmKg = filmKg
	return l
}

// Loads of one to seven lots, over temperature, heating up and what the fire evaporates: hours
// within 1 % or 0.04 h of stepping and the moisture of every lot within 0.3 points.
func TestMixedChargesAreOneRule(t *testing.T) {
	loads := []Load{
		loadOf(1000, float64(fresh)), loadOf(1500, 0.7), loadOf(300, 0.3), loadOf(700, 12),
		loadOf(500, 1.4, 500, 0.7), loadOf(500, float64(fresh), 500, 5.06), loadOf(200, float64(fresh), 800, 5.06),
		loadOf(150, float64(fresh), 1350, 0.7), loadOf(900, 0.7, 100, float64(fresh)), loadOf(50, 8, 1000, 0.3),
		loadOf(700, 2.5, 700, 2.4), rainedOn(3, 900, 0.8, 400, 2), rainedOn(3, 1500, 0.3), rainedOn(1, 1000, float64(fresh)), loadOf(100, 9, 200, 7, 150, 5, 250, 3, 100, 1, 300, 0.5, 50, 0.2),
	}
	worst := 0.0
	for _, setC := range []float64{60, 95} {
		for _, heatUpH := range []float64{0.75, 2, 5} {
			for _, evaporates := range []float64{5, 13, 40} {
				for _, load := range loads {
					c := Default()
					c.SetC, c.HeatUpH, c.EvaporatesKgPerH = setC, heatUpH, evaporates
					want, got := step(c, outside(), load, 0), course(&c, outside(), load)
					worst = max(worst, math.Abs(want.h-got.DryingH)/want.h)
					require.InDelta(t, want.h, got.DryingH, max(0.04, 0.01*want.h), "%g °C in %g h, %g kg/h, %v", setC, heatUpH, evaporates, load)
					want = step(c, outside(), load, got.DryingH)
					for i, l := range load.Lots {
						after := got.After(l.Moisture)
						assert.InDelta(t, 100*float64(stalk.DryBasis(want.after[i]).WetBasis()), 100*float64(after.WetBasis()), 0.3)
					}
				}
			}
		}
	}
	t.Logf("hours off by at most %.2f %%", 100*worst)
}

// The share of stalks below 8 % of one to seven lots, against stepping every hundredth of the
// lot's stalks, by rate, along the common rate of the fire: within 0.015.
func TestOverdriedShareAgainstStepping(t *testing.T) {
	for _, load := range []Load{
		loadOf(1000, float64(fresh)), loadOf(1500, 0.7), loadOf(300, 0.3), loadOf(1404, 2.5), loadOf(1500, 0.4), loadOf(40000, float64(fresh)),
		loadOf(500, float64(fresh), 500, 5.06), loadOf(150, float64(fresh), 1350, 0.7), loadOf(500, 1.4, 500, 0.7),
	} {
		c := Default()
		got := course(&c, outside(), load)
		end := step(c, outside(), load, got.DryingH)
		for i, l := range load.Lots {
			below := 0
			for _, moisture := range end.each[i] {
				if moisture < overdried {
					below++
				}
			}
			after := got.After(l.Moisture)
			assert.InDelta(t, float64(below)/hundred, got.OverdriedShare(l.Moisture, after), 0.015, "lot %d of %v", i, load.Lots)
		}
	}
}
