package page_test

import (
	"path/filepath"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// openAll opens all that is folded.
const openAll = `document.querySelectorAll("details").forEach(d => d.open = true); true`

// A group takes the weather of its own station: it sends the record, reads the verdict, takes it, and
// undoes it from the bar; at the desk and on a phone, in light and in dark.
func TestWeatherInTheBrowser(t *testing.T) {
	record, err := filepath.Abs("../../testdata/records/mumbai_santacruz_IN012070800_daily_1950_1970_1980_1998.csv")
	require.NoError(t, err)
	for name, size := range map[string][2]int64{"desk": {1280, 900}, "phone": {360, 740}} {
		t.Run(name, func(t *testing.T) {
			address, plan, _ := opened(t, "one-cooperative")
			ctx := browser(t, size[0], size[1])
			var yes bool
			var sentence, chosen, typed, wide, none string
			do(t, ctx, chromedp.Navigate(address+plan), chromedp.WaitVisible("#change"), setTo(`[name="n:money.wood_per_kg"]`, "0,2"),
				chromedp.Evaluate(openAll, &yes), chromedp.SetUploadFiles("#days", []string{record}),
				chromedp.Click(`button[formaction$="/record"]`, chromedp.ByQuery), chromedp.WaitVisible("#take-record"), chromedp.Text("#sentence", &sentence))
			assert.Contains(t, sentence, "is good for planning")
			noSeriousFinding(t, ctx, "verdict")
			picture(t, ctx, name+"-weather-verdict.png")
			do(t, ctx, chromedp.Click(`#take-record button`, chromedp.ByQuery), chromedp.WaitReady("#weather-chosen"), chromedp.Evaluate(openAll, &yes),
				chromedp.Text("#weather-chosen", &chosen, chromedp.ByQuery), chromedp.Value(`[name="n:money.wood_per_kg"]`, &typed, chromedp.ByQuery),
				chromedp.Evaluate(`String(document.documentElement.scrollWidth <= window.innerWidth + 1)`, &wide))
			assert.Contains(t, chosen, "uploaded record")
			assert.Equal(t, "0.2", typed, "what was typed is kept")
			assert.Equal(t, "true", wide, "nothing runs out of the window")
			do(t, ctx, dark())
			noSeriousFinding(t, ctx, "chosen, dark")
			picture(t, ctx, name+"-weather-chosen-dark.png")
			do(t, ctx, chromedp.Click(`#weather-chosen button`, chromedp.ByQuery), chromedp.WaitNotPresent("#weather-chosen"), chromedp.Text("#differs summary", &none, chromedp.ByQuery))
			assert.Equal(t, "1 number differs from today", none)
		})
	}
}
