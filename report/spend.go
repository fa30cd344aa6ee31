package report

import (
	"strconv"

	"drystalk/report/chart"
	"drystalk/report/table"
	"drystalk/report/words"
	"drystalk/sim/decide"
	"drystalk/sim/spend"
	"drystalk/tongue"
)

// ForSpend lays out what a budget buys, or the cheapest list that reaches the target.
func ForSpend(region string, target float64, s spend.Answer, currency string) (Report, error) {
	r := Report{
		Title: tongue.Sayf("What to buy: %s", region), Sentence: words.SpendSentence(s, currency), Paragraph: words.SpendParagraph(s, target, currency),
		Last: []string{words.HubInShort(s.Hub)}, Notes: words.SpendNotes(s, target, currency),
	}
	if s.Cheapest {
		r.Sentence = words.CheapestSentence(s, target, currency)
	}
	r.Notes = append(r.Notes, words.DroppedNotes(s)...)
	list, err := spendingSection(tongue.Say("In this order"), target, s, currency)
	if err != nil {
		return Report{}, err
	}
	r.Sections = append(r.Sections, list)
	r.Brief = &Brief{Words: words.SpendBrief(region, s, target, currency), Chart: list.Charts[0], Reading: readSteps.String(), Table: table.SpendBrief(s, currency)}
	if step := table.Marginal(s, currency); len(step.Rows) > 0 {
		r.Sections = append(r.Sections, Section{Title: tongue.Say("One step more"), Tables: []Table{step}})
	}
	return r, nil
}

// spendingSection is one list with its chart, and what was left out of it.
func spendingSection(title string, target float64, s spend.Answer, currency string) (Section, error) {
	drawn, err := chart.Spending(s, target, currency)
	if err != nil {
		return Section{}, err
	}
	section := Section{Title: title, Charts: []Chart{drawn}, Tables: []Table{table.Spending(s, currency)}}
	if len(s.Dropped) > 0 {
		section.Tables = append(section.Tables, table.Dropped(s, currency))
	}
	return section, nil
}

// ForBudgets lays out what each of several budgets buys, side by side.
func ForBudgets(region string, target float64, each []spend.Answer, currency string) (Report, error) {
	r := Report{
		Title: tongue.Sayf("What each budget buys: %s", region), Sentence: words.BudgetsSentence(each, target, currency), Paragraph: words.BudgetsParagraph(each, target, currency),
		Last: []string{words.HubInShort(each[len(each)-1].Hub)}, Notes: words.BudgetsNotes(each),
	}
	beside, err := chart.Budgets(each, target, currency)
	if err != nil {
		return Report{}, err
	}
	r.Sections = append(r.Sections, Section{Title: tongue.Say("Side by side"), Charts: []Chart{beside}, Tables: []Table{table.Budgets(each, currency)}})
	r.Brief = &Brief{Words: words.BudgetsBrief(region, each, target, currency), Reading: readSteps.String() + tongue.Say(" It shows the list of the largest budget."), Table: table.BudgetsBrief(each, currency)}
	for _, s := range each {
		list, err := spendingSection(tongue.Sayf("With %s", words.Amount(s.Budget, currency)), target, s, currency)
		if err != nil {
			return Report{}, err
		}
		r.Brief.Chart = list.Charts[0]
		for k, t := range list.Tables {
			list.Tables[k] = t.With(s.Budget, currency)
		}
		for k := range list.Charts {
			list.Charts[k].Name += "-" + strconv.FormatFloat(s.Budget.Units(), 'f', -1, 64)
		}
		r.Sections = append(r.Sections, list)
	}
	return r, nil
}

// Doing says what a run is at.
func Doing(at decide.Doing) string { return words.Doing(at) }
