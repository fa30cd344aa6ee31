// Package table lays figures out in rows and columns of text.
package table

import (
	"strings"
	"unicode/utf8"

	"drystalk/sim"
)

// Table is a heading, column heads and rows of cells.
type Table struct {
	Title string
	Head  []string
	Rows  [][]Cell
	Left  int      // columns from the left that hold text; the rest are figures
	Apart []string // the heads where each column must be told apart by its head; nil for Head
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

// Assumptions lists assumptions.
func Assumptions(list []sim.Assumption) Table {
	t := Table{Title: "Assumptions", Head: []string{"what", "value", "source", "varied"}, Left: 4}
	for _, a := range list {
		varied := ""
		if a.VariedInTrials {
			varied = "each season"
		}
		t.Rows = append(t.Rows, texts(a.Name, a.Value, a.Source, varied))
	}
	return t
}
