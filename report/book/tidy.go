package book

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"strconv"
	"strings"

	"drystalk/report/table"
)

// Tidy returns all figures of tables as CSV, one to a line: section, table, row, column,
// value. Texts are left out where they name a row.
func Tidy(sheets []Sheet) ([]byte, error) {
	var out bytes.Buffer
	w := csv.NewWriter(&out)
	if err := w.Write([]string{"section", "table", "row", "column", "value"}); err != nil {
		return nil, fmt.Errorf("csv: %w", err)
	}
	for _, s := range sheets {
		g := gridOf(s.Table)
		for i, row := range g.rows {
			for c, x := range row {
				value := x.text
				if x.isNumber {
					value = strconv.FormatFloat(x.number, 'g', -1, 64)
				}
				if c == 0 || value == "" {
					continue
				}
				if err := w.Write([]string{s.Section, s.Table.Title, rowName(s.Table, i), g.head[c], value}); err != nil {
					return nil, fmt.Errorf("csv: %w", err)
				}
			}
		}
	}
	w.Flush()
	return out.Bytes(), w.Error()
}

// rowName returns what the first columns of a row say.
func rowName(t table.Table, i int) string {
	n := min(max(1, t.Left), len(t.Rows[i]))
	return strings.TrimSpace(strings.Join(t.Rows[i][:n], " "))
}
