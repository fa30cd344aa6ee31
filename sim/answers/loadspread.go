package answers

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/stat"

	"drystalk/sim/charge"
	"drystalk/sim/stalk"
	"drystalk/sim/trials"
)

// Spread is a figure over draws of what nobody has measured: 90 of 100 draws lie from Low to High.
type Spread struct {
	Low    float64 `json:"p5"`
	Median float64 `json:"p50"`
	High   float64 `json:"p95"`
	Draws  int     `json:"draws"`       // 0 where the scenario fixes its knowledge: all are the figure itself
	Never  int     `json:"never_draws"` // of them in which the chamber never dries the load; they are in none of the figures
}

// FullLoad is a full load of one moisture: a line of the card for the dryer's door.
type FullLoad struct {
	MoistureWet float64 `json:"moisture_wet_basis"`
	Stalks      int     `json:"stalks"`
	LoadedKg    float64 `json:"loaded_kg"` // its weight when loaded
	DryingH     float64 `json:"drying_h"`  // at the parameters as written
	WoodKg      float64 `json:"wood_kg"`
	Hours       Spread  `json:"drying_h_spread"`
	Wood        Spread  `json:"wood_kg_spread"`
}

// lines are the moistures of the card, wet basis, below that of fresh stalks.
var lines = []float64{0.85, 0.80, 0.70, 0.60, 0.50, 0.41, 0.30}

// spread works out hours and wood of the load, and of full loads from fresh to nearly dry, in
// draws of what nobody has measured: those that the fresh seasons of an answer have.
func (a *LoadAnswer) spread(c *Case, q LoadOptions, wet stalk.DryBasis) {
	base, d := &c.Setup.Base, &c.Setup.Region.Dryer
	a.WoodWet, a.AmbientC, a.Humidity = float64(q.cabinet(c, base).WoodMoisture), q.AmbientC, q.Humidity
	a.Hours, a.Wood = q.drawn(c, q.Stalks, wet)
	fresh := base.Stalk.FreshMoisture
	for _, w := range append([]float64{float64(fresh)}, lines...) {
		if w > float64(fresh) || w <= float64(base.Cabinet.Target) {
			continue
		}
		m := stalk.WetBasis(w).DryBasis()
		full := FullLoad{MoistureWet: w, Stalks: charge.Capacity(d.HoldsFresh, d.HoldsPredried, m, fresh.DryBasis())}
		full.LoadedKg = float64(full.Stalks) * base.Stalk.DryG() / 1000 * (1 + float64(m))
		cabinet := q.cabinet(c, base)
		full.DryingH, full.WoodKg = takes(&cabinet, q.ambient(), float64(full.Stalks)*base.Stalk.DryG()/1000, m)
		full.Hours, full.Wood = q.drawn(c, full.Stalks, m)
		a.Full = append(a.Full, full)
	}
}

// drawn returns hours and wood of so many stalks over draws of the knowledge of the plan.
func (q *LoadOptions) drawn(c *Case, stalks int, wet stalk.DryBasis) (hours, wood Spread) {
	draws := q.Trials
	if c.Setup.Knowledge.Fixed {
		draws = 1
	}
	var h, kg []float64
	for n := range draws {
		p, _ := c.Setup.Knowledge.Draw(c.Setup.Base, trials.Stream(c.Setup.Seed, uint64(n), trials.RegionWide, "knowledge"))
		cabinet := q.cabinet(c, &p)
		if hour, burnt := takes(&cabinet, q.ambient(), float64(stalks)*p.Stalk.DryG()/1000, wet); !math.IsInf(hour, 1) {
			h, kg = append(h, hour), append(kg, burnt)
		}
	}
	hours, wood = spreadOf(h), spreadOf(kg)
	if !c.Setup.Knowledge.Fixed {
		hours.Draws, hours.Never = draws, draws-len(h)
		wood.Draws, wood.Never = hours.Draws, hours.Never
	}
	return hours, wood
}

// spreadOf returns the quantiles of figures; zeros where there are none.
func spreadOf(x []float64) (s Spread) {
	if len(x) == 0 {
		return s
	}
	slices.Sort(x)
	s.Low, s.Median, s.High = stat.Quantile(0.05, stat.Empirical, x, nil), stat.Quantile(0.5, stat.Empirical, x, nil), stat.Quantile(0.95, stat.Empirical, x, nil)
	return s
}

// takes returns hours and wood of a load of one moisture.
func takes(cabinet *charge.Cabinet, outside charge.Ambient, dryKg float64, wet stalk.DryBasis) (hours, woodKg float64) {
	f := cabinet.Light(outside)
	var course charge.Course
	course.Begin(&f, charge.Load{Lots: []charge.Lot{{DryKg: dryKg, Moisture: wet}}})
	water := dryKg * float64(wet-course.After(wet))
	return course.DryingH, f.WoodKg(charge.WoodBill{WaterKg: water, LoadedWaterKg: dryKg * float64(wet), DryKg: dryKg, DryingH: course.DryingH})
}
