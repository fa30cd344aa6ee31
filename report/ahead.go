package report

import (
	"drystalk/report/chart"
	"drystalk/report/table"
	"drystalk/report/words"
	"drystalk/sim/ahead"
	"drystalk/tongue"
)

// ForAhead lays out what lies ahead from today's stock.
func ForAhead(a ahead.Answer, currency string) (Report, error) {
	r := Report{
		Title: tongue.Sayf("From today's stock: %s", a.Region), Sentence: words.AheadSentence(a), Paragraph: words.AheadParagraph(a, currency), Notes: words.AheadNotes(a, currency),
	}
	drawn, err := chart.StockAhead(a)
	if err != nil {
		return Report{}, err
	}
	r.Sections = append(r.Sections,
		Section{Title: tongue.Say("The months ahead"), Charts: []Chart{drawn}, Tables: []Table{table.AheadWays(a, currency), table.AheadMonths(a)}},
		Section{Title: tongue.Say("In store by when"), Tables: []Table{table.AheadStock(a)}})
	if len(a.Load) > 0 {
		r.Sections = append(r.Sections, Section{Title: tongue.Say("Today at the dryers"), Tables: []Table{table.AheadLoad(a)}})
	}
	if a.Truck != nil {
		r.Sections = append(r.Sections, Section{Title: tongue.Say("The truckload"), Tables: []Table{table.AheadTruck(a)}})
	}
	return r, nil
}
