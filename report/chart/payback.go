package chart

import (
	"fmt"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"drystalk/report/words"
	"drystalk/sim/money"
	"drystalk/sim/trials"
)

// worth is what a purchase is worth under one assumption.
type worth struct {
	assumed string
	value   trials.Mean
	never   trials.Odds // it pays back
}

// Payback draws the net present value of a purchase as stated and under each what-if,
// with its interval.
func Payback(p money.Purchase, currency string) (Chart, error) {
	c := blank(fmt.Sprintf("What the purchase is worth over %d years", p.Years), "net present value, mean and 95 % interval ("+currency+")", "")
	all := []worth{{"as stated", p.NPV, p.Never}}
	for _, w := range p.WhatIfs {
		all = append(all, worth{words.WhatIf(w.Change), w.NPV, w.Never})
	}
	low, high := 0.0, 0.0
	for i, w := range all {
		if err := (span{w.value.Low, w.value.Mean, w.value.High}).across(c, row(i, len(all)), pen{ink, 1.6, nil}, 3.4); err != nil {
			return Chart{}, err
		}
		low, high = min(low, w.value.Low), max(high, w.value.High)
	}
	free := 0.08 * max(1, high-low)
	c.X.Min, c.X.Max, c.Y.Min, c.Y.Max = low-free, high+free, -0.6, float64(len(all))-0.2
	if err := line(c, upright(0, c.Y.Min, c.Y.Max), goal); err != nil {
		return Chart{}, err
	}
	for i, w := range all {
		said := fmt.Sprintf("%s: %s; never pays in %s of futures", w.assumed, words.BareMoney(w.value.Mean), words.Percent(w.never.Share))
		label(c, c.X.Min, row(i, len(all)), said, ink, vg.Points(4), vg.Points(13), draw.XLeft)
	}
	unmarked(c)
	c.X.Tick.Marker = ticks(marks(c.X.Min, c.X.Max, niceStep(max(-low, high))), words.BareMoney)
	alt := fmt.Sprintf("Net present value over %d years: %s as stated.", p.Years, words.Amounts(p.NPV, currency))
	return Chart{"purchase", alt, c, 3.2 * vg.Inch}, nil
}
