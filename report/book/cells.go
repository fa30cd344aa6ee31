package book

import (
	"math"
	"slices"
	"strings"

	"drystalk/report/table"
	"drystalk/tongue"
)

// entry is one entry of a sheet: a number with its form and unit, or a text.
type entry struct {
	text   string
	form   table.Form // table.Words for a text
	unit   string     // of a number
	number float64
}

// empty tells whether nothing stands there.
func (e entry) empty() bool { return e.form == table.Words && e.text == "" }

// column is what a sheet holds of a column of a table: the number, the ends of its interval, what
// is said besides, or the words.
type column struct {
	name string      // without its unit
	part tongue.Text // "", "low", "high", "which"
	unit string      // of all its numbers; "" where they have none or several
	rows []entry
}

// head is the heading of a column.
func (c column) head() string {
	name := c.title()
	if c.unit == "" || says(c.name, c.unit) {
		return name
	}
	return name + ", " + c.unit
}

// title is the heading without the unit.
func (c column) title() string {
	if c.part == "" {
		return c.name
	}
	return c.name + ", " + c.part.String()
}

// says tells whether a heading names a unit already.
func says(name, unit string) bool {
	words := strings.FieldsFunc(name, func(c rune) bool { return c == ' ' || c == ',' || c == ':' })
	return slices.Contains(words, unit)
}

// columnsOf takes a table apart: every figure stands in a column of its own, and an interval has
// a column for each end. Heads that follow each other and are the same are one figure: a number
// and then its interval.
func columnsOf(t table.Table) []column {
	heads := t.Apart
	if heads == nil {
		heads = t.Head
	}
	var out []column
	for at := 0; at < len(heads); {
		next := at + 1
		for next < len(heads) && heads[next] == heads[at] {
			next++
		}
		name := heads[at]
		if name == "" {
			name = tongue.Say("what")
		}
		out = append(out, figureColumns(name, cellsIn(t, at, next))...)
		at = next
	}
	return out
}

// cellsIn returns the cells of some columns of a table, those of a row in one.
func cellsIn(t table.Table, from, to int) []table.Cell {
	out := make([]table.Cell, len(t.Rows))
	for i, row := range t.Rows {
		out[i] = row[from]
		for _, c := range row[from+1 : to] {
			if c.Ranged() {
				out[i].Low, out[i].High = c.Low, c.High
			}
		}
	}
	return out
}

// figureColumns returns the columns that the cells of one figure need.
func figureColumns(name string, cells []table.Cell) []column {
	any := func(has func(c table.Cell) bool) bool { return slices.ContainsFunc(cells, has) }
	ranged, noted := any(table.Cell.Ranged), any(func(c table.Cell) bool { return c.Note != "" })
	valued := any(func(c table.Cell) bool { return c.Form == table.Words || !math.IsNaN(c.Value) })
	unit, units := unitOf(cells)
	var out []column
	add := func(part tongue.Text, of func(c table.Cell) entry) {
		col := column{name: name, part: part}
		if part != "unit" && part != "which" {
			col.unit = unit
		}
		for _, c := range cells {
			col.rows = append(col.rows, of(c))
		}
		out = append(out, col)
	}
	if valued {
		add("", func(c table.Cell) entry { return number(c, c.Value) })
	}
	if ranged {
		add("low", func(c table.Cell) entry { return end(c, c.Low) })
		add("high", func(c table.Cell) entry { return end(c, c.High) })
	}
	if units {
		add("unit", func(c table.Cell) entry { return entry{text: unitIn(c)} })
	}
	if noted {
		add("which", func(c table.Cell) entry { return entry{text: c.Note} })
	}
	return out
}

// unitOf returns the unit of all figures of a column; where they have several, none, and that.
func unitOf(cells []table.Cell) (unit string, several bool) {
	seen := false
	for _, c := range cells {
		if c.Form == table.Words {
			continue
		}
		if u := unitIn(c); !seen {
			unit, seen = u, true
		} else if u != unit {
			return "", true
		}
	}
	return unit, false
}

// unitIn is the unit of a figure, with a word for shares.
func unitIn(c table.Cell) string {
	switch {
	case c.Form == table.Share && c.Unit == "":
		return tongue.Say("share")
	case c.Form == table.Price:
		return strings.TrimSpace(tongue.Sayf("%s a stalk", c.Unit))
	}
	return c.Unit
}

// number is the number of a cell, or its words where it is none.
func number(c table.Cell, x float64) entry {
	if c.Form == table.Words {
		return entry{text: c.Text}
	}
	return end(c, x)
}

// end is one number of a cell; nothing where there is none, and words where it has no end.
func end(c table.Cell, x float64) entry {
	switch {
	case c.Form == table.Words, math.IsNaN(x):
		return entry{}
	case math.IsInf(x, 0):
		return entry{text: tongue.Say("no limit")}
	}
	return entry{form: c.Form, unit: unitIn(c), number: x}
}
