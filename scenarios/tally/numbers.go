package tally

import (
	"strconv"
	"strings"

	"drystalk/tongue"
)

// mark is what the file shows of its decimal mark.
type mark struct {
	is      byte // '.' or ','; 0 where no cell shows it
	at      int  // the line that shows it
	other   int  // the first line that shows the other mark; 0 if none does
	otherIs byte
}

// decimalMark looks through all numbers for the decimal mark.
func (r *reading) decimalMark() (m mark) {
	for _, l := range r.lines {
		for i, c := range r.order {
			if c == nil || c.Kind != Number && c.Kind != Hours {
				continue
			}
			switch shown := shows(l.cells[i]); {
			case shown == 0 || shown == m.is:
			case m.is == 0:
				m.is, m.at = shown, l.at
			case m.other == 0:
				m.other, m.otherIs = l.at, shown
			}
		}
	}
	return m
}

// shows returns the decimal mark that a number shows beyond doubt: one mark that cannot part
// thousands. 0 if it shows none.
func shows(text string) byte {
	before, after, c := parted(text)
	if c == 0 || len(after) == 3 && before != "0" && len(before) <= 3 {
		return 0
	}
	return c
}

// parted parts a number at its one mark; c is 0 where it has none, or is none.
func parted(text string) (before, after string, c byte) {
	i := strings.IndexAny(text, ".,")
	if i < 0 || !digits(strings.TrimPrefix(text[:i], "-")) || !digits(text[i+1:]) {
		return "", "", 0
	}
	return strings.TrimPrefix(text[:i], "-"), text[i+1:], text[i]
}

func digits(text string) bool { return text != "" && strings.Trim(text, "0123456789") == "" }

// number reads a number by the decimal mark of the file.
func (m mark) number(text string, c *Column) (x float64, ok bool) {
	if digits(strings.TrimPrefix(text, "-")) {
		x, err := strconv.ParseFloat(text, 64)
		return x, err == nil
	}
	_, _, is := parted(text)
	if is == 0 || m.other > 0 || m.is != 0 && is != m.is || m.inDoubt(text, c) {
		return 0, false
	}
	x, err := strconv.ParseFloat(strings.Replace(text, ",", ".", 1), 64)
	return x, err == nil
}

// inDoubt tells whether a number may be read in two ways: its mark may part thousands, no cell of
// the file shows that it does not, and the column would take what it is then.
func (m mark) inDoubt(text string, c *Column) bool {
	before, after, is := parted(text)
	if m.is != 0 || is == 0 || shows(text) != 0 {
		return false
	}
	x, err := strconv.ParseFloat(before+after, 64)
	return err == nil && c.Least <= x && x <= c.Most
}

// why says why a number cannot be read where the file is what tells; "" otherwise.
func (m mark) why(text string, c *Column) string {
	before, after, is := parted(text)
	switch {
	case is == 0:
		return ""
	case m.other > 0:
		return tongue.Plainf("one decimal mark in the whole file: line %d shows %q, line %d %q", m.at, m.is, m.other, m.otherIs)
	case m.is != 0 && is != m.is:
		return tongue.Plainf("the decimal mark %q, as line %d has it, and no mark for thousands", m.is, m.at)
	case m.inDoubt(text, c):
		return tongue.Plainf("%s%s or %s.%s, whichever is meant: %q may be either", before, after, before, strings.TrimRight(after, "0")+zero(after), text)
	}
	return ""
}

// zero is the digit that is kept where all digits after the mark are zeros.
func zero(after string) string {
	if strings.Trim(after, "0") == "" {
		return "0"
	}
	return ""
}
