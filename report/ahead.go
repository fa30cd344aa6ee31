package report

import (
	"drystalk/report/chart"
	"drystalk/report/table"
	"drystalk/report/words"
	"drystalk/sim/ahead"
)

// ForAhead lays out what lies ahead from today's stock.
func ForAhead(a ahead.Answer, currency string) (Report, error) {
	r := Report{
		Title: "From today's stock: " + a.Region, Sentence: words.AheadSentence(a), Paragraph: words.AheadParagraph(a, currency), Notes: words.AheadNotes(a, currency),
	}
	drawn, err := chart.StockAhead(a)
	if err != nil {
		return Report{}, err
	}
	r.Sections = append(r.Sections,
		Section{Title: "The months ahead", Charts: []Chart{drawn}, Tables: []Table{table.AheadWays(a, currency), table.AheadMonths(a)}},
		Section{Title: "In store by when", Tables: []Table{table.AheadStock(a)}})
	if len(a.Load) > 0 {
		r.Sections = append(r.Sections, Section{Title: "Today at the dryers", Tables: []Table{table.AheadLoad(a)}})
	}
	if a.Truck != nil {
		r.Sections = append(r.Sections, Section{Title: "The truckload", Tables: []Table{table.AheadTruck(a)}})
	}
	return r, nil
}
