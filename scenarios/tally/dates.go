package tally

import (
	"strconv"
	"strings"
	"time"

	"drystalk/tongue"
)

const iso = "2006-01-02"

// order is what the file shows of the order of its dates with the year last and a slash or a
// hyphen in them.
type order struct {
	dayFirst, monthFirst int // the first line that shows it; 0 if none does
}

// dateOrder looks through all dates for their order.
func (r *reading) dateOrder() (o order) {
	for _, l := range r.lines {
		for i, c := range r.order {
			if c == nil || c.Kind != Date {
				continue
			}
			a, b, _, ok := yearLast(l.cells[i])
			switch {
			case !ok || strings.Contains(l.cells[i], "."):
			case a > 12 && b <= 12 && o.dayFirst == 0:
				o.dayFirst = l.at
			case b > 12 && a <= 12 && o.monthFirst == 0:
				o.monthFirst = l.at
			}
		}
	}
	return o
}

// parts returns the three numbers of a date.
func parts(text string) (n [3]int, digits [3]int, ok bool) {
	fields := strings.FieldsFunc(text, func(c rune) bool { return strings.ContainsRune("-/.", c) })
	if len(fields) != 3 || strings.ContainsAny(text, " ") {
		return n, digits, false
	}
	for i, f := range fields {
		x, err := strconv.Atoi(f)
		if err != nil {
			return n, digits, false
		}
		n[i], digits[i] = x, len(f)
	}
	return n, digits, true
}

// yearLast returns the numbers of a date whose year stands last.
func yearLast(text string) (a, b, year int, ok bool) {
	n, digits, ok := parts(text)
	return n[0], n[1], n[2], ok && digits[2] == 4 && digits[0] <= 2 && digits[1] <= 2
}

// read reads a date.
func (o order) read(text string) (time.Time, bool) {
	if n, digits, ok := parts(text); ok && digits[0] == 4 && digits[2] <= 2 {
		return day(n[0], n[1], n[2])
	}
	a, b, year, ok := yearLast(text)
	switch {
	case !ok:
		return time.Time{}, false
	case strings.Contains(text, "."):
		return day(year, b, a)
	case o.dayFirst > 0 && o.monthFirst > 0:
		return time.Time{}, false
	case o.dayFirst > 0 || a == b:
		return day(year, b, a)
	case o.monthFirst > 0:
		return day(year, a, b)
	}
	return time.Time{}, false
}

// day returns a day that there is.
func day(year, month, dom int) (time.Time, bool) {
	d := time.Date(year, time.Month(month), dom, 0, 0, 0, 0, time.UTC)
	return d, year >= 1950 && year <= 2100 && d.Day() == dom && int(d.Month()) == month
}

// why says why a date cannot be read; "" where what is allowed says it.
func (o order) why(text string) string {
	a, b, year, ok := yearLast(text)
	n, digits, three := parts(text)
	switch {
	case three && digits[0] <= 2 && digits[2] <= 2:
		return tongue.Say("a date with its year in four digits, as 2026-06-14")
	case ok && strings.Contains(text, "."), !ok && digits[0] != 4, n[0] == 0:
		return ""
	case ok && o.dayFirst > 0 && o.monthFirst > 0:
		return tongue.Plainf("one order of day and month in the whole file: line %d has the day first, line %d the month; or 2026-06-14", o.dayFirst, o.monthFirst)
	case ok && o.dayFirst == 0 && o.monthFirst == 0 && a <= 12 && b <= 12:
		return tongue.Plainf("%d-%02d-%02d or %d-%02d-%02d, whichever is meant: no line of the file tells which number is the day", year, b, a, year, a, b)
	}
	return tongue.Say("a day that there is, as 2026-06-14")
}

// backInTime warns of the first line of a column of dates that is earlier than the one before: a
// slip of day and month often shows so.
func (r *reading) backInTime() {
	for _, c := range r.form.Columns {
		var last time.Time
		for _, row := range r.Rows {
			d := row.Date(c.Name)
			if c.Kind != Date || c.AnyOrder || d.IsZero() {
				continue
			}
			if d.Before(last) {
				r.Warn(row, c.Name, tongue.Plainf("%s stands after %s: look whether day and month are as meant", d.Format(iso), last.Format(iso)))
				break
			}
			last = d
		}
	}
}
