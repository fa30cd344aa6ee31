package scenarios

import (
	"bytes"
	"strings"
	"unicode/utf8"

	"drystalk/tongue"
)

// What a file may hold before it is given to the YAML parser, whose time and memory grow with
// the square of some of these. A scenario of 60 sites that states every key has some 1,500
// colons, the longest list of a scenario some 1,200 marks on its line.
const (
	longestLine = 64 << 10 // bytes
	deepestOpen = 100      // brackets opened and not closed
	lineColons  = 1000
	fileColons  = 8000
	lineMarks   = 4000
	fileMarks   = 40_000
	marksOfYAML = "[]{},-?&!*"
)

// The beginnings of files by their encoding, and what a fault of the guard allows.
const (
	utf8Mark                 = "\xEF\xBB\xBF"
	utf16Little              = "\xFF\xFE"
	utf16Big                 = "\xFE\xFF"
	allowedText  tongue.Text = "plain text in UTF-8; editors ask for the encoding where they save"
	allowedShape tongue.Text = "fewer, as a scenario needs"
)

// guard takes the byte-order mark off a file and books a fault for what the YAML parser must not
// be given: no UTF-8 text, or text of a shape that no scenario has and that takes the parser
// minutes or gigabytes.
func (r *reader) guard(data []byte) ([]byte, bool) {
	if bytes.HasPrefix(data, []byte(utf16Little)) || bytes.HasPrefix(data, []byte(utf16Big)) {
		r.fault(1, "", tongue.Say("a file in UTF-16"), allowedText.String())
		return nil, false
	}
	data = bytes.TrimPrefix(data, []byte(utf8Mark))
	before := len(r.faults)
	var whole shape
	for i, line := range strings.Split(string(data), "\n") {
		found, allowed := whole.add(line)
		if found != "" {
			r.fault(i+1, "", found, allowed)
			break
		}
	}
	return data, len(r.faults) == before
}

// shape counts what the time of the parser goes by.
type shape struct{ colons, marks, open int }

// add counts a line, and says what is found and allowed where it is too much.
func (s *shape) add(line string) (found, allowed string) {
	var own shape
	for i := range len(line) {
		switch c := line[i]; {
		case c == 0:
			return tongue.Say("a zero byte (a file in UTF-16?)"), allowedText.String()
		case c == ':':
			own.colons++
		case strings.IndexByte(marksOfYAML, c) >= 0:
			own.marks++
			s.bracket(c)
		}
		if s.open > deepestOpen {
			return tongue.Plainf("%d brackets opened and not closed", s.open), tongue.Plainf("at most %d", deepestOpen)
		}
	}
	s.colons += own.colons
	s.marks += own.marks
	switch {
	case !utf8.ValidString(line):
		return tongue.Say("a byte that is no UTF-8"), allowedText.String()
	case len(line) > longestLine:
		return tongue.Plainf("a line of %d bytes", len(line)), tongue.Plainf("at most %d bytes", longestLine)
	case own.colons > lineColons:
		return tongue.Plainf("%d colons on a line", own.colons), tongue.Plainf("at most %d", lineColons)
	case own.marks > lineMarks:
		return tongue.Plainf("%d of the marks %s on a line", own.marks, marksOfYAML), tongue.Plainf("at most %d", lineMarks)
	case s.colons > fileColons:
		return tongue.Plainf("more than %d colons so far", fileColons), allowedShape.String()
	case s.marks > fileMarks:
		return tongue.Plainf("more than %d of the marks %s so far", fileMarks, marksOfYAML), allowedShape.String()
	}
	return "", ""
}

// bracket counts brackets that are open. Those in quotes and comments count too: what YAML takes
// for quoted is not known before it is parsed.
func (s *shape) bracket(c byte) {
	switch c {
	case '[', '{':
		s.open++
	case ']', '}':
		s.open = max(0, s.open-1)
	}
}
