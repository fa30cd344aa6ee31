// Package columns writes tables for other programs and reads them back: as CSV, whose numbers come
// back to the last bit, and as Parquet, with units and digest in its metadata. A table is written
// row by row, so that its size does not matter, into a file that is there whole or not at all.
package columns

import (
	"bufio"
	"encoding/csv"
	"io"
	"strconv"

	"drystalk/report/book"
	"drystalk/sim/tidy"
	"drystalk/tongue"
)

// Writer writes a table row by row.
type Writer interface {
	Write(row []tidy.Cell) error
	Close() error // writes what is left; the file below stays open
}

// csvWriter writes CSV (RFC 4180): a header of names, a point in numbers, nothing where nothing is.
type csvWriter struct {
	out     *bufio.Writer
	csv     *csv.Writer
	columns []tidy.Column
	fields  []string
}

// NewCSV returns a writer of CSV that has written the header.
func NewCSV(w io.Writer, columns []tidy.Column) (Writer, error) {
	out := bufio.NewWriterSize(w, 1<<16)
	c := &csvWriter{out: out, csv: csv.NewWriter(out), columns: columns, fields: make([]string, len(columns))}
	for i := range columns {
		c.fields[i] = book.Inert(columns[i].Name)
	}
	return c, c.csv.Write(c.fields)
}

func (c *csvWriter) Write(row []tidy.Cell) error {
	if len(row) != len(c.columns) {
		return tongue.Errorf("a row of %d cells under %d columns", len(row), len(c.columns))
	}
	for i, cell := range row {
		c.fields[i] = said(cell, c.columns[i].Kind)
	}
	return c.csv.Write(c.fields)
}

// said writes a cell so that a number comes back to the last bit.
func said(cell tidy.Cell, kind tidy.Kind) string {
	switch {
	case kind == tidy.Word:
		return book.Inert(cell.Text)
	case cell.IsNone(kind):
		return ""
	case kind == tidy.Yes:
		return strconv.FormatBool(cell.Number == 1)
	case kind == tidy.Whole:
		return strconv.FormatFloat(cell.Number, 'f', -1, 64)
	}
	return strconv.FormatFloat(cell.Number, 'g', -1, 64)
}

func (c *csvWriter) Close() error {
	c.csv.Flush()
	if err := c.csv.Error(); err != nil {
		return err
	}
	return c.out.Flush()
}

// Dictionary returns the table that says what each column holds.
func Dictionary(columns []tidy.Column) *tidy.Table {
	t := &tidy.Table{Columns: []tidy.Column{{Name: "column", Kind: tidy.Word}, {Name: "unit", Kind: tidy.Word}, {Name: "kind", Kind: tidy.Word}, {Name: "meaning", Kind: tidy.Word}}}
	for _, c := range columns {
		t.Rows = append(t.Rows, []tidy.Cell{tidy.Text(c.Name), tidy.Text(c.Unit), tidy.Text(string(c.Kind)), tidy.Text(c.Meaning)})
	}
	return t
}
