package book

import (
	"bytes"
	"fmt"
	"reflect"

	"github.com/xuri/excelize/v2"

	"drystalk/sim"
)

// Ledger returns the ledger of a season as a workbook: the hub, then a sheet for each site,
// every column of the ledger with its unit, and a row of totals that the spreadsheet adds up
// itself.
func Ledger(l sim.RegionLedger) ([]byte, error) {
	f := excelize.NewFile()
	defer func() { _ = f.Close() }()
	b := &book{file: f, names: map[string]bool{"Hub": true}}
	if err := f.SetSheetName("Sheet1", "Hub"); err != nil {
		return nil, fmt.Errorf("workbook: %w", err)
	}
	var hub []reflect.Value
	var months []string
	for i := range l.Hub {
		hub = append(hub, reflect.ValueOf(l.Hub[i]))
		months = append(months, l.Hub[i].Month.String())
	}
	if err := b.ledger("Hub", months, hub); err != nil {
		return nil, fmt.Errorf("workbook, hub: %w", err)
	}
	for _, site := range l.Sites {
		sheet := b.nameFor(site.Site)
		if _, err := f.NewSheet(sheet); err != nil {
			return nil, fmt.Errorf("workbook: %w", err)
		}
		var rows []reflect.Value
		for i := range site.Months {
			rows = append(rows, reflect.ValueOf(site.Months[i]))
		}
		if err := b.ledger(sheet, months, rows); err != nil {
			return nil, fmt.Errorf("workbook, %s: %w", site.Site, err)
		}
	}
	var out bytes.Buffer
	if err := f.Write(&out); err != nil {
		return nil, fmt.Errorf("workbook: %w", err)
	}
	return out.Bytes(), nil
}

// stocks are columns that hold what lies there at a time: they have no total.
var stocks = map[string]bool{"Opening": true, "Closing": true}

// ledger writes the months of a ledger: a column for each figure that names its unit, nested
// ones too.
func (b *book) ledger(sheet string, months []string, rows []reflect.Value) error {
	if len(rows) == 0 {
		return nil
	}
	type column struct {
		name, unit, desc string
		at               []int
	}
	var columns []column
	var walk func(t reflect.Type, prefix string, at []int)
	walk = func(t reflect.Type, prefix string, at []int) {
		for i := range t.NumField() {
			f := t.Field(i)
			path := append(append([]int(nil), at...), i)
			if f.Type.Kind() == reflect.Struct {
				walk(f.Type, f.Name+" ", path)
			} else if unit := f.Tag.Get("unit"); unit != "" {
				columns = append(columns, column{prefix + f.Name, unit, f.Tag.Get("desc"), path})
			}
		}
	}
	walk(rows[0].Type(), "", nil)
	set := func(c, r int, v any) error {
		at, err := excelize.CoordinatesToCellName(c, r)
		if err != nil {
			return err
		}
		return b.file.SetCellValue(sheet, at, v)
	}
	if err := set(1, 2, "month"); err != nil {
		return err
	}
	for r, month := range months {
		if err := set(1, r+3, month); err != nil {
			return err
		}
	}
	if err := set(1, len(months)+3, "total"); err != nil {
		return err
	}
	for c, col := range columns {
		if err := set(c+2, 1, col.desc); err != nil {
			return err
		}
		if err := set(c+2, 2, col.name+", "+col.unit); err != nil {
			return err
		}
		for r := range rows {
			if err := set(c+2, r+3, rows[r].FieldByIndex(col.at).Interface()); err != nil {
				return err
			}
		}
		if stocks[col.name] {
			continue
		}
		name, err := excelize.ColumnNumberToName(c + 2)
		if err != nil {
			return err
		}
		if err := b.file.SetCellFormula(sheet, fmt.Sprintf("%s%d", name, len(rows)+3), fmt.Sprintf("SUM(%s3:%s%d)", name, name, len(rows)+2)); err != nil {
			return err
		}
	}
	return b.file.SetPanes(sheet, &excelize.Panes{Freeze: true, XSplit: 1, YSplit: 2, TopLeftCell: "B3", ActivePane: "bottomRight"})
}
