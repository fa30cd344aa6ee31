package chart

import (
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"drystalk/report/words"
)

// mostRows is how many rows a chart of a study has room for.
const mostRows = 40

// StudyOdds draws in how many seasons all contract months are met at the points of a study, as far
// as there is room.
func StudyOdds(points []words.StudyPoint) (Chart, error) {
	points = points[:min(mostRows, len(points))]
	n := len(points)
	p := blank("How often all contract months of a season are met", "seasons in which they are (%)", "")
	p.X.Min, p.X.Max, p.Y.Min, p.Y.Max = 0, 100, -0.6, float64(n)-0.1
	p.X.Tick.Marker = ticks(everyFifth, whole)
	alt := "Seasons in which all contract months are met"
	for i, point := range points {
		o, y := point.All, row(i, n)
		if err := area(p, box(0, 100*o.Share, y, 0.1), pale, pen{}); err != nil {
			return Chart{}, err
		}
		if err := (span{100 * o.Low, 100 * o.Share, 100 * o.High}).across(p, y, pen{ink, 1.4, nil}, 2.6); err != nil {
			return Chart{}, err
		}
		label(p, 0, y, point.Name, ink, vg.Points(2), vg.Points(12), draw.XLeft)
		alt += fmt.Sprintf("; %s: %s", point.Name, words.Odds(o))
	}
	unmarked(p)
	return Chart{"study-odds", alt + ".", p, rowsHigh(1.3, n)}, nil
}

// StudyEffects draws one effect of each input on the first outcome of the first point of a study,
// the largest first, as far as there is room.
func StudyEffects(effects []words.StudyEffect) (Chart, error) {
	first := effects[0]
	list := slices.DeleteFunc(slices.Clone(effects), func(e words.StudyEffect) bool {
		return e.Point != first.Point || e.Outcome != first.Outcome || e.What != first.What
	})
	slices.SortStableFunc(list, func(a, b words.StudyEffect) int {
		switch {
		case a.Effect.Mean > b.Effect.Mean:
			return -1
		case a.Effect.Mean < b.Effect.Mean:
			return 1
		}
		return 0
	})
	list = list[:min(mostRows, len(list))]
	n, low, high := len(list), 0.0, 0.0
	for _, e := range list {
		low, high = math.Min(low, e.Effect.Low), math.Max(high, e.Effect.High)
	}
	unit := first.Unit
	if unit == "" {
		unit = "share of the variance"
	}
	p := blank("What moves "+first.Outcome+" ("+first.Point+")", first.What+" ("+unit+")", "")
	p.X.Min, p.X.Max, p.Y.Min, p.Y.Max = low, high, -0.6, float64(n)-0.1
	p.X.Tick.Marker = ticks(marks(low, high, fineStep(high-low)), words.WholeOrFigure)
	alt := "What moves " + first.Outcome
	for i, e := range list {
		y := row(i, n)
		if err := area(p, box(0, e.Effect.Mean, y, 0.1), pale, pen{}); err != nil {
			return Chart{}, err
		}
		if err := (span{e.Effect.Low, e.Effect.Mean, e.Effect.High}).across(p, y, pen{ink, 1.4, nil}, 2.6); err != nil {
			return Chart{}, err
		}
		label(p, low, y, e.Input, ink, vg.Points(2), vg.Points(12), draw.XLeft)
		alt += fmt.Sprintf("; %s: %s", e.Input, words.WholeOrFigure(e.Effect.Mean))
	}
	unmarked(p)
	return Chart{"study-effects", alt + ".", p, rowsHigh(1.3, n)}, nil
}
