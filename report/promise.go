package report

import (
	"drystalk/report/chart"
	"drystalk/report/table"
	"drystalk/report/words"
	"drystalk/sim/decide"
	"drystalk/tongue"
)

// Promised is a promise and what it is measured against.
type Promised struct {
	Region   string
	Promise  decide.Promise
	Contract []Asked // as written
	Penalty  float64 // for a missing stalk; below 0 where no prices are stated
	Currency string
}

// ForPromise lays out the largest contract that a plan meets.
func ForPromise(o Promised) (Report, error) {
	p := o.Promise
	drawn, err := chart.Promise(p, o.Contract)
	if err != nil {
		return Report{}, err
	}
	reading := readPromised
	if p.Flat == 0 {
		reading = readNothing
	}
	r := Report{
		Title: tongue.Sayf("What can be promised: %s", o.Region), Sentence: words.PromiseSentence(o.Region, p), Paragraph: words.PromiseParagraph(p),
		Last: []string{words.HubInShort(p.Hub)}, Notes: words.PromiseNotes(p),
		Brief: &Brief{Words: words.PromiseBrief(o.Region, p, o.Penalty, o.Currency), Chart: drawn, Reading: reading.String(), Table: table.PromiseBrief(p)},
	}
	month := Section{Title: tongue.Say("Month by month"), Charts: []Chart{drawn}}
	if len(p.Months) > 0 {
		month.Tables = []Table{table.Promise(p)}
	}
	r.Sections = append(r.Sections, month)
	return r, nil
}
