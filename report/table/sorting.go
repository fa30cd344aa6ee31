package table

import (
	"math"
	"strconv"

	"drystalk/tongue"
)

// Lines returns the rows above the sums.
func (t Table) Lines() [][]Cell { return t.Rows[:len(t.Rows)-t.Sums] }

// Foot returns the rows at the foot that sum up those above.
func (t Table) Foot() [][]Cell { return t.Rows[len(t.Rows)-t.Sums:] }

// Sortable tells whether sorting the rows may tell a reader something: there are some, and the figures
// of a column are of one kind and unit.
func (t Table) Sortable() bool {
	if t.Said || len(t.Lines()) < 3 {
		return false
	}
	for i := range t.Head {
		var of *Cell
		for _, row := range t.Lines() {
			switch c := row[i]; {
			case c.Form == Words:
			case of == nil:
				of = &c
			case c.Form != of.Form || c.Unit != of.Unit:
				return false
			}
		}
	}
	return true
}

// Sorts is the number by which a cell is sorted, as scripts read it: its figure, or the lower end of
// its interval; "" for words.
func (c Cell) Sorts() string {
	x := c.Value
	if math.IsNaN(x) {
		x = c.Low
	}
	if c.Form == Words || math.IsNaN(x) {
		return ""
	}
	if math.IsInf(x, 0) {
		return map[bool]string{true: tongue.Say("Infinity"), false: tongue.Say("-Infinity")}[x > 0]
	}
	return strconv.FormatFloat(x, 'g', -1, 64)
}
