package page_test

import (
	"context"
	"os"
	"path/filepath"
	"testing"

	cdp "github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// mostActions is in how many presses and entries each task must end on paper.
const mostActions = 12

// What a treasurer wants to know, from opening the page to the two pages on paper, at the desk and
// on a phone, in light and in dark.
func TestThreeTasksInTheBrowser(t *testing.T) {
	for _, tt := range []struct {
		task, look string
		size       [2]int64
	}{
		{"dryers", "phone", [2]int64{360, 740}},
		{"second", "desk", [2]int64{1280, 900}},
		{"promise", "phone", [2]int64{360, 740}},
		{"second", "phone", [2]int64{360, 740}},
	} {
		t.Run(tt.task+" "+tt.look, func(t *testing.T) {
			address := serve(t)
			ctx := browser(t, tt.size[0], tt.size[1])
			actions := 0
			act := func(done ...chromedp.Action) {
				actions++
				do(t, ctx, done...)
			}
			var sentence, brief, wide string
			act(chromedp.Navigate(address))
			act(chromedp.Click(`input[value="one-cooperative"] + button`, chromedp.ByQuery), chromedp.WaitVisible("#change"))
			act(setTo("#seasons", "40"))
			act(chromedp.Click(`.cards button[value="`+tt.task+`"]`, chromedp.ByQuery), chromedp.WaitVisible("#sentence"), chromedp.WaitNotPresent("#bar"), chromedp.Text("#sentence", &sentence))
			noSeriousFinding(t, ctx, "light")
			picture(t, ctx, tt.task+"-"+tt.look+"-light.png")
			do(t, ctx, dark())
			noSeriousFinding(t, ctx, "dark")
			picture(t, ctx, tt.task+"-"+tt.look+"-dark.png")
			do(t, ctx, chromedp.Evaluate(`String(document.documentElement.scrollWidth <= window.innerWidth + 1)`, &wide))
			assert.Equal(t, "true", wide, "nothing runs out of the window")
			act(chromedp.Evaluate(`fetch(document.querySelector(".files a").href).then(r => r.text())`, &brief, awaitPromise)) // the first link
			actions++                                                                                                          // to print
			assert.LessOrEqual(t, actions, mostActions)
			printed(t, ctx, brief, sentence)
		})
	}
}

// printed prints a paper and looks for its answer.
func printed(t *testing.T, ctx context.Context, brief, sentence string) {
	t.Helper()
	file := filepath.Join(t.TempDir(), "brief.html")
	require.NoError(t, os.WriteFile(file, []byte(brief), 0o644))
	var text string
	var pdf []byte
	do(t, ctx, chromedp.Navigate("file://"+file), chromedp.Text("body", &text, chromedp.ByQuery), chromedp.ActionFunc(func(ctx context.Context) (err error) {
		pdf, _, err = cdp.PrintToPDF().WithPreferCSSPageSize(true).Do(ctx)
		return err
	}))
	assert.Contains(t, text, sentence)
	assert.Equal(t, "%PDF", string(pdf[:4]))
}
