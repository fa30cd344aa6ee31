package report

import (
	"drystalk/report/table"
	"drystalk/report/words"
	"drystalk/sim/decide"
)

// ForPromise lays out the largest contract that a plan meets.
func ForPromise(region string, p decide.Promise) Report {
	r := Report{
		Title: "What can be promised: " + region, Sentence: words.PromiseSentence(region, p), Paragraph: words.PromiseParagraph(p),
		Last: []string{words.HubInShort(p.Hub)}, Notes: words.PromiseNotes(p),
	}
	if len(p.Months) > 0 {
		r.Sections = append(r.Sections, Section{Title: "Month by month", Tables: []Table{table.Promise(p)}})
	}
	return r
}
