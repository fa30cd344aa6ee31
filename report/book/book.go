// Package book writes tables as a spreadsheet and as tidy CSV, figures as numbers.
package book

import (
	"bytes"
	"fmt"
	"strconv"
	"strings"
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
	f := excelize.NewFile()
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

// book is a workbook being filled.
type book struct {
	file  *excelize.File
	names map[string]bool
}

// answer fills the first sheet with lines of text.
func (b *book) answer(lines []string) error {
	const sheet = "Answer"
	b.names[sheet] = true
	if err := b.file.SetSheetName("Sheet1", sheet); err != nil {
		return err
	}
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
	g := gridOf(t)
	if err := b.file.SetCellStr(sheet, "A1", g.title); err != nil {
		return err
	}
	bold, err := b.file.NewStyle(&excelize.Style{Font: &excelize.Font{Bold: true}, Alignment: &excelize.Alignment{WrapText: true, Vertical: "top"}})
	if err != nil {
		return err
	}
	for c, head := range g.head {
		at, err := excelize.CoordinatesToCellName(c+1, 2)
		if err != nil {
			return err
		}
		if err := b.file.SetCellStr(sheet, at, head); err != nil {
			return err
		}
		if err := b.file.SetCellStyle(sheet, at, at, bold); err != nil {
			return err
		}
		name, err := excelize.ColumnNumberToName(c + 1)
		if err != nil {
			return err
		}
		if err := b.file.SetColWidth(sheet, name, name, b.widthOf(g, c)); err != nil {
			return err
		}
	}
	for r, row := range g.rows {
		for c, x := range row {
			at, err := excelize.CoordinatesToCellName(c+1, r+3)
			if err != nil {
				return err
			}
			switch {
			case x.isNumber:
				err = b.file.SetCellFloat(sheet, at, x.number, -1, 64)
			case x.text != "":
				err = b.file.SetCellStr(sheet, at, x.text)
			}
			if err != nil {
				return err
			}
		}
	}
	return b.file.SetPanes(sheet, &excelize.Panes{Freeze: true, YSplit: 2, TopLeftCell: "A3", ActivePane: "bottomLeft"})
}

func (b *book) widthOf(g grid, column int) float64 {
	if column > 0 && g.rows[0][column].isNumber {
		return 14
	}
	n := 10
	for _, row := range g.rows {
		n = max(n, utf8.RuneCountInString(row[column].text))
	}
	return float64(min(60, n+2))
}

// nameFor returns a name for a sheet that no other has, without what spreadsheets forbid.
func (b *book) nameFor(title string) string {
	name := strings.Map(func(c rune) rune {
		if strings.ContainsRune(`[]:*?/\'`, c) {
			return -1
		}
		return c
	}, strings.TrimSpace(title))
	cut := func(s string, n int) string {
		r := []rune(s)
		return strings.TrimSpace(string(r[:min(n, len(r))]))
	}
	name = cut(name, longestSheetName)
	for k := 2; b.names[name] || name == ""; k++ {
		name = cut(cut(title, longestSheetName-3)+" "+strconv.Itoa(k), longestSheetName)
	}
	b.names[name] = true
	return name
}
