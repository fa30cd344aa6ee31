package report

import (
	"drystalk/report/table"
	"drystalk/report/words"
	"drystalk/sim/decide"
	"drystalk/tongue"
)

// Odds is what is said of a plan as written.
type Odds struct {
	words.Planned
	Currency string
}

// Planned is a plan as written and what became of it.
type Planned = words.Planned

// ForOdds lays out the odds of a plan as written.
func ForOdds(o Odds) (Report, error) {
	sections, err := planSections(nil, o.Plan)
	if err != nil {
		return Report{}, err
	}
	short, err := shortSection(o.Short)
	if err != nil {
		return Report{}, err
	}
	r := Report{
		Title: tongue.Sayf("The odds of the plan: %s", o.Region), Sentence: words.OddsSentence(o.Planned), Paragraph: words.OddsParagraph(o.Planned, o.Currency),
		Last: []string{words.HubInShort(o.Hub)}, Notes: words.OddsNotes(o.Planned, o.Currency), Sections: append(sections, short...),
	}
	if strict := table.Tolerance(o.Goal, []decide.PlanResult{o.Plan}); len(strict.Rows) > 0 {
		r.Sections[0].Tables = append(r.Sections[0].Tables, strict)
	}
	if e := o.Money; e != nil {
		r.Sections = append(r.Sections, Section{Title: tongue.Say("Money"), Tables: []Table{table.Parts(*e, o.Currency)}})
	}
	return r, nil
}
