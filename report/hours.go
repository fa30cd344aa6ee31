package report

import (
	"fmt"

	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"drystalk/sim/decide"
)

// HoursChart draws what the dryers of a plan did in the hours of their shifts, as shares of an
// average season with the interval of the mean.
func HoursChart(p decide.PlanResult) (Chart, error) {
	c := blank(fmt.Sprintf("What %s did in the hours of the shifts", dryers(p.Dryers)), "share of the shift hours (%)", "")
	all := 0.0
	for _, s := range p.Flow.Shift {
		all += s.Hours.Mean
	}
	if !(all > 0) {
		all = 1
	}
	var rows []decide.Spent
	for _, s := range p.Flow.Shift {
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
		if stands[s.On] || s.On == "not yet put up" {
			bar.Color = pale
		}
		line, err := plotter.NewLine(plotter.XYs{{X: low, Y: y}, {X: high, Y: y}})
		if err != nil {
			return Chart{}, err
		}
		line.Color, line.Width = rust, vg.Points(1.6)
		c.Add(bar, line)
		label(c, 0, y, fmt.Sprintf("%s: %s (%s h)", s.On, percent(s.Hours.Mean/all), grouped(round(s.Hours.Mean))), ink, vg.Points(2), vg.Points(12), draw.XLeft)
		top = max(top, high)
	}
	c.X.Min, c.X.Max, c.Y.Min, c.Y.Max = 0, max(50, 1.05*top), -0.5, float64(len(rows))-0.2
	c.X.Tick.Marker = ticks([]float64{0, 10, 20, 30, 40, 50, 60, 80, 100}, func(x float64) string { return fmt.Sprint(round(x)) })
	c.Y.Tick.Marker = ticks(nil, func(float64) string { return "" })
	c.Y.LineStyle.Width = 0
	alt := "Shares of the shift hours of the dryers:"
	for k, s := range rows {
		if k > 0 {
			alt += ","
		}
		alt += fmt.Sprintf(" %s %s", s.On, percent(s.Hours.Mean/all))
	}
	return Chart{"dryer-hours", alt + ".", c, vg.Length(1.1+0.42*float64(len(rows))) * vg.Inch}, nil
}

// RainTable lists the rain of the months of the seasons behind an answer.
func RainTable(p decide.PlanResult) Table {
	t := Table{
		Title: fmt.Sprintf("Rain of the %s seasons (mm a month)", grouped(p.Rain[0].Mean.Seasons)),
		Head:  []string{"month", "mean", "median", "5 to 95 % of seasons"}, Left: 1,
	}
	for _, m := range p.Rain {
		t.Rows = append(t.Rows, []string{m.Name, grouped(round(m.Mean.Mean)), grouped(round(m.MM.Median)), grouped(round(m.MM.P5)) + " to " + grouped(round(m.MM.P95))})
	}
	return t
}
