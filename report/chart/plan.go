package chart

import (
	"fmt"
	"image/color"
	"math"
	"strings"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"drystalk/report/words"
	"drystalk/sim"
	"drystalk/sim/decide"
)

// Losses draws what became of stalks that were cut and not delivered.
func Losses(r decide.PlanResult) (Chart, error) {
	p := blank(fmt.Sprintf("From the cut to the buyer with %s", words.Dryers(r.Dryers)), "share of the stalks cut or in stock (%)", "")
	parts := append([]words.Named{{Name: "delivered", Mean: r.Flow.Delivered}}, words.Losses(r.Flow)...)
	all := r.Flow.Of(sim.Cut).Mean + r.Flow.Of(sim.Opening).Mean
	if !(all > 0) {
		all = 1
	}
	values := make(plotter.Values, len(parts)) // from below
	names := make([]string, len(parts))
	for i, part := range parts {
		k := len(parts) - 1 - i
		values[k], names[k] = 100*part.Mean.Mean/all, part.Name
	}
	if err := bars(p, values, names, barStyle{15, ink}); err != nil {
		return Chart{}, err
	}
	p.Y.Tick.Label.Font.Size = vg.Points(10)
	for i, v := range values {
		part := parts[len(parts)-1-i]
		low, high := 100*part.Mean.Low/all, 100*part.Mean.High/all
		if err := line(p, capped(low, high, float64(i), 0.3), pen{rust, 1, nil}); err != nil {
			return Chart{}, err
		}
		label(p, math.Min(max(v, high), 72), float64(i), fmt.Sprintf("%s: %s", words.Percent(v/100), words.Stalks(part.Mean)), labelColour(v), vg.Points(5), 0, draw.XLeft)
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
	spent, all := shiftHours(p.Flow)
	top := 0.0
	alt := "Shares of the shift hours of the dryers: "
	for i, s := range spent {
		y := row(i, len(spent))
		fill := ink
		if words.Stands(s.On) || s.On == sim.DryerNotReady.Figure() {
			fill = pale
		}
		if err := area(c, box(0, 100*s.Hours.Mean/all, y, 0.14), fill, pen{}); err != nil {
			return Chart{}, err
		}
		high := 100 * s.Hours.High / all
		if err := line(c, level(100*s.Hours.Low/all, high, y), pen{rust, 1.6, nil}); err != nil {
			return Chart{}, err
		}
		said := fmt.Sprintf("%s: %s (%s h)", words.FigureRow(s.On), words.Percent(s.Hours.Mean/all), words.Whole(s.Hours.Mean))
		label(c, 0, y, said, ink, vg.Points(2), vg.Points(12), draw.XLeft)
		if i > 0 {
			alt += ", "
		}
		alt += fmt.Sprintf("%s %s", words.FigureRow(s.On), words.Percent(s.Hours.Mean/all))
		top = max(top, high)
	}
	c.X.Min, c.X.Max, c.Y.Min, c.Y.Max = 0, max(50, 1.05*top), -0.5, float64(len(spent))-0.2
	c.X.Tick.Marker = ticks([]float64{0, 10, 20, 30, 40, 50, 60, 80, 100}, whole)
	unmarked(c)
	return Chart{"dryer-hours", alt + ".", c, rowsHigh(1.1, len(spent))}, nil
}

// shiftHours returns what the dryers did with more than 1 in 2,000 of their shift hours, and
// all of these hours, or 1 where there are none.
func shiftHours(f decide.Flow) (spent []decide.Spent, allH float64) {
	for _, s := range f.Shift() {
		allH += s.Hours.Mean
	}
	if !(allH > 0) {
		allH = 1
	}
	for _, s := range f.Shift() {
		if s.Hours.Mean > 0.0005*allH {
			spent = append(spent, s)
		}
	}
	return spent, allH
}

// mostBars is how many bars the chart of what is short has at most.
const mostBars = 9

// Short draws what share of missed months each single thing would have met that may be advised.
func Short(s decide.Shortage) (Chart, error) {
	p := blank("What was short when a month was missed", "missed months that it would have met (%)", "")
	if s.Whole {
		p = blank("What was short when the target was not reached", "such seasons that would have reached it (%)", "")
	}
	single := words.Advised(s.Single)
	single = single[:min(mostBars, len(single))]
	values := make(plotter.Values, len(single)) // from below
	for i, r := range single {
		values[len(single)-1-i] = 100 * r.Met.Share
	}
	unnamed := make([]string, len(single)) // the name stands beside its bar
	if err := bars(p, values, unnamed, barStyle{8, pale}); err != nil {
		return Chart{}, err
	}
	for i, r := range single {
		y := row(i, len(single))
		if err := (span{100 * r.Met.Low, 100 * r.Met.Share, 100 * r.Met.High}).across(p, y, pen{rust, 1.4, nil}, 2.6); err != nil {
			return Chart{}, err
		}
		label(p, 0, y, words.Things(r), ink, vg.Points(2), vg.Points(12), draw.XLeft)
	}
	p.Y.Max = float64(len(single)) - 0.3
	alt := "What would have met missed months. " + strings.Join(words.ShortParagraph(s), "")
	return Chart{"what-was-short", alt, p, rowsHigh(1.2, len(single))}, nil
}

// barStyle is how high the bars of shares are, in points, and their colour.
type barStyle struct {
	high   float64
	colour color.Color
}

// bars draws shares of a whole, per cent, as bars to the right, with their names, from below.
func bars(p *plot.Plot, shares plotter.Values, names []string, style barStyle) error {
	b, err := plotter.NewBarChart(shares, vg.Points(style.high))
	if err != nil {
		return err
	}
	b.Horizontal, b.Color, b.LineStyle.Width = true, style.colour, 0
	p.Add(b)
	p.NominalY(names...)
	p.Y.Tick.Length, p.Y.LineStyle.Width = 0, 0
	p.X.Min, p.X.Max = 0, 100
	p.X.Tick.Marker = ticks(everyFifth, whole)
	return nil
}

// rowsHigh is the height of a chart of so many rows under a head, inches.
func rowsHigh(head float64, n int) vg.Length {
	return vg.Length(head+0.42*float64(n)) * vg.Inch
}
