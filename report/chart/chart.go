// Package chart draws figures, in one visual language and readable in grey print.
package chart

import (
	"bytes"
	"fmt"
	"image/color"
	"math"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/font"
	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// One visual language: ink for what was computed, rust for what is asked for, and
// shapes that tell the two apart in grey print. Labels stand at what they name.
var (
	ink  = color.RGBA{0x16, 0x32, 0x3f, 0xff}
	rust = color.RGBA{0xb0, 0x4a, 0x12, 0xff}
	pale = color.RGBA{0xd8, 0xde, 0xe0, 0xff}
)

const (
	chartWidth  = 7 * vg.Inch
	chartHeight = 3.9 * vg.Inch
)

// Chart is a drawing with the name of its files and a sentence that says what it
// shows, for those who do not see it.
type Chart struct {
	Name string
	Alt  string
	plot *plot.Plot
	high vg.Length
}

// margin is left free around a chart.
const margin = 10

// Encode returns the chart as "svg" or "png".
func (c Chart) Encode(format string) ([]byte, error) {
	canvas, err := draw.NewFormattedCanvas(chartWidth, c.high, format)
	if err != nil {
		return nil, fmt.Errorf("chart %s: %w", c.Name, err)
	}
	whole := draw.New(canvas)
	whole.SetColor(color.White)
	whole.Fill(whole.Rectangle.Path())
	c.plot.Draw(draw.Crop(whole, margin, -margin, margin/2, -margin))
	var b bytes.Buffer
	if _, err := canvas.WriteTo(&b); err != nil {
		return nil, fmt.Errorf("chart %s: %w", c.Name, err)
	}
	return b.Bytes(), nil
}

// blank returns an empty plot in the common style.
func blank(title, x, y string) *plot.Plot {
	p := plot.New()
	p.Title.Text = title
	p.Title.TextStyle.Color = ink
	p.Title.TextStyle.Font.Size = vg.Points(13)
	p.Title.Padding = vg.Points(8)
	for _, a := range []*plot.Axis{&p.X, &p.Y} {
		a.Label.TextStyle.Font.Size = vg.Points(11)
		a.Label.TextStyle.Color = ink
		a.Label.Padding = vg.Points(4)
		a.Tick.Label.Font.Size = vg.Points(10)
		a.LineStyle.Color, a.Tick.LineStyle.Color = ink, ink
		a.Padding = vg.Points(4)
	}
	p.X.Label.Text, p.Y.Label.Text = x, y
	return p
}

// ticks marks values with words.
func ticks(at []float64, word func(float64) string) plot.ConstantTicks {
	t := make(plot.ConstantTicks, len(at))
	for i, x := range at {
		t[i] = plot.Tick{Value: x, Label: word(x)}
	}
	return t
}

// rules draws pale lines across the plot at values of y.
func rules(p *plot.Plot, from, to float64, at []float64) {
	for _, y := range at {
		l, _ := plotter.NewLine(plotter.XYs{{X: from, Y: y}, {X: to, Y: y}})
		l.Color, l.Width = pale, vg.Points(0.6)
		p.Add(l)
	}
}

// label writes words beside a point.
func label(p *plot.Plot, x, y float64, words string, c color.Color, dx, dy vg.Length, align draw.XAlignment) {
	l, _ := plotter.NewLabels(plotter.XYLabels{XYs: plotter.XYs{{X: x, Y: y}}, Labels: []string{words}})
	l.TextStyle[0].Color = c
	l.TextStyle[0].Font.Size = vg.Points(10)
	l.TextStyle[0].XAlign = align
	l.TextStyle[0].YAlign = draw.YCenter
	l.Offset = vg.Point{X: dx, Y: dy}
	p.Add(l)
}

// intervals draws bars from low to high with caps, and a dot at the value.
type intervals struct {
	plotter.XYs
	plotter.YErrors
}

func (v intervals) add(p *plot.Plot) error {
	bars, err := plotter.NewYErrorBars(v)
	if err != nil {
		return err
	}
	bars.Color, bars.Width, bars.CapWidth = ink, vg.Points(1.2), vg.Points(7)
	dots, err := plotter.NewScatter(v.XYs)
	if err != nil {
		return err
	}
	dots.GlyphStyle = draw.GlyphStyle{Color: ink, Radius: vg.Points(3), Shape: draw.CircleGlyph{}}
	p.Add(bars, dots)
	return nil
}

// niceStep returns 1, 2 or 5 times a power of ten, for about five marks.
func niceStep(top float64) float64 {
	if !(top > 0) {
		return 1
	}
	base := math.Pow(10, math.Floor(math.Log10(top/5)))
	for _, m := range []float64{1, 2, 5, 10} {
		if top/(m*base) <= 6 {
			return max(1, m*base)
		}
	}
	return max(1, 10*base)
}

// someDays returns about eight days to be marked on an axis.
func someDays(from, to int) []float64 {
	var at []float64
	for step, i := max(1, (to-from)/7), from; i <= to; i += step {
		at = append(at, float64(i))
	}
	return at
}

func everySecond(x []float64) []float64 {
	var out []float64
	for i := 0; i < len(x); i += 2 {
		out = append(out, x[i])
	}
	return out
}

func init() {
	plot.DefaultFont = font.Font{Typeface: "Liberation", Variant: "Sans"}
	plotter.DefaultFont = plot.DefaultFont
}
