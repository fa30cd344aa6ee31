// Package report composes answers of sentences, tables and charts, and writes them as text, HTML,
// spreadsheet and CSV. It draws what it is given and computes no odds. Its rooms each hold one
// kind of thing (words, table, chart, book, paper); commands and the local page come in by this
// package.
package report

import (
	"bytes"
	"slices"
	"strings"
	"time"

	"drystalk/report/paper"
	"drystalk/report/table"
	"drystalk/report/words"
	"drystalk/sim"
	"drystalk/tongue"
)

// Report is an answer laid out: sentences, charts, tables, and what they rest on.
type Report struct {
	Title       string
	Sentence    string       // the answer in one sentence
	First, Last []string     // sentences that open and close the paragraph whatever else it says
	Paragraph   []string     // the answer for a decision paper, sentence by sentence, the most telling first
	Notes       []words.Note // what stands beside the answer in sentences
	Weather     string       // how the weather was made, and how that was proven
	Sections    []Section
	Assumptions []sim.Assumption
	Warnings    []string
	Reproduce   []string // commands that give the same numbers
	Loan        bool     // a loan is among what the answer is about
	Background  Background
	Brief       *Brief    // what its paper of two pages shows; nil for answers without one
	Dated       time.Time // the day that the first sheet of the spreadsheet bears; the zero time for none
}

// Caution returns the cautions that stand beside the answer, in one line.
func (r Report) Caution() string { return CautionLine(r.Loan) }

// CautionText returns the cautions that stand beside the answer, for a terminal.
func (r Report) CautionText() string { return words.Wrapped(r.Caution()) }

// Words returns the paragraph for a decision paper as one text.
func (r Report) Words() string {
	return strings.Join(words.Paragraph(r.First, r.Paragraph, r.Last), " ")
}

// All returns the sections, that of the notes after the first, which shows the answer.
func (r Report) All() []Section {
	if len(r.Notes) == 0 {
		return r.Sections
	}
	behind := Section{Title: tongue.Say("Behind the answer"), Tables: []Table{table.Notes(r.Notes)}}
	first := min(1, len(r.Sections)) // the chart that shows the answer stays beside it, on one printed page
	return slices.Insert(slices.Clone(r.Sections), first, behind)
}

// Text returns the answer for a terminal: sentences, then the tables.
func (r Report) Text() string {
	var b bytes.Buffer
	b.WriteString(words.Wrapped(r.Sentence) + "\n")
	if paragraph := r.Words(); paragraph != "" {
		b.WriteString("\n" + words.Wrapped(paragraph) + "\n")
	}
	for _, s := range r.All() {
		for _, t := range s.Tables {
			b.WriteString("\n" + t.Text())
		}
	}
	b.WriteString("\n")
	return b.String()
}

// HTML returns the report as one self-contained page.
func (r Report) HTML() ([]byte, error) {
	return paper.Page{
		Title: r.Title, Sentence: r.Sentence, Words: r.Words(), Warnings: r.Warnings, Sections: r.All(), Weather: r.Weather,
		Assumed: table.Assumptions(r.Assumptions), Cautions: Cautions(), Reproduce: r.Reproduce,
	}.HTML()
}
