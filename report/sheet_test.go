package report

import (
	"bytes"
	"encoding/csv"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"github.com/xuri/excelize/v2"

	"drystalk/report/internal/sample"
)

// The workbook holds a sheet for each table, its figures as numbers; the CSV holds the same
// figures.
func TestSpreadsheetAndCSV(t *testing.T) {
	r, err := ForDryers(sample.Answer(), "coins", "")
	require.NoError(t, err)
	r.Reproduce = []string{"drystalk dryers"}
	data, err := r.Spreadsheet()
	require.NoError(t, err)
	f, err := excelize.OpenReader(bytes.NewReader(data))
	require.NoError(t, err)
	tables := 0
	for _, s := range r.All() {
		tables += len(s.Tables)
	}
	assert.Len(t, f.GetSheetList(), tables+2, "the answer, each table, all cautions: %v", f.GetSheetList())
	for _, sheet := range f.GetSheetList() {
		assert.LessOrEqual(t, len([]rune(sheet)), 31, "what spreadsheets allow")
	}
	met, err := f.GetCellValue("Odds by number of dryers", "D6") // title, heads, 0, 1, 2, 3 dryers
	require.NoError(t, err)
	assert.Equal(t, "93.4%", met)
	kind, err := f.GetCellType("Odds by number of dryers", "D6")
	require.NoError(t, err)
	assert.NotEqual(t, excelize.CellTypeSharedString, kind, "a number")

	tidy, err := r.Tidy()
	require.NoError(t, err)
	rows, err := csv.NewReader(bytes.NewReader(tidy)).ReadAll()
	require.NoError(t, err)
	assert.Contains(t, rows, []string{"Odds by number of dryers", "Odds by number of dryers (95 % intervals)", "3 (enough) July", "met in", "0.934", "share"})
}
