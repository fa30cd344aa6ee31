package main

import (
	"fmt"
	"math"

	"drystalk/report"
	"drystalk/sim/air"
	"drystalk/sim/charge"
	"drystalk/sim/knowledge"
	"drystalk/sim/stalk"
)

// chargeCmd works out one load.
type chargeCmd struct {
	scenarioFlags
	Moisture float64 `default:"0.91" help:"Moisture of the stalks when loaded, wet basis as a fraction (fresh 0.91, pre-dried about 0.41)."`
	Stalks   int     `default:"0" help:"Stalks loaded; 0 for as many as the cabinet holds."`
	SetC     float64 `name:"set-c" default:"0" help:"Temperature of the chamber, degrees C; 0 for the scenario's."`
	AmbientC float64 `name:"ambient-c" default:"28" help:"Temperature outside, degrees C."`
	Humidity float64 `default:"0.80" help:"Relative humidity outside, fraction."`
}

// loadResult is one worked-out load.
type loadResult struct {
	Stalks          int            `json:"stalks"`
	MoistureWet     float64        `json:"moisture_wet_basis"`
	SetC            float64        `json:"set_c"`
	DryingH         float64        `json:"drying_h"`
	CoolingH        float64        `json:"cooling_h"`
	WaterKg         float64        `json:"water_kg"`
	WoodKg          float64        `json:"wood_kg"`
	EndMoistureWet  float64        `json:"mean_end_moisture_wet_basis"`
	OverdriedShare  float64        `json:"overdried_share"`
	LowRateDryingH  float64        `json:"drying_h_low_rate"`
	HighRateDryingH float64        `json:"drying_h_high_rate"`
	Curve           []charge.Point `json:"curve"`
}

// Run prints hours, wood and the course of one load.
func (c *chargeCmd) Run(t terminal) error {
	s, err := c.load(t)
	if err != nil {
		return err
	}
	cabinet := s.Base.Cabinet
	if c.SetC != 0 {
		cabinet.SetC = c.SetC
	}
	for _, check := range []struct {
		flag           string
		x, least, most float64
	}{
		{"moisture", c.Moisture, 0.15, 0.97},
		{"stalks", float64(c.Stalks), 0, 100_000},
		{"set-c", cabinet.SetC, 45, 95},
		{"ambient-c", c.AmbientC, 0, 45},
		{"humidity", c.Humidity, 0.05, 1},
	} {
		if !(check.x >= check.least && check.x <= check.most) {
			return usagef("--%s: found %g, allowed: %g to %g", check.flag, check.x, check.least, check.most)
		}
	}
	wet := stalk.WetBasis(c.Moisture).DryBasis()
	d := s.Region.Dryer
	if c.Stalks == 0 {
		c.Stalks = charge.Capacity(d.HoldsFresh, d.HoldsPredried, wet, s.Base.Stalk.FreshMoisture.DryBasis())
	}
	ambient := charge.Ambient{TempC: c.AmbientC, VapourKPa: c.Humidity * air.SaturationKPa(c.AmbientC)}
	r := work(cabinet, ambient, c.Stalks, wet, float64(c.Stalks)*s.Base.Stalk.DryG/1000)
	rate, ok := s.Knowledge.Of(knowledge.RateAt80CPerH)
	if !ok {
		return fmt.Errorf("%s: no range of %s", s.Name, knowledge.RateAt80CPerH)
	}
	r.LowRateDryingH, r.HighRateDryingH = c.band(cabinet, rate.Low, rate.High, ambient, wet, s.Base.Stalk.DryG)
	if math.IsInf(r.DryingH, 1) {
		return usagef("the chamber at %g °C never dries stalks to %.0f %% in air of %g °C and %.0f %%", cabinet.SetC, 100*float64(cabinet.Target), c.AmbientC, 100*c.Humidity)
	}
	sentence := fmt.Sprintf("%d stalks at %.0f %% moisture (wet basis) take %.1f h at %g °C (%.1f to %.1f h over the documented drying rates), %.1f h to cool, and about %.0f kg of wood.",
		c.Stalks, 100*c.Moisture, r.DryingH, cabinet.SetC, r.HighRateDryingH, r.LowRateDryingH, r.CoolingH, r.WoodKg)
	if c.JSON {
		return printJSON(t.out, struct {
			behind
			Load loadResult `json:"load"`
		}{behindOf(s, c.Seed, report.Report{Sentence: sentence}), r})
	}
	_, _ = fmt.Fprintf(t.out, "%s\nThey come out at %.0f %% on average; %.0f %% of them below 8 %%, where stalks break.\n\n%s", sentence, 100*r.EndMoistureWet, 100*r.OverdriedShare, curveTable(r.Curve).Text())
	_, _ = fmt.Fprintln(t.out, "\nA planning estimate: time your own loads. Someone tends the fire; wait for 45 °C or less before you unload.")
	return nil
}

// work works out a load of one moisture.
func work(cabinet charge.Cabinet, a charge.Ambient, stalks int, wet stalk.DryBasis, dryKg float64) loadResult {
	f := cabinet.Light(a)
	h := f.DryingH(wet, wet, dryKg)
	after := f.After(h, wet, wet, dryKg)
	water := dryKg * float64(wet-after)
	return loadResult{
		Stalks: stalks, MoistureWet: float64(wet.WetBasis()), SetC: cabinet.SetC, DryingH: h,
		CoolingH: cabinet.CoolingH(a.TempC, max(40, a.TempC+5)), WaterKg: water,
		WoodKg:         f.WoodKg(charge.WoodBill{WaterKg: water, LoadedWaterKg: dryKg * float64(wet), DryKg: dryKg, DryingH: h}),
		EndMoistureWet: float64(after.WetBasis()), OverdriedShare: f.OverdriedShare(h, wet, wet, dryKg),
		Curve: cabinet.Curve(a, []charge.Lot{{DryKg: dryKg, Moisture: wet}}, 1.0/60),
	}
}

// band returns the hours at the low and the high end of the documented drying rate.
func (c *chargeCmd) band(cabinet charge.Cabinet, low, high float64, a charge.Ambient, wet stalk.DryBasis, dryG float64) (slowH, fastH float64) {
	at := func(rate float64) float64 {
		cabinet.RateAt80CPerH = rate
		f := cabinet.Light(a)
		return f.DryingH(wet, wet, float64(c.Stalks)*dryG/1000)
	}
	return at(low), at(high)
}

// curveTable lists a charge every half hour.
func curveTable(curve []charge.Point) report.Table {
	t := report.Table{Title: "Course of the load", Head: []string{"hours", "chamber °C", "mean moisture, % wet basis", "slow stalks, % wet basis"}}
	for i, p := range curve {
		if i%30 != 0 && i != len(curve)-1 {
			continue
		}
		t.Rows = append(t.Rows, []string{
			fmt.Sprintf("%.1f", p.H), fmt.Sprintf("%.0f", p.TempC),
			fmt.Sprintf("%.0f", 100*float64(p.MeanMoisture.WetBasis())), fmt.Sprintf("%.0f", 100*float64(p.SlowMoisture.WetBasis())),
		})
	}
	return t
}
