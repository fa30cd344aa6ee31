package tally

import (
	"fmt"
	"strings"

	"drystalk/tongue"
)

// Fault is one thing wrong with a table.
type Fault struct {
	File    string
	Line    int    // 0 for the whole file
	Column  string // "" for a whole line
	Found   string
	Allowed string
}

func (f Fault) Error() string {
	where := f.File
	if f.Line > 0 {
		where = fmt.Sprintf("%s:%d", f.File, f.Line)
	}
	if f.Column != "" {
		where += ": " + f.Column
	}
	return tongue.Plainf("%s: found %s, allowed: %s", where, f.Found, f.Allowed)
}

// Faults are the things wrong with a table, by line.
type Faults []Fault

// mostShown is how many faults are told: a clerk mends some and tries again.
const mostShown = 20

func (f Faults) Error() string {
	var lines []string
	for i := range min(len(f), mostShown) {
		lines = append(lines, f[i].Error())
	}
	if more := len(f) - mostShown; more > 0 {
		lines = append(lines, tongue.Plainf("and %d more", more))
	}
	return strings.Join(lines, "\n")
}
