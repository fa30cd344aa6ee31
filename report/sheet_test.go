package report

import (
	"bytes"
	"encoding/csv"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"github.com/xuri/excelize/v2"
)

// Figures come apart as the tables write them.
func TestFiguresComeApart(t *testing.T) {
	for text, want := range map[string]float64{"1,234": 1234, "-5,000": -5000, "+12": 12, "92 %": 92, "under 1 %": 1, "T$ 1,200": 1200, "0.0835": 0.0835} {
		x, _, ok := numberOf(text)
		assert.True(t, ok, text)
		assert.Equal(t, want, x, text)
	}
	for _, text := range []string{"", "August", "8 (fund)", "1 Jul", "no limit", "2.5 years", "1 to 2"} {
		_, _, ok := numberOf(text)
		assert.False(t, ok, text)
	}
	g := gridOf(Table{
		Title: "x", Head: []string{"dryers", "met in", "interval", "month"}, Left: 1,
		Rows: [][]string{{"0", "under 1 % (0 to 2 %)", "1,000 to 2,000", "July"}, {"1", "92 % (90 to 94 %)", "", "August"}},
	})
	assert.Equal(t, []string{"dryers", "met in, %", "met in, %, low", "met in, %, high", "interval, from", "interval, to", "month"}, g.head)
	assert.Equal(t, []cell{{number: 1, isNumber: true}, {number: 92, isNumber: true}, {number: 90, isNumber: true}, {number: 94, isNumber: true}, {}, {}, {text: "August"}}, g.rows[1])
}

// The workbook holds a sheet for each table, its figures as numbers; the CSV holds the same
// figures.
func TestSpreadsheetAndCSV(t *testing.T) {
	r, err := ForDryers(answer(), "T$")
	require.NoError(t, err)
	r.Reproduce = []string{"drystalk dryers"}
	data, err := r.Spreadsheet()
	require.NoError(t, err)
	f, err := excelize.OpenReader(bytes.NewReader(data))
	require.NoError(t, err)
	tables := 0
	for _, s := range r.Sections {
		tables += len(s.Tables)
	}
	assert.Len(t, f.GetSheetList(), tables+1, "%v", f.GetSheetList())
	for _, sheet := range f.GetSheetList() {
		assert.LessOrEqual(t, len([]rune(sheet)), longestSheetName)
	}
	sentence, err := f.GetCellValue("Answer", "A2")
	require.NoError(t, err)
	assert.Equal(t, r.Sentence, sentence)
	met, err := f.GetCellValue("Odds by number of dryers", "C6") // title, heads, 0, 1, 2, 3 dryers
	require.NoError(t, err)
	assert.Equal(t, "93", met)
	kind, err := f.GetCellType("Odds by number of dryers", "C6")
	require.NoError(t, err)
	assert.NotEqual(t, excelize.CellTypeSharedString, kind, "a number")

	tidy, err := r.Tidy()
	require.NoError(t, err)
	rows, err := csv.NewReader(bytes.NewReader(tidy)).ReadAll()
	require.NoError(t, err)
	assert.Contains(t, rows, []string{"Odds by number of dryers", "Odds by number of dryers (95 % intervals)", "3 (fund) July", "met in, %", "93"})
}
