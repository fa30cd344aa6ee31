package page_test

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drystalk/report"
	"drystalk/report/internal/sample"
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
	r, err := report.ForDryers(a, "coins")
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
