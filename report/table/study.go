package table

import (
	"drystalk/report/words"
	"drystalk/tongue"
)

// StudyPoints lists the points of a study.
func StudyPoints(points []words.StudyPoint, seasons int, currency string) Table {
	t := Table{
		Title: tongue.Sayf("Points of the study (%s seasons each, 95 %% intervals)", words.Grouped(seasons)),
		Head:  []string{tongue.Say("point"), tongue.Say("worst month"), tongue.Say("met in"), tongue.Say("all months met in"), tongue.Say("delivered")}, Left: 2,
	}
	if points[0].Net != nil {
		t.Head = append(t.Head, tongue.Sayf("net of a season, %s", currency))
	}
	for _, p := range points {
		row := []Cell{text(p.Name), worstMonth(p.WorstMonth, p.Worst), odds(p.Worst), odds(p.All), percent(p.Delivered)}
		if p.Net != nil {
			row = append(row, meanSpan(*p.Net, currency))
		}
		t.Rows = append(t.Rows, row)
	}
	return t
}

// StudyEffects lists what the inputs of a study do.
func StudyEffects(effects []words.StudyEffect) Table {
	t := Table{Title: tongue.Say("What moves the outcomes (95 % intervals by bootstrap over the rows of the design)"), Head: []string{tongue.Say("point"), tongue.Say("outcome"), tongue.Say("input"), tongue.Say("what"), tongue.Say("estimate"), tongue.Say("interval")}, Left: 4}
	for _, e := range effects {
		interval := text("")
		if e.Effect.Low == e.Effect.Low { // NaN: none is known
			interval = text(tongue.Sayf("%s to %s", words.WholeOrFigure(e.Effect.Low), words.WholeOrFigure(e.Effect.High)))
			if doubt := words.EffectDoubt(e); doubt != "" {
				interval.Text += " (" + doubt + ")"
			}
		}
		t.Rows = append(t.Rows, []Cell{text(e.Point), text(e.Outcome), text(e.Input), text(e.What), one(words.WholeOrFigure(e.Effect.Mean), Real, e.Unit, e.Effect.Mean), interval})
	}
	return t
}
