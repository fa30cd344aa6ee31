package chart

import (
	"fmt"
	"math"

	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/vg/draw"

	"drystalk/report/words"
	"drystalk/sim/ahead"
)

// StockAhead draws the good stalks in store by date, as now, against what must lie there for the months
// after.
func StockAhead(a ahead.Answer) (Chart, error) {
	p := blank("Good stalks in store against what the months after need", "end of", "good stalks (thousands)")
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
	p.X.Min, p.X.Max, p.Y.Min, p.Y.Max = -0.5, last, 0, 1.16*top
	p.X.Tick.Marker = ticks(at, func(x float64) string { return a.Stock[words.Round(x)].Date })
	thousands := marks(0, p.Y.Max, niceStep(top))
	p.Y.Tick.Marker = ticks(thousands, whole)
	if err := rules(p, -0.5, last, thousands[1:]); err != nil {
		return Chart{}, err
	}
	for i, s := range a.Stock {
		if err := line(p, level(float64(i)-0.42, float64(i)+0.42, float64(s.Needed)/1000), pen{rust, 2.4, nil}); err != nil {
			return Chart{}, err
		}
	}
	if err := v.add(p); err != nil {
		return Chart{}, err
	}
	label(p, -0.45, 1.1*top, "dot: as now, median; bar: 5 to 95 %", ink, 0, 0, draw.XLeft)
	label(p, last-0.05, 1.1*top, "thick line: must lie there", rust, 0, 0, draw.XRight)
	alt := fmt.Sprintf("Good stalks in store from %s on, as now and as the months after need them.", a.Today)
	return Chart{"stock-ahead", alt, p, chartHeight}, nil
}
