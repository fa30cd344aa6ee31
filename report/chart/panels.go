package chart

import (
	"gonum.org/v1/plot"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// beside are drawings side by side, on one scale of y where they have one.
type beside []drawing

// gap is left between panels, points.
const gap = 10

// Draw draws them, each as wide as the others.
func (b beside) Draw(c draw.Canvas) {
	wide := (c.Max.X - c.Min.X - gap*vg.Length(len(b)-1)) / vg.Length(len(b))
	for i, p := range b {
		left := vg.Length(i) * (wide + gap)
		p.Draw(draw.Crop(c, left, left+wide-(c.Max.X-c.Min.X), 0, 0))
	}
}

// above are plots one above the other on one axis of x, which the last of them names.
type above []*plot.Plot

// axisHigh is how much higher the last of them is, for the names on its axis, points.
const axisHigh = 28

// Draw draws the plots with their data areas aligned.
func (a above) Draw(c draw.Canvas) {
	each := (c.Max.Y - c.Min.Y - axisHigh) / vg.Length(len(a))
	canvases := make([]draw.Canvas, len(a))
	left, right := vg.Length(0), vg.Length(0)
	for i, p := range a {
		low := c.Max.Y - each*vg.Length(i+1)
		if i == len(a)-1 {
			low = c.Min.Y
		}
		canvases[i] = draw.Crop(c, 0, 0, low-c.Min.Y, -each*vg.Length(i))
		data := p.DataCanvas(canvases[i])
		left, right = max(left, data.Min.X-c.Min.X), max(right, c.Max.X-data.Max.X)
	}
	for i, p := range a {
		data := p.DataCanvas(canvases[i])
		p.Draw(draw.Crop(canvases[i], left-(data.Min.X-c.Min.X), (c.Max.X-data.Max.X)-right, 0, 0))
	}
}
