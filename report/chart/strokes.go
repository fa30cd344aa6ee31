package chart

import (
	"image/color"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// pen is what a line is drawn with.
type pen struct {
	colour color.Color
	width  float64 // points
	dashes []vg.Length
}

// goal is the pen of what is asked for: a target, or nothing lost.
var goal = pen{rust, 1.4, []vg.Length{vg.Points(6), vg.Points(3)}}

// wanted is the pen of what must be there: asked for, or needed.
var wanted = pen{rust, 2.4, nil}

// line draws a line through points.
func line(p *plot.Plot, points plotter.XYs, with pen) error {
	l, err := plotter.NewLine(points)
	if err != nil {
		return err
	}
	l.Color, l.Width, l.Dashes = with.colour, vg.Points(with.width), with.dashes
	p.Add(l)
	return nil
}

// level are the ends of a line at height y.
func level(from, to, y float64) plotter.XYs { return plotter.XYs{{X: from, Y: y}, {X: to, Y: y}} }

// upright are the ends of a line at x.
func upright(x, from, to float64) plotter.XYs { return plotter.XYs{{X: x, Y: from}, {X: x, Y: to}} }

// capped are the points of a line at height y from low to high with a cap at each end.
func capped(low, high, y, half float64) plotter.XYs {
	return plotter.XYs{{X: low, Y: y - half}, {X: low, Y: y + half}, {X: low, Y: y}, {X: high, Y: y}, {X: high, Y: y + half}, {X: high, Y: y - half}}
}

// area fills what corners enclose, with an edge.
func area(p *plot.Plot, corners plotter.XYs, fill color.Color, edge pen) error {
	a, err := plotter.NewPolygon(corners)
	if err != nil {
		return err
	}
	a.Color, a.LineStyle.Color, a.LineStyle.Width = fill, edge.colour, vg.Points(edge.width)
	p.Add(a)
	return nil
}

// dots marks points with discs of a radius in points.
func dots(p *plot.Plot, points plotter.XYs, fill color.Color, radius float64) error {
	d, err := plotter.NewScatter(points)
	if err != nil {
		return err
	}
	d.GlyphStyle = draw.GlyphStyle{Color: fill, Radius: vg.Points(radius), Shape: draw.CircleGlyph{}}
	p.Add(d)
	return nil
}

// span is a value with its interval.
type span struct{ low, value, high float64 }

// across draws a span at height y: a line over the interval, and a dot of a radius in points
// at the value.
func (s span) across(p *plot.Plot, y float64, with pen, radius float64) error {
	if err := line(p, level(s.low, s.high, y), with); err != nil {
		return err
	}
	return dots(p, plotter.XYs{{X: s.value, Y: y}}, with.colour, radius)
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
	p.Add(bars)
	return dots(p, v.XYs, ink, 3)
}

// rules draws pale lines across the plot at values of y.
func rules(p *plot.Plot, from, to float64, at []float64) error {
	for _, y := range at {
		if err := line(p, level(from, to, y), pen{pale, 0.6, nil}); err != nil {
			return err
		}
	}
	return nil
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
