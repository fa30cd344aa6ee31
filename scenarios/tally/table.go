package tally

import (
	"math"
	"sort"
	"strconv"
	"time"

	"drystalk/tongue"
)

// Kind is what a column holds.
type Kind int

// The kinds of columns.
const (
	Number Kind = iota // with its decimal mark
	Whole              // a count: no decimal mark, no mark of thousands
	Hours              // a number of hours, or hours and minutes as 7:30
	Date               // a day
	Clock              // a time of day by 24 hours, 06:45
	Text               // any words, or one of Words
)

// Column is a column that a table may have.
type Column struct {
	Name        string // as the header has it: small letters, the unit at the end
	Kind        Kind
	Least, Most float64     // of a number, a count or hours
	Words       []string    // what a text may be, in small letters; any if empty
	Optional    bool        // the column may be missing
	MayBeEmpty  bool        // its cells may hold nothing
	AnyOrder    bool        // dates may go back without a warning
	Hint        tongue.Text // said with what is allowed: how the cell is meant, usual slips
}

// Form is what a kind of table looks like.
type Form struct {
	What    tongue.Text // in words: "a log of loads"
	Columns []Column
	Once    []string // columns that together stand once where all of them are there; else a line differs from all others somewhere
}

// Table is a table that was read.
type Table struct {
	File     string
	Rows     []Row
	Warnings []string // what is allowed and probably not meant, in sentences

	columns map[string]bool
	faults  Faults
}

// Row is a line of a table.
type Row struct {
	Line  int // of the file
	cells map[string]cell
}

// cell is what a line holds in a column.
type cell struct {
	text   string
	number float64
	date   time.Time
}

// HasColumn tells whether the table has a column of the form.
func (t *Table) HasColumn(name string) bool { return t.columns[name] }

// Has tells whether the line holds something in a column.
func (r Row) Has(column string) bool { _, ok := r.cells[column]; return ok }

// Number returns a number, a count, hours, or a time of day in hours; not a number where the line
// holds none.
func (r Row) Number(column string) float64 {
	if c, ok := r.cells[column]; ok {
		return c.number
	}
	return math.NaN()
}

// Date returns a day at midnight UTC; the zero time where the line holds none.
func (r Row) Date(column string) time.Time { return r.cells[column].date }

// Text returns what the line holds as it is written, of listed words in small letters.
func (r Row) Text(column string) string { return r.cells[column].text }

// Refuse books a fault that a line shows beyond what its columns tell alone.
func (t *Table) Refuse(r Row, column, found, allowed string) {
	t.faults = append(t.faults, Fault{t.File, r.Line, column, found, allowed})
}

// Warn books something that is allowed and probably not meant.
func (t *Table) Warn(r Row, column, sentence string) {
	t.Warnings = append(t.Warnings, t.File+":"+strconv.Itoa(r.Line)+": "+column+": "+sentence)
}

// Err returns all faults booked so far, by line, as [Faults]; nil if there are none.
func (t *Table) Err() error {
	if len(t.faults) == 0 {
		return nil
	}
	sort.SliceStable(t.faults, func(i, j int) bool { return t.faults[i].Line < t.faults[j].Line })
	return t.faults
}

// MissingDays returns the days between the first and the last of a column for which there is no
// line, in order.
func (t *Table) MissingDays(column string) []time.Time {
	seen := map[time.Time]bool{}
	var first, last time.Time
	for _, r := range t.Rows {
		d := r.Date(column)
		if d.IsZero() {
			continue
		}
		seen[d] = true
		if first.IsZero() || d.Before(first) {
			first = d
		}
		if d.After(last) {
			last = d
		}
	}
	var missing []time.Time
	for d := first; d.Before(last); d = d.AddDate(0, 0, 1) {
		if !seen[d] {
			missing = append(missing, d)
		}
	}
	return missing
}
