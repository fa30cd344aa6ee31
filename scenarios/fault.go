package scenarios

import (
	"fmt"
	"sort"
	"strings"

	"drystalk/tongue"
)

// Fault is one thing wrong with a file.
type Fault struct {
	File    string // or the flag that a change was given with
	Line    int    // 0 where it is no line of a file
	Key     string // dotted path; "" for the whole file
	Found   string
	Allowed string
	Meant   string // the known name that was probably meant; "" for none
}

func (f Fault) Error() string {
	where := whereIn(f.File, f.Line)
	if f.Key != "" {
		where += ": " + f.Key
	}
	return where + ": " + f.Says()
}

// Says says what was found and what is allowed, or probably meant, without where.
func (f Fault) Says() string {
	if f.Meant != "" {
		return tongue.Plainf("found %s, did you mean %s?", f.Found, f.Meant)
	}
	return tongue.Plainf("found %s, allowed: %s", f.Found, f.Allowed)
}

// whereIn names a line of a file, or what has no lines.
func whereIn(file string, line int) string {
	if line == 0 {
		return file
	}
	return fmt.Sprintf("%s:%d", file, line)
}

// Faults are all things wrong with a file, by line.
type Faults []Fault

func (f Faults) Error() string {
	lines := make([]string, len(f))
	for i := range f {
		lines[i] = f[i].Error()
	}
	return strings.Join(lines, "\n")
}

// reader reads one file and gathers its faults.
type reader struct {
	file     string
	holds    string // what the file should hold; "" for a scenario
	open     func(name string) ([]byte, error)
	faults   Faults
	warnings []warning
	points   bool // thousands are parted by a point where the scenario is used
}

// warning is something allowed that is probably not meant.
type warning struct{ key, sentence string }

func (r *reader) fault(line int, key, found, allowed string) {
	r.faults = append(r.faults, Fault{File: r.file, Line: line, Key: key, Found: found, Allowed: allowed})
}

// misnamed books a fault of a name that is none of those known, and which was probably meant.
func (r *reader) misnamed(line int, key, found, name string, known []string) {
	r.fault(line, key, found, strings.Join(known, ", "))
	r.faults[len(r.faults)-1].Meant = nearest(name, known)
}

func (r *reader) warn(line int, key, format string, args ...any) {
	r.warnings = append(r.warnings, warning{key, whereIn(r.file, line) + ": " + key + ": " + tongue.Plainf(format, args...)})
}

func (r *reader) err() error {
	if len(r.faults) == 0 {
		return nil
	}
	sort.SliceStable(r.faults, func(i, j int) bool { return r.faults[i].Line < r.faults[j].Line })
	return r.faults
}

// nearest returns the known key closest to one that is not known, if any is close.
func nearest(key string, known []string) string {
	best, fewest := "", len(key)/2+1
	for _, k := range known {
		if d := distance(key, k); d < fewest {
			best, fewest = k, d
		}
	}
	return best
}

// distance counts the letters to change, add or drop to turn a into b.
func distance(a, b string) int {
	row := make([]int, len(b)+1)
	for j := range row {
		row[j] = j
	}
	for i := range len(a) {
		corner := row[0]
		row[0] = i + 1
		for j := range len(b) {
			cost := 1
			if a[i] == b[j] {
				cost = 0
			}
			corner, row[j+1] = row[j+1], min(row[j+1]+1, row[j]+1, corner+cost)
		}
	}
	return row[len(b)]
}
