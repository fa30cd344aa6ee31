package report

import (
	"slices"

	"drystalk/report/chart"
	"drystalk/report/table"
	"drystalk/report/words"
	"drystalk/sim/ways"
	"drystalk/tongue"
)

// ForWays lays out better ways of working.
func ForWays(a ways.Answer, currency string) (Report, error) {
	r := Report{
		Title: tongue.Sayf("Better ways of working: %s", a.Region), Sentence: words.WaysSentence(a), Paragraph: words.WaysParagraph(a, currency),
		Last: []string{words.HubInShort(a.Hub)}, Notes: words.WaysNotes(a),
	}
	drawn, err := chart.Ways(a)
	if err != nil {
		return Report{}, err
	}
	first := Section{Title: tongue.Say("In this order"), Charts: []Chart{drawn}, Tables: []Table{table.WaysOdds(a)}}
	if edits := table.WaysEdits(a); len(edits.Rows) > 0 {
		first.Tables = append(first.Tables, edits)
	}
	r.Sections = append(r.Sections, first, Section{Title: tongue.Say("People and wood"), Tables: []Table{table.WaysLives(a, currency)}})
	if len(a.Elsewhere) > 0 {
		r.Sections = append(r.Sections, Section{Title: tongue.Say("Does it travel?"), Tables: []Table{table.WaysElsewhere(a)}})
	}
	if len(a.Alone) > 0 {
		r.Sections = append(r.Sections, Section{Title: tongue.Say("Each alone"), Tables: []Table{table.WaysAlone(a)}})
	}
	return r, nil
}

// Offer is what an answer offers, beside which a free rival is set.
type Offer = words.Offer

// What is offered.
const (
	SomeDryers = words.SomeDryers
	Purchase   = words.Purchase
	List       = words.List
	Contract   = words.Contract
)

// Aim is the odds that are wanted of a goal.
type Aim = chart.Aim

// Offering is what an answer offers, and what it is asked to reach.
type Offering struct {
	Offer    Offer
	Aim      Aim
	Currency string
}

// WithRival sets the best free rival beside what a report offers, in words and as the last picture of
// its first part; nil for none.
func WithRival(r Report, rival *ways.Rival, of Offering) (Report, error) {
	if rival == nil {
		return r, nil
	}
	at := min(1, len(r.Paragraph))
	if of.Offer != Contract {
		at = 0
	}
	said := words.RivalSentence(*rival, of.Offer, of.Aim.Goal, of.Currency)
	r.Paragraph = slices.Insert(slices.Clone(r.Paragraph), at, said)
	r.Notes = append(r.Notes, words.RivalNotes(*rival, of.Offer, of.Currency)...)
	if r.Brief != nil {
		r.Brief.Words.Answer = append(r.Brief.Words.Answer, said)
	}
	if len(r.Sections) == 0 {
		return r, nil
	}
	drawn, err := chart.Beside(*rival, words.Offered(*rival, of.Offer), of.Aim)
	if err != nil {
		return Report{}, err
	}
	r.Sections = slices.Clone(r.Sections)
	r.Sections[0].Charts = append(slices.Clone(r.Sections[0].Charts), drawn)
	return r, nil
}
