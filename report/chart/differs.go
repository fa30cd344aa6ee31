package chart

import (
	"image/color"

	"drystalk/report/words"
	"drystalk/tongue"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// aside is how far two marks of one month stand from its middle.
const aside = 0.13

// Differs draws how often each contract month is met today and with another plan: an open diamond
// on the left and a disc on the right, each with its interval.
func Differs(c words.Compared) (Chart, error) {
	p := blank(tongue.Say("contract month"))
	var today, then intervals
	var at []float64
	for i, m := range c.Result.Months {
		today.odds(float64(i)-aside, m.OddsA)
		then.odds(float64(i)+aside, m.OddsB)
		at = append(at, float64(i))
	}
	last := float64(len(at)) - 0.5
	p.X.Min, p.X.Max, p.Y.Min, p.Y.Max = -0.5, last, 0, 103
	p.X.Tick.Marker = ticks(at, func(x float64) string { return words.ShortMonth(c.Result.Months[words.Round(x)].Name) })
	p.Y.Tick.Marker = ticks(everyFifth, whole)
	if err := rules(p, -0.5, last, everyFifth[1:]); err != nil {
		return Chart{}, err
	}
	if c.Worst > 0 {
		if err := line(p, level(-0.5, last, 100*c.Worst), goal); err != nil {
			return Chart{}, err
		}
	}
	if err := today.open(p); err != nil {
		return Chart{}, err
	}
	if err := then.add(p); err != nil {
		return Chart{}, err
	}
	alt := tongue.Sayf("How often each contract month is met, today and %s:", c.With())
	for _, m := range c.Result.Months {
		alt += tongue.Sayf(" %s %s and %s;", m.Name, words.Percent(m.OddsA.Share), words.Percent(m.OddsB.Share))
	}
	h := headed{
		title: tongue.Say("How often each contract month is met"), upright: tongue.Say("seasons in which it is met (%)"), body: p,
		marks: differsMarks(c),
	}
	return h.chart("months-of-both", alt[:len(alt)-1]+"."), nil
}

// differsMarks say what the marks of two plans by month are.
func differsMarks(c words.Compared) []mark {
	says := []mark{{standing(lozenge), tongue.Sayf("diamond: %s", words.Today())}, {standing(disc(3)), tongue.Sayf("disc: %s", called(c.With()))}, {nil, tongue.Say("bars: 95 % sure")}}
	if c.Worst > 0 {
		says = append(says, mark{stroke(goal), tongue.Sayf("dashed: target of the worst month, %s", words.OfTen(c.Worst))})
	}
	return says
}

// mostCalled is how many letters a plan may be called by in a picture.
const mostCalled = 34

// called returns what a plan is called in a picture: what is changed, if that is short.
func called(with string) string {
	if len(with) > mostCalled {
		return tongue.Say("with what is changed")
	}
	return with
}

// open draws intervals with an open diamond at each value, in the colour of what stands beside.
func (v *intervals) open(p *plot.Plot) error {
	bars, err := plotter.NewYErrorBars(v)
	if err != nil {
		return err
	}
	bars.Color, bars.Width, bars.CapWidth = rust, vg.Points(1.2), vg.Points(7)
	marks, err := plotter.NewScatter(v.XYs)
	if err != nil {
		return err
	}
	marks.GlyphStyle = lozenge
	p.Add(bars, marks)
	return nil
}

// lozenge is how the plan of today is marked.
var lozenge = draw.GlyphStyle{Color: rust, Radius: vg.Points(4.2), Shape: diamond{}}

// diamond is a square on its corner, white within.
type diamond struct{}

// DrawGlyph draws the mark.
func (diamond) DrawGlyph(c *draw.Canvas, style draw.GlyphStyle, at vg.Point) {
	var path vg.Path
	r := style.Radius
	path.Move(vg.Point{X: at.X, Y: at.Y + r})
	path.Line(vg.Point{X: at.X + r, Y: at.Y})
	path.Line(vg.Point{X: at.X, Y: at.Y - r})
	path.Line(vg.Point{X: at.X - r, Y: at.Y})
	path.Close()
	c.SetColor(color.White)
	c.Fill(path)
	c.SetColor(style.Color)
	c.SetLineWidth(vg.Points(1.4))
	c.SetLineDash(nil, 0)
	c.Stroke(path)
}
