// Package table lays figures out in rows and columns of text.
package table

import (
	"strings"
	"unicode/utf8"

	"drystalk/sim"
)

// Table is a heading, column heads and rows of text.
type Table struct {
	Title string
	Head  []string
	Rows  [][]string
	Left  int // columns from the left that hold text; the rest are figures
}

// Text writes the table for a terminal.
func (t Table) Text() string {
	width := make([]int, len(t.Head))
	for _, row := range append([][]string{t.Head}, t.Rows...) {
		for i, cell := range row {
			width[i] = max(width[i], utf8.RuneCountInString(cell))
		}
	}
	var b strings.Builder
	b.WriteString(t.Title + "\n")
	for _, row := range append([][]string{t.Head}, t.Rows...) {
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
		t.Rows = append(t.Rows, []string{a.Name, a.Value, a.Source, varied})
	}
	return t
}
