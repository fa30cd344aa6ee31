package book

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"strconv"
	"strings"

	"drystalk/report/table"
)

// Tidy returns all figures of tables as CSV, one to a line: section, table, row, column, value,
// unit. Numbers are those of the answer, unrounded; texts are left out where they name a row.
func Tidy(sheets []Sheet) ([]byte, error) {
	var out bytes.Buffer
	w := csv.NewWriter(&out)
	if err := w.Write([]string{"section", "table", "row", "column", "value", "unit"}); err != nil {
		return nil, fmt.Errorf("csv: %w", err)
	}
	for _, s := range sheets {
		if s.Table.Said {
			continue
		}
		columns := columnsOf(s.Table)
		for i := range s.Table.Rows {
			for c, col := range columns {
				x := col.rows[i]
				if c == 0 || x.empty() || col.part == "unit" {
					continue
				}
				value := Inert(x.text)
				if x.form != table.Words {
					value = strconv.FormatFloat(x.number, 'g', -1, 64)
				}
				if err := w.Write([]string{Inert(s.Section), Inert(s.Table.Title), Inert(rowName(s.Table, i)), Inert(col.title()), value, Inert(x.unit)}); err != nil {
					return nil, fmt.Errorf("csv: %w", err)
				}
			}
		}
	}
	w.Flush()
	return out.Bytes(), w.Error()
}

// Inert returns a text that no spreadsheet takes for a formula when it opens the CSV: names and
// currencies are the user's, and what begins with one of these signs would be worked out.
func Inert(text string) string {
	if len(text) > 1 && strings.ContainsRune("=+-@\t\r\n", rune(text[0])) {
		return "'" + text
	}
	return text
}

// rowName returns what the first columns of a row say.
func rowName(t table.Table, i int) string {
	row := t.Words()[i]
	n := min(max(1, t.Left), len(row))
	return strings.TrimSpace(strings.Join(row[:n], " "))
}
