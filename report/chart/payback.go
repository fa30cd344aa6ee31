package chart

import (
	"drystalk/report/words"
	"drystalk/sim/money"
	"drystalk/sim/trials"
	"drystalk/tongue"

	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/vg"
)

// worth is what a purchase is worth under one assumption.
type worth struct {
	assumed string
	verdict money.Verdict
	futures trials.Band
	mean    trials.Mean
}

// The pens of the futures of a purchase, and of their mean.
var (
	futures = pen{grey, 8, nil}
	average = pen{ink, 2, nil}
)

// Payback draws the net present value of a purchase as stated and under each what-if: most of its
// futures, the one in their middle, and the mean with its interval. What is assumed stands beside
// the plot, so that nothing lies over the line of nothing.
func Payback(p money.Purchase, currency string) (Chart, error) {
	c := blank(tongue.Sayf("net present value after own part and loan (%s)", currency))
	all := []worth{{tongue.Say("as stated"), p.Verdict, p.NPVBand, p.NPV}}
	for _, w := range p.WhatIfs {
		all = append(all, worth{words.WhatIf(w.Change), w.Verdict, w.NPVBand, w.NPV})
	}
	low, high := 0.0, 0.0
	for _, w := range all {
		low, high = min(low, w.futures.P5, w.mean.Low), max(high, w.futures.P95, w.mean.High)
	}
	free := 0.04 * max(1, high-low)
	c.X.Min, c.X.Max, c.Y.Min, c.Y.Max = low-free, high+free, -0.6, float64(len(all))-0.4
	var at []float64
	for i, w := range all {
		at = append(at, row(i, len(all)))
		if err := line(c, level(w.futures.P5, w.futures.P95, at[i]+0.1), futures); err != nil {
			return Chart{}, err
		}
	}
	if err := line(c, upright(0, c.Y.Min, c.Y.Max), goal); err != nil {
		return Chart{}, err
	}
	for i, w := range all {
		if err := dots(c, plotter.XYs{{X: w.futures.Median, Y: at[i] + 0.1}}, ink, 3); err != nil {
			return Chart{}, err
		}
		if err := line(c, level(w.mean.Low, w.mean.High, at[i]-0.16), average); err != nil {
			return Chart{}, err
		}
	}
	c.Y.Tick.Marker = ticks(at, func(y float64) string {
		w := all[len(all)-1-words.Round(y)]
		return w.assumed + ":\n" + words.Verdict(w.verdict)
	})
	longest := 0.0
	for _, w := range all {
		longest = max(longest, wide(w.assumed+":", wordPoints), wide(words.Verdict(w.verdict), wordPoints))
	}
	c.Y.LineStyle.Width, c.Y.Tick.Length, c.Y.Padding = 0, 0, vg.Points(4+(otherFont-1)*longest)
	c.X.Tick.Marker = ticks(marks(c.X.Min, c.X.Max, niceStep(high-low)), words.BareMoney)
	alt := tongue.Sayf("Net present value over %d years after own part and loan: 5 to 95 %% of futures from %s to %s, %s on average as stated.", p.Years,
		words.Money(p.NPVBand.P5, currency), words.Money(p.NPVBand.P95, currency), words.Amounts(p.NPV, currency))
	h := headed{title: tongue.Sayf("What the purchase is worth over %d years", p.Years), body: c, marks: []mark{
		{both(stroke(futures), glyph(disc(3))), tongue.Say("bar and disc: 5 to 95 % of futures, and the middle one")}, {stroke(average), tongue.Say("line: the mean, 95 % sure")}, {post(goal), tongue.Say("dashed: nothing gained")},
	}}
	drawn := h.rows("purchase", alt, 0)
	drawn.high += vg.Length(36 * len(all))
	return drawn, nil
}
