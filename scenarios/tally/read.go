package tally

import (
	"bytes"
	"encoding/csv"
	"errors"
	"io"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"drystalk/tongue"
)

// reading is a table while it is read.
type reading struct {
	*Table
	form    *Form
	passed  int       // lines before the header, of comment
	order   []*Column // by cell of a line; nil for remarks
	lines   []line
	decimal mark
	dates   order
	said    map[string]bool // columns of which it was said that the whole file is in doubt
}

// line is a line as it stands in the file.
type line struct {
	at    int
	cells []string
}

// most is the largest number of lines that a table has: fifty years of days.
const most = 20_000

// Read reads a table. What is wrong with it comes as [Faults], all in one.
func (f *Form) Read(file string, data []byte) (*Table, error) {
	r := &reading{Table: &Table{File: file, columns: map[string]bool{}}, form: f, said: map[string]bool{}}
	if r.split(data) {
		r.decimal, r.dates = r.decimalMark(), r.dateOrder()
		for _, l := range r.lines {
			r.row(l)
		}
		r.once()
		r.backInTime()
	}
	if err := r.Err(); err != nil {
		return nil, err
	}
	return r.Table, nil
}

// fault books what is wrong with a line or, at 0, the file.
func (r *reading) fault(line int, column, found, allowed string) {
	r.faults = append(r.faults, Fault{r.File, line, column, found, allowed})
}

// split parts the file into a header and lines of cells. It returns false where they cannot be
// read further.
func (r *reading) split(data []byte) bool {
	data = bytes.TrimPrefix(data, []byte("\xef\xbb\xbf"))
	switch {
	case bytes.HasPrefix(data, []byte("\xff\xfe")), bytes.HasPrefix(data, []byte("\xfe\xff")), bytes.IndexByte(data, 0) >= 0:
		r.fault(0, "", tongue.Say("text in UTF-16, or a file that is no text"), tongue.Say("CSV text in UTF-8, as spreadsheets save it"))
		return false
	case !utf8.Valid(data):
		r.fault(1+bytes.Count(data[:firstInvalid(data)], []byte("\n")), "", tongue.Say("letters that are not UTF-8"), tongue.Say("CSV text in UTF-8, as spreadsheets save it"))
		return false
	}
	data, separator := r.header(data)
	c := csv.NewReader(bytes.NewReader(data))
	c.Comma, c.Comment, c.FieldsPerRecord, c.TrimLeadingSpace = separator, '#', -1, separator != '\t'
	for {
		cells, err := c.Read()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			r.fault(r.brokenAt(err), "", tongue.Say("a quotation mark that is not closed, or one within a cell"), tongue.Say("cells in quotation marks as a whole, or none"))
			return false
		}
		at, _ := c.FieldPos(0)
		if !r.take(line{at + r.passed, cells}, separator) {
			return false
		}
	}
	return r.whole()
}

// whole tells whether there is something to read.
func (r *reading) whole() bool {
	switch {
	case r.order == nil && len(r.faults) == 0:
		r.fault(0, "", tongue.Say("an empty file"), tongue.Plainf("%s, its first line naming the columns: %s", r.form.What, r.form.names()))
	case len(r.lines) == 0 && len(r.faults) == 0:
		r.fault(0, "", tongue.Say("a header and no line"), tongue.Plainf("%s, a line each", r.form.What))
	}
	return r.order != nil && len(r.lines) > 0
}

// firstInvalid returns where text stops being UTF-8.
func firstInvalid(data []byte) int {
	for i := 0; i < len(data); {
		c, size := utf8.DecodeRune(data[i:])
		if c == utf8.RuneError && size <= 1 {
			return i
		}
		i += size
	}
	return len(data)
}

// brokenAt returns the line at which the cells cannot be told apart.
func (r *reading) brokenAt(err error) int {
	var broken *csv.ParseError
	if errors.As(err, &broken) {
		return broken.StartLine + r.passed
	}
	return 0
}

// header passes over what spreadsheets put first and returns what parts the cells, as the first
// line that is no comment shows it.
func (r *reading) header(data []byte) ([]byte, rune) {
	for {
		first, rest, more := bytes.Cut(data, []byte("\n"))
		text := strings.TrimSpace(string(first))
		if more && (text == "" || text[0] == '#' || strings.HasPrefix(strings.ToLower(text), "sep=")) {
			data = rest
			r.passed++
			continue
		}
		for _, c := range []string{";", "\t"} {
			if strings.Contains(text, c) {
				return data, rune(c[0])
			}
		}
		return data, ','
	}
}

// take takes the header or a line.
func (r *reading) take(l line, separator rune) bool {
	for i := range l.cells {
		l.cells[i] = strings.TrimSpace(l.cells[i])
	}
	switch {
	case r.order == nil:
		return r.names(l)
	case !slices.ContainsFunc(l.cells, func(c string) bool { return c != "" }):
		return true // empty but for separators
	case len(r.lines) == most:
		r.fault(l.at, "", tongue.Plainf("more than %s lines", strconv.Itoa(most)), tongue.Say("a table that a clerk keeps"))
		return false
	case len(l.cells) != len(r.order):
		allowed := tongue.Plainf("%d, as the header has", len(r.order))
		if separator == ',' && len(l.cells) > len(r.order) {
			allowed += tongue.Say("; numbers with a decimal comma need semicolons between the cells")
		}
		r.fault(l.at, "", tongue.Plainf("%d cells", len(l.cells)), allowed)
		return true
	}
	r.lines = append(r.lines, l)
	return true
}

// remarks are names of columns that are passed over.
var remarks = []string{"remark", "remarks", "note", "notes", "comment"}

// names takes the names of the columns.
func (r *reading) names(l line) bool {
	before := len(r.faults)
	r.order = make([]*Column, len(l.cells))
	for i, cell := range l.cells {
		name := strings.ReplaceAll(strings.ToLower(cell), " ", "_")
		k := slices.IndexFunc(r.form.Columns, func(c Column) bool { return c.Name == name })
		switch {
		case k < 0 && !slices.Contains(remarks, name):
			allowed := r.form.names()
			if near := nearest(name, r.form.Columns); near != "" {
				allowed = tongue.Plainf("%s? The columns are %s", near, allowed)
			}
			r.fault(l.at, "", tongue.Plainf("a column %s in the header", quoted(cell)), tongue.Plainf("%s; remark for anything else", allowed))
		case k >= 0 && r.columns[name]:
			r.fault(l.at, name, tongue.Say("the column a second time"), tongue.Say("each column once"))
		case k >= 0:
			r.order[i] = &r.form.Columns[k]
			r.columns[name] = true
		}
	}
	if len(r.faults) == before {
		r.missing(l.at)
	}
	return len(r.faults) == before
}

// missing books the columns that a table needs and does not have.
func (r *reading) missing(at int) {
	for _, c := range r.form.Columns {
		if !c.Optional && !r.columns[c.Name] {
			r.fault(at, c.Name, tongue.Say("no such column"), tongue.Plainf("%s with the columns %s", r.form.What, r.form.names()))
		}
	}
}

// names lists the columns of a form, those that may be missing in brackets.
func (f *Form) names() string {
	var list []string
	for _, c := range f.Columns {
		if c.Optional {
			c.Name = "[" + c.Name + "]"
		}
		list = append(list, c.Name)
	}
	return strings.Join(list, ", ")
}

// nearest returns the column whose name has most pairs of letters in common with a name that is
// no column, if they are most of its letters.
func nearest(name string, columns []Column) string {
	best, closest := "", 0.5
	for _, c := range columns {
		if s := alike(name, c.Name); s > closest {
			best, closest = c.Name, s
		}
	}
	return best
}

// alike returns the share of pairs of neighbouring letters that two names have in common (Dice).
func alike(a, b string) float64 {
	pairs := map[string]int{}
	for i := 1; i < len(a); i++ {
		pairs[a[i-1:i+1]]++
	}
	common := 0
	for i := 1; i < len(b); i++ {
		if pairs[b[i-1:i+1]] > 0 {
			pairs[b[i-1:i+1]]--
			common++
		}
	}
	return 2 * float64(common) / float64(max(1, len(a)+len(b)-2))
}

// quoted writes a cell as a sentence names it, cut where it is long.
func quoted(cell string) string {
	if letters := []rune(cell); len(letters) > 40 {
		cell = string(letters[:40]) + "..."
	}
	return strconv.Quote(cell)
}
