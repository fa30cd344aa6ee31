package report

import (
	"drystalk/report/table"
	"drystalk/report/words"
	"drystalk/sim/decide"
	"drystalk/sim/goal"
)

// Odds is what is said of a plan as written.
type Odds struct {
	Region   string
	Target   float64
	Goal     goal.Goal
	Sites    []string
	Plan     decide.PlanResult
	Hub      decide.HubAir
	Short    decide.Shortage
	Money    *decide.Earns // nil where no prices are stated
	Currency string
}

// ForOdds lays out the odds of a plan as written.
func ForOdds(o Odds) (Report, error) {
	sections, err := planSections(o.Plan)
	if err != nil {
		return Report{}, err
	}
	short, err := shortSection(o.Short)
	if err != nil {
		return Report{}, err
	}
	r := Report{
		Title: "The odds of the plan: " + o.Region, Sentence: words.OddsSentence(o.Region, o.Target, o.Goal, o.Sites, o.Plan), Sections: append(sections, short...),
		Paragraph: append([]string{words.StrictOdds(o.Plan), words.Beside(o.Goal, o.Plan), words.HubSentence(o.Hub)}, words.ShortParagraph(o.Short)...),
	}
	if strict := table.Tolerance(o.Goal, []decide.PlanResult{o.Plan}); len(strict.Rows) > 0 {
		r.Sections[0].Tables = append(r.Sections[0].Tables, strict)
	}
	if e := o.Money; e != nil {
		r.Paragraph = append(r.Paragraph, words.PlanEarnsSentence(*e, o.Currency))
		r.Sections = append(r.Sections, Section{Title: "Money", Tables: []Table{table.Parts(*e, o.Currency)}})
		if e.Net.High < 0 {
			r.Sentence = "This plan loses money. " + r.Sentence
		}
	}
	return r, nil
}
