package report

import (
	"fmt"

	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"drystalk/sim/decide"
)

// shortWords says in a sentence or two what is short.
func shortWords(s decide.Shortage) []string {
	if s.Months == 0 {
		if s.OfAll == 0 {
			return nil
		}
		return []string{fmt.Sprintf("No month was missed in the %s seasons looked at for what is short.", grouped(s.OfAll))}
	}
	out := fmt.Sprintf("Of %s missed months in %s seasons", grouped(s.Months), grouped(s.OfAll))
	if len(s.Single) == 0 {
		return []string{out + " no single thing tried would have met any."}
	}
	top := s.Single[0]
	out += fmt.Sprintf(", %s would have met most: %s (%s)", top.Thing, grouped(top.Met.Met), odds(top.Met))
	for k, next := range s.Single[1:min(3, len(s.Single))] {
		if k == 0 {
			out += "; then " + next.Thing + fmt.Sprintf(" %s", grouped(next.Met.Met))
		} else {
			out += ", " + next.Thing + fmt.Sprintf(" %s", grouped(next.Met.Met))
		}
	}
	if rest := s.Months - s.Alone.Met; rest > 0 {
		out += fmt.Sprintf("; %s needed two things at once or more", grouped(rest))
	}
	return []string{out + "."}
}

// ShortTable lists what would have met missed months.
func ShortTable(s decide.Shortage) Table {
	t := Table{
		Title: fmt.Sprintf("What was short: %s missed months in %s of %s seasons, lived through again with one thing more", grouped(s.Months), grouped(s.Seasons), grouped(s.OfAll)),
		Head:  []string{"with", "months met", "of those missed"}, Left: 1,
	}
	for _, x := range s.Single {
		t.Rows = append(t.Rows, []string{x.Thing, grouped(x.Met.Met), odds(x.Met)})
	}
	t.Rows = append(t.Rows, []string{"any one of these", grouped(s.Alone.Met), odds(s.Alone)})
	for k, x := range s.Pairs {
		if k == 3 {
			break
		}
		t.Rows = append(t.Rows, []string{"none alone, but both: " + x.Thing, grouped(x.Met.Met), odds(x.Met)})
	}
	if rest := s.Months - s.Alone.Met - s.Two.Met; rest > 0 {
		t.Rows = append(t.Rows, []string{"no one and no two of the things tried", grouped(rest), percent(float64(rest) / float64(s.Months))})
	}
	return t
}

// mostBars is how many bars the chart of what is short has at most.
const mostBars = 9

// ShortChart draws what share of missed months each single thing would have met.
func ShortChart(s decide.Shortage) (Chart, error) {
	p := blank("What was short when a month was missed", "missed months that it would have met (%)", "")
	rows := s.Single[:min(mostBars, len(s.Single))]
	values := make(plotter.Values, len(rows))
	names := make([]string, len(rows))
	for i, r := range rows {
		k := len(rows) - 1 - i
		values[k] = 100 * r.Met.Share
		names[k] = "" // the name stands beside its bar
	}
	bars, err := plotter.NewBarChart(values, vg.Points(8))
	if err != nil {
		return Chart{}, err
	}
	bars.Horizontal, bars.Color, bars.LineStyle.Width = true, pale, 0
	p.Add(bars)
	for i, r := range rows {
		y := float64(len(rows) - 1 - i)
		line, err := plotter.NewLine(plotter.XYs{{X: 100 * r.Met.Low, Y: y}, {X: 100 * r.Met.High, Y: y}})
		if err != nil {
			return Chart{}, err
		}
		line.Color, line.Width = rust, vg.Points(1.4)
		dot, err := plotter.NewScatter(plotter.XYs{{X: 100 * r.Met.Share, Y: y}})
		if err != nil {
			return Chart{}, err
		}
		dot.GlyphStyle = draw.GlyphStyle{Color: rust, Radius: vg.Points(2.6), Shape: draw.CircleGlyph{}}
		p.Add(line, dot)
		label(p, 0, y, r.Thing, ink, vg.Points(2), vg.Points(12), draw.XLeft)
	}
	p.NominalY(names...)
	p.Y.Tick.Length, p.Y.LineStyle.Width = 0, 0
	p.X.Min, p.X.Max = 0, 100
	p.Y.Max = float64(len(rows)) - 0.3
	p.X.Tick.Marker = ticks([]float64{0, 20, 40, 60, 80, 100}, func(x float64) string { return fmt.Sprint(round(x)) })
	alt := "What would have met missed months. "
	for _, w := range shortWords(s) {
		alt += w
	}
	high := vg.Length(1.2+0.42*float64(len(rows))) * vg.Inch
	return Chart{"what-was-short", alt, p, high}, nil
}

func shortSection(s decide.Shortage) ([]Section, error) {
	if s.Months == 0 || len(s.Single) == 0 {
		return nil, nil
	}
	chart, err := ShortChart(s)
	if err != nil {
		return nil, err
	}
	return []Section{{Title: "What was short", Charts: []Chart{chart}, Tables: []Table{ShortTable(s)}}}, nil
}
