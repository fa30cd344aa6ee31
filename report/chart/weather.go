package chart

import (
	"fmt"
	"math"
	"strings"

	"drystalk/report/words"
	"drystalk/sim/weather"
	"drystalk/tongue"

	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// Rain draws the mean rain of the months of the rains, observed and simulated.
func Rain(f weather.FitReport) (Chart, error) {
	return linesChart(generated{"rain-by-month", tongue.Say("Rain of the months of the rains"), tongue.Say("month"), tongue.Say("mean rain (mm)")}, pick(f, "mean rain of "))
}

// Spells draws how many wet and dry spells a season has, observed and simulated.
func Spells(f weather.FitReport) (Chart, error) {
	return linesChart(generated{"spells", tongue.Say("Wet and dry spells in the rains"), tongue.Say("spells of at least so many days (d)"), tongue.Say("spells a season (number)")}, pick(f, "spells of at least"))
}

// pick returns the lines whose names hold words, with short names.
func pick(f weather.FitReport, of string) []weather.Line {
	var out []weather.Line
	for _, l := range f.Lines {
		name := l.Name
		if of == "mean rain of " && len(name) == len(of)+3 && name[:len(of)] == of {
			l.Name = monthOf(name[len(of):])
			out = append(out, l)
		}
		var kind string
		var days int
		if n, _ := fmt.Sscanf(name, "%s spells of at least %d days", &kind, &days); n == 2 && of == "spells of at least" {
			l.Name = spellsOf(kind, days)
			out = append(out, l)
		}
	}
	return out
}

// monthOf says a month of which a fit writes the first letters in English.
func monthOf(letters string) string {
	for _, m := range tongue.Months {
		if strings.HasPrefix(string(m), letters) {
			return words.ShortMonth(string(m))
		}
	}
	return letters
}

// spellsOf says which spells a fit counts.
func spellsOf(kind string, days int) string {
	if kind == "wet" {
		return tongue.Sayf("wet, %d d", days)
	}
	return tongue.Sayf("dry, %d d", days)
}

// seenAt is how what was observed is marked.
var seenAt = draw.GlyphStyle{Color: rust, Radius: vg.Points(4), Shape: cross{}}

// generated is what a chart of a fitted generator says besides its values.
type generated struct{ name, title, along, upright string }

// linesChart draws lines: the simulated band, and a cross for what was observed.
func linesChart(of generated, lines []weather.Line) (Chart, error) {
	p := blank(of.along)
	var v intervals
	var at []float64
	var seen plotter.XYs
	top, beside := 0.0, 0.025*float64(len(lines)) // so that a cross stands as far from its bar however many there are
	for i, l := range lines {
		v.XYs = append(v.XYs, plotter.XY{X: float64(i), Y: l.Simulated})
		v.YErrors = append(v.YErrors, struct{ Low, High float64 }{math.Min(0, l.Low-l.Simulated), math.Max(0, l.High-l.Simulated)})
		seen = append(seen, plotter.XY{X: float64(i) + beside, Y: l.Observed})
		at = append(at, float64(i))
		top = max(top, l.High, l.Observed)
	}
	last := float64(len(lines)) - 0.5
	p.X.Min, p.X.Max, p.Y.Min, p.Y.Max = -0.5, last, 0, 1.05*top
	p.X.Tick.Marker = ticks(at, func(x float64) string { return lines[words.Round(x)].Name })
	heights := marks(0, p.Y.Max, fineStep(top))
	p.Y.Tick.Marker = ticks(heights, figure)
	if err := rules(p, -0.5, last, heights[1:]); err != nil {
		return Chart{}, err
	}
	if err := v.add(p); err != nil {
		return Chart{}, err
	}
	crosses, err := plotter.NewScatter(seen)
	if err != nil {
		return Chart{}, err
	}
	crosses.GlyphStyle = seenAt
	p.Add(crosses)
	h := headed{title: of.title, upright: of.upright, body: p, marks: []mark{
		{standing(disc(3)), tongue.Say("disc: simulated; bar: 95 % of simulated blocks as long as the record")}, {glyph(seenAt), tongue.Say("cross: observed")},
	}}
	return h.chart(of.name, tongue.Sayf("%s: observed values against the simulated band.", of.title)), nil
}
