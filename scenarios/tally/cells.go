package tally

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"drystalk/tongue"
)

// nothing are the ways to write that a cell holds nothing.
var nothing = []string{"", "-", "--", "–", "—", "?", "n/a", "na"}

func empty(text string) bool { return slices.Contains(nothing, strings.ToLower(text)) }

// row reads the cells of a line.
func (r *reading) row(l line) {
	row := Row{Line: l.at, cells: map[string]cell{}}
	for i, c := range r.order {
		if c == nil {
			continue
		}
		text := l.cells[i]
		if empty(text) {
			if !c.MayBeEmpty {
				r.fault(l.at, c.Name, tongue.Say("nothing"), c.allowed())
			}
			continue
		}
		read := cell{text: text}
		if found := r.cell(c, &read); found != "" {
			if whole := r.wholeFile(c, text); !whole || !r.said[c.Name] {
				r.fault(l.at, c.Name, found, r.allowed(c, text))
				r.said[c.Name] = r.said[c.Name] || whole
			}
			continue
		}
		row.cells[c.Name] = read
	}
	r.Rows = append(r.Rows, row)
}

// cell reads a cell of a column and returns what was found where it cannot be, "" where it can.
func (r *reading) cell(c *Column, read *cell) (found string) {
	text, ok := read.text, true
	switch c.Kind {
	case Text:
		if len(c.Words) > 0 {
			read.text = strings.ToLower(text)
			ok = slices.Contains(c.Words, read.text)
		}
		if !ok {
			return quoted(text)
		}
		return ""
	case Date:
		if read.date, ok = r.dates.read(text); !ok {
			return quoted(text)
		}
		return ""
	case Clock:
		read.number, ok = clock(text, 24)
		ok = ok && read.number < 24
	case Hours:
		if read.number, ok = clock(text, math.Inf(1)); !ok {
			read.number, ok = r.decimal.number(text, c)
		}
	case Whole:
		var n int
		var err error
		n, err = strconv.Atoi(text)
		read.number, ok = float64(n), err == nil
	default:
		read.number, ok = r.decimal.number(text, c)
	}
	if !ok || c.Kind != Clock && !(c.Least <= read.number && read.number <= c.Most) {
		return quoted(text)
	}
	return ""
}

// clock reads hours and minutes, 7:30, of at most so many hours.
func clock(text string, most float64) (hours float64, ok bool) {
	h, m, ok := strings.Cut(text, ":")
	hour, err := strconv.Atoi(h)
	minute, err2 := strconv.Atoi(m)
	if !ok || err != nil || err2 != nil || hour < 0 || minute < 0 || minute > 59 || len(m) != 2 || float64(hour) > most {
		return 0, false
	}
	return float64(hour) + float64(minute)/60, true
}

// allowed says what may stand in a column.
func (c *Column) allowed() string {
	var text string
	switch {
	case c.Kind == Text && len(c.Words) == 0:
		text = "words"
	case c.Kind == Text:
		text = tongue.Plainf("one of %s", strings.Join(c.Words, ", "))
	case c.Kind == Date:
		text = tongue.Say("a date as 2026-06-14")
	case c.Kind == Clock:
		text = tongue.Say("a time of day by 24 hours, as 06:45 or 18:30")
	case c.Kind == Hours:
		text = tongue.Plainf("%g to %g hours, as 7.5 or 7:30", c.Least, c.Most)
	case c.Kind == Whole:
		text = tongue.Plainf("a whole number from %s to %s without any mark in it", plain(c.Least), plain(c.Most))
	default:
		text = tongue.Plainf("a number from %s to %s, without a unit", plain(c.Least), plain(c.Most))
	}
	if c.Hint != "" {
		text += "; " + c.Hint.String()
	}
	return text
}

// allowed says what may stand in a column in place of a cell, and why the cell may not where the
// file is what tells.
func (r *reading) allowed(c *Column, text string) string {
	why := ""
	switch c.Kind {
	case Date:
		why = r.dates.why(text)
	case Number, Hours:
		why = r.decimal.why(text, c)
	}
	if why != "" {
		return why
	}
	return c.allowed()
}

// wholeFile tells whether what is wrong with a cell is wrong with the whole file, so that it is said
// once: two orders of dates or none that shows, two decimal marks.
func (r *reading) wholeFile(c *Column, text string) bool {
	switch c.Kind {
	case Date:
		a, b, _, ok := yearLast(text)
		both, none := r.dates.dayFirst > 0 && r.dates.monthFirst > 0, r.dates.dayFirst == 0 && r.dates.monthFirst == 0
		return ok && (both || none && a <= 12 && b <= 12)
	case Number, Hours:
		_, _, is := parted(text)
		return is != 0 && r.decimal.other > 0
	}
	return false
}

// plain writes a number without needless digits.
func plain(x float64) string { return strconv.FormatFloat(x, 'f', -1, 64) }

// once books lines that stand twice.
func (r *reading) once() {
	seen := map[string]int{}
	for _, l := range r.lines {
		key, names := r.key(l)
		first, twice := seen[key]
		switch {
		case !twice:
			seen[key] = l.at
		case len(names) > 0:
			r.fault(l.at, strings.Join(names, ", "), tongue.Plainf("the same as in line %d", first), tongue.Say("each once; where both are real, tell them apart"))
		default:
			r.fault(l.at, "", tongue.Plainf("the same as line %d", first), tongue.Say("each line once; where both are real, tell them apart"))
		}
	}
}

// key returns what a line may share with no other, and the columns that this is.
func (r *reading) key(l line) (key string, names []string) {
	var parts []string
	for i, c := range r.order {
		if c != nil && slices.Contains(r.form.Once, c.Name) {
			names = append(names, c.Name)
			parts = append(parts, r.same(c, l.cells[i]))
		}
	}
	if len(names) < max(1, len(r.form.Once)) {
		names, parts = nil, l.cells
	}
	return strings.Join(parts, "\x00"), names
}

// same returns a cell so that two ways to write the same are alike.
func (r *reading) same(c *Column, text string) string {
	if c.Kind == Date {
		if d, ok := r.dates.read(text); ok {
			return d.Format(iso)
		}
	}
	return strings.ToLower(text)
}
