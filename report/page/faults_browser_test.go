package page_test

import (
	"strings"
	"testing"
	"time"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drystalk/scenarios"
)

// dark lets the browser ask for dark colours.
func dark() chromedp.Action {
	return emulation.SetEmulatedMedia().WithFeatures([]*emulation.MediaFeature{{Name: "prefers-color-scheme", Value: "dark"}})
}

// What is typed while a run is under way is there when it has ended, with the answer beside it; what
// differs can be undone from the bar, which stays in view.
func TestTypingSurvivesARunInTheBrowser(t *testing.T) {
	address := serve(t)
	ctx := browser(t, 1280, 900)
	var typed, said, bar, undone string
	do(t, ctx, chromedp.Navigate(address), chromedp.Click(`input[value="one-cooperative"] + button`, chromedp.ByQuery), chromedp.WaitVisible("#change"),
		setTo(dryersField, "2"), setTo("#seasons", "400"), setTo("#futures", "30"), chromedp.Click(`button[value="compare"]`, chromedp.ByQuery),
		chromedp.WaitVisible("#bar"), setTo(`[name="n:money.wood_per_kg"]`, "0,31"),
		chromedp.WaitVisible("#sentence"), chromedp.WaitNotPresent("#bar"),
		chromedp.Value(`[name="n:money.wood_per_kg"]`, &typed, chromedp.ByQuery), chromedp.Text("#typed", &said),
		chromedp.Evaluate(`window.scrollTo(0, document.body.scrollHeight); String(document.querySelector(".bar").getBoundingClientRect().top >= 0)`, &bar))
	assert.Equal(t, "0,31", typed)
	assert.Equal(t, "1 number typed, not run yet", said)
	assert.Equal(t, "true", bar, "the bar stays in view")
	do(t, ctx, chromedp.Click("#differs summary", chromedp.ByQuery), chromedp.Click(`button[name="undo"]`, chromedp.ByQuery), chromedp.WaitVisible("#outdated"),
		chromedp.Value(dryersField, &undone, chromedp.ByQuery), chromedp.Value(`[name="n:money.wood_per_kg"]`, &typed, chromedp.ByQuery))
	assert.Equal(t, "1", undone)
	assert.Equal(t, "0.31", typed, "what else was typed is kept")
	noSeriousFinding(t, ctx, "outdated")
}

// A run is stopped by a press of its button, and what was typed meanwhile stays.
func TestStopKeepsTypingInTheBrowser(t *testing.T) {
	address := serve(t)
	ctx := browser(t, 1280, 900)
	var typed, answer string
	do(t, ctx, chromedp.Navigate(address), chromedp.Click(`input[value="one-cooperative"] + button`, chromedp.ByQuery), chromedp.WaitVisible("#change"),
		setTo(dryersField, "2"), setTo("#seasons", "5000"), chromedp.Click(`button[value="compare"]`, chromedp.ByQuery),
		chromedp.WaitVisible("#bar"), setTo(`[name="n:money.wood_per_kg"]`, "0,31"), chromedp.Click("#stop"), chromedp.WaitNotPresent("#bar"),
		chromedp.Value(`[name="n:money.wood_per_kg"]`, &typed, chromedp.ByQuery), chromedp.Text("#answer", &answer))
	assert.Equal(t, "0,31", typed)
	assert.Contains(t, answer, "Stopped")
}

// Two windows of the same plan: the second is told, keeps what was typed, and can put it in place.
func TestSecondWindowInTheBrowser(t *testing.T) {
	address, plan, _ := opened(t, "one-cooperative")
	first := browser(t, 1280, 900)
	second, cancel := chromedp.NewContext(first)
	t.Cleanup(cancel)
	var older, kept string
	do(t, first, chromedp.Navigate(address+plan), chromedp.WaitVisible("#change"))
	do(t, second, chromedp.Navigate(address+plan), chromedp.WaitVisible("#change"))
	do(t, first, setTo(dryersField, "3"), chromedp.Click(`.buttons button[value="save"]`, chromedp.ByQuery), chromedp.WaitVisible(".changed input", chromedp.ByQuery))
	do(t, second, setTo(dryersField, "2"), chromedp.Click(`.buttons button[value="save"]`, chromedp.ByQuery), chromedp.WaitVisible("#older"),
		chromedp.Text("#older table", &older, chromedp.ByQuery), chromedp.Value(dryersField, &kept, chromedp.ByQuery))
	assert.Equal(t, "2", kept)
	assert.Regexp(t, `Dryers in the plan.*\s3\s+2$`, older)
	noSeriousFinding(t, second, "older")
	picture(t, second, "older.png")
	do(t, second, chromedp.Click(`#older button`, chromedp.ByQuery), chromedp.WaitNotPresent("#older"), chromedp.Value(dryersField, &kept, chromedp.ByQuery))
	assert.Equal(t, "2", kept)
}

// longNames is Lake Tavari with the longest names that a scenario may have, without a space to
// break at.
func longNames(t *testing.T) string {
	demo, err := scenarios.Demo(scenarios.LakeTavari)
	require.NoError(t, err)
	text := string(demo.Write())
	for i := range demo.Region.Sites {
		name := demo.Region.Sites[i].Name
		text = strings.ReplaceAll(text, name, strings.ReplaceAll(name, " ", "")+strings.Repeat("Waterlandgroup", 6)[:80-len(name)])
	}
	return strings.Replace(text, "Lake Tavari", strings.Repeat("Tavarilakewaters", 5), 1)
}

// Names of eighty letters break no layout at 360 px, in light and in dark: nothing runs out of the
// window, and all sites stand in one table.
func TestLongNamesInTheBrowser(t *testing.T) {
	address, plan, _ := uploaded(t, longNames(t))
	ctx := browser(t, 360, 740)
	for _, look := range []string{"light", "dark"} {
		var wide, columns string
		if look == "dark" {
			do(t, ctx, dark())
		}
		do(t, ctx, chromedp.Navigate(address+plan), chromedp.WaitVisible("#change"), chromedp.Sleep(100*time.Millisecond),
			chromedp.Evaluate(`document.querySelectorAll("details").forEach(d => d.open = true); String(document.documentElement.scrollWidth)`, &wide),
			chromedp.Evaluate(`String(document.querySelector(".sites thead tr").cells.length)`, &columns))
		assert.Equal(t, "360", wide, look)
		assert.Equal(t, "7", columns, "a column for each site")
		noSeriousFinding(t, ctx, look)
		picture(t, ctx, "long-names-"+look+".png")
	}
}
