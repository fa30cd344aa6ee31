package report

import (
	"fmt"
	"slices"

	"drystalk/report/chart"
	"drystalk/report/table"
	"drystalk/report/words"
	"drystalk/sim/measured"
)

// FullLoadMeant is a full load before and after a log was read.
type FullLoadMeant = words.FullLoadMeant

// ForCharges lays out what a log of loads tells; file is what a scenario takes up.
func ForCharges(f measured.ChargeFit, means []FullLoadMeant, file string) (Report, error) {
	var off []chart.Off
	var odd []int
	for _, l := range f.Loads {
		off = append(off, chart.Off{Line: l.Line, Off: 100 * (l.Out - l.Expected), SD: 100 * l.SD})
	}
	for _, l := range f.Odd {
		odd = append(odd, l.Line)
	}
	c, err := chart.Residuals("charges-residuals", "Loads beside the fit", "moisture out, read less expected (points)", off)
	if err != nil {
		return Report{}, err
	}
	r := Report{
		Title: "What a log of loads tells", Sentence: words.MeasuredSentence(fmt.Sprintf("%d loads", len(f.Loads)), f.Estimates),
		Paragraph: append(append(words.OddLines(odd), words.MeantInShort(means)...), append(words.MeasuredInShort(f.Estimates, file), words.ExcessInShort(f.Excess, "load")...)...),
		Sections:  []Section{{Title: "What the log tells", Charts: []Chart{c}, Tables: []Table{table.Measured(f.Estimates), table.MeasuredLoads(f.Loads)}}},
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
