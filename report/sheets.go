package report

import (
	"slices"

	"drystalk/report/book"
	"drystalk/report/paper"
	"drystalk/report/table"
	"drystalk/tongue"
)

// Spreadsheet returns the report as a workbook: first the answer, as its paper of two pages tells it
// where it has one, then a sheet for each table, with units in the headings and numbers as numbers,
// the assumptions and all cautions.
func (r Report) Spreadsheet() ([]byte, error) {
	assumed := table.AssumptionsOnce(table.Assumptions(r.Assumptions))
	return book.Spreadsheet(r.front(), append(r.sheets(), book.Sheet{Table: assumed}), Cautions())
}

// Tidy returns all figures of the report as CSV, one to a line.
func (r Report) Tidy() ([]byte, error) { return book.Tidy(r.sheets()) }

// sheets returns the tables, each with its section.
func (r Report) sheets() []book.Sheet {
	var out []book.Sheet
	for _, s := range r.All() {
		for _, t := range s.Tables {
			out = append(out, book.Sheet{Section: s.Title, Table: t})
		}
	}
	return out
}

// front returns what the first sheet says.
func (r Report) front() book.Front {
	if r.Brief == nil {
		return r.head()
	}
	b := r.brief(r.Dated)
	f := book.Front{Region: b.Region, Date: b.Date, Title: b.Question, Blocks: []book.Block{
		{Says: b.About},
		{Title: paper.TheAnswer.String(), Says: []string{b.Sentence}, Bold: true},
		{Says: append(slices.Clone(b.Answer), b.Warnings...), Table: b.Table},
	}}
	for _, p := range b.Passages {
		f.Blocks = append(f.Blocks, book.Block{Title: p.Title, Says: p.Says})
	}
	f.Blocks = append(f.Blocks, book.Block{Title: paper.HowMade.String(), Says: append([]string{b.Made + " " + paper.ThisLine.String()}, b.Lines...)})
	return f
}

// head returns the head of an answer that has no paper, and how to get it again.
func (r Report) head() book.Front {
	return book.Front{Region: r.Background.Region, Date: longDate(r.Dated), Title: r.Title, Blocks: []book.Block{
		{Title: paper.TheAnswer.String(), Says: []string{r.Sentence}, Bold: true},
		{Says: append([]string{r.Words()}, r.Warnings...)},
		{Title: tongue.Say("Cautions"), Says: []string{r.Caution()}},
		{Title: tongue.Say("How to get the same numbers"), Says: r.Reproduce},
	}}
}
