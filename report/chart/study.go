package chart

import (
	"fmt"
	"math"
	"slices"

	"drystalk/report/words"
	"drystalk/tongue"
)

// mostRows is how many rows a chart of a study has room for.
const mostRows = 40

// StudyOdds draws in how many seasons all contract months are met at the points of a study, as far
// as there is room.
func StudyOdds(points []words.StudyPoint) (Chart, error) {
	points = points[:min(mostRows, len(points))]
	var list []named
	alt := tongue.Say("Seasons in which all contract months are met")
	for _, point := range points {
		list = append(list, named{point.Name, point.All})
		alt += fmt.Sprintf("; %s: %s", point.Name, words.Odds(point.All))
	}
	p, err := oddsRows(tongue.Say("seasons in which they are (%)"), list)
	if err != nil {
		return Chart{}, err
	}
	h := headed{title: tongue.Say("How often all contract months of a season are met"), body: p, marks: rowMarks(tongue.Say("share of the seasons of a point"))}
	return h.rows("study-odds", alt+".", len(list)), nil
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
		unit = tongue.Say("share of the variance")
	}
	if !(high > low) {
		high = low + 1
	}
	p := rowed(first.What+" ("+unit+")", n)
	p.X.Min, p.X.Max = low, high
	p.X.Tick.Marker = ticks(marks(low, high, fineStep(high-low)), words.WholeOrFigure)
	alt := tongue.Sayf("What moves %s", first.Outcome)
	for i, e := range list {
		y := row(i, n)
		if err := barred(p, span{e.Effect.Low, e.Effect.Mean, e.Effect.High}, y, pale); err != nil {
			return Chart{}, err
		}
		nameRow(p, low, y, e.Input)
		alt += fmt.Sprintf("; %s: %s", e.Input, words.WholeOrFigure(e.Effect.Mean))
	}
	h := headed{title: tongue.Sayf("What moves %s (%s)", first.Outcome, first.Point), body: p, marks: rowMarks(tongue.Say("what an input moves"))}
	return h.rows("study-effects", alt+".", n), nil
}
