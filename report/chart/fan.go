package chart

import (
	"image/color"

	"drystalk/report/words"
	"drystalk/sim/decide"
	"drystalk/sim/money"
	"drystalk/sim/trials"
	"drystalk/tongue"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/vg"
)

// fan draws spreads along x: nine of ten pale, the middle half darker, the median as a line with
// discs; values are divided by unit.
func fan(p *plot.Plot, x []float64, fans []trials.Fan, unit float64) error {
	type edge func(f trials.Fan) float64
	band := func(low, high edge, fill color.Color) error {
		var up, down plotter.XYs
		for i, f := range fans {
			up = append(up, plotter.XY{X: x[i], Y: high(f) / unit})
			down = append(down, plotter.XY{X: x[len(x)-1-i], Y: low(fans[len(x)-1-i]) / unit})
		}
		return area(p, append(up, down...), fill, pen{grey, 0.6, nil})
	}
	if err := band(func(f trials.Fan) float64 { return f.P5 }, func(f trials.Fan) float64 { return f.P95 }, pale); err != nil {
		return err
	}
	if err := band(func(f trials.Fan) float64 { return f.P25 }, func(f trials.Fan) float64 { return f.P75 }, grey); err != nil {
		return err
	}
	var middle plotter.XYs
	for i, f := range fans {
		middle = append(middle, plotter.XY{X: x[i], Y: f.Median / unit})
	}
	if err := line(p, middle, pen{ink, 1.6, nil}); err != nil {
		return err
	}
	return dots(p, middle, ink, 2.4)
}

// fanMarks say what a fan of something is.
func fanMarks(of string) []mark {
	return []mark{
		{patch(pale, pen{grey, 0.6, nil}), tongue.Sayf("pale: 5 to 95 %% of %s", of)},
		{patch(grey, pen{}), tongue.Say("grey: the middle half")},
		{both(stroke(pen{ink, 1.6, nil}), glyph(disc(2.4))), tongue.Say("line with discs: the middle one")},
	}
}

// loanEnds is the pen of the end of a loan.
var loanEnds = pen{ink, 1.2, []vg.Length{vg.Points(1.5), vg.Points(2)}}

// StockOf is a plan and what it is called in a picture.
type StockOf struct {
	Name string
	Plan decide.PlanResult
}

// HubStock draws the stock at the hub at the end of each contract month, before delivery, as the
// spread of seasons against what the contract asks for: one plan, or several side by side on one
// scale.
func HubStock(plans ...StockOf) (Chart, error) {
	top := 0.0
	for _, s := range plans {
		for _, m := range s.Plan.Months {
			top = max(top, m.Stock.P95/1000, float64(m.Asked)/1000)
		}
	}
	if top == 0 {
		top = 1
	}
	var panels beside
	alt := tongue.Say("Good stalks at the hub at the end of each month, before delivery.")
	for _, s := range plans {
		p, err := stockPanel(s, top, len(plans))
		if err != nil {
			return Chart{}, err
		}
		panels = append(panels, p)
		alt += tongue.Sayf(" %s: the worst month is %s.", words.Upper(s.Name), words.Worst(s.Plan))
	}
	h := headed{
		title: tongue.Say("Good stalks at the hub, and what is asked for"), upright: tongue.Say("good stalks before delivery (thousands)"), body: panels,
		marks: append(fanMarks(tongue.Say("seasons")), mark{stroke(wanted), tongue.Say("thick line: asked for")}),
	}
	return h.chart("hub-stock", alt), nil
}

// monthsNamed is how many names of months stand side by side over the width of a chart.
const monthsNamed = 16

// stockPanel draws one plan of so many side by side, of all whose highest is top.
func stockPanel(s StockOf, top float64, plans int) (*plot.Plot, error) {
	p := panel(words.Upper(calledBeside(s.Name, plans)), tongue.Say("end of month"))
	var x []float64
	var fans []trials.Fan
	for i, m := range s.Plan.Months {
		x, fans = append(x, float64(i)), append(fans, m.Stock)
	}
	last := float64(len(x)) - 0.5
	p.X.Min, p.X.Max, p.Y.Min, p.Y.Max = -0.5, last, 0, 1.05*top
	every := (len(x)*plans + monthsNamed - 1) / monthsNamed
	p.X.Tick.Marker = ticks(x, func(v float64) string {
		if words.Round(v)%every != 0 {
			return ""
		}
		return words.ShortMonth(s.Plan.Months[words.Round(v)].Name)
	})
	at := marks(0, 1.05*top, fineStep(top))
	p.Y.Tick.Marker = ticks(at, figure)
	if err := rules(p, -0.5, last, at[1:]); err != nil {
		return nil, err
	}
	draws := fan
	if len(x) == 1 { // a single month has no breadth: draw it as one
		draws = wideFan
	}
	if err := draws(p, x, fans, 1000); err != nil {
		return nil, err
	}
	for i, m := range s.Plan.Months {
		if err := line(p, level(float64(i)-0.42, float64(i)+0.42, float64(m.Asked)/1000), wanted); err != nil {
			return nil, err
		}
	}
	return p, nil
}

// calledBeside returns what a plan of so many side by side is called: beside one other that is today a
// long change is said in general, of more each keeps its name, cut to the width of its panel.
func calledBeside(name string, plans int) string {
	if plans < 3 {
		return called(name)
	}
	return cut(name, (chartWidth.Points()-2*margin)/float64(plans)-2*gap)
}

// wideFan draws a spread at one place as upright bars.
func wideFan(p *plot.Plot, x []float64, fans []trials.Fan, unit float64) error {
	f := fans[0]
	return fan(p, []float64{x[0] - 0.2, x[0] + 0.2}, []trials.Fan{f, f}, unit)
}

// SoFar draws what a purchase has brought by the end of each year as the spread of its futures, with
// the end of the loan, that ends after so many months; 0: nothing is borrowed.
func SoFar(b money.Purchase, currency string) (Chart, error) {
	p := blank(tongue.Say("years from the first season"))
	var x []float64
	low, high := 0.0, 0.0
	for y, f := range b.SoFar {
		x = append(x, float64(y))
		low, high = min(low, f.P5), max(high, f.P95)
	}
	span := max(1, high-low)
	last := float64(len(x) - 1)
	p.X.Min, p.X.Max, p.Y.Min, p.Y.Max = -0.1, last+0.1, low-0.04*span, high+0.04*span
	p.X.Tick.Marker = ticks(marks(0, last, niceStep(last)), whole)
	at := marks(low, high+0.04*span, niceStep(span))
	p.Y.Tick.Marker = ticks(at, words.BareMoney)
	if err := rules(p, p.X.Min, p.X.Max, at); err != nil {
		return Chart{}, err
	}
	if err := fan(p, x, b.SoFar, 1); err != nil {
		return Chart{}, err
	}
	if err := line(p, level(p.X.Min, p.X.Max, 0), goal); err != nil {
		return Chart{}, err
	}
	says := append(fanMarks(tongue.Say("futures")), mark{stroke(goal), tongue.Say("dashed: nothing gained")})
	alt := tongue.Sayf("Money that the purchase has brought by the end of each of %d years, as the spread of %d futures.", b.Years, b.Futures)
	if b.Loan > 0 && b.Months > 0 {
		ends := min(last, float64(b.Months)/12)
		if err := line(p, upright(ends, p.Y.Min, high+0.04*span), loanEnds); err != nil {
			return Chart{}, err
		}
		says = append(says, mark{post(loanEnds), tongue.Sayf("dotted: the loan ends, after %s", words.Term(b.Months))})
		alt += tongue.Sayf(" The loan ends after %s.", words.Term(b.Months))
	}
	if end := b.SoFar[len(b.SoFar)-1]; end.Seasons > 0 {
		alt += tongue.Sayf(" At the end it is %s in the middle of futures, %s in one of twenty.", words.Money(end.Median, currency), words.Money(end.P5, currency))
	}
	h := headed{title: tongue.Say("What the purchase has brought so far, own part and instalments paid"), upright: tongue.Sayf("money so far (%s)", currency), marks: says, body: p}
	return h.chart("purchase-by-year", alt), nil
}
