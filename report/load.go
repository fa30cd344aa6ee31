package report

import (
	"drystalk/report/table"
	"drystalk/report/words"
	"drystalk/sim/charge"
)

// LoadWords is what a sentence says of one load of a dryer.
type LoadWords = words.Load

// Load is one load of a dryer with its course.
type Load struct {
	LoadWords
	Curve []charge.Point // minute by minute
}

// ForLoad lays out one load of a dryer.
func ForLoad(l Load) Report {
	return Report{
		Title: "One load of a dryer", Sentence: words.LoadSentence(l.LoadWords), Paragraph: []string{words.LoadEnds(l.LoadWords)},
		Sections: []Section{{Title: "The load", Tables: []Table{table.Load(l.Curve)}}},
	}
}
