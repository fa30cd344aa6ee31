// Package tidy turns seasons that were lived through into tables for other programs: a column for
// each figure, named with its unit, and a row for each season, or each season and site or month.
package tidy

import (
	"crypto/sha256"
	"encoding/binary"
	"encoding/hex"
	"fmt"
	"io"
	"math"
)

// Kind is what the cells of a column hold.
type Kind string

// The kinds of columns.
const (
	Word  Kind = "word"
	Whole Kind = "whole number"
	Real  Kind = "number"
	Yes   Kind = "yes or no" // 1 or 0
)

// Column is a column of a table.
type Column struct {
	Name    string `json:"name"`
	Unit    string `json:"unit"` // "" for a word, a bare number, yes or no
	Kind    Kind   `json:"kind"`
	Meaning string `json:"meaning"`
}

// Cell is what stands in a column: a text in a column of words, else a number. The empty text and
// NaN stand for nothing there.
type Cell struct {
	Text   string
	Number float64
}

// None is the cell of a number that is not there.
var None = Cell{Number: math.NaN()}

// Text returns the cell of a word.
func Text(s string) Cell { return Cell{Text: s} }

// Number returns the cell of a number.
func Number(x float64) Cell { return Cell{Number: x} }

// Count returns the cell of a whole number.
func Count(n int) Cell { return Cell{Number: float64(n)} }

// Truth returns the cell of yes or no.
func Truth(yes bool) Cell {
	if yes {
		return Cell{Number: 1}
	}
	return Cell{}
}

// IsNone tells whether nothing stands in a cell of a column.
func (c Cell) IsNone(of Kind) bool {
	if of == Word {
		return c.Text == ""
	}
	return math.IsNaN(c.Number)
}

// Table is rows under columns.
type Table struct {
	Columns []Column
	Rows    [][]Cell
}

// Check tells which row does not fit the columns.
func (t *Table) Check() error {
	for i, row := range t.Rows {
		if len(row) != len(t.Columns) {
			return fmt.Errorf("row %d has %d cells, the table %d columns", i+1, len(row), len(t.Columns))
		}
		for c, cell := range row {
			if t.Columns[c].Kind == Word && cell.Number != 0 || t.Columns[c].Kind != Word && cell.Text != "" {
				return fmt.Errorf("row %d: %s holds a %s, found %v", i+1, t.Columns[c].Name, t.Columns[c].Kind, cell)
			}
		}
	}
	return nil
}

// Digest returns a fingerprint of what the table says: names, units and kinds of its columns and
// every cell to its last bit. Equal tables have equal digests however they were kept.
func (t *Table) Digest() string {
	h := sha256.New()
	for _, c := range t.Columns {
		writeWord(h, c.Name)
		writeWord(h, c.Unit)
		writeWord(h, string(c.Kind))
	}
	writeNumber(h, uint64(len(t.Rows)))
	for _, row := range t.Rows {
		for c, cell := range row {
			if t.Columns[c].Kind == Word {
				writeWord(h, cell.Text)
				continue
			}
			writeNumber(h, bitsOf(cell.Number))
		}
	}
	return hex.EncodeToString(h.Sum(nil)[:16])
}

// bitsOf returns the bits of a number; there is one way only not to be one, and one zero.
func bitsOf(x float64) uint64 {
	switch {
	case math.IsNaN(x):
		return math.Float64bits(math.NaN())
	case x == 0:
		return 0
	}
	return math.Float64bits(x)
}

func writeNumber(h io.Writer, x uint64) {
	var b [8]byte
	binary.LittleEndian.PutUint64(b[:], x)
	_, _ = h.Write(b[:]) // a hash takes everything
}

func writeWord(h io.Writer, s string) {
	writeNumber(h, uint64(len(s)))
	_, _ = io.WriteString(h, s)
}
