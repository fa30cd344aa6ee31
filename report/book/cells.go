package book

import (
	"regexp"
	"strconv"
	"strings"

	"drystalk/report/table"
)

// cell is one entry of a table as a spreadsheet takes it: a number, or a text.
type cell struct {
	number   float64
	text     string
	isNumber bool
}

// grid is a table in which every figure stands in a column of its own: an interval has one for
// each end.
type grid struct {
	title string
	head  []string
	rows  [][]cell
}

var (
	bareNumber = regexp.MustCompile(`^[+-]?[0-9][0-9,]*(\.[0-9]+)?$`)
	withRange  = regexp.MustCompile(`^(.+) \((.+) to (.+)\)$`)
	onlyRange  = regexp.MustCompile(`^(.+) to (.+)$`)

	currencyFirst = regexp.MustCompile(`^([^0-9 ,]{1,5}) ([+-]?[0-9][0-9,]*(?:\.[0-9]+)?)$`)
)

// numberOf reads a figure as the tables write it: "1,234", "92 %", "T$ 12", "under 1 %". What
// lies under 1 % or over 99 % is given as that end.
func numberOf(s string) (x float64, unit string, ok bool) {
	s = strings.TrimSpace(s)
	s = strings.TrimPrefix(s, "under ")
	s = strings.TrimPrefix(s, "over ")
	if rest, found := strings.CutSuffix(s, " %"); found {
		s, unit = rest, "%"
	}
	if m := currencyFirst.FindStringSubmatch(s); m != nil {
		unit, s = m[1], m[2]
	}
	if !bareNumber.MatchString(s) {
		return 0, "", false
	}
	x, err := strconv.ParseFloat(strings.ReplaceAll(strings.TrimPrefix(s, "+"), ",", ""), 64)
	return x, unit, err == nil
}

// shape is what a column of a table holds.
type shape int

const (
	asWords  shape = iota
	asFigure       // a number
	asRanged       // a number and its interval
	asSpan         // an interval
)

// split takes a cell apart by the shape of its column.
func split(s string, as shape) []cell {
	text := func(s string) cell { return cell{text: s} }
	number := func(s string) cell {
		if x, _, ok := numberOf(s); ok {
			return cell{number: x, isNumber: true}
		}
		return text(s)
	}
	switch as {
	case asFigure:
		return []cell{number(s)}
	case asRanged:
		if m := withRange.FindStringSubmatch(s); m != nil {
			return []cell{number(m[1]), number(m[2]), number(m[3])}
		}
		return []cell{number(s), text(""), text("")}
	case asSpan:
		if m := onlyRange.FindStringSubmatch(s); m != nil {
			return []cell{number(m[1]), number(m[2])}
		}
		return []cell{text(s), text("")}
	}
	return []cell{text(s)}
}

// shapeOf returns the shape that all cells of a column have, and the unit they name.
func shapeOf(t table.Table, column int) (as shape, unit string) {
	seen := false
	best := asWords
	for _, row := range t.Rows {
		if column >= len(row) || row[column] == "" || row[column] == "-" {
			continue
		}
		s := row[column]
		this := asWords
		if _, u, ok := numberOf(s); ok {
			this, unit = asFigure, u
		} else if m := withRange.FindStringSubmatch(s); m != nil {
			_, u, ok1 := numberOf(m[1])
			_, _, ok2 := numberOf(m[2])
			if _, u3, ok3 := numberOf(m[3]); ok1 && ok2 && ok3 {
				this, unit = asRanged, u
				if unit == "" {
					unit = u3
				}
			}
		} else if m := onlyRange.FindStringSubmatch(s); m != nil {
			_, _, ok1 := numberOf(m[1])
			if _, _, ok2 := numberOf(m[2]); ok1 && ok2 {
				this = asSpan
			}
		}
		switch {
		case this == asWords:
			return asWords, ""
		case !seen:
			best, seen = this, true
		case best == asFigure && this == asRanged, best == asRanged && this == asFigure:
			best = asRanged
		case best != this:
			return asWords, ""
		}
	}
	return best, unit
}

// gridOf takes a table apart.
func gridOf(t table.Table) grid {
	g := grid{title: t.Title, rows: make([][]cell, len(t.Rows))}
	for column, head := range t.Head {
		as, unit := shapeOf(t, column)
		name := head
		if name == "" && column == 0 {
			name = "what"
		}
		if unit != "" && !strings.Contains(name, unit) {
			name += ", " + unit
		}
		switch as {
		case asRanged:
			g.head = append(g.head, name, name+", low", name+", high")
		case asSpan:
			g.head = append(g.head, name+", from", name+", to")
		default:
			g.head = append(g.head, name)
		}
		for i, row := range t.Rows {
			s := ""
			if column < len(row) {
				s = row[column]
			}
			g.rows[i] = append(g.rows[i], split(s, as)...)
		}
	}
	return g
}
