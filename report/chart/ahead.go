package chart

import (
	"math"

	"drystalk/report/words"
	"drystalk/sim/ahead"
	"drystalk/tongue"

	"gonum.org/v1/plot/plotter"
)

// StockAhead draws the good stalks in store by date, as now, against what must lie there for the months
// after.
func StockAhead(a ahead.Answer) (Chart, error) {
	p := blank(tongue.Say("at the end of the day; today in the morning"))
	var v intervals
	var at []float64
	top := 1.0
	for i, s := range a.Stock {
		b := s.Expected
		v.XYs = append(v.XYs, plotter.XY{X: float64(i), Y: b.Median / 1000})
		v.YErrors = append(v.YErrors, struct{ Low, High float64 }{(b.P5 - b.Median) / 1000, (b.P95 - b.Median) / 1000})
		at = append(at, float64(i))
		top = math.Max(top, math.Max(b.P95, float64(s.Needed))/1000)
	}
	last := float64(len(a.Stock)) - 0.5
	p.X.Min, p.X.Max, p.Y.Min, p.Y.Max = -0.5, last, 0, 1.05*top
	p.X.Tick.Marker = ticks(at, func(x float64) string { return words.StockDay(a.Stock[words.Round(x)].Date) })
	thousands := marks(0, p.Y.Max, fineStep(top))
	p.Y.Tick.Marker = ticks(thousands, figure)
	if err := rules(p, -0.5, last, thousands[1:]); err != nil {
		return Chart{}, err
	}
	for i, s := range a.Stock {
		if err := line(p, level(float64(i)-0.42, float64(i)+0.42, float64(s.Needed)/1000), wanted); err != nil {
			return Chart{}, err
		}
	}
	if err := v.add(p); err != nil {
		return Chart{}, err
	}
	h := headed{
		title: tongue.Say("Good stalks in store against what the months after need"), upright: tongue.Say("good stalks (thousands)"), body: p,
		marks: []mark{{standing(disc(3)), tongue.Say("as now: disc, the middle one of seasons; bar, 5 to 95 % of seasons")}, {stroke(wanted), tongue.Say("thick line: must lie there")}},
	}
	return h.chart("stock-ahead", tongue.Sayf("Good stalks in store from %s on, as now and as the months after need them.", words.StockDay(a.Today))), nil
}
