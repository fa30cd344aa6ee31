// Package chart draws figures, in one visual language and readable in grey print.
package chart

import (
	"bytes"
	"fmt"
	"image/color"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/font"
	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// One visual language: ink for what was computed, rust for what is asked for, and
// shapes that tell the two apart in grey print. Labels stand at what they name.
var (
	ink   = color.RGBA{0x16, 0x32, 0x3f, 0xff}
	rust  = color.RGBA{0xb0, 0x4a, 0x12, 0xff}
	pale  = color.RGBA{0xd8, 0xde, 0xe0, 0xff}
	grey  = color.RGBA{0x9d, 0xb2, 0xbb, 0xff} // between pale and slate
	slate = color.RGBA{0x7d, 0x93, 0x9c, 0xff} // rain, and what is neither computed nor asked for
)

const (
	chartWidth  = 7 * vg.Inch
	chartHeight = 3.4 * vg.Inch // so that on A4 its letters are printed at 9 points
)

// Chart is a drawing with the name of its files and a sentence that says what it
// shows, for those who do not see it.
type Chart struct {
	Name string
	Alt  string
	plot *headed
	high vg.Length
}

// Tall tells whether a chart is so much higher than others that it needs more room on a page.
func (c Chart) Tall() bool { return c.high > 5*vg.Inch }

// margin is left free around a chart.
const margin = 10

// Encode returns the chart as "svg" or "png".
func (c Chart) Encode(format string) ([]byte, error) { return c.encode(format, chartWidth, c.high) }

// The width of a chart on a paper of two pages: drawn narrower than the text of the paper is wide, its
// letters come out a tenth larger, at 11 points.
const (
	paperWidth = 6.36 * vg.Inch
	textWidth  = 178 * vg.Millimeter
)

// ForPaper returns the chart as SVG for a paper of two pages, printed so many mm high, without its
// title and the name of its upright axis: they stand above it.
func (c Chart) ForPaper(printedMM float64) (svg []byte, title, upright string, err error) {
	bare := *c.plot
	bare.title, bare.upright = "", ""
	svg, err = Chart{c.Name, c.Alt, &bare, c.high}.encode("svg", paperWidth, vg.Length(printedMM)*vg.Millimeter*paperWidth/textWidth)
	return svg, c.plot.title, c.plot.upright, err
}

// encode draws the chart so wide and so high.
func (c Chart) encode(format string, wide, high vg.Length) ([]byte, error) {
	canvas, err := draw.NewFormattedCanvas(wide, high, format)
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
	if format == "svg" {
		return inAnyFont(b.Bytes()), nil
	}
	return b.Bytes(), nil
}

// blank returns an empty plot in the common style, with the name and unit of its axis of x.
func blank(x string) *plot.Plot {
	p := plot.New()
	for _, a := range []*plot.Axis{&p.X, &p.Y} {
		a.Label.TextStyle.Font.Size = vg.Points(wordPoints)
		a.Label.TextStyle.Color = ink
		a.Label.Padding = vg.Points(4)
		a.Tick.Label.Font.Size = vg.Points(wordPoints)
		a.LineStyle.Color, a.Tick.LineStyle.Color = ink, ink
		a.Padding = vg.Points(4)
	}
	p.X.Label.Text = x
	return p
}

// panel returns an empty plot with words above it, one of several of a chart.
func panel(title, x string) *plot.Plot {
	p := blank(x)
	p.Title.Text = title
	p.Title.TextStyle.Color, p.Title.TextStyle.Font.Size, p.Title.Padding = ink, vg.Points(wordPoints), vg.Points(3)
	return p
}

func init() {
	plot.DefaultFont = font.Font{Typeface: "Liberation", Variant: "Sans"}
	plotter.DefaultFont = plot.DefaultFont
}
