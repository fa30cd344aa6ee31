package page_test

import (
	"path/filepath"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A group takes the weather of its own station: it sends the record, reads the verdict, takes it, and
// undoes it from the bar; at the desk and on a phone, in light and in dark.
func TestWeatherInTheBrowser(t *testing.T) {
	record, err := filepath.Abs("../../testdata/records/mumbai_santacruz_IN012070800_daily_1950_1970_1980_1998.csv")
	require.NoError(t, err)
	for size := range sizes {
		t.Run(size, func(t *testing.T) {
			address, plan, _ := uploaded(t, small)
			ctx := window(t, size)
			var sentence, chosen, typed, none string
			do(t, ctx, chromedp.Navigate(address+plan), chromedp.WaitVisible("#change"), setTo(`[name="n:money.wood_per_kg"]`, "0,2"))
			openAll(t, ctx)
			do(t, ctx, chromedp.SetUploadFiles("#days", []string{record}),
				chromedp.Click(`button[formaction$="/record"]`, chromedp.ByQuery), chromedp.WaitVisible("#take-record"), chromedp.Text("#sentence", &sentence))
			assert.Contains(t, sentence, "is good for planning")
			if size == "phone" {
				accessible(t, ctx, "verdict")
			}
			do(t, ctx, chromedp.Click(`#take-record button`, chromedp.ByQuery), chromedp.WaitReady("#weather-chosen"))
			openAll(t, ctx)
			do(t, ctx, chromedp.Text("#weather-chosen", &chosen, chromedp.ByQuery), chromedp.Value(`[name="n:money.wood_per_kg"]`, &typed, chromedp.ByQuery))
			assert.Contains(t, chosen, "uploaded record")
			assert.Equal(t, "0.2", typed, "what was typed is kept")
			fitsTheWindow(t, ctx, "chosen")
			if size == "phone" {
				accessible(t, ctx, "chosen")
			}
			do(t, ctx, chromedp.Click(`#weather-chosen button`, chromedp.ByQuery), chromedp.WaitReady(`input[name="state"][value="3"]`, chromedp.ByQuery), chromedp.WaitNotPresent("#weather-chosen"), chromedp.Text("#differs summary", &none, chromedp.ByQuery))
			assert.Equal(t, "1 number differs from today", none)
		})
	}
}
