package chart

import (
	"image/color"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// drawing is what a chart draws: one plot, or several that belong together.
type drawing interface {
	Draw(c draw.Canvas)
}

// said are words in a colour.
type said struct {
	words string
	in    color.Color
}

// beside are plots side by side on one scale of y, with a title and what their marks are above all
// of them.
type beside struct {
	title string
	marks []said
	plots []*plot.Plot
}

// gap is left between panels, and between the words above them, points.
const gap = 10

// headHigh is how high the words above panels are, points.
const headHigh = 42

// Draw draws the plots, each as wide as the others.
func (b *beside) Draw(c draw.Canvas) {
	write(c, said{b.title, ink}, vg.Point{X: c.Min.X + (c.Max.X-c.Min.X-letters(b.title, 13))/2, Y: c.Max.Y - 12}, 13)
	at := c.Min.X + gap
	for _, m := range b.marks {
		write(c, m, vg.Point{X: at, Y: c.Max.Y - 33}, 10)
		at += letters(m.words, 10) + 1.6*gap
	}
	c = draw.Crop(c, 0, 0, 0, -headHigh)
	wide := (c.Max.X - c.Min.X - gap*vg.Length(len(b.plots)-1)) / vg.Length(len(b.plots))
	for i, p := range b.plots {
		left := vg.Length(i) * (wide + gap)
		p.Draw(draw.Crop(c, left, left+wide-(c.Max.X-c.Min.X), 0, 0))
	}
}

// write writes words from a point on, in so many points.
func write(c draw.Canvas, w said, at vg.Point, points float64) {
	style := plot.New().Title.TextStyle
	style.Font.Size, style.Color, style.XAlign, style.YAlign = vg.Points(points), w.in, draw.XLeft, draw.YBottom
	c.FillText(style, at, w.words)
}

// letters returns how wide words are in so many points.
func letters(words string, points float64) vg.Length { return vg.Points(wide(words, points)) }

// above are plots one above the other on one axis of x: each part of the height.
type above struct {
	plots []*plot.Plot
	parts []float64 // of the height, from above
}

// Draw draws the plots with their data areas aligned.
func (a above) Draw(c draw.Canvas) {
	high := c.Max.Y - c.Min.Y
	canvases := make([]draw.Canvas, len(a.plots))
	top := vg.Length(0)
	left, right := vg.Length(0), vg.Length(0)
	for i, p := range a.plots {
		below := top + vg.Length(a.parts[i])*high
		canvases[i] = draw.Crop(c, 0, 0, high-below, -top)
		data := p.DataCanvas(canvases[i])
		left, right = max(left, data.Min.X-c.Min.X), max(right, c.Max.X-data.Max.X)
		top = below
	}
	for i, p := range a.plots {
		data := p.DataCanvas(canvases[i])
		p.Draw(draw.Crop(canvases[i], left-(data.Min.X-c.Min.X), (c.Max.X-data.Max.X)-right, 0, 0))
	}
}
