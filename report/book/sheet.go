package book

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"unicode/utf8"

	"github.com/xuri/excelize/v2"

	"drystalk/report/table"
	"drystalk/tongue"
)

// Widths, in digits of the workbook's letters, as spreadsheets count them.
const (
	pageWide   = 82   // the text width of A4 upright in letters of 11 points
	leastWide  = 8    // of a column
	mostHead   = 16   // of a column for the sake of its heading
	headLines  = 3    // that a heading takes, where its column is not wider then
	mostWords  = 44   // of a column of words; what is longer is broken into lines
	mostSaid   = 64   // of a column of sentences
	mostOfFour = 52   // of a column of words beside several others
	uprightFor = 100  // what is wider prints across the page
	acrossFor  = 190  // what is wider prints on several pages side by side, its letters no smaller than 7 points
	lineHigh   = 14.5 // points, of letters of 11 points in any usual font
	fills      = 1.1  // letters of running text that are as wide as a digit: 1.15 to 1.2 in usual fonts
	boldFills  = 0.98 // the same of bold letters
)

// wrapped is how words stand in a cell: broken into lines, from the top.
func wrapped(side string) *excelize.Alignment {
	a := &excelize.Alignment{WrapText: true, Vertical: "top", Horizontal: side}
	if side == "left" {
		a.Indent = 1 // apart from numbers to the left of it
	}
	return a
}

// unbroken is how numbers stand in a cell: in one line.
func unbroken(side string) *excelize.Alignment {
	a := wrapped(side)
	a.WrapText = false
	return a
}

// table fills a sheet with a table: its title, the headings and the rows.
func (b *book) table(t table.Table) error {
	if len(t.Rows) == 0 {
		return nil
	}
	sheet := b.nameFor(nameOf(t))
	if _, err := b.file.NewSheet(sheet); err != nil {
		return err
	}
	columns, wide := columnsOf(t), 0.0
	lines := make([]int, len(t.Rows)+1) // of the heads, then of each row
	for c, col := range columns {
		width := col.width(mostOf(t))
		wide += width
		lines[0] = max(lines[0], linesOf(col.head(), boldFills*width))
		for r, x := range col.rows {
			lines[r+1] = max(lines[r+1], linesOf(x.shown(), fills*width))
		}
		if err := b.column(sheet, c+1, col, width); err != nil {
			return err
		}
	}
	for r, n := range lines {
		if err := b.file.SetRowHeight(sheet, r+2, lineHigh*float64(n)); err != nil {
			return err
		}
	}
	if err := b.title(sheet, t.Title, len(columns), wide); err != nil {
		return err
	}
	if err := b.file.SetPanes(sheet, &excelize.Panes{Freeze: true, YSplit: 2, TopLeftCell: "A3", ActivePane: "bottomLeft"}); err != nil {
		return err
	}
	p := printed{across: wide > uprightFor, heads: "$1:$2"}
	if t.Left < len(t.Head) && wide > acrossFor {
		p.heads, p.wide = "$A:$A,$1:$2", int(math.Ceil(wide/acrossFor))
	}
	return b.print(sheet, p)
}

// title writes the title of a sheet over its columns, in as many lines as it takes.
func (b *book) title(sheet, title string, columns int, wide float64) error {
	last := columnName(columns - 1)
	if err := b.file.SetCellStr(sheet, "A1", title); err != nil {
		return err
	}
	if columns > 1 {
		if err := b.file.MergeCell(sheet, "A1", last+"1"); err != nil {
			return err
		}
	}
	if err := b.style(sheet, "A1", last+"1", excelize.Style{Font: &excelize.Font{Family: "Arial", Size: 11, Bold: true}, Alignment: wrapped("left")}); err != nil {
		return err
	}
	return b.file.SetRowHeight(sheet, 1, lineHigh*float64(linesOf(title, boldFills*wide)))
}

// linesOf is how many lines a text takes in a cell of some width.
func linesOf(text string, wide float64) int {
	lines, at := 1, 0
	for _, word := range tongue.Words(text) {
		n := utf8.RuneCountInString(word)
		switch {
		case at > 0 && at+1+n > int(wide):
			lines, at = lines+1, n
		case at > 0:
			at += 1 + n
		default:
			at = n
		}
		for ; at > int(wide) && int(wide) > 0; at -= int(wide) { // a word longer than the line
			lines++
		}
	}
	return lines
}

// column fills a column: its heading below the title of the sheet, then its entries.
func (b *book) column(sheet string, c int, col column, width float64) error {
	name := columnName(c - 1)
	side := "left"
	if col.numbers() {
		side = "right"
	}
	if err := b.file.SetCellStr(sheet, name+"2", col.head()); err != nil {
		return err
	}
	head := excelize.Style{Font: &excelize.Font{Family: "Arial", Size: 11, Bold: true}, Alignment: wrapped(side), Border: []excelize.Border{{Type: "bottom", Style: 1, Color: "16323F"}}}
	if err := b.style(sheet, name+"2", name+"2", head); err != nil {
		return err
	}
	for r, x := range col.rows {
		if err := b.entry(sheet, fmt.Sprintf("%s%d", name, r+3), x, side); err != nil {
			return err
		}
	}
	return b.file.SetColWidth(sheet, name, name, width)
}

// formats are the number formats of the forms.
var formats = map[table.Form]string{table.Count: "#,##0", table.Real: "#,##0.0###", table.Share: "0.0%", table.Money: "#,##0", table.Price: "#,##0.0000"}

// entry writes a number with its format, or a text; text is never a formula.
func (b *book) entry(sheet, at string, x entry, side string) error {
	switch {
	case x.empty():
		return nil
	case x.form == table.Words:
		if err := b.file.SetCellStr(sheet, at, x.text); err != nil {
			return err
		}
		return b.style(sheet, at, at, excelize.Style{Alignment: wrapped(side)})
	}
	format := formats[x.form]
	if err := b.file.SetCellFloat(sheet, at, x.number, -1, 64); err != nil {
		return err
	}
	return b.style(sheet, at, at, excelize.Style{CustomNumFmt: &format, Alignment: unbroken(side)})
}

// numbers tells whether a column holds numbers, words only in place of one that is missing.
func (c column) numbers() bool {
	for _, x := range c.rows {
		if x.form != table.Words {
			return true
		}
	}
	return false
}

// mostOf is how wide a column of words of a table is at most: wider where there is nothing else.
func mostOf(t table.Table) int {
	switch {
	case t.Left < len(t.Head):
		return mostWords
	case len(t.Head) <= 2:
		return mostSaid
	}
	return mostOfFour
}

// width is the width of a column: its longest entry and the longest word of its heading, words as
// far as they are not broken into lines.
func (c column) width(most int) float64 {
	n := leastWide
	for _, word := range tongue.Words(c.head()) {
		n = max(n, utf8.RuneCountInString(word)+1) // bold letters are wider
	}
	for n < mostHead && linesOf(c.head(), boldFills*float64(n)) > headLines {
		n++
	}
	for _, x := range c.rows {
		n = max(n, min(most, utf8.RuneCountInString(x.shown())))
	}
	return float64(n) + 2
}

// shown is about how a spreadsheet shows an entry.
func (e entry) shown() string {
	switch e.form {
	case table.Words:
		return e.text
	case table.Share:
		return strconv.FormatFloat(100*e.number, 'f', 1, 64) + "%"
	case table.Price, table.Real:
		return grouped(e.number) + ".0000"
	}
	return grouped(e.number)
}

// grouped is a whole number with thousands apart.
func grouped(x float64) string {
	digits := strconv.FormatFloat(x, 'f', 0, 64)
	return digits + strings.Repeat(",", len(digits)/3)
}
