package report

import (
	"drystalk/report/chart"
	"drystalk/report/table"
	"drystalk/report/words"
	"drystalk/sim/decide"
	"drystalk/sim/spend"
)

// ForSpend lays out what a budget buys.
func ForSpend(region string, target float64, s spend.Answer, currency string) (Report, error) {
	r := Report{
		Title: "What to buy: " + region, Sentence: words.SpendSentence(s, currency), Paragraph: words.SpendParagraph(s, target, currency),
		Last: []string{words.HubInShort(s.Hub)}, Notes: words.SpendNotes(s, currency),
	}
	drawn, err := chart.Spending(s, target, currency)
	if err != nil {
		return Report{}, err
	}
	r.Sections = append(r.Sections, Section{Title: "In this order", Charts: []Chart{drawn}, Tables: []Table{table.Spending(s, currency)}})
	if len(s.Marginal) > 0 {
		r.Sections = append(r.Sections, Section{Title: "One step more", Tables: []Table{table.Marginal(s, currency)}})
	}
	return r, nil
}

// Doing says what a run is at.
func Doing(at decide.Doing) string { return words.Doing(at) }
