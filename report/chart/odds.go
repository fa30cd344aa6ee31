package chart

import (
	"fmt"

	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"drystalk/report/words"
	"drystalk/sim/decide"
	"drystalk/sim/spend"
)

// Odds draws the odds of the worst month against the number of dryers.
func Odds(a decide.Answer) (Chart, error) {
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
	p.X.Tick.Marker = ticks(numbers, func(x float64) string { return fmt.Sprint(words.Round(x)) })
	p.Y.Tick.Marker = ticks([]float64{0, 20, 40, 60, 80, 100}, func(y float64) string { return fmt.Sprint(words.Round(y)) })
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
	label(p, -0.45, 100*a.Target, "target: "+words.OfTen(a.Target), rust, 0, vg.Points(-8), draw.XLeft)
	alt := words.DryersSentence(a)
	return Chart{"odds-by-dryers", alt, p, chartHeight}, nil
}

// Spending draws the odds of the worst month against what is spent.
func Spending(s spend.Answer, target float64, currency string) (Chart, error) {
	p := blank("How often the worst month is met as the list is bought", "spent ("+currency+")", "seasons in which it is met (%)")
	var v intervals
	for _, b := range append([]spend.Bought{s.Start}, s.Steps...) {
		o := b.Worst.Odds
		v.XYs = append(v.XYs, plotter.XY{X: b.Spent.Units(), Y: 100 * o.Share})
		v.YErrors = append(v.YErrors, struct{ Low, High float64 }{100 * (o.Low - o.Share), 100 * (o.High - o.Share)})
	}
	top := max(1, s.Budget.Units())
	p.X.Min, p.X.Max, p.Y.Min, p.Y.Max = -0.03*top, 1.03*top, 0, 104
	var at []float64
	for x, step := 0.0, niceStep(top); x <= top; x += step {
		at = append(at, x)
	}
	p.X.Tick.Marker = ticks(at, words.BareMoney)
	p.Y.Tick.Marker = ticks([]float64{0, 20, 40, 60, 80, 100}, func(y float64) string { return fmt.Sprint(words.Round(y)) })
	rules(p, p.X.Min, p.X.Max, []float64{20, 40, 60, 80, 100})
	goal, err := plotter.NewLine(plotter.XYs{{X: p.X.Min, Y: 100 * target}, {X: p.X.Max, Y: 100 * target}})
	if err != nil {
		return Chart{}, err
	}
	goal.Color, goal.Width, goal.Dashes = rust, vg.Points(1.4), []vg.Length{vg.Points(6), vg.Points(3)}
	line, err := plotter.NewLine(v.XYs)
	if err != nil {
		return Chart{}, err
	}
	line.Color, line.Width = ink, vg.Points(0.8)
	p.Add(goal, line)
	if err := v.add(p); err != nil {
		return Chart{}, err
	}
	label(p, p.X.Min, 100*target, " target: "+words.OfTen(target), rust, 0, vg.Points(-8), draw.XLeft)
	alt := fmt.Sprintf("The worst month is met in %s with nothing bought.", words.Odds(s.Start.Worst.Odds))
	if len(s.Steps) > 0 {
		alt += fmt.Sprintf(" After the last step in %s.", words.Odds(s.Steps[len(s.Steps)-1].Worst.Odds))
	}
	return Chart{"spending", alt, p, chartHeight}, nil
}
