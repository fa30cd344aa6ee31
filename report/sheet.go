package report

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"strconv"
	"strings"
	"unicode/utf8"

	"github.com/xuri/excelize/v2"
)

// longestSheetName is what spreadsheets allow.
const longestSheetName = 31

// Spreadsheet returns the report as a workbook: the answer first, then a sheet for each table,
// with units in the headings and numbers as numbers.
func (r Report) Spreadsheet() ([]byte, error) {
	f := excelize.NewFile()
	defer func() { _ = f.Close() }()
	b := &book{file: f, names: map[string]bool{}}
	if err := b.answer(r); err != nil {
		return nil, fmt.Errorf("spreadsheet: %w", err)
	}
	for _, s := range r.Sections {
		for _, t := range s.Tables {
			if err := b.table(t); err != nil {
				return nil, fmt.Errorf("spreadsheet, %s: %w", t.Title, err)
			}
		}
	}
	if err := b.table(AssumptionsTable(r.Assumptions)); err != nil {
		return nil, fmt.Errorf("spreadsheet: %w", err)
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

// answer fills the first sheet.
func (b *book) answer(r Report) error {
	const sheet = "Answer"
	b.names[sheet] = true
	if err := b.file.SetSheetName("Sheet1", sheet); err != nil {
		return err
	}
	lines := []string{r.Title, r.Sentence, r.Words()}
	lines = append(lines, r.Warnings...)
	lines = append(lines, "", "Cautions")
	lines = append(lines, Cautions()...)
	lines = append(lines, "", "How to get the same numbers")
	lines = append(lines, r.Reproduce...)
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
func (b *book) table(t Table) error {
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

// Tidy returns all figures of the report as CSV, one to a line: section, table, row, column,
// value. Texts are left out where they name a row.
func (r Report) Tidy() ([]byte, error) {
	var out bytes.Buffer
	w := csv.NewWriter(&out)
	if err := w.Write([]string{"section", "table", "row", "column", "value"}); err != nil {
		return nil, fmt.Errorf("csv: %w", err)
	}
	for _, s := range r.Sections {
		for _, t := range s.Tables {
			g := gridOf(t)
			for i, row := range g.rows {
				for c, x := range row {
					value := x.text
					if x.isNumber {
						value = strconv.FormatFloat(x.number, 'g', -1, 64)
					}
					if c == 0 || value == "" {
						continue
					}
					if err := w.Write([]string{s.Title, t.Title, rowName(t, i), g.head[c], value}); err != nil {
						return nil, fmt.Errorf("csv: %w", err)
					}
				}
			}
		}
	}
	w.Flush()
	return out.Bytes(), w.Error()
}

// rowName returns what the first columns of a row say.
func rowName(t Table, i int) string {
	n := min(max(1, t.Left), len(t.Rows[i]))
	return strings.TrimSpace(strings.Join(t.Rows[i][:n], " "))
}
