package page_test

import (
	"fmt"
	"os"
	"path/filepath"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drystalk/report"
	"drystalk/report/internal/sample"
	"drystalk/report/paper"
)

// Headings of the report's tables sort their rows by the keyboard: upwards, downwards and back, shares
// by what they stand for, sums at the foot; the table is named as sorted for those who cannot see it.
func TestTablesSortInTheBrowser(t *testing.T) {
	ctx := window(t, "desk")
	a := sample.Answer()
	require.NotEmpty(t, a.Short.Single)
	for range 3 { // rows enough to be sorted, above the row that sums them up
		a.Short.Single = append(a.Short.Single, a.Short.Single[0])
	}
	r, err := report.ForDryers(a, "coins", "")
	require.NoError(t, err)
	html, err := r.HTML()
	require.NoError(t, err)
	file := filepath.Join(t.TempDir(), "report.html")
	require.NoError(t, os.WriteFile(file, html, 0o644))
	var before, up, down, back []string
	var sorted, foot string
	met := `Array.from(document.querySelector("table.sortable").tBodies[0].rows, r => r.cells[2].textContent)`
	press := chromedp.SendKeys(`table.sortable th:nth-child(3) button`, kb.Enter, chromedp.ByQuery)
	do(t, ctx, chromedp.Navigate("file://"+file), chromedp.Evaluate(met, &before),
		press, chromedp.Evaluate(met, &up), chromedp.AttributeValue(`table.sortable th:nth-child(3)`, "aria-sort", &sorted, nil, chromedp.ByQuery))
	assert.Equal(t, "ascending", sorted)
	do(t, ctx, press, chromedp.Evaluate(met, &down), press, chromedp.Evaluate(met, &back))
	require.Greater(t, len(before), 3)
	assert.Equal(t, before, back)
	reversed := make([]string, 0, len(up))
	for i := len(up) - 1; i >= 0; i-- {
		reversed = append(reversed, up[i])
	}
	assert.Equal(t, reversed, down)
	assert.ElementsMatch(t, before, up)
	sums := `(() => { const t = Array.from(document.querySelectorAll("table.sortable")).find(t => t.tBodies.length > 1); t.querySelector("button").click(); return t.rows[t.rows.length - 1].cells[0].textContent })()`
	do(t, ctx, chromedp.Evaluate(sums, &foot))
	assert.Regexp(t, "^any one of these|^none alone|^no one", foot)
}

// mixed is a table whose rows, A to E, have a figure in each way that the papers write one, or none, and words that
// end in numbers, or none.
const mixed = `<!DOCTYPE html><html lang="en"><table class="sortable"><thead><tr><th></th><th>figure</th><th>words</th></tr></thead><tbody>
<tr><th>A</th><td class="n" data-n="0.003">under 1 %</td><td>site 10</td></tr>
<tr><th>B</th><td class="n">12.345 (9 in a pair)</td><td></td></tr>
<tr><th>C</th><td class="n">999</td><td>site 9</td></tr>
<tr><th>D</th><td class="n"></td><td>landing</td></tr>
<tr><th>E</th><td class="n" data-n="-5">5 fewer</td><td>Site 11</td></tr>
</tbody></table><script>`

// Figures sort by the number that they say however it is written, words as people order them, and what says nothing
// stays below either way; only the column sorted by last is named so.
func TestWhatSaysNothingStaysBelowInTheBrowser(t *testing.T) {
	ctx := window(t, "desk")
	file := filepath.Join(t.TempDir(), "mixed.html")
	require.NoError(t, os.WriteFile(file, []byte(mixed+string(paper.Sorting())+"</script></html>"), 0o644))
	const order = `Array.from(document.querySelectorAll("tbody tr"), r => r.cells[0].textContent).join("") + " " + Array.from(document.querySelectorAll("th[aria-sort]"), h => h.textContent + " " + h.getAttribute("aria-sort")).join()`
	var got [6]string
	do(t, ctx, chromedp.Navigate("file://"+file), chromedp.WaitVisible("th button", chromedp.ByQuery))
	for i := range got {
		do(t, ctx, chromedp.Click(fmt.Sprintf("th:nth-child(%d) button", 2+i/3), chromedp.ByQuery), chromedp.Evaluate(order, &got[i]))
	}
	assert.Equal(t, [6]string{"EACBD figure ascending", "BCAED figure descending", "ABCDE ", "DCAEB words ascending", "EACDB words descending", "ABCDE "}, got)
}
