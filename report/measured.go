package report

import (
	"slices"

	"drystalk/report/chart"
	"drystalk/report/table"
	"drystalk/report/words"
	"drystalk/sim/measured"
	"drystalk/tongue"
)

// FullLoadMeant is a full load before and after a log was read.
type FullLoadMeant = words.FullLoadMeant

// ForCharges lays out what a log of loads tells; file is what a scenario takes up.
func ForCharges(f measured.ChargeFit, means []FullLoadMeant, file string) (Report, error) {
	var off []chart.Off
	for _, l := range f.Loads {
		off = append(off, chart.Off{Line: l.Line, Off: 100 * (l.Out - l.Expected), SD: 100 * l.SD})
	}
	c, err := chart.Residuals(chart.Fitted("charges-residuals", tongue.Say("Loads beside the fit"), tongue.Say("moisture out, read less expected (points)")), off)
	if err != nil {
		return Report{}, err
	}
	r := Report{
		Title: tongue.Say("What a log of loads tells"), Sentence: words.MeasuredSentence(tongue.Sayf("%d loads", len(f.Loads)), f.Estimates),
		Paragraph: append(append(words.OddLines(oddLines(f.Odd)), words.MeantInShort(means)...), append(words.MeasuredInShort(f.Estimates, file), words.ExcessInShort(f.Excess, tongue.Say("load"))...)...),
		Sections:  []Section{{Title: tongue.Say("What the log tells"), Charts: []Chart{c}, Tables: []Table{table.Measured(f.Estimates), table.MeasuredLoads(f.Loads)}}},
	}
	return withUnused(r, append(slices.Clone(f.Odd), f.Unused...)), nil
}

// withUnused lists the lines that tell nothing, if there are any.
func withUnused(r Report, lines []measured.NotUsed) Report {
	if len(lines) > 0 {
		r.Sections[0].Tables = append(r.Sections[0].Tables, table.NotUsed(lines))
	}
	return r
}

// OutputMeasured is what a tally of cutting tells, for its sentences.
type OutputMeasured = words.OutputMeasured

// oddLines returns the lines that were left out.
func oddLines(odd []measured.NotUsed) (lines []int) {
	for _, o := range odd {
		lines = append(lines, o.Line)
	}
	return lines
}

// ForOutput lays out what a tally of cutting tells; file is what a scenario takes up.
func ForOutput(f measured.OutputFit, file string) (Report, error) {
	said := words.OutputMeasured{Days: len(f.Days), PerH: f.PerH, Low: f.LowPerH, High: f.HighPerH, Stated: f.StatedPerH, DaySD: f.DaySD, DaySDLow: f.DaySDLow, DaySDHigh: f.DaySDHigh, Missing: f.MissingDays}
	var off []chart.Off
	for _, d := range f.Days {
		off = append(off, chart.Off{Line: d.Line, Off: d.PerH - f.PerH, SD: f.DaySD * f.PerH})
	}
	c, err := chart.Residuals(chart.Residual{
		Name: "output-residuals", Title: tongue.Say("Days beside their mean"), Axis: tongue.Say("stalks per person-hour, day less mean"),
		Dots: tongue.Say("dots: days"), Bars: tongue.Say("bars: two standard deviations between days, in which 19 of 20 days lie"), Shows: tongue.Say("how far each of %d days lies from the mean of all"),
	}, off)
	if err != nil {
		return Report{}, err
	}
	r := Report{
		Title: tongue.Say("What a tally of cutting tells"), Sentence: words.OutputSentence(said),
		Paragraph: append(append(words.OddLines(oddLines(f.Odd)), append(words.FarLines(f.FarLines), words.OutputParagraph(said)...)...), words.MeasuredInShort(f.Estimates, file)...),
		Sections:  []Section{{Title: tongue.Say("What the tally tells"), Charts: []Chart{c}, Tables: []Table{table.MeasuredOutput(f), table.OutputDays(f.Days)}}},
	}
	return withUnused(r, f.Odd), nil
}

// ForRacks lays out what a log of weighings tells; file is what a scenario takes up.
func ForRacks(f measured.RackFit, file string) (Report, error) {
	var off []chart.Off
	for _, s := range f.Spans {
		off = append(off, chart.Off{Line: s.Line, Off: 100 * (s.To/(1+s.To) - s.Expected/(1+s.Expected)), SD: 100 * s.SD / ((1 + s.Expected) * (1 + s.Expected))})
	}
	c, err := chart.Residuals(chart.Fitted("racks-residuals", tongue.Say("Weighings beside the fit"), tongue.Say("moisture, weighed less expected (points)")), off)
	if err != nil {
		return Report{}, err
	}
	r := Report{
		Title: tongue.Say("What weighings on racks tell"), Sentence: words.MeasuredSentence(tongue.Sayf("%d times between weighings", len(f.Spans)), f.Estimates) + words.StoodInSentence(f.StoodIn),
		Paragraph: append(append(words.OddTimes(f.Odd), words.MeasuredInShort(f.Estimates, file)...), words.ExcessInShort(f.Excess, tongue.Say("time"))...),
		Sections:  []Section{{Title: tongue.Say("What the log tells"), Charts: []Chart{c}, Tables: []Table{table.Measured(f.Estimates), table.RackSpans(f.Spans)}}},
	}
	return withUnused(r, append(slices.Clone(f.Odd), f.Unused...)), nil
}
