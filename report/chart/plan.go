package chart

import (
	"fmt"
	"image/color"
	"math"

	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"drystalk/report/words"
	"drystalk/sim"
	"drystalk/sim/decide"
)

// Months draws the good stalks of each contract month against the contract.
func Months(r decide.PlanResult) (Chart, error) {
	p := blank(fmt.Sprintf("Good stalks at the hub with %s, month by month", words.Dryers(r.Dryers)), "contract month", "good stalks (thousands)")
	var v intervals
	var at []float64
	top := 0.0
	for i, m := range r.Months {
		b := m.Available
		v.XYs = append(v.XYs, plotter.XY{X: float64(i), Y: b.Median / 1000})
		v.YErrors = append(v.YErrors, struct{ Low, High float64 }{(b.P5 - b.Median) / 1000, (b.P95 - b.Median) / 1000})
		at = append(at, float64(i))
		top = math.Max(top, math.Max(b.P95, float64(m.Asked))/1000)
	}
	last := float64(len(r.Months)) - 0.5
	p.X.Min, p.X.Max, p.Y.Min, p.Y.Max = -0.5, last, 0, 1.12*top
	p.X.Tick.Marker = ticks(at, func(x float64) string { return r.Months[words.Round(x)].Name[:3] })
	step := niceStep(top)
	var marks []float64
	for y := 0.0; y <= 1.12*top; y += step {
		marks = append(marks, y)
	}
	p.Y.Tick.Marker = ticks(marks, func(y float64) string { return fmt.Sprint(words.Round(y)) })
	rules(p, -0.5, last, marks[1:])
	for i, m := range r.Months {
		asked, err := plotter.NewLine(plotter.XYs{{X: float64(i) - 0.42, Y: float64(m.Asked) / 1000}, {X: float64(i) + 0.42, Y: float64(m.Asked) / 1000}})
		if err != nil {
			return Chart{}, err
		}
		asked.Color, asked.Width = rust, vg.Points(2.4)
		p.Add(asked)
	}
	if err := v.add(p); err != nil {
		return Chart{}, err
	}
	label(p, -0.45, 1.06*top, "dot: median; bar: 5 to 95 % of seasons", ink, 0, 0, draw.XLeft)
	label(p, last-0.05, 1.06*top, "thick line: contract", rust, 0, 0, draw.XRight)
	alt := fmt.Sprintf("Good stalks by month with %s. The worst month is %s.", words.Dryers(r.Dryers), words.Worst(r))
	return Chart{"months", alt, p, chartHeight}, nil
}

// Losses draws what became of stalks that were cut and not delivered.
func Losses(r decide.PlanResult) (Chart, error) {
	p := blank(fmt.Sprintf("From the cut to the buyer with %s", words.Dryers(r.Dryers)), "share of the stalks cut or in stock (%)", "")
	rows := append([]words.Named{{Name: "delivered", Mean: r.Flow.Delivered}}, words.Losses(r.Flow)...)
	all := r.Flow.Of(sim.Cut).Mean + r.Flow.Of(sim.Opening).Mean
	if !(all > 0) {
		all = 1
	}
	values := make(plotter.Values, len(rows))
	names := make([]string, len(rows))
	for i, row := range rows {
		k := len(rows) - 1 - i
		values[k], names[k] = 100*row.Mean.Mean/all, row.Name
	}
	bars, err := plotter.NewBarChart(values, vg.Points(15))
	if err != nil {
		return Chart{}, err
	}
	bars.Horizontal, bars.Color, bars.LineStyle.Width = true, ink, 0
	p.Add(bars)
	p.NominalY(names...)
	p.Y.Tick.Label.Font.Size = vg.Points(10)
	p.Y.Tick.Length, p.Y.LineStyle.Width = 0, 0
	p.X.Min, p.X.Max = 0, 100
	p.X.Tick.Marker = ticks([]float64{0, 20, 40, 60, 80, 100}, func(x float64) string { return fmt.Sprint(words.Round(x)) })
	for i, v := range values {
		row := rows[len(rows)-1-i]
		low, high := 100*row.Mean.Low/all, 100*row.Mean.High/all
		line, err := plotter.NewLine(plotter.XYs{{X: low, Y: float64(i) - 0.3}, {X: low, Y: float64(i) + 0.3}, {X: low, Y: float64(i)}, {X: high, Y: float64(i)}, {X: high, Y: float64(i) + 0.3}, {X: high, Y: float64(i) - 0.3}})
		if err != nil {
			return Chart{}, err
		}
		line.Color, line.Width = rust, vg.Points(1)
		p.Add(line)
		label(p, math.Min(max(v, high), 72), float64(i), fmt.Sprintf("%s: %s", words.Percent(v/100), words.Stalks(row.Mean)), labelColour(v), vg.Points(5), 0, draw.XLeft)
	}
	alt := fmt.Sprintf("Of %s stalks cut or in stock in an average season %s are delivered.", words.Whole(all), words.Stalks(r.Flow.Delivered))
	return Chart{"losses", alt, p, 3.4 * vg.Inch}, nil
}

// labelColour keeps a label readable where it has to stand on its bar.
func labelColour(value float64) color.Color {
	if value > 72 {
		return color.White
	}
	return ink
}

// Hours draws what the dryers of a plan did in the hours of their shifts, as shares of an
// average season with the interval of the mean.
func Hours(p decide.PlanResult) (Chart, error) {
	c := blank(fmt.Sprintf("What %s did in the hours of the shifts", words.Dryers(p.Dryers)), "share of the shift hours (%)", "")
	all := 0.0
	for _, s := range p.Flow.Shift() {
		all += s.Hours.Mean
	}
	if !(all > 0) {
		all = 1
	}
	var rows []decide.Spent
	for _, s := range p.Flow.Shift() {
		if s.Hours.Mean > 0.0005*all {
			rows = append(rows, s)
		}
	}
	top := 0.0
	for i, s := range rows {
		y := float64(len(rows) - 1 - i)
		share, low, high := 100*s.Hours.Mean/all, 100*s.Hours.Low/all, 100*s.Hours.High/all
		bar, err := plotter.NewPolygon(plotter.XYs{{X: 0, Y: y - 0.14}, {X: share, Y: y - 0.14}, {X: share, Y: y + 0.14}, {X: 0, Y: y + 0.14}})
		if err != nil {
			return Chart{}, err
		}
		bar.Color, bar.LineStyle.Width = ink, 0
		if words.Stands(s.On) || s.On == sim.DryerNotReady.Figure() {
			bar.Color = pale
		}
		line, err := plotter.NewLine(plotter.XYs{{X: low, Y: y}, {X: high, Y: y}})
		if err != nil {
			return Chart{}, err
		}
		line.Color, line.Width = rust, vg.Points(1.6)
		c.Add(bar, line)
		label(c, 0, y, fmt.Sprintf("%s: %s (%s h)", words.FigureRow(s.On), words.Percent(s.Hours.Mean/all), words.Whole(s.Hours.Mean)), ink, vg.Points(2), vg.Points(12), draw.XLeft)
		top = max(top, high)
	}
	c.X.Min, c.X.Max, c.Y.Min, c.Y.Max = 0, max(50, 1.05*top), -0.5, float64(len(rows))-0.2
	c.X.Tick.Marker = ticks([]float64{0, 10, 20, 30, 40, 50, 60, 80, 100}, func(x float64) string { return fmt.Sprint(words.Round(x)) })
	c.Y.Tick.Marker = ticks(nil, func(float64) string { return "" })
	c.Y.LineStyle.Width = 0
	alt := "Shares of the shift hours of the dryers:"
	for k, s := range rows {
		if k > 0 {
			alt += ","
		}
		alt += fmt.Sprintf(" %s %s", words.FigureRow(s.On), words.Percent(s.Hours.Mean/all))
	}
	return Chart{"dryer-hours", alt + ".", c, vg.Length(1.1+0.42*float64(len(rows))) * vg.Inch}, nil
}

// mostBars is how many bars the chart of what is short has at most.
const mostBars = 9

// Short draws what share of missed months each single thing would have met.
func Short(s decide.Shortage) (Chart, error) {
	p := blank("What was short when a month was missed", "missed months that it would have met (%)", "")
	rows := s.Single[:min(mostBars, len(s.Single))]
	values := make(plotter.Values, len(rows))
	names := make([]string, len(rows))
	for i, r := range rows {
		k := len(rows) - 1 - i
		values[k] = 100 * r.Met.Share
		names[k] = "" // the name stands beside its bar
	}
	bars, err := plotter.NewBarChart(values, vg.Points(8))
	if err != nil {
		return Chart{}, err
	}
	bars.Horizontal, bars.Color, bars.LineStyle.Width = true, pale, 0
	p.Add(bars)
	for i, r := range rows {
		y := float64(len(rows) - 1 - i)
		line, err := plotter.NewLine(plotter.XYs{{X: 100 * r.Met.Low, Y: y}, {X: 100 * r.Met.High, Y: y}})
		if err != nil {
			return Chart{}, err
		}
		line.Color, line.Width = rust, vg.Points(1.4)
		dot, err := plotter.NewScatter(plotter.XYs{{X: 100 * r.Met.Share, Y: y}})
		if err != nil {
			return Chart{}, err
		}
		dot.GlyphStyle = draw.GlyphStyle{Color: rust, Radius: vg.Points(2.6), Shape: draw.CircleGlyph{}}
		p.Add(line, dot)
		label(p, 0, y, words.Things(r), ink, vg.Points(2), vg.Points(12), draw.XLeft)
	}
	p.NominalY(names...)
	p.Y.Tick.Length, p.Y.LineStyle.Width = 0, 0
	p.X.Min, p.X.Max = 0, 100
	p.Y.Max = float64(len(rows)) - 0.3
	p.X.Tick.Marker = ticks([]float64{0, 20, 40, 60, 80, 100}, func(x float64) string { return fmt.Sprint(words.Round(x)) })
	alt := "What would have met missed months. "
	for _, w := range words.ShortParagraph(s) {
		alt += w
	}
	high := vg.Length(1.2+0.42*float64(len(rows))) * vg.Inch
	return Chart{"what-was-short", alt, p, high}, nil
}
