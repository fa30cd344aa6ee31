package chart

import (
	"fmt"
	"math"

	"drystalk/tongue"

	"gonum.org/v1/plot/plotter"
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
	Dots, Bars  string // what they are
	Shows       string // what is to be seen, of how many ("%d")
}

// Fitted is a chart of lines beside what a fit expects of them.
func Fitted(name, title, axis string) Residual {
	return Residual{name, title, axis, tongue.Say("dots: as read"), tongue.Say("bars: where 19 of 20 dots are to be expected"), tongue.Say("how far each of %d lines lies from what the fit expects")}
}

// expected is the pen of where dots are to be expected.
var expected = pen{grey, 5, nil}

// Residuals draws how far the lines of a log lie from what is expected of them, in the order of the
// file: a dot at each with a bar of two standard deviations either way about nothing, which 19 of 20
// dots lie in.
func Residuals(of Residual, lines []Off) (Chart, error) {
	p := blank(tongue.Say("line of the log"))
	top := 0.0
	var at []float64
	for i, l := range lines {
		top = max(top, math.Abs(l.Off), 2*l.SD)
		at = append(at, float64(i))
	}
	if err := rules(p, -0.5, float64(len(lines))-0.5, []float64{0}); err != nil {
		return Chart{}, fmt.Errorf("chart of residuals: %w", err)
	}
	bars := expected
	bars.width = min(bars.width, 240/float64(len(lines))) // apart, however many there are
	var read plotter.XYs
	for i, l := range lines {
		if err := line(p, upright(float64(i), -2*l.SD, 2*l.SD), bars); err != nil {
			return Chart{}, fmt.Errorf("chart of residuals: %w", err)
		}
		read = append(read, plotter.XY{X: float64(i), Y: l.Off})
	}
	if err := dots(p, read, ink, 3); err != nil {
		return Chart{}, fmt.Errorf("chart of residuals: %w", err)
	}
	for len(at) > 24 {
		at = everySecond(at)
	}
	p.X.Min, p.X.Max, p.Y.Min, p.Y.Max = -0.5, float64(len(lines))-0.5, -1.1*top, 1.1*top
	p.X.Tick.Marker = ticks(at, func(x float64) string { return fmt.Sprint(lines[int(x)].Line) })
	p.Y.Tick.Marker = ticks(marks(-top, top, stepOf(top, 4)), signed)
	h := headed{title: of.Title, upright: of.Axis, body: p, marks: []mark{{glyph(disc(3)), of.Dots}, {post(expected), of.Bars}}}
	return h.chart(of.Name, of.Title+": "+fmt.Sprintf(of.Shows, len(lines))+"."), nil
}

// signed writes a difference.
func signed(y float64) string {
	if math.Abs(y) < 1e-12 {
		return "0"
	}
	return tongue.Figures("%+.3g", y)
}
