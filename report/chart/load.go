package chart

import (
	"fmt"
	"math"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/vg"

	"drystalk/report/words"
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
// hours; hours and wood of 90 of 100 trials of what nobody has measured reach beyond this load. A course
// without its points is a bug of the program.
func Course(points []charge.Point, targetWet float64, hours, wood words.Drawn) (Chart, error) {
	var stack above
	last := points[len(points)-1]
	until := max(last.H, 1.01*hours.High)
	for k := range courses {
		p, err := coursePanel(k, points, until)
		if err != nil {
			return Chart{}, fmt.Errorf("chart of a load: %w", err)
		}
		stack = append(stack, p)
	}
	if err := line(stack[1], level(0, until, 100*targetWet), goal); err != nil {
		return Chart{}, fmt.Errorf("chart of a load: %w", err)
	}
	h := headed{title: tongue.Say("One load of the dryer"), body: stack, marks: []mark{
		{stroke(meanStalk), tongue.Say("line: the chamber, the mean stalk, the wood")}, {stroke(slowStalk), tongue.Say("dashes: slow stalks")}, {stroke(goal), tongue.Sayf("long dashes: dry, %.0f %%", 100*targetWet)},
	}}
	if hours.High > 0 && wood.High > 0 {
		if err := trialSpans(stack, last.H, hours, wood, 100*targetWet); err != nil {
			return Chart{}, fmt.Errorf("chart of a load: %w", err)
		}
		h.marks = append(h.marks, mark{fenced(seasons), tongue.Say("line with ends: when slow stalks are dry, and wood, in 90 of 100 trials")})
	}
	c := h.chart("course", tongue.Sayf("One load of the dryer over %.1f hours: temperature of the chamber, moisture of the mean and of the slow stalks, and %.0f kg of wood fed.", last.H, last.WoodKg))
	c.high = 5.1 * vg.Inch
	return c, nil
}

// trialSpans draws when slow stalks are dry in 90 of 100 trials on the line of dry stalks, and the wood
// of such a load at its end.
func trialSpans(stack above, endH float64, hours, wood words.Drawn, dry float64) error {
	if err := line(stack[1], capped(hours.Low, hours.High, dry, 0.05*stack[1].Y.Max), seasons); err != nil {
		return err
	}
	p := stack[2]
	p.Y.Max = max(p.Y.Max, 1.08*wood.High)
	p.Y.Tick.Marker = ticks(marks(0, p.Y.Max, stepOf(p.Y.Max/1.08, mostMarks)), figure)
	var across plotter.XYs
	for _, at := range capped(wood.Low, wood.High, endH, 0.008*p.X.Max) {
		across = append(across, plotter.XY{X: at.Y, Y: at.X})
	}
	return line(p, across, seasons)
}

// mostMarks is how many marks an axis upwards of a part of a course has at most.
const mostMarks = 5

// coursePanel draws the k-th part of a course, on an axis until so many hours.
func coursePanel(k int, points []charge.Point, until float64) (*plot.Plot, error) {
	p, top := panel(courses[k].title.String(), ""), 1.0
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
	p.X.Min, p.X.Max, p.Y.Min, p.Y.Max = 0, until, 0, 1.08*top
	p.Y.Tick.Marker = ticks(marks(0, p.Y.Max, stepOf(top, mostMarks)), figure)
	hour := func(float64) string { return "" }
	if k == len(courses)-1 {
		p.X.Label.Text = tongue.Say("hours since lighting")
		hour = func(x float64) string { return tongue.Figures("%g", x) }
	}
	p.X.Tick.Marker = ticks(marks(0, until, hourStep(until)), hour)
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
