package report

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

	"drystalk/sim"
	"drystalk/sim/decide"
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

// encode returns the chart as "svg" or "png".
func (c Chart) encode(format string) ([]byte, error) {
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

// OddsChart draws the odds of the worst month against the number of dryers.
func OddsChart(a decide.Answer) (Chart, error) {
	p := blank("How often the worst month is met", "dryers in the region (number)", "seasons in which it is met (%)")
	var v intervals
	var numbers []float64
	for _, r := range a.Plans {
		o := r.WorstMonth().Odds
		v.XYs = append(v.XYs, plotter.XY{X: float64(r.Dryers), Y: 100 * o.Share})
		v.YErrors = append(v.YErrors, struct{ Low, High float64 }{100 * (o.Low - o.Share), 100 * (o.High - o.Share)})
		numbers = append(numbers, float64(r.Dryers))
	}
	last := numbers[len(numbers)-1]
	p.X.Min, p.X.Max, p.Y.Min, p.Y.Max = -0.5, last+0.5, 0, 104
	for len(numbers) > 16 {
		numbers = everySecond(numbers)
	}
	p.X.Tick.Marker = ticks(numbers, func(x float64) string { return fmt.Sprint(round(x)) })
	p.Y.Tick.Marker = ticks([]float64{0, 20, 40, 60, 80, 100}, func(y float64) string { return fmt.Sprint(round(y)) })
	rules(p, -0.5, last+0.5, []float64{20, 40, 60, 80, 100})
	target, err := plotter.NewLine(plotter.XYs{{X: -0.5, Y: 100 * a.Target}, {X: last + 0.5, Y: 100 * a.Target}})
	if err != nil {
		return Chart{}, err
	}
	target.Color, target.Width, target.Dashes = rust, vg.Points(1.4), []vg.Length{vg.Points(6), vg.Points(3)}
	line, err := plotter.NewLine(v.XYs)
	if err != nil {
		return Chart{}, err
	}
	line.Color, line.Width = ink, vg.Points(0.8)
	p.Add(target, line)
	if err := v.add(p); err != nil {
		return Chart{}, err
	}
	label(p, -0.45, 100*a.Target, "target: "+ofTen(a.Target), rust, 0, vg.Points(-8), draw.XLeft)
	alt := Sentence(a)
	return Chart{"odds-by-dryers", alt, p, chartHeight}, nil
}

func everySecond(x []float64) []float64 {
	var out []float64
	for i := 0; i < len(x); i += 2 {
		out = append(out, x[i])
	}
	return out
}

// MonthsChart draws the good stalks of each contract month against the contract.
func MonthsChart(r decide.PlanResult) (Chart, error) {
	p := blank(fmt.Sprintf("Good stalks at the hub with %s, month by month", dryers(r.Dryers)), "contract month", "good stalks (thousands)")
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
	p.X.Tick.Marker = ticks(at, func(x float64) string { return r.Months[round(x)].Name[:3] })
	step := niceStep(top)
	var marks []float64
	for y := 0.0; y <= 1.12*top; y += step {
		marks = append(marks, y)
	}
	p.Y.Tick.Marker = ticks(marks, func(y float64) string { return fmt.Sprint(round(y)) })
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
	alt := fmt.Sprintf("Good stalks by month with %s. The worst month is %s.", dryers(r.Dryers), worst(r))
	return Chart{"months", alt, p, chartHeight}, nil
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

// LossChart draws what became of stalks that were cut and not delivered.
func LossChart(r decide.PlanResult) (Chart, error) {
	p := blank(fmt.Sprintf("From the cut to the buyer with %s", dryers(r.Dryers)), "share of the stalks cut or in stock (%)", "")
	rows := append([]flowRow{{"delivered", r.Flow.Delivered}}, losses(r.Flow)...)
	all := r.Flow.Cut.Mean + r.Flow.OpeningStock.Mean
	if !(all > 0) {
		all = 1
	}
	values := make(plotter.Values, len(rows))
	names := make([]string, len(rows))
	for i, row := range rows {
		k := len(rows) - 1 - i
		values[k], names[k] = 100*row.mean.Mean/all, row.name
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
	p.X.Tick.Marker = ticks([]float64{0, 20, 40, 60, 80, 100}, func(x float64) string { return fmt.Sprint(round(x)) })
	for i, v := range values {
		row := rows[len(rows)-1-i]
		low, high := 100*row.mean.Low/all, 100*row.mean.High/all
		line, err := plotter.NewLine(plotter.XYs{{X: low, Y: float64(i) - 0.3}, {X: low, Y: float64(i) + 0.3}, {X: low, Y: float64(i)}, {X: high, Y: float64(i)}, {X: high, Y: float64(i) + 0.3}, {X: high, Y: float64(i) - 0.3}})
		if err != nil {
			return Chart{}, err
		}
		line.Color, line.Width = rust, vg.Points(1)
		p.Add(line)
		label(p, math.Min(max(v, high), 72), float64(i), fmt.Sprintf("%s: %s", percent(v/100), stalks(row.mean)), labelColour(v), vg.Points(5), 0, draw.XLeft)
	}
	alt := fmt.Sprintf("Of %s stalks cut or in stock in an average season %s are delivered.", grouped(round(all)), stalks(r.Flow.Delivered))
	return Chart{"losses", alt, p, 3.4 * vg.Inch}, nil
}

// StockChart draws where the stalks of a site lay through a season, with the rain.
func StockChart(site string, days []sim.SiteDay, from, to int, date func(d int) string) (Chart, error) {
	p := blank(site+": where the stalks lay", "day", "stalks at the end of the day (thousands)")
	series := []struct {
		name   string
		of     func(d *sim.SiteDay) int
		dashes []vg.Length
		width  vg.Length
	}{
		{"racks and heap", func(d *sim.SiteDay) int { return d.OnRacks + d.InHeap }, nil, vg.Points(1.8)},
		{"store", func(d *sim.SiteDay) int { return d.InStore }, []vg.Length{vg.Points(5), vg.Points(2)}, vg.Points(1.4)},
		{"dryers", func(d *sim.SiteDay) int { return d.InDryers }, []vg.Length{vg.Points(1.5), vg.Points(2)}, vg.Points(1.4)},
	}
	top := 0.0
	for _, s := range series {
		var xy plotter.XYs
		for i := from; i <= to; i++ {
			y := float64(s.of(&days[i])) / 1000
			xy = append(xy, plotter.XY{X: float64(i), Y: y})
			top = max(top, y)
		}
		line, err := plotter.NewLine(xy)
		if err != nil {
			return Chart{}, err
		}
		line.Color, line.Dashes, line.Width = ink, s.dashes, s.width
		p.Add(line)
	}
	wettest := 1.0
	for i := from; i <= to; i++ {
		wettest = max(wettest, days[i].RainMM)
	}
	top = max(1, top)
	for i := from; i <= to; i++ { // rain hangs from the top edge
		if days[i].RainMM > 0 {
			l, err := plotter.NewLine(plotter.XYs{{X: float64(i), Y: 1.5 * top}, {X: float64(i), Y: 1.5*top - 0.3*top*days[i].RainMM/wettest}})
			if err != nil {
				return Chart{}, err
			}
			l.Color, l.Width = rust, vg.Points(1)
			p.Add(l)
		}
	}
	p.X.Min, p.X.Max, p.Y.Min, p.Y.Max = float64(from)-0.5, float64(to)+0.5, 0, 1.5*top
	p.X.Tick.Marker = ticks(someDays(from, to), func(x float64) string { return date(round(x)) })
	var marks []float64
	for y, step := 0.0, niceStep(top); y <= top; y += step {
		marks = append(marks, y)
	}
	p.Y.Tick.Marker = ticks(marks, func(y float64) string { return fmt.Sprint(round(y)) })
	label(p, float64(from), 1.13*top, "thick: racks and heap; dashed: store; dotted: dryers", ink, 0, 0, draw.XLeft)
	label(p, float64(to), 1.13*top, fmt.Sprintf("from above: rain, most %.0f mm a day", wettest), rust, 0, 0, draw.XRight)
	return Chart{"stock", site + ": stalks on racks, in store and dryers by day, with the rain.", p, chartHeight}, nil
}

// Encode returns the chart as "svg" or "png".
func (c Chart) Encode(format string) ([]byte, error) { return c.encode(format) }

// labelColour keeps a label readable where it has to stand on its bar.
func labelColour(value float64) color.Color {
	if value > 72 {
		return color.White
	}
	return ink
}

func init() {
	plot.DefaultFont = font.Font{Typeface: "Liberation", Variant: "Sans"}
	plotter.DefaultFont = plot.DefaultFont
}
