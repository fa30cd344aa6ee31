package book

import (
	"archive/zip"
	"bytes"
	"encoding/csv"
	"io"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"github.com/xuri/excelize/v2"

	"drystalk/report/table"
	"drystalk/sim"
)

// cellOf is a made-up cell.
func cellOf(said string, form table.Form, unit string, value, low, high float64) table.Cell {
	return table.Cell{Text: said, Form: form, Unit: unit, Value: value, Low: low, High: high}
}

// made is a table with a figure of every kind.
func made() table.Table {
	none := math.NaN()
	word := func(s string) table.Cell { return cellOf(s, table.Words, "", none, none, none) }
	return table.Table{
		Title: "x", Head: []string{"dryers", "met in", "net, T$", "interval", "month", "value"}, Left: 1,
		Apart: []string{"dryers", "met in", "net", "net", "month", "value"},
		Rows: [][]table.Cell{
			{cellOf("0", table.Count, "", 0, none, none), cellOf("under 1 % (0 to 2 %)", table.Share, "", 0.0031, 0.0004, 0.0211), cellOf("1,235", table.Money, "T$", 1234.56, none, none), cellOf("1,000 to 2,000", table.Money, "T$", none, 1000.25, 2000.5), word("July"), cellOf("T$ 0.0800", table.Price, "T$", 0.08, math.Inf(-1), math.Inf(1))},
			{cellOf("1 (enough)", table.Count, "", 1, none, none), cellOf("92 % (90 to 94 %)", table.Share, "", 0.921, 0.9, 0.94), word(""), word(""), word("=1+1"), cellOf("30 months", table.Real, "months", 30, none, none)},
		},
	}
}

// Every figure stands in a column of its own, unrounded, with its unit in the heading: "under
// 1 %" is the share it stands for.
func TestUnderOnePerCentIsItsShareInTheSheet(t *testing.T) {
	one := made()
	one.Rows[1][0].Note = "enough"
	var heads []string
	columns := columnsOf(one)
	for _, c := range columns {
		heads = append(heads, c.head())
		assert.Len(t, c.rows, 2)
	}
	assert.Equal(t, []string{
		"dryers", "dryers, which", "met in, share", "met in, low, share", "met in, high, share", "net, T$", "net, low, T$", "net, high, T$",
		"month", "value", "value, low", "value, high", "value, unit",
	}, heads)
	assert.Equal(t, entry{form: table.Share, unit: "share", number: 0.0031}, columns[2].rows[0])
	assert.Equal(t, 0.0211, columns[4].rows[0].number)
	assert.Equal(t, 1234.56, columns[5].rows[0].number)
	assert.Equal(t, 2000.5, columns[7].rows[0].number)
	assert.True(t, columns[5].rows[1].empty())
	assert.Equal(t, "no limit", columns[11].rows[0].text)
	assert.Equal(t, []entry{{text: "T$ a stalk"}, {text: "months"}}, columns[12].rows)
}

// A currency or a name that begins like a formula is none, in the sheet or in the CSV; numbers
// below nothing stay numbers.
func TestTextIsNeverAFormula(t *testing.T) {
	one := made()
	for i, bad := range []string{"=cmd()", "+1", "-1-1", "@SUM(A1)"} {
		one.Rows[1][4].Text = bad
		one.Rows[1][1].Value = -0.25
		sheets := []Sheet{{Section: bad, Table: one}}
		data, err := Tidy(sheets)
		require.NoError(t, err)
		rows, err := csv.NewReader(bytes.NewReader(data)).ReadAll()
		require.NoError(t, err)
		require.Len(t, rows, 16, i)
		for _, row := range rows {
			for c, cell := range row {
				if c != 4 || cell != "-0.25" {
					assert.NotContains(t, "=+-@", (cell + " ")[:1], "%q", row)
				}
			}
		}
		assert.Contains(t, rows, []string{"'" + bad, "x", "1 (enough)", "month", "'" + bad, ""})
		assert.Contains(t, rows, []string{"'" + bad, "x", "1 (enough)", "met in", "-0.25", "share"})
		book, err := Spreadsheet(Front{Title: bad}, sheets, nil)
		require.NoError(t, err)
		f, err := excelize.OpenReader(bytes.NewReader(book))
		require.NoError(t, err)
		for _, at := range [][2]string{{"Answer", "A1"}, {"x", "H4"}} {
			formula, err := f.GetCellFormula(at[0], at[1])
			require.NoError(t, err)
			assert.Empty(t, formula)
			text, err := f.GetCellValue(at[0], at[1])
			require.NoError(t, err)
			assert.Equal(t, bad, text)
		}
	}
}

// Numbers are shown as what they are: shares in per cent, money in whole units, prices of a stalk
// with four decimals.
func TestSheetShowsNumbersByTheirKind(t *testing.T) {
	book, err := Spreadsheet(Front{Title: "y"}, []Sheet{{Table: made()}}, nil)
	require.NoError(t, err)
	f, err := excelize.OpenReader(bytes.NewReader(book))
	require.NoError(t, err)
	for at, want := range map[string]string{"B3": "0.3%", "C3": "0.0%", "E3": "1,235", "G3": "2,001", "I3": "0.0800", "I4": "30.0", "H3": "July"} {
		shown, err := f.GetCellValue("x", at)
		require.NoError(t, err)
		assert.Equal(t, want, shown, at)
	}
	raw, err := f.GetCellValue("x", "B3", excelize.Options{RawCellValue: true})
	require.NoError(t, err)
	assert.Equal(t, "0.0031", raw)
}

// A workbook says that this program made it, and neither a person nor a date; the same answer is
// the same file.
func TestWorkbookNamesNobody(t *testing.T) {
	first, err := Spreadsheet(Front{Title: "y"}, []Sheet{{Table: made()}}, nil)
	require.NoError(t, err)
	second, err := Spreadsheet(Front{Title: "y"}, []Sheet{{Table: made()}}, nil)
	require.NoError(t, err)
	assert.Equal(t, first, second)
	season, err := Ledger("Here", sim.RegionLedger{Hub: []sim.HubMonth{{}}}, []string{"x"})
	require.NoError(t, err)
	for _, book := range [][]byte{first, season} {
		z, err := zip.NewReader(bytes.NewReader(book), int64(len(book)))
		require.NoError(t, err)
		seen := 0
		for _, f := range z.File {
			in, err := f.Open()
			require.NoError(t, err)
			text, err := io.ReadAll(in)
			require.NoError(t, err)
			if f.Name == "docProps/core.xml" || f.Name == "docProps/app.xml" {
				seen++
				assert.Contains(t, string(text), ">drystalk<")
				assert.NotContains(t, string(text), "T00:00:00Z")
			}
			assert.NotContains(t, string(text), "xuri<")
		}
		assert.Equal(t, 2, seen)
	}
}

// Sheets have names of their own also where titles or sites differ only in capital letters or in
// what spreadsheets forbid.
func TestSheetsHaveTheirOwnNames(t *testing.T) {
	b := &book{names: map[string]bool{"hub": true}}
	assert.Equal(t, "HUB 2", b.nameFor("HUB"))
	assert.Equal(t, "Lower Weir", b.nameFor("Lower/ Weir"))
	assert.Equal(t, "lower weir 2", b.nameFor("lower weir"))
	assert.Equal(t, "2", b.nameFor("[?]"))
	assert.Equal(t, "History 2", b.nameFor("History"))
	long := "A landing with quite a long name far out"
	assert.Equal(t, "A landing with quite a long", b.nameFor(long))
	assert.Equal(t, "A landing with quite a long 2", b.nameFor(long))
	assert.Equal(t, "Llanfairpwllgwyngyllgogerychwyr", b.nameFor("Llanfairpwllgwyngyllgogerychwyrndrobwll"))
}
