package chart

import (
	"fmt"

	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"drystalk/report/words"
	"drystalk/sim/money"
	"drystalk/sim/trials"
)

// Payback draws the net present value of a purchase as stated and under each what-if,
// with its interval.
func Payback(p money.Purchase, loanEnds int, currency string) (Chart, error) {
	c := blank(fmt.Sprintf("What the purchase is worth over %d years", p.Years), "net present value, mean and 95 % interval ("+currency+")", "")
	rows := []struct {
		name  string
		value trials.Mean
		never trials.Odds
	}{{"as stated", p.NPV, p.Never}}
	for _, w := range p.WhatIfs {
		rows = append(rows, struct {
			name  string
			value trials.Mean
			never trials.Odds
		}{words.WhatIf(w.Change), w.NPV, w.Never})
	}
	low, high := 0.0, 0.0
	for i, r := range rows {
		y := float64(len(rows) - 1 - i)
		line, err := plotter.NewLine(plotter.XYs{{X: r.value.Low, Y: y}, {X: r.value.High, Y: y}})
		if err != nil {
			return Chart{}, err
		}
		line.Color, line.Width = ink, vg.Points(1.6)
		dot, err := plotter.NewScatter(plotter.XYs{{X: r.value.Mean, Y: y}})
		if err != nil {
			return Chart{}, err
		}
		dot.GlyphStyle = draw.GlyphStyle{Color: ink, Radius: vg.Points(3.4), Shape: draw.CircleGlyph{}}
		c.Add(line, dot)
		low, high = min(low, r.value.Low), max(high, r.value.High)
	}
	span := max(1, high-low)
	c.X.Min, c.X.Max, c.Y.Min, c.Y.Max = low-0.08*span, high+0.08*span, -0.6, float64(len(rows))-0.2
	zero, err := plotter.NewLine(plotter.XYs{{X: 0, Y: c.Y.Min}, {X: 0, Y: c.Y.Max}})
	if err != nil {
		return Chart{}, err
	}
	zero.Color, zero.Width, zero.Dashes = rust, vg.Points(1.4), []vg.Length{vg.Points(6), vg.Points(3)}
	c.Add(zero)
	for i, r := range rows {
		label(c, c.X.Min, float64(len(rows)-1-i), fmt.Sprintf("%s: %s; never pays in %s of futures", r.name, words.BareMoney(r.value.Mean), words.Percent(r.never.Share)), ink, vg.Points(4), vg.Points(13), draw.XLeft)
	}
	c.Y.Tick.Marker = ticks(nil, func(float64) string { return "" })
	c.Y.LineStyle.Width = 0
	step := niceStep(max(-low, high))
	var at []float64
	for x := -step * 20; x <= c.X.Max; x += step {
		if x >= c.X.Min {
			at = append(at, x)
		}
	}
	c.X.Tick.Marker = ticks(at, words.BareMoney)
	alt := fmt.Sprintf("Net present value over %d years: %s as stated.", p.Years, words.Amounts(p.NPV, currency))
	return Chart{"purchase", alt, c, 3.2 * vg.Inch}, nil
}
