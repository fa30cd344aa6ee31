package report

import (
	"drystalk/report/table"
	"drystalk/report/words"
	"drystalk/sim/charge"
)

// LoadWords is what a sentence says of one load of a dryer.
type LoadWords = words.Load

// LoadCosts is one load of a comparison.
type LoadCosts = table.LoadCosts

// Load is one load of a dryer with its course.
type Load struct {
	LoadWords
	Curve    []charge.Point // minute by minute
	Costs    []LoadCosts    // this load beside others
	Currency string
}

// ForLoad lays out one load of a dryer.
func ForLoad(l Load) Report {
	return Report{
		Title: "One load of a dryer", Sentence: words.LoadSentence(l.LoadWords), Paragraph: words.LoadParagraph(l.LoadWords),
		Sections: []Section{{Title: "The load", Tables: []Table{table.Load(l.Curve), table.Costs(l.Costs, l.Currency)}}},
	}
}
