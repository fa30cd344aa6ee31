package report

import (
	"bytes"
	"html"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"github.com/xuri/excelize/v2"

	"drystalk/report/internal/sample"
)

// workbookOf opens the spreadsheet of an answer.
func workbookOf(t *testing.T, r Report) *excelize.File {
	t.Helper()
	data, err := r.Spreadsheet()
	require.NoError(t, err)
	f, err := excelize.OpenReader(bytes.NewReader(data))
	require.NoError(t, err)
	return f
}

// answersWithPapers are made-up answers that have a paper of two pages.
func answersWithPapers(t *testing.T) []Report {
	t.Helper()
	dryers, err := ForDryers(sample.Answer(), "coins", "")
	require.NoError(t, err)
	promise, err := ForPromise(Promised{Region: "Here", Promise: sample.Promise(), Contract: []Asked{{Month: "June", Stalks: 36_000}}, Penalty: 0.02, Currency: "coins"})
	require.NoError(t, err)
	compare, err := ForCompare(compared())
	require.NoError(t, err)
	return []Report{dryers, promise, compare}
}

// tags are those of a page.
var tags = regexp.MustCompile(`<[^>]*>`)

// The first sheet says what the paper of two pages says, in its order, and nothing else but the
// numbers of its table.
func TestTheFirstSheetReadsAsTheBrief(t *testing.T) {
	answers := answersWithPapers(t)
	require.Len(t, answers, 3)
	for _, r := range answers {
		paper := html.UnescapeString(tags.ReplaceAllString(paperOf(t, r), ""))
		paper = paper[strings.Index(paper, "26 November 2026\n"):]
		r = withWhatIsBehind(r)
		r.Dated = someDay
		rows, err := workbookOf(t, r).GetRows("Answer")
		require.NoError(t, err)
		require.Greater(t, len(rows), 20, r.Title)
		assert.Equal(t, []string{`Lake <b> & "Tavari", 26 November 2026`}, rows[0])
		at, said := 0, 0
		for _, row := range rows[1:] {
			if len(row) != 1 { // a free row, or one of the table
				continue
			}
			found := strings.Index(paper[at:], row[0])
			require.GreaterOrEqual(t, found, 0, "%q stands in the paper, after what stands before it", row[0])
			at, said = at+found, said+1
		}
		assert.Greater(t, said, 14, r.Title)
	}
}

// An answer without a paper of two pages begins with its sentence, and has no date unless one is given.
func TestTheFirstSheetOfAnAnswerWithoutABrief(t *testing.T) {
	r := withWhatIsBehind(answersWithPapers(t)[0])
	r.Brief = nil
	rows, err := workbookOf(t, r).GetRows("Answer")
	require.NoError(t, err)
	require.Greater(t, len(rows), 8)
	assert.Equal(t, `Lake <b> & "Tavari"`, rows[0][0])
	assert.Equal(t, []string{r.Title, "The answer", r.Sentence}, []string{rows[1][0], rows[3][0], rows[4][0]})
}

// Every sheet is set up for A4 with its heads on each page and region, sheet and page in the foot;
// names of sheets are whole words, and numbers stand at the right.
func TestSheetsPrintOnA4(t *testing.T) {
	r := withWhatIsBehind(answersWithPapers(t)[0])
	f := workbookOf(t, r)
	heads := map[string]string{}
	for _, n := range f.GetDefinedName() {
		heads[n.Scope] = n.Name + " " + n.RefersTo
	}
	sheets := f.GetSheetList()
	require.Greater(t, len(sheets), 8)
	for _, sheet := range sheets {
		layout, err := f.GetPageLayout(sheet)
		require.NoError(t, err)
		assert.Equal(t, 9, *layout.Size, "A4")
		foot, err := f.GetHeaderFooter(sheet)
		require.NoError(t, err)
		assert.Contains(t, foot.OddFooter, `&LLake <b> && "Tavari"&C`)
		assert.Contains(t, foot.OddFooter, "page &P of &N")
		if sheet == "Answer" || sheet == "Cautions" {
			assert.Equal(t, "portrait", *layout.Orientation, sheet)
			continue
		}
		assert.Regexp(t, `^_xlnm.Print_Titles .*\$1:\$2$`, heads[sheet], sheet)
		assert.Contains(t, []int{1, 2}, *layout.FitToWidth, sheet)
	}
	style, err := f.GetCellStyle("Odds by number of dryers", "D6")
	require.NoError(t, err)
	look, err := f.GetStyle(style)
	require.NoError(t, err)
	assert.Equal(t, "right", look.Alignment.Horizontal)
}

// What a sheet is called is a name made for it, or its title up to a mark: nothing is cut off.
func TestSheetsAreNamedInFullWords(t *testing.T) {
	answers := answersWithPapers(t)
	require.Len(t, answers, 3)
	named := 0
	for _, r := range answers {
		made := map[string]bool{"Answer": true, "Assumptions": true, "Cautions": true}
		for _, s := range r.sheets() {
			made[s.Table.Sheet] = true
			for _, mark := range []string{"(", ":", ","} {
				whole, _, _ := strings.Cut(s.Table.Title, mark)
				made[strings.TrimSpace(whole)] = true
			}
			first, _, _ := strings.Cut(s.Table.Title, " (")
			made[first] = true
		}
		for _, sheet := range workbookOf(t, r).GetSheetList() {
			named++
			assert.True(t, made[sheet], "%s: %q", r.Title, sheet)
		}
	}
	assert.Greater(t, named, 20)
}
