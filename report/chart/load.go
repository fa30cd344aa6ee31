package chart

import (
	"fmt"
	"math"

	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"drystalk/sim/charge"
)

// courses are the lines of the course of a load; each has its own name at its end or beside it.
var courses = []struct {
	of   func(p *charge.Point) float64
	with pen
}{
	{func(p *charge.Point) float64 { return p.TempC }, pen{rust, 1.6, nil}},
	{func(p *charge.Point) float64 { return 100 * float64(p.MeanMoisture.WetBasis()) }, pen{ink, 1.8, nil}},
	{func(p *charge.Point) float64 { return 100 * float64(p.SlowMoisture.WetBasis()) }, pen{ink, 1.4, []vg.Length{vg.Points(5), vg.Points(2)}}},
	{func(p *charge.Point) float64 { return p.WoodKg }, pen{rust, 1.4, []vg.Length{vg.Points(1.5), vg.Points(2)}}},
}

// Course draws one load of a dryer from lighting until its slow stalks are dry: temperature of the
// chamber, moisture of the mean and of the slow stalks, wood fed. A course without its points is
// a bug of the program.
func Course(points []charge.Point, targetWet float64) (Chart, error) {
	p := blank("One load of the dryer", "hours since lighting", "°C, % moisture (wet basis), kg of wood")
	last := points[len(points)-1]
	top := 100.0
	for _, c := range courses {
		xy := make(plotter.XYs, len(points))
		for i := range points {
			xy[i] = plotter.XY{X: points[i].H, Y: c.of(&points[i])}
			top = max(top, xy[i].Y)
		}
		if err := line(p, xy, c.with); err != nil {
			return Chart{}, fmt.Errorf("chart of a load: %w", err)
		}
	}
	if err := line(p, level(0, last.H, 100*targetWet), pen{pale, 1, nil}); err != nil {
		return Chart{}, fmt.Errorf("chart of a load: %w", err)
	}
	p.X.Min, p.X.Max, p.Y.Min, p.Y.Max = 0, last.H, 0, 1.3*top
	p.X.Tick.Marker = ticks(marks(0, last.H, hourStep(last.H)), func(x float64) string { return fmt.Sprintf("%g", x) })
	p.Y.Tick.Marker = ticks(marks(0, top, niceStep(top)), whole)
	label(p, 0, 1.24*top, "rust: temperature of the chamber, °C; dotted rust: wood fed so far, kg", rust, 0, 0, draw.XLeft)
	label(p, 0, 1.14*top, fmt.Sprintf("thick: moisture of the mean stalk, %%; dashed: of slow stalks, dry at %.0f %% (pale line)", 100*targetWet), ink, 0, 0, draw.XLeft)
	return Chart{"course", fmt.Sprintf("One load of the dryer over %.1f hours: temperature of the chamber, moisture of the mean and of the slow stalks, and %.0f kg of wood fed.", last.H, last.WoodKg), p, chartHeight}, nil
}

// hourStep returns the hours between two marks: quarters of an hour in the shortest loads.
func hourStep(hours float64) float64 {
	for _, step := range []float64{0.25, 0.5, 1, 2, 5} {
		if hours/step <= 10 {
			return step
		}
	}
	return 10 * math.Ceil(hours/100)
}
