// Package book writes tables as a spreadsheet and as tidy CSV, figures as numbers.
package book

import (
	"bytes"
	"fmt"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf16"
	"unicode/utf8"

	"github.com/xuri/excelize/v2"

	"drystalk/report/table"
)

// longestSheetName is what spreadsheets allow.
const longestSheetName = 31

// Sheet is a table of a workbook, and the section of the report that it stands in.
type Sheet struct {
	Section string
	Table   table.Table
}

// Spreadsheet returns a workbook: the answer in lines first, then a sheet for each table that
// has rows, with units in the headings and numbers as numbers.
func Spreadsheet(answer []string, sheets []Sheet) ([]byte, error) {
	f := newFile()
	defer func() { _ = f.Close() }()
	b := &book{file: f, names: map[string]bool{}}
	if err := b.answer(answer); err != nil {
		return nil, fmt.Errorf("spreadsheet: %w", err)
	}
	for _, s := range sheets {
		if err := b.table(s.Table); err != nil {
			return nil, fmt.Errorf("spreadsheet, %s: %w", s.Table.Title, err)
		}
	}
	var out bytes.Buffer
	if err := f.Write(&out); err != nil {
		return nil, fmt.Errorf("spreadsheet: %w", err)
	}
	return out.Bytes(), nil
}

// properties are those of every workbook: the program that made it, and neither a person nor a
// date, so that the same answer is the same file.
const (
	coreProperties = `<?xml version="1.0" encoding="UTF-8" standalone="yes"?>
<cp:coreProperties xmlns:cp="http://schemas.openxmlformats.org/package/2006/metadata/core-properties" xmlns:dc="http://purl.org/dc/elements/1.1/"><dc:creator>drystalk</dc:creator></cp:coreProperties>`
	appProperties = `<?xml version="1.0" encoding="UTF-8" standalone="yes"?>
<Properties xmlns="http://schemas.openxmlformats.org/officeDocument/2006/extended-properties"><Application>drystalk</Application></Properties>`
)

// newFile returns an empty workbook of this program.
func newFile() *excelize.File {
	f := excelize.NewFile()
	f.Pkg.Store("docProps/core.xml", []byte(coreProperties))
	f.Pkg.Store("docProps/app.xml", []byte(appProperties))
	return f
}

// book is a workbook being filled.
type book struct {
	file  *excelize.File
	names map[string]bool
}

// answer fills the first sheet with lines of text.
func (b *book) answer(lines []string) error {
	const sheet = "Answer"
	b.names[strings.ToLower(sheet)] = true
	if err := b.file.SetSheetName("Sheet1", sheet); err != nil {
		return err
	}
	return b.lines(sheet, lines)
}

// lines writes a text into a sheet, line by line.
func (b *book) lines(sheet string, lines []string) error {
	wrap, err := b.file.NewStyle(&excelize.Style{Alignment: &excelize.Alignment{WrapText: true, Vertical: "top"}})
	if err != nil {
		return err
	}
	for i, line := range lines {
		at := fmt.Sprintf("A%d", i+1)
		if err := b.file.SetCellStr(sheet, at, line); err != nil {
			return err
		}
		if err := b.file.SetCellStyle(sheet, at, at, wrap); err != nil {
			return err
		}
	}
	return b.file.SetColWidth(sheet, "A", "A", 110)
}

// table fills a sheet with a table: its title, the headings and the rows.
func (b *book) table(t table.Table) error {
	if len(t.Rows) == 0 {
		return nil
	}
	title, _, _ := strings.Cut(strings.NewReplacer("(", "\x00", ",", "\x00", ":", "\x00").Replace(t.Title), "\x00")
	sheet := b.nameFor(title)
	if _, err := b.file.NewSheet(sheet); err != nil {
		return err
	}
	if err := b.file.SetCellStr(sheet, "A1", t.Title); err != nil {
		return err
	}
	for c, col := range columnsOf(t) {
		if err := b.column(sheet, c+1, col); err != nil {
			return err
		}
	}
	return b.file.SetPanes(sheet, &excelize.Panes{Freeze: true, YSplit: 2, TopLeftCell: "A3", ActivePane: "bottomLeft"})
}

// column fills a column: its heading below the title of the sheet, then its entries.
func (b *book) column(sheet string, c int, col column) error {
	name, err := excelize.ColumnNumberToName(c)
	if err != nil {
		return err
	}
	if err := b.heading(sheet, name+"2", col.head()); err != nil {
		return err
	}
	for r, x := range col.rows {
		if err := b.entry(sheet, fmt.Sprintf("%s%d", name, r+3), x); err != nil {
			return err
		}
	}
	return b.file.SetColWidth(sheet, name, name, col.width(c == 1))
}

// heading writes a heading.
func (b *book) heading(sheet, at, text string) error {
	bold, err := b.file.NewStyle(&excelize.Style{Font: &excelize.Font{Bold: true}, Alignment: &excelize.Alignment{WrapText: true, Vertical: "top"}})
	if err != nil {
		return err
	}
	if err := b.file.SetCellStr(sheet, at, text); err != nil {
		return err
	}
	return b.file.SetCellStyle(sheet, at, at, bold)
}

// formats are the number formats of the forms.
var formats = map[table.Form]string{table.Count: "#,##0", table.Real: "#,##0.0###", table.Share: "0.0%", table.Money: "#,##0", table.Price: "#,##0.0000"}

// entry writes a number with its format, or a text; text is never a formula.
func (b *book) entry(sheet, at string, x entry) error {
	switch {
	case x.empty():
		return nil
	case x.form == table.Words:
		return b.file.SetCellStr(sheet, at, x.text)
	}
	format := formats[x.form]
	style, err := b.file.NewStyle(&excelize.Style{CustomNumFmt: &format})
	if err != nil {
		return err
	}
	if err := b.file.SetCellFloat(sheet, at, x.number, -1, 64); err != nil {
		return err
	}
	return b.file.SetCellStyle(sheet, at, at, style)
}

// width is the width of a column in letters.
func (c column) width(first bool) float64 {
	n := 10
	for _, x := range c.rows {
		n = max(n, utf8.RuneCountInString(x.text))
	}
	if n == 10 && !first {
		return 14
	}
	return float64(min(60, n+2))
}

// nameFor returns a name for a sheet that no other has, without what spreadsheets forbid.
// Spreadsheets take small and capital letters in it for the same.
func (b *book) nameFor(title string) string {
	clean := strings.TrimSpace(strings.Map(func(c rune) rune {
		if strings.ContainsRune(`[]:*?/\'`, c) || !unicode.IsPrint(c) {
			return -1
		}
		return c
	}, title))
	name := cut(clean, longestSheetName)
	for k := 2; name == "" || name == "History" || b.names[strings.ToLower(name)]; k++ {
		name = strings.TrimSpace(cut(clean, longestSheetName-4) + " " + strconv.Itoa(k))
	}
	b.names[strings.ToLower(name)] = true
	return name
}

// cut returns the first letters of a text, counted in units of UTF-16 as spreadsheets do.
func cut(s string, most int) string {
	n := 0
	for i, c := range s {
		if n += utf16.RuneLen(c); n > most {
			return strings.TrimSpace(s[:i])
		}
	}
	return s
}
