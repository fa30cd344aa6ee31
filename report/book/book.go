// Package book writes tables as a spreadsheet and as tidy CSV, figures as numbers.
package book

import (
	"bytes"
	"fmt"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf16"

	"drystalk/report/table"
	"drystalk/tongue"

	"github.com/xuri/excelize/v2"
)

// longestSheetName is what spreadsheets allow.
const longestSheetName = 31

// Sheet is a table of a workbook, and the section of the report that it stands in.
type Sheet struct {
	Section string
	Table   table.Table
}

// Spreadsheet returns a workbook: the answer as it is told first, then a sheet for each table that
// has rows, with units in the headings and numbers as numbers, and last the cautions in full. Each
// sheet is set up to print on A4.
func Spreadsheet(first Front, sheets []Sheet, cautions []string) ([]byte, error) {
	f := newFile()
	defer func() { _ = f.Close() }()
	b := &book{file: f, names: map[string]bool{}, region: first.Region}
	if err := b.front(first); err != nil {
		return nil, fmt.Errorf("spreadsheet: %w", err)
	}
	for _, s := range sheets {
		if err := b.table(s.Table); err != nil {
			return nil, fmt.Errorf("spreadsheet, %s: %w", s.Table.Title, err)
		}
	}
	if err := b.cautions(cautions); err != nil {
		return nil, fmt.Errorf("spreadsheet, cautions: %w", err)
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

// newFile returns an empty workbook of this program, in letters that every machine has or has
// something as wide for.
func newFile() *excelize.File {
	f := excelize.NewFile()
	_ = f.SetDefaultFont("Arial") // a new file has a default font to name
	f.Pkg.Store("docProps/core.xml", []byte(coreProperties))
	f.Pkg.Store("docProps/app.xml", []byte(appProperties))
	return f
}

// book is a workbook being filled.
type book struct {
	file   *excelize.File
	names  map[string]bool
	region string // in the foot of each printed page
}

// style makes cells look as described; the library keeps equal styles once.
func (b *book) style(sheet, from, to string, s excelize.Style) error {
	id, err := b.file.NewStyle(&s)
	if err != nil {
		return err
	}
	return b.file.SetCellStyle(sheet, from, to, id)
}

// cautions adds a sheet of all cautions.
func (b *book) cautions(list []string) error {
	if len(list) == 0 {
		return nil
	}
	sheet := b.nameFor(tongue.Say("Cautions"))
	if _, err := b.file.NewSheet(sheet); err != nil {
		return err
	}
	if err := b.lines(sheet, append([]string{tongue.Say("Cautions")}, list...)); err != nil {
		return err
	}
	return b.print(sheet, printed{})
}

// lines writes a text into a sheet, line by line.
func (b *book) lines(sheet string, lines []string) error {
	for i, line := range lines {
		at := fmt.Sprintf("A%d", i+1)
		if err := b.file.SetCellStr(sheet, at, line); err != nil {
			return err
		}
		if err := b.style(sheet, at, at, excelize.Style{Alignment: wrapped("left")}); err != nil {
			return err
		}
	}
	return b.file.SetColWidth(sheet, "A", "A", pageWide)
}

// nameOf returns what the sheet of a table is called: the name made for it, or as much of its title
// as says a thing by itself and fits, in whole words.
func nameOf(t table.Table) string {
	if t.Sheet != "" {
		return t.Sheet
	}
	name := t.Title
	for _, mark := range []string{" (", ": ", ", "} {
		if name, _, _ = strings.Cut(name, mark); long(name) <= longestSheetName {
			break
		}
	}
	return name
}

// long is how many letters a text has, counted in units of UTF-16 as spreadsheets do.
func long(s string) (n int) {
	for _, c := range s {
		n += utf16.RuneLen(c)
	}
	return n
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
	name := inWords(clean, longestSheetName)
	for k := 2; name == "" || name == "History" || b.names[strings.ToLower(name)]; k++ {
		name = strings.TrimSpace(inWords(clean, longestSheetName-4) + " " + strconv.Itoa(k))
	}
	b.names[strings.ToLower(name)] = true
	return name
}

// inWords returns the first words of a text that have at most so many letters; of a longer word its
// first letters.
func inWords(s string, most int) string {
	if long(s) <= most {
		return s
	}
	s = cut(s, most+1)
	if at := strings.LastIndexByte(s, ' '); at > 0 {
		return strings.TrimRight(s[:at], " ,;")
	}
	return cut(s, most)
}

// cut returns the first letters of a text.
func cut(s string, most int) string {
	n := 0
	for i, c := range s {
		if n += utf16.RuneLen(c); n > most {
			return s[:i]
		}
	}
	return s
}

// columnName is the name of a column, counted from 0.
func columnName(c int) string {
	name, err := excelize.ColumnNumberToName(c + 1)
	if err != nil {
		panic(err) // no table has more columns than a spreadsheet
	}
	return name
}
