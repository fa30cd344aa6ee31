package chart

import (
	"fmt"
	"math"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/vg"

	"drystalk/sim/charge"
	"drystalk/tongue"
)

// courseLine is a line of the course of a load.
type courseLine struct {
	of   func(p *charge.Point) float64
	with pen
}

// The pens of the course of a load.
var (
	meanStalk = pen{ink, 1.8, nil}
	slowStalk = pen{ink, 1.4, []vg.Length{vg.Points(5), vg.Points(2)}}
)

// courses are the parts of the course of a load, from above, each with its unit.
var courses = []struct {
	title tongue.Text
	lines []courseLine
}{
	{"temperature of the chamber (°C)", []courseLine{{func(p *charge.Point) float64 { return p.TempC }, meanStalk}}},
	{"moisture of the stalks, wet basis (%)", []courseLine{
		{func(p *charge.Point) float64 { return 100 * float64(p.MeanMoisture.WetBasis()) }, meanStalk},
		{func(p *charge.Point) float64 { return 100 * float64(p.SlowMoisture.WetBasis()) }, slowStalk},
	}},
	{"wood fed so far (kg)", []courseLine{{func(p *charge.Point) float64 { return p.WoodKg }, meanStalk}}},
}

// Course draws one load of a dryer from lighting until its slow stalks are dry: temperature of the
// chamber, moisture of the mean and of the slow stalks, wood fed, one above the other on one axis of
// hours. A course without its points is a bug of the program.
func Course(points []charge.Point, targetWet float64) (Chart, error) {
	var stack above
	last := points[len(points)-1]
	for k := range courses {
		p, err := coursePanel(k, points)
		if err != nil {
			return Chart{}, fmt.Errorf("chart of a load: %w", err)
		}
		stack = append(stack, p)
	}
	if err := line(stack[1], level(0, last.H, 100*targetWet), goal); err != nil {
		return Chart{}, fmt.Errorf("chart of a load: %w", err)
	}
	h := headed{title: tongue.Say("One load of the dryer"), body: stack, marks: []mark{
		{stroke(meanStalk), tongue.Say("line: the chamber, the mean stalk, the wood")}, {stroke(slowStalk), tongue.Say("dashes: slow stalks")}, {stroke(goal), tongue.Sayf("long dashes: dry, %.0f %%", 100*targetWet)},
	}}
	c := h.chart("course", tongue.Sayf("One load of the dryer over %.1f hours: temperature of the chamber, moisture of the mean and of the slow stalks, and %.0f kg of wood fed.", last.H, last.WoodKg))
	c.high = 5.1 * vg.Inch
	return c, nil
}

// coursePanel draws the k-th part of a course.
func coursePanel(k int, points []charge.Point) (*plot.Plot, error) {
	p, top, last := panel(courses[k].title.String(), ""), 1.0, points[len(points)-1].H
	for _, l := range courses[k].lines {
		xy := make(plotter.XYs, len(points))
		for i := range points {
			xy[i] = plotter.XY{X: points[i].H, Y: l.of(&points[i])}
			top = max(top, xy[i].Y)
		}
		if err := line(p, xy, l.with); err != nil {
			return nil, err
		}
	}
	p.X.Min, p.X.Max, p.Y.Min, p.Y.Max = 0, last, 0, 1.08*top
	p.Y.Tick.Marker = ticks(marks(0, p.Y.Max, stepOf(top, 4)), figure)
	hour := func(float64) string { return "" }
	if k == len(courses)-1 {
		p.X.Label.Text = tongue.Say("hours since lighting")
		hour = func(x float64) string { return tongue.Figures("%g", x) }
	}
	p.X.Tick.Marker = ticks(marks(0, last, hourStep(last)), hour)
	return p, nil
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
