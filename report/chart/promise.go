package chart

import (
	"image/color"

	"drystalk/report/words"
	"drystalk/sim/decide"
	"drystalk/tongue"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// Promise draws what can be promised in every contract month beside the contract as written, and
// what each month alone might take.
func Promise(p decide.Promise, contract []words.Asked) (Chart, error) {
	c := blank(tongue.Say("contract month"))
	alone := map[string]int{}
	for _, m := range p.Months {
		alone[m.Name] = m.Stalks
	}
	top := float64(max(p.Flat, p.Next)) / 1000
	var at []float64
	for i, m := range contract {
		at = append(at, float64(i))
		top = max(top, float64(m.Stalks)/1000, float64(alone[m.Month])/1000)
	}
	last := float64(len(contract)) - 0.5
	c.X.Min, c.X.Max, c.Y.Min, c.Y.Max = -0.5, last, 0, 1.05*top
	c.X.Tick.Marker = ticks(at, func(x float64) string { return words.ShortMonth(contract[words.Round(x)].Month) })
	thousands := marks(0, 1.05*top, fineStep(top))
	c.Y.Tick.Marker = ticks(thousands, figure)
	if err := rules(c, -0.5, last, thousands[1:]); err != nil {
		return Chart{}, err
	}
	for i, m := range contract {
		x := float64(i)
		if p.Flat > 0 {
			if err := area(c, upTo(x, 0.3, float64(p.Flat)/1000), grey, pen{ink, 0.8, nil}); err != nil {
				return Chart{}, err
			}
		}
		if y := float64(alone[m.Month]) / 1000; y > 0 {
			if err := circles(c, plotter.XYs{{X: x, Y: y}}); err != nil {
				return Chart{}, err
			}
		}
		if err := line(c, level(x-0.42, x+0.42, float64(m.Stalks)/1000), wanted); err != nil {
			return Chart{}, err
		}
	}
	says, alt := []mark{{nil, tongue.Say("nothing can be promised")}}, tongue.Say("Nothing can be promised.")
	if p.Flat > 0 {
		says = []mark{{patch(grey, pen{ink, 0.8, nil}), tongue.Sayf("bar: can be promised every month, %s stalks", words.Grouped(p.Flat))}}
		alt = tongue.Sayf("%s good stalks a month can be promised: %s in %s.", words.Grouped(p.Flat), words.HappensBriefly(p.Goal, p.Worst.Name), words.Odds(p.Odds))
	}
	says = append(says, mark{stroke(wanted), tongue.Say("thick line: the contract as written")})
	if len(alone) > 0 {
		says = append(says, mark{glyph(ring), tongue.Say("ring: this month alone might take so much (not proven)")})
	}
	if p.Flat > 0 {
		says = append(says, mark{nil, tongue.Sayf("with it %s in %s of trial seasons", words.HappensBriefly(p.Goal, p.Worst.Name), words.Odds(p.Odds))})
	}
	h := headed{title: tongue.Say("What can be promised, beside the contract as written"), upright: tongue.Say("good stalks a month (thousands)"), marks: says, body: c}
	return h.chart("promise", alt), nil
}

// upTo are the corners of an upright bar from nothing to y.
func upTo(x, half, y float64) plotter.XYs {
	return plotter.XYs{{X: x - half, Y: 0}, {X: x + half, Y: 0}, {X: x + half, Y: y}, {X: x - half, Y: y}}
}

// ring is how what is no offer is marked.
var ring = draw.GlyphStyle{Color: ink, Radius: vg.Points(4.5), Shape: hollow{}}

// hollow is an open disc, white within, with an edge that is seen.
type hollow struct{}

// DrawGlyph draws the mark.
func (hollow) DrawGlyph(c *draw.Canvas, style draw.GlyphStyle, at vg.Point) {
	c.DrawGlyph(draw.GlyphStyle{Color: style.Color, Radius: style.Radius, Shape: draw.CircleGlyph{}}, at)
	c.DrawGlyph(draw.GlyphStyle{Color: color.White, Radius: style.Radius - 1.4, Shape: draw.CircleGlyph{}}, at)
}

// circles marks points with open rings.
func circles(p *plot.Plot, points plotter.XYs) error {
	d, err := plotter.NewScatter(points)
	if err != nil {
		return err
	}
	d.GlyphStyle = ring
	p.Add(d)
	return nil
}
