// Package table lays figures out in rows and columns of text.
package table

import (
	"strings"
	"unicode/utf8"

	"drystalk/report/words"
	"drystalk/sim"
	"drystalk/tongue"
)

// Table is a heading, column heads and rows of cells.
type Table struct {
	Title string
	Head  []string
	Rows  [][]Cell
	Left  int      // columns from the left that hold text; the rest are figures
	Apart []string // the heads where each column must be told apart by its head; nil for Head
	Sheet string   // what its sheet of a workbook is called, in at most 31 letters; "" where its title says it
	Sums  int      // rows at the foot that sum up those above, or say what all of them do
	Said  bool     // rows of sentences: broken into lines on a terminal, and no figures

	Together int // so many columns of figures that follow each other are read together and not parted on paper; 0: each stands alone
}

// Words returns the rows as they are read.
func (t Table) Words() [][]string {
	out := make([][]string, len(t.Rows))
	for i, row := range t.Rows {
		for _, c := range row {
			out[i] = append(out[i], c.Text)
		}
	}
	return out
}

// Text writes the table for a terminal.
func (t Table) Text() string {
	rows := append([][]string{t.Head}, t.Words()...)
	width := make([]int, len(t.Head))
	for _, row := range rows {
		for i, cell := range row {
			width[i] = max(width[i], utf8.RuneCountInString(cell))
		}
	}
	var b strings.Builder
	b.WriteString(t.Title + "\n")
	if t.Said {
		t.sayRows(&b, width)
		return b.String()
	}
	for _, row := range rows {
		var line strings.Builder
		for i, cell := range row {
			pad := strings.Repeat(" ", width[i]-utf8.RuneCountInString(cell))
			line.WriteString("  ")
			if i < t.Left {
				line.WriteString(cell + pad)
			} else {
				line.WriteString(pad + cell)
			}
		}
		b.WriteString(strings.TrimRight(line.String(), " ") + "\n")
	}
	return b.String()
}

// sayRows writes rows whose last column holds sentences, which are broken into lines.
func (t Table) sayRows(b *strings.Builder, width []int) {
	before := 2
	for _, w := range width[:len(width)-1] {
		before += w + 2
	}
	for _, row := range t.Words() {
		start := " "
		for i, cell := range row[:len(row)-1] {
			start += " " + cell + strings.Repeat(" ", width[i]-utf8.RuneCountInString(cell)) + " "
		}
		text := words.WrappedTo(row[len(row)-1], words.LineLength-before)
		b.WriteString(start + " " + strings.ReplaceAll(text, "\n", "\n"+strings.Repeat(" ", before)) + "\n")
	}
}

// Notes lists what stands beside an answer in sentences.
func Notes(list []words.Note) Table {
	t := Table{Title: tongue.Say("More about this answer"), Head: []string{tongue.Say("about"), tongue.Say("what is known")}, Left: 2, Said: true}
	for _, n := range list {
		t.Rows = append(t.Rows, texts(n.About, n.Says))
	}
	return t
}

// Assumptions lists assumptions.
func Assumptions(list []sim.Assumption) Table {
	t := Table{Title: tongue.Say("Assumptions"), Head: []string{tongue.Say("what"), tongue.Say("value"), tongue.Say("source"), tongue.Say("varied")}, Left: 4}
	for _, a := range list {
		varied := ""
		if a.VariedInTrials {
			varied = tongue.Say("each season")
		}
		t.Rows = append(t.Rows, texts(a.Name, a.Value, a.Source, varied))
	}
	return t
}
