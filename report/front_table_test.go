package report

import (
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"github.com/xuri/excelize/v2"

	"drystalk/report/table"
)

// Nothing that the paper of two pages says is missing on the first sheet: no warning, no passage, and its table
// stands there cell by cell, each figure beside the words of its own row.
func TestTheFirstSheetLeavesNothingOut(t *testing.T) {
	answers := answersWithPapers(t)
	require.Len(t, answers, 3)
	numbers := 0
	for _, r := range answers {
		r = withWhatIsBehind(r)
		r.Dated, r.Warnings = someDay, []string{"Roads close on too many days.", "The record is short."}
		f, paper := workbookOf(t, r), r.brief(someDay)
		rows, err := f.GetRows("Answer")
		require.NoError(t, err)
		var lines []string
		for _, row := range rows {
			lines = append(lines, strings.Join(row, "|"))
		}
		said := slices.Concat(paper.About, []string{paper.Question, paper.Sentence}, paper.Answer, paper.Warnings, paper.Lines[1:])
		for _, p := range paper.Passages {
			said = append(said, p.Says...)
		}
		require.Greater(t, len(said), 8, r.Title)
		for _, one := range said {
			assert.Contains(t, lines, one, r.Title)
		}
		numbers += sameTable(t, f, slices.Index(lines, strings.Join(paper.Table.Head, "|")), paper.Table)
	}
	assert.Greater(t, numbers, 5)
}

// sameTable holds a table of the first sheet, whose head is a row counted from 0, against that of the paper,
// and counts its cells that are numbers.
func sameTable(t *testing.T, f *excelize.File, head int, want table.Table) (numbers int) {
	t.Helper()
	require.Positive(t, head, want.Title)
	require.NotEmpty(t, want.Rows)
	for i, row := range want.Rows {
		for c, x := range row {
			at, err := excelize.CoordinatesToCellName(c+1, head+2+i)
			require.NoError(t, err)
			raw, err := f.GetCellValue("Answer", at, excelize.Options{RawCellValue: true})
			require.NoError(t, err)
			if number, err := strconv.ParseFloat(raw, 64); err == nil && raw != x.Text {
				assert.InDelta(t, x.Value, number, 1e-9, "%s, %s: %s", want.Title, at, x.Text)
				assert.Equal(t, []any{"", false}, []any{x.Note, x.Ranged()}, "%s: %s says more than its number", at, x.Text)
				numbers++
				continue
			}
			assert.Equal(t, x.Text, raw, "%s, %s", want.Title, at)
		}
	}
	return numbers
}

// The first sheet of an answer without a paper has its date, its warnings and how to get it again.
func TestTheFirstSheetWithoutABriefIsWhole(t *testing.T) {
	r := withWhatIsBehind(answersWithPapers(t)[0])
	r.Brief, r.Dated, r.Warnings = nil, someDay, []string{"Roads close on too many days."}
	rows, err := workbookOf(t, r).GetRows("Answer")
	require.NoError(t, err)
	var said []string
	for _, row := range rows {
		said = append(said, row...)
	}
	assert.Equal(t, `Lake <b> & "Tavari", 26 November 2026`, said[0])
	require.Len(t, r.Reproduce, 3)
	assert.Subset(t, said, slices.Concat(r.Warnings, []string{r.Words(), r.Caution()}, r.Reproduce))
}

// A first sheet that fits one page is printed on one; a longer one is not made smaller than it can be read, but goes
// on as many pages as it needs.
func TestALongFirstSheetIsNotSqueezed(t *testing.T) {
	high := func(r Report) int {
		layout, err := workbookOf(t, r).GetPageLayout("Answer")
		require.NoError(t, err)
		if layout.FitToHeight == nil {
			return 1 // as spreadsheets take it where nothing is said
		}
		return *layout.FitToHeight
	}
	r := withWhatIsBehind(answersWithPapers(t)[0])
	r.Brief = nil
	assert.Equal(t, 1, high(r))
	for range 100 {
		r.Warnings = append(r.Warnings, "Roads close on too many days.")
	}
	assert.Equal(t, 0, high(r))
}
