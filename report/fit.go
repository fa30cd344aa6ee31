package report

import (
	"fmt"
	"math"
	"strconv"

	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"drystalk/sim/decide"
	"drystalk/sim/weather"
)

// ForFit lays out how well a fitted climate reproduces its record.
func ForFit(f weather.FitReport) (Report, error) {
	s := f.Summary
	inside := 0
	for _, l := range f.Lines {
		if l.Inside {
			inside++
		}
	}
	r := Report{
		Title: "The weather of " + s.Station,
		Sentence: fmt.Sprintf("The generator fitted to %s, %d to %d (%d complete years), is %s: %d of %d statistics of the record lie where 95 %% of simulated records of its length do.",
			s.Station, s.FirstYear, s.LastYear, s.Complete, f.Verdict, inside, len(f.Lines)),
		Paragraph: []string{fmt.Sprintf("%s simulated years in %d blocks. It knows no more than the record: a change of climate is not in it.", grouped(f.Years), f.Blocks)},
	}
	for _, sentence := range append(append([]string(nil), f.Why...), s.Findings...) {
		r.Paragraph = append(r.Paragraph, ended(sentence))
	}
	for _, q := range s.Refused {
		r.Warnings = append(r.Warnings, fmt.Sprintf("%d is not used: %s.", q.Year, q.Refused))
		if len(r.Warnings) == 12 {
			r.Warnings = append(r.Warnings, fmt.Sprintf("and %d more years.", len(s.Refused)-12))
			break
		}
	}
	months, err := linesChart("rain-by-month", "Rain of the months of the rains", "mean rain (mm)", pick(f, "mean rain of "))
	if err != nil {
		return Report{}, err
	}
	spells, err := linesChart("spells", "Wet and dry spells in the rains", "spells a season (number)", pick(f, "spells of at least"))
	if err != nil {
		return Report{}, err
	}
	r.Sections = []Section{
		{Title: "Observed and simulated", Charts: []Chart{months, spells}, Tables: []Table{fitTable(f)}},
		{Title: "The record", Tables: []Table{recordTable(s)}},
	}
	return r, nil
}

// pick returns the lines whose names hold words, with short names.
func pick(f weather.FitReport, words string) []weather.Line {
	var out []weather.Line
	for _, l := range f.Lines {
		name := l.Name
		if words == "mean rain of " && len(name) == len(words)+3 && name[:len(words)] == words {
			l.Name = name[len(words):]
			out = append(out, l)
		}
		var kind string
		var days int
		if n, _ := fmt.Sscanf(name, "%s spells of at least %d days", &kind, &days); n == 2 && words == "spells of at least" {
			l.Name = fmt.Sprintf("%s %d+ d", kind, days)
			out = append(out, l)
		}
	}
	return out
}

// linesChart draws lines: the simulated band, and a cross for what was observed.
func linesChart(name, title, unit string, lines []weather.Line) (Chart, error) {
	p := blank(title, "", unit)
	var v intervals
	var at []float64
	var seen plotter.XYs
	top := 0.0
	for i, l := range lines {
		v.XYs = append(v.XYs, plotter.XY{X: float64(i), Y: l.Simulated})
		v.YErrors = append(v.YErrors, struct{ Low, High float64 }{math.Min(0, l.Low-l.Simulated), math.Max(0, l.High-l.Simulated)})
		seen = append(seen, plotter.XY{X: float64(i) + 0.16, Y: l.Observed})
		at = append(at, float64(i))
		top = max(top, l.High, l.Observed)
	}
	last := float64(len(lines)) - 0.5
	p.X.Min, p.X.Max, p.Y.Min, p.Y.Max = -0.5, last, 0, 1.14*top
	p.X.Tick.Marker = ticks(at, func(x float64) string { return lines[round(x)].Name })
	step := niceStep(top)
	var marks []float64
	for y := 0.0; y <= 1.14*top; y += step {
		marks = append(marks, y)
	}
	p.Y.Tick.Marker = ticks(marks, func(y float64) string { return strconv.FormatFloat(y, 'g', 4, 64) })
	rules(p, -0.5, last, marks[1:])
	if err := v.add(p); err != nil {
		return Chart{}, err
	}
	crosses, err := plotter.NewScatter(seen)
	if err != nil {
		return Chart{}, err
	}
	crosses.GlyphStyle = draw.GlyphStyle{Color: rust, Radius: vg.Points(4), Shape: draw.CrossGlyph{}}
	p.Add(crosses)
	label(p, -0.45, 1.08*top, "dot and bar: simulated, 95 % of blocks", ink, 0, 0, draw.XLeft)
	label(p, last-0.05, 1.08*top, "cross: observed", rust, 0, 0, draw.XRight)
	return Chart{name, title + ": observed values against the simulated band.", p, chartHeight}, nil
}

func figure(x float64) string { return strconv.FormatFloat(x, 'g', 3, 64) }

func fitTable(f weather.FitReport) Table {
	t := Table{Title: fmt.Sprintf("Statistics of the record against %s simulated years", grouped(f.Years)), Head: []string{"", "unit", "observed", "simulated", "95 % of blocks", "inside"}, Left: 2}
	for _, l := range f.Lines {
		in := "yes"
		if !l.Inside {
			in = "no"
		}
		t.Rows = append(t.Rows, []string{l.Name, l.Unit, wholeOr(l.Observed), wholeOr(l.Simulated), wholeOr(l.Low) + " to " + wholeOr(l.High), in})
	}
	return t
}

// wholeOr writes large numbers whole and small ones with three digits.
func wholeOr(x float64) string {
	if math.Abs(x) >= 1000 {
		return grouped(round(x))
	}
	return figure(x)
}

func recordTable(s weather.Summary) Table {
	t := Table{Title: fmt.Sprintf("%s, %d to %d: %d complete years, %d used", s.Station, s.FirstYear, s.LastYear, s.Complete, s.Used), Head: []string{"month", "rain mm", "days with 1 mm"}, Left: 1}
	for m := range 12 {
		t.Rows = append(t.Rows, []string{monthName(m), fmt.Sprint(round(s.RainMM[m])), fmt.Sprintf("%.1f", s.RainDays[m])})
	}
	return t
}

func monthName(m int) string {
	return [12]string{"January", "February", "March", "April", "May", "June", "July", "August", "September", "October", "November", "December"}[m]
}

// YearsSentence says how the plan fares in real years, and whether the generator agrees.
func YearsSentence(y decide.YearsResult) string {
	all, worst := 0, 0
	for _, r := range y.Years {
		if r.Met == r.Asked {
			all++
		}
	}
	for k, m := range y.Months {
		if m.Real.Share < y.Months[worst].Real.Share {
			worst = k
		}
	}
	s := fmt.Sprintf("In the %d real seasons of %s all months would have been met in %d.", len(y.Years), y.Station, all)
	if len(y.Months) > 0 {
		m := y.Months[worst]
		s += fmt.Sprintf(" The worst month, %s, in %s of them; the generator says %s.", m.Name, odds(m.Real), odds(m.Generator))
	}
	if y.Agree {
		return s + " The two agree within their intervals."
	}
	return s + " They do not agree: trust the real years, and look at the fit of the weather."
}

// YearsSection lists the real years and compares the months.
func YearsSection(y decide.YearsResult) Section {
	months := Table{Title: "Real years beside the generator (95 % intervals)", Head: []string{"month", "real years", "generator", "p-value"}, Left: 1}
	for _, m := range y.Months {
		months.Rows = append(months.Rows, []string{m.Name, odds(m.Real), odds(m.Generator), figure(m.PValue)})
	}
	years := Table{Title: fmt.Sprintf("Year by year (%d days without a rain report filled from the generator)", y.Filled), Head: []string{"year", "months met", "missed", "stalks missing", "most lost to"}, Left: 3}
	for _, r := range y.Years {
		missed := and(r.Missed)
		if missed == "" {
			missed = "-"
		}
		years.Rows = append(years.Rows, []string{strconv.Itoa(r.Year), fmt.Sprintf("%d of %d", r.Met, r.Asked), missed, grouped(r.Missing), fmt.Sprintf("%s %s", grouped(r.LostCount), r.MostLost)})
	}
	return Section{Title: "Through the real years", Tables: []Table{months, years}}
}
