package main

import (
	"encoding/csv"
	"encoding/json"
	"os"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"github.com/xuri/excelize/v2"
)

// numbersIn collects all numbers of a JSON document.
func numbersIn(v any, into map[float64]bool) {
	switch v := v.(type) {
	case float64:
		into[v] = true
	case []any:
		for _, x := range v {
			numbersIn(x, into)
		}
	case map[string]any:
		for _, x := range v {
			numbersIn(x, into)
		}
	}
}

// workedOut are the columns whose numbers are sums or parts of those of the answer.
var workedOut = []string{"missing a season", "of those cut or in stock", "fewer missing stalks per 100 coins"}

// The spreadsheet and the CSV hold the numbers of the answer as JSON, to the last digit, never
// what is left of them in a rounded table.
func TestSheetsHoldTheNumbersOfTheAnswer(t *testing.T) {
	t.Chdir(t.TempDir())
	require.NoError(t, os.WriteFile("plan.yaml", []byte(tiny), 0o644))
	for _, q := range []string{"odds", "dryers", "compare", "less asked", "spend"} {
		written := writtenOf(t, q)
		var all any
		require.NoError(t, json.Unmarshal([]byte(written["answer.json"]), &all))
		known := map[float64]bool{}
		numbersIn(all, known)
		rows, err := csv.NewReader(strings.NewReader(written["figures.csv"])).ReadAll()
		require.NoError(t, err)
		require.Greater(t, len(rows), 3, q)
		fine := 0
		values := map[float64]bool{}
		for _, row := range rows[1:] {
			x, err := strconv.ParseFloat(row[4], 64)
			if err != nil {
				continue
			}
			values[x] = true
			if x != float64(int(x)) {
				fine++
			}
			if !slices.Contains(workedOut, row[3]) && row[2] != "of that grant" && row[2] != "no one and no two of the things tried" {
				assert.True(t, known[x], "%s: %q is no number of the answer", q, row)
			}
		}
		assert.Greater(t, fine, 1, "%s: unrounded numbers", q)
		inSheet := sheetNumbers(t, written["report.xlsx"])
		for x := range values {
			assert.True(t, inSheet[digits(x)], "%s: %v of the CSV is not in the spreadsheet", q, x)
		}
	}
}

// digits writes a number with fewer digits than spreadsheets keep.
func digits(x float64) string { return strconv.FormatFloat(x, 'g', 10, 64) }

// sheetNumbers collects all numbers of a workbook.
func sheetNumbers(t *testing.T, workbook string) map[string]bool {
	t.Helper()
	f, err := excelize.OpenReader(strings.NewReader(workbook))
	require.NoError(t, err)
	defer func() { _ = f.Close() }()
	out := map[string]bool{}
	for _, sheet := range f.GetSheetList() {
		rows, err := f.GetRows(sheet, excelize.Options{RawCellValue: true})
		require.NoError(t, err)
		if sheet != "Answer" {
			heads := slices.Clone(rows[1])
			slices.Sort(heads)
			assert.Len(t, slices.Compact(heads), len(rows[1]), "%s: heads tell columns apart: %q", sheet, rows[1])
		}
		for _, row := range rows {
			for _, cell := range row {
				if x, err := strconv.ParseFloat(cell, 64); err == nil {
					out[digits(x)] = true
				}
			}
		}
	}
	return out
}
