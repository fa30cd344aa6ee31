package table

import (
	"regexp"
	"slices"
	"strings"
	"unicode/utf8"

	"drystalk/tongue"
)

// Fitted returns the table as one or more that are no wider than so many letters, for paper, where
// nothing scrolls: a table that is too wide is turned, so that its columns become rows, if that is
// narrower, and one that is too wide still is parted between columns, its names said again. A table
// whose names and widest column do not fit stays wide.
func (t Table) Fitted(letters int) []Table {
	if t.Said || t.wide() <= letters {
		return []Table{t}
	}
	if turned := t.turned(); turned.wide() < t.wide() {
		t = turned
	}
	return t.parted(letters)
}

// wide is how many letters wide the table is at least: cells are not broken, heads between words,
// and each column has two letters of room.
func (t Table) wide() int {
	sum := 0
	for _, w := range t.widths() {
		sum += w
	}
	return sum
}

// widths are those of the columns.
func (t Table) widths() []int {
	out := make([]int, len(t.Head))
	for i, head := range t.Head {
		for _, word := range tongue.Words(head) {
			out[i] = max(out[i], utf8.RuneCountInString(word))
		}
		for _, row := range t.Rows {
			if i >= t.Left {
				out[i] = max(out[i], utf8.RuneCountInString(row[i].Text))
				continue
			}
			for _, word := range tongue.Words(row[i].Text) { // names are broken between words
				out[i] = max(out[i], utf8.RuneCountInString(word))
			}
		}
		out[i] += 2
	}
	return out
}

// turned returns the table with its columns as rows. What names a row is then the head of a column.
func (t Table) turned() Table {
	out := Table{Title: t.Title, Head: []string{strings.Join(t.Head[:t.Left], ", ")}, Left: 1}
	for _, row := range t.Rows {
		var name []string
		for _, c := range row[:t.Left] {
			if c.Text != "" {
				name = append(name, c.Text)
			}
		}
		out.Head = append(out.Head, strings.Join(name, ", "))
	}
	for i := t.Left; i < len(t.Head); i++ {
		row := []Cell{text(t.Head[i])}
		for _, r := range t.Rows {
			row = append(row, r[i])
		}
		out.Rows = append(out.Rows, row)
	}
	return out
}

// parted returns the table in as few parts of whole columns as fit, each no wider than so many letters
// where one column fits, and of these in parts that are about as wide as each other.
func (t Table) parted(letters int) []Table {
	out := t.filled(letters)
	for narrower := letters - 1; narrower > 0; narrower-- {
		even := t.filled(narrower)
		if len(even) > len(out) || even[0].wide() < even[len(even)-1].wide() {
			break
		}
		out = even
	}
	for k := 1; k < len(out); k++ {
		out[k].Title += tongue.Say(" (continued)")
	}
	return out
}

// filled returns the table in parts of as many columns as fit into so many letters.
func (t Table) filled(letters int) []Table {
	widths := t.widths()
	names := 0
	for _, w := range widths[:t.Left] {
		names += w
	}
	var out []Table
	for from := t.Left; from < len(t.Head); {
		to, sum := from, names
		for to < len(t.Head) {
			next, wider := min(len(t.Head), to+max(1, t.Together)), sum
			for _, w := range widths[to:next] {
				wider += w
			}
			if to > from && wider > letters {
				break
			}
			to, sum = next, wider
		}
		out = append(out, t.columns(from, to))
		from = to
	}
	return out
}

// columns returns the table with its names and the columns from one up to another.
func (t Table) columns(from, to int) Table {
	out := Table{Title: t.Title, Head: append(append([]string(nil), t.Head[:t.Left]...), t.Head[from:to]...), Left: t.Left, Sums: t.Sums}
	for _, row := range t.Rows {
		out.Rows = append(out.Rows, append(append([]Cell(nil), row[:t.Left]...), row[from:to]...))
	}
	return out
}

// AssumptionsOnce returns the table of assumptions with sites of which the same is stated in one row,
// and months of which the same is stated in one value.
func AssumptionsOnce(t Table) Table {
	var rows [][]Cell
	for _, row := range t.Rows {
		row = slices.Clone(row)
		row[1] = text(monthsOnce(row[1].Text))
		if last := len(rows) - 1; last >= 0 && sameSites(rows[last], row) {
			joined := append([]Cell(nil), rows[last]...)
			joined[0] = text(joined[0].Text + "; " + strings.TrimPrefix(row[0].Text, siteName))
			rows[last] = joined
			continue
		}
		rows = append(rows, row)
	}
	t.Rows = rows
	return t
}

// ofMonth is what is stated of a month: its key, the month, and what.
var ofMonth = regexp.MustCompile(`^(\S+)\.([a-z]{3}) (.+)$`)

// yearMonths are the months as keys name them.
var yearMonths = []string{"jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec"}

// monthsOnce says once what a list states of months that follow each other:
// "stalks_per_month.apr to oct 190000 stalks".
func monthsOnce(list string) string {
	var out []string
	key, first, last, what := "", "", -1, ""
	for _, part := range strings.Split(list, ", ") {
		m := ofMonth.FindStringSubmatch(part)
		at := -1
		if m != nil {
			at = slices.Index(yearMonths, m[2])
		}
		switch {
		case at < 0:
			out, key = append(out, part), ""
		case m[1] == key && m[3] == what && at == last+1:
			out[len(out)-1], last = tongue.Sayf("%s.%s to %s %s", key, first, m[2], what), at
		default:
			out, key, first, last, what = append(out, part), m[1], m[2], at, m[3]
		}
	}
	return strings.Join(out, ", ")
}

// siteName begins the name of what is stated of a site.
const siteName = "site "

// sameSites tells whether two rows of assumptions state the same of sites.
func sameSites(a, b []Cell) bool {
	if !strings.HasPrefix(a[0].Text, siteName) || !strings.HasPrefix(b[0].Text, siteName) {
		return false
	}
	for i := 1; i < len(a); i++ {
		if a[i].Text != b[i].Text {
			return false
		}
	}
	return true
}
