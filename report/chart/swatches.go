package chart

import (
	"image/color"
	"math"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// swatch draws a mark in the space before its words, from the middle of the left edge on.
type swatch func(c draw.Canvas, at vg.Point)

// style is a pen as the drawing library takes it.
func (p pen) style() draw.LineStyle {
	return draw.LineStyle{Color: p.colour, Width: vg.Points(p.width), Dashes: p.dashes}
}

// stroke is a sample of a line.
func stroke(with pen) swatch {
	return func(c draw.Canvas, at vg.Point) { c.StrokeLine2(with.style(), at.X, at.Y, at.X+sampleWide, at.Y) }
}

// post is a sample of an upright line; dashes are so long that the sample begins and ends with one.
func post(with pen) swatch {
	const half = 6
	if len(with.dashes) == 2 {
		dash, gap := with.dashes[0], with.dashes[1]
		n := vg.Length(math.Round(float64((2*half + gap) / (dash + gap))))
		fits := 2 * half / (max(2, n)*(dash+gap) - gap)
		with.dashes = []vg.Length{fits * dash, fits * gap}
	}
	return func(c draw.Canvas, at vg.Point) {
		c.StrokeLine2(with.style(), at.X+sampleWide/2, at.Y-half, at.X+sampleWide/2, at.Y+half)
	}
}

// patch is a sample of an area.
func patch(fill color.Color, edge pen) swatch {
	return func(c draw.Canvas, at vg.Point) {
		left, right := at.X+3, at.X+sampleWide-3
		corners := []vg.Point{{X: left, Y: at.Y - 4}, {X: right, Y: at.Y - 4}, {X: right, Y: at.Y + 4}, {X: left, Y: at.Y + 4}}
		c.FillPolygon(fill, corners)
		if edge.width > 0 {
			c.StrokeLines(edge.style(), append(corners, corners[0]))
		}
	}
}

// glyph is a sample of a mark at a value.
func glyph(style draw.GlyphStyle) swatch {
	return func(c draw.Canvas, at vg.Point) { c.DrawGlyph(style, vg.Point{X: at.X + sampleWide/2, Y: at.Y}) }
}

// disc is how values are marked, with a radius in points.
func disc(radius float64) draw.GlyphStyle {
	return draw.GlyphStyle{Color: ink, Radius: vg.Points(radius), Shape: draw.CircleGlyph{}}
}

// standing is a sample of a value with an upright interval.
func standing(value draw.GlyphStyle) swatch {
	return func(c draw.Canvas, at vg.Point) {
		x, line := at.X+sampleWide/2, pen{value.Color, 1.2, nil}.style()
		c.StrokeLine2(line, x, at.Y-6, x, at.Y+6)
		for _, y := range []vg.Length{-6, 6} {
			c.StrokeLine2(line, x-3, at.Y+y, x+3, at.Y+y)
		}
		c.DrawGlyph(value, vg.Point{X: x, Y: at.Y})
	}
}

// reaching is a sample of a value with an interval to the left and right.
func reaching(c draw.Canvas, at vg.Point) {
	stroke(pen{ink, 1.4, nil})(c, at)
	c.DrawGlyph(disc(2.6), vg.Point{X: at.X + sampleWide/2, Y: at.Y})
}

// fenced is a sample of a level line with a cap at each end.
func fenced(with pen) swatch {
	return func(c draw.Canvas, at vg.Point) {
		stroke(with)(c, at)
		for _, x := range []vg.Length{0, sampleWide} {
			c.StrokeLine2(with.style(), at.X+x, at.Y-4, at.X+x, at.Y+4)
		}
	}
}

// both draws one sample upon another.
func both(below, above swatch) swatch {
	return func(c draw.Canvas, at vg.Point) {
		below(c, at)
		above(c, at)
	}
}

// cross is an oblique cross that is as heavy as other marks.
type cross struct{}

// DrawGlyph draws the mark.
func (cross) DrawGlyph(c *draw.Canvas, style draw.GlyphStyle, at vg.Point) {
	r, line := style.Radius, draw.LineStyle{Color: style.Color, Width: vg.Points(1.8)}
	c.StrokeLine2(line, at.X-r, at.Y-r, at.X+r, at.Y+r)
	c.StrokeLine2(line, at.X-r, at.Y+r, at.X+r, at.Y-r)
}
