package book

import (
	"bytes"
	"fmt"
	"reflect"

	"drystalk/report/table"
	"drystalk/report/words"
	"drystalk/sim"
	"drystalk/tongue"

	"github.com/xuri/excelize/v2"
)

// Ledger returns the ledger of a season as a workbook: the hub, then a sheet for each site,
// every column of the ledger with its unit, and a row of totals that the spreadsheet adds up
// itself. The last sheet holds lines of text. The region stands in the foot of each page.
func Ledger(region string, l sim.RegionLedger, about []string) ([]byte, error) {
	f := newFile()
	defer func() { _ = f.Close() }()
	b := &book{file: f, names: map[string]bool{"hub": true, "about": true}, region: region}
	if err := f.SetSheetName("Sheet1", tongue.Say("Hub")); err != nil {
		return nil, fmt.Errorf("workbook: %w", err)
	}
	var months []string
	for i := range l.Hub {
		months = append(months, l.Hub[i].Month.String())
	}
	if err := b.ledger(tongue.Say("Hub"), months, hubColumns(l.Hub)); err != nil {
		return nil, fmt.Errorf("workbook, hub: %w", err)
	}
	for _, site := range l.Sites {
		sheet := b.nameFor(site.Site)
		if _, err := f.NewSheet(sheet); err != nil {
			return nil, fmt.Errorf("workbook: %w", err)
		}
		if err := b.ledger(sheet, months, siteColumns(site.Months)); err != nil {
			return nil, fmt.Errorf("workbook, %s: %w", site.Site, err)
		}
	}
	if _, err := f.NewSheet(tongue.Say("About")); err != nil {
		return nil, fmt.Errorf("workbook: %w", err)
	}
	if err := b.lines(tongue.Say("About"), about); err != nil {
		return nil, fmt.Errorf("workbook: %w", err)
	}
	if err := b.print(tongue.Say("About"), printed{}); err != nil {
		return nil, fmt.Errorf("workbook: %w", err)
	}
	var out bytes.Buffer
	if err := f.Write(&out); err != nil {
		return nil, fmt.Errorf("workbook: %w", err)
	}
	return out.Bytes(), nil
}

// ledgerColumn is a column of the ledger: a figure month by month.
type ledgerColumn struct {
	key        string // as in JSON, with its unit
	unit, desc string
	stock      bool // what lies there at a time: it has no total
	value      func(month int) any
}

// siteColumns returns a column for every figure of the registry.
func siteColumns(months []sim.SiteMonth) (out []ledgerColumn) {
	for _, c := range sim.Columns() {
		f := c.Figure
		out = append(out, ledgerColumn{
			key: f.UnitKey(), unit: string(f.Unit), desc: words.FigureColumn(f.ID), stock: f.Kind == sim.AtStart || f.Kind == sim.AtEnd,
			value: func(m int) any { return f.Of(&months[m]) },
		})
	}
	return out
}

// hubColumns returns a column for every field of a month at the hub that names its unit.
func hubColumns(months []sim.HubMonth) (out []ledgerColumn) {
	t := reflect.TypeFor[sim.HubMonth]()
	for i := range t.NumField() {
		f := t.Field(i)
		if unit := f.Tag.Get("unit"); unit != "" {
			out = append(out, ledgerColumn{
				key: f.Tag.Get("json"), unit: unit, desc: tongue.Say(tongue.Text(f.Tag.Get("desc"))), stock: f.Name == "Opening" || f.Name == "Closing",
				value: func(m int) any { return reflect.ValueOf(months[m]).Field(i).Interface() },
			})
		}
	}
	return out
}

// ledger writes the columns of a ledger, month by month, and their totals.
func (b *book) ledger(sheet string, months []string, columns []ledgerColumn) error {
	if len(months) == 0 {
		return nil
	}
	if err := b.cells(sheet, 1, append(append([]any{nil, tongue.Say("month")}, list(months)...), tongue.Say("total"))); err != nil {
		return err
	}
	for c, col := range columns {
		cells := []any{col.desc, col.key}
		for m := range months {
			cells = append(cells, col.value(m))
		}
		if err := b.cells(sheet, c+2, cells); err != nil {
			return err
		}
		if err := b.ledgerFormat(sheet, c+2, len(months), col); err != nil {
			return err
		}
		if col.stock {
			continue
		}
		name := columnName(c + 1)
		if err := b.file.SetCellFormula(sheet, fmt.Sprintf("%s%d", name, len(months)+3), fmt.Sprintf("SUM(%s3:%s%d)", name, name, len(months)+2)); err != nil {
			return err
		}
	}
	if err := b.file.SetPanes(sheet, &excelize.Panes{Freeze: true, XSplit: 1, YSplit: 2, TopLeftCell: "B3", ActivePane: "bottomRight"}); err != nil {
		return err
	}
	return b.print(sheet, printed{across: true, heads: "$A:$A,$1:$2", whole: true})
}

// mostKey is how wide a column of a ledger is at most: longer keys are broken.
const mostKey = 18

// ledgerFormat shows the months of a column and their total as whole numbers, hours with a decimal,
// and breaks its heads into lines.
func (b *book) ledgerFormat(sheet string, c, months int, col ledgerColumn) error {
	format := formats[table.Count]
	if col.unit == string(sim.Hours) {
		format = "#,##0.0"
	}
	name := columnName(c - 1)
	if err := b.style(sheet, name+"1", name+"2", excelize.Style{Alignment: wrapped("right")}); err != nil {
		return err
	}
	if err := b.file.SetColWidth(sheet, name, name, float64(max(leastWide, min(mostKey, len(col.key)))+1)); err != nil {
		return err
	}
	return b.style(sheet, name+"3", fmt.Sprintf("%s%d", name, months+3), excelize.Style{CustomNumFmt: &format})
}

// cells writes cells below one another; nil is left empty.
func (b *book) cells(sheet string, c int, cells []any) error {
	for r, v := range cells {
		if v == nil {
			continue
		}
		at, err := excelize.CoordinatesToCellName(c, r+1)
		if err != nil {
			return err
		}
		if err := b.file.SetCellValue(sheet, at, v); err != nil {
			return err
		}
	}
	return nil
}

// list returns words as cells.
func list(names []string) (out []any) {
	for _, n := range names {
		out = append(out, n)
	}
	return out
}
