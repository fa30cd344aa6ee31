package report

import (
	"drystalk/report/chart"
	"drystalk/report/table"
	"drystalk/report/words"
	"drystalk/sim/decide"
	"drystalk/tongue"
)

// ForDryers lays out the answer to "how many dryers, and where?". The command line compare asks whether
// instalments of the plan can be paid; "" where it would be too long to name.
func ForDryers(a decide.Answer, currency, compare string) (Report, error) {
	at := a.Needed
	if at < 0 {
		at = a.Best()
	}
	p := a.Plans[at]
	oddsChart, err := chart.Odds(a)
	if err != nil {
		return Report{}, err
	}
	rest, err := planSections(standing(a, at), p)
	if err != nil {
		return Report{}, err
	}
	r := Report{
		Title: tongue.Sayf("How many dryers? %s", a.Region), Sentence: words.LosesFirst(a, at) + words.DryersSentence(a), Paragraph: words.DryersParagraph(a, at, currency),
		Last: []string{words.HubInShort(a.Hub)}, Notes: words.DryersNotes(a, at, currency, compare),
	}
	r.Brief = &Brief{Words: words.DryersBrief(a, at, currency, compare), Chart: oddsChart, Reading: readOdds.String(), Table: table.DryersBrief(a, at, currency)}
	r.Sections = append(r.Sections, Section{
		Title: tongue.Say("Odds by number of dryers"), Charts: []Chart{oddsChart}, Tables: []Table{table.Dryers(a), table.Where(a)},
	})
	if strict := table.Tolerance(a.Goal, a.Plans); len(strict.Rows) > 0 {
		s := &r.Sections[len(r.Sections)-1]
		s.Tables = append(s.Tables, strict)
	}
	if len(a.Phases) > 0 {
		s := &r.Sections[len(r.Sections)-1]
		s.Tables = append(s.Tables, table.Phases(a, currency))
	}
	r.Sections = append(r.Sections, rest...)
	short, err := shortSection(a.Short)
	if err != nil {
		return Report{}, err
	}
	r.Sections = append(r.Sections, short...)
	if len(a.Money) > 0 {
		r.Sections = append(r.Sections, Section{Title: tongue.Say("Money"), Tables: moneyTables(a, at, currency)})
	}
	if len(a.Swings) > 0 {
		s := Section{Title: tongue.Say("What to measure first"), Tables: []Table{table.Swings(a, 8)}}
		if a.Worth != nil {
			s.Tables = append(s.Tables, table.Worth(a.Worth, currency))
		}
		r.Sections = append(r.Sections, s)
	}
	return r, nil
}

// moneyTables say what each number of dryers takes, costs and earns.
func moneyTables(a decide.Answer, at int, currency string) []Table {
	out := []Table{table.ToFund(a, currency), table.Earns(a, currency)}
	if len(a.Money) > 1 {
		out = append(out, table.More(a, currency))
	}
	return append(out, table.Parts(a.Money[at], currency))
}

// standing returns what stands beside a plan in the picture of its stock: the fewest dryers tried,
// those that stand already; nil where that is the plan itself.
func standing(a decide.Answer, at int) *chart.StockOf {
	if at == 0 {
		return nil
	}
	return &chart.StockOf{Name: named(a.Plans[0]), Plan: a.Plans[0]}
}

// named calls a plan by its dryers.
func named(p decide.PlanResult) string {
	if p.Dryers == 0 {
		return tongue.Say("without a dryer")
	}
	return tongue.Sayf("with %s", words.Dryers(p.Dryers))
}

// planSections are the parts of a report about one plan; before is what stands beside it in the
// picture of its stock.
func planSections(before *chart.StockOf, p decide.PlanResult) ([]Section, error) {
	shown := []chart.StockOf{{Name: named(p), Plan: p}}
	if before != nil {
		shown = append([]chart.StockOf{*before}, shown...)
	}
	months, err := chart.HubStock(shown...)
	if err != nil {
		return nil, err
	}
	loss, err := chart.Losses(p)
	if err != nil {
		return nil, err
	}
	sections := []Section{
		{Title: tongue.Say("Month by month"), Charts: []Chart{months}, Tables: []Table{table.Months(p)}},
		{Title: tongue.Say("From the cut to the buyer"), Charts: []Chart{loss}, Tables: []Table{table.Flow(p)}},
	}
	work := Section{Title: tongue.Say("Dryers, people and wood"), Tables: []Table{table.Work(p)}}
	if p.Dryers > 0 {
		hours, err := chart.Hours(p)
		if err != nil {
			return nil, err
		}
		work.Charts = []Chart{hours}
	}
	sections = append(sections, work)
	if len(p.Rain) > 0 {
		sections = append(sections, Section{Title: tongue.Say("The weather behind it"), Tables: []Table{table.Rain(p)}})
	}
	return sections, nil
}

func shortSection(s decide.Shortage) ([]Section, error) {
	if s.Months == 0 || len(s.Single) == 0 {
		return nil, nil
	}
	out := Section{Title: tongue.Say("What was short"), Tables: []Table{table.Short(s)}}
	if len(words.Advised(s.Single)) > 0 {
		drawn, err := chart.Short(s)
		if err != nil {
			return nil, err
		}
		out.Charts = []Chart{drawn}
	}
	return []Section{out}, nil
}
