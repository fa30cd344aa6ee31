package chart

import (
	"fmt"

	"drystalk/report/words"
	"drystalk/sim"
	"drystalk/sim/decide"
	"drystalk/tongue"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// Losses draws what became of stalks that were cut and not delivered: the average season, and how
// single seasons differ.
func Losses(r decide.PlanResult) (Chart, error) {
	p := blank(tongue.Say("share of the stalks cut or in stock in an average season (%)"))
	parts := append([]words.Named{{Name: tongue.Say("delivered"), Mean: r.Flow.Delivered, Spread: r.Flow.Spread.Delivered}}, words.Losses(r.Flow)...)
	all := r.Flow.Of(sim.Cut).Mean + r.Flow.Of(sim.Opening).Mean
	if !(all > 0) {
		all = 1
	}
	top, said, longest := 100.0, 0.0, 0.0
	for i, part := range parts {
		y, mean, high := row(i, len(parts)), 100*part.Mean.Mean/all, 100*part.Spread.P95/all
		if mean > 0 {
			if err := line(p, level(0, mean, y), pen{grey, 13, nil}); err != nil {
				return Chart{}, err
			}
		}
		if high > 0 {
			if err := line(p, capped(100*part.Spread.P5/all, high, y, 0.3), seasons); err != nil {
				return Chart{}, err
			}
		}
		says := fmt.Sprintf("%s: %s", words.Percent(mean/100), words.Stalks(part.Mean))
		label(p, max(mean, high), y, says, ink, vg.Points(behind), 0, draw.XLeft)
		top, said, longest = max(top, mean, high), max(said, room(says, wordPoints)), max(longest, wide(part.Name, wordPoints))
	}
	namedRows(p, parts, longest)
	free := chartWidth.Points() - 2*margin - otherFont*longest - behind - 10
	p.X.Min, p.X.Max = 0, top*free/(free-said)
	p.X.Tick.Marker = ticks(marks(0, top, 20), whole)
	alt := tongue.Sayf("Of %s stalks cut or in stock in an average season %s are delivered.", words.Whole(all), words.Stalks(r.Flow.Delivered))
	h := headed{title: tongue.Sayf("From the cut to the buyer %s", words.WithDryersOrNone(r.Dryers)), body: p, marks: averageMarks(patch(grey, pen{}), tongue.Say("bar: what became of stalks in the average season"))}
	return h.chart("losses", alt), nil
}

// behind is how far words stand behind a bar, points.
const behind = 6

// namedRows writes the names of rows beside them, the longest so many points wide.
func namedRows(p *plot.Plot, rows []words.Named, longest float64) {
	var at plot.ConstantTicks
	for i, r := range rows {
		at = append(at, plot.Tick{Value: row(i, len(rows)), Label: r.Name})
	}
	p.Y.Tick.Marker, p.Y.Tick.Length, p.Y.LineStyle.Width = at, 0, 0
	p.Y.Min, p.Y.Max = -0.5, float64(len(rows))-0.5
	p.Y.Padding = vg.Points(4 + (otherFont-1)*longest)
}
