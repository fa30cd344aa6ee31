package chart

import (
	"fmt"
	"math"

	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// Off is how far a line of a log lies from what the fit expects, with its standard deviation.
type Off struct {
	Line    int // of the file
	Off, SD float64
}

// Residual is what a chart of residuals says.
type Residual struct {
	Name, Title string
	Axis        string // what is drawn upright, with its unit
	Marks       string // what dots and bars are
	Shows       string // what is to be seen, of how many ("%d")
}

// Fitted is a chart of lines beside what a fit expects of them.
func Fitted(name, title, axis string) Residual {
	return Residual{name, title, axis, "dots: as read; bars: where 19 of 20 dots are to be expected", "how far each of %d lines lies from what the fit expects"}
}

// Residuals draws how far the lines of a log lie from what is expected of them, in the order of the
// file: a dot at each with a bar of two standard deviations either way about nothing, which 19 of 20
// dots lie in.
func Residuals(of Residual, lines []Off) (Chart, error) {
	p := blank(of.Title, "line of the log", of.Axis)
	top := 0.0
	var at []float64
	for i, l := range lines {
		top = max(top, math.Abs(l.Off), 2*l.SD)
		at = append(at, float64(i))
	}
	if err := rules(p, -0.5, float64(len(lines))-0.5, []float64{0}); err != nil {
		return Chart{}, fmt.Errorf("chart of residuals: %w", err)
	}
	for i, l := range lines {
		x := float64(i)
		if err := line(p, upright(x, -2*l.SD, 2*l.SD), pen{pale, 5, nil}); err != nil {
			return Chart{}, fmt.Errorf("chart of residuals: %w", err)
		}
		if err := dots(p, plotter.XYs{{X: x, Y: l.Off}}, ink, 3); err != nil {
			return Chart{}, fmt.Errorf("chart of residuals: %w", err)
		}
	}
	for len(at) > 24 {
		at = everySecond(at)
	}
	p.X.Min, p.X.Max, p.Y.Min, p.Y.Max = -0.5, float64(len(lines))-0.5, -1.1*top, 1.35*top
	p.X.Tick.Marker = ticks(at, func(x float64) string { return fmt.Sprint(lines[int(x)].Line) })
	step := residualStep(top)
	p.Y.Tick.Marker = ticks(marks(-top, top, step), signed)
	label(p, -0.5, 1.25*top, of.Marks, ink, vg.Points(4), 0, draw.XLeft)
	return Chart{of.Name, of.Title + ": " + fmt.Sprintf(of.Shows, len(lines)) + ".", p, chartHeight}, nil
}

// residualStep returns 1, 2 or 5 times a power of ten for about three marks up to top.
func residualStep(top float64) float64 {
	if !(top > 0) {
		return 1
	}
	base := math.Pow(10, math.Floor(math.Log10(top/3)))
	for _, m := range []float64{1, 2, 5} {
		if top/(m*base) <= 4 {
			return m * base
		}
	}
	return 10 * base
}

// signed writes a difference.
func signed(y float64) string {
	if math.Abs(y) < 1e-12 {
		return "0"
	}
	return fmt.Sprintf("%+.3g", y)
}
