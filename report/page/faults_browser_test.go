package page_test

import (
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drystalk/scenarios"
)

// What is typed while a run is under way is there when it has ended, with the answer beside it; what
// differs can be undone from the bar, which stays in view.
func TestTypingSurvivesARunInTheBrowser(t *testing.T) {
	ctx := window(t, "desk")
	const wood = `[name="n:money.wood_per_kg"]`
	var typed, said, bar, undone string
	do(t, ctx, chromedp.Navigate(serve(t)), chromedp.Click(demoButton("one-cooperative"), chromedp.ByQuery), chromedp.WaitVisible("#change"),
		setTo(dryersField, "2"), setTo("#seasons", "200"), setTo("#futures", "30"), chromedp.Click(`button[value="compare"]`, chromedp.ByQuery),
		chromedp.WaitVisible("#bar"), setTo(wood, "0,31"),
		chromedp.WaitVisible("#sentence"), chromedp.WaitNotPresent("#bar"),
		chromedp.Value(wood, &typed, chromedp.ByQuery), chromedp.Text("#typed", &said),
		chromedp.Evaluate(`window.scrollTo(0, document.body.scrollHeight); String(document.querySelector(".bar").getBoundingClientRect().top >= 0)`, &bar))
	assert.Equal(t, "0,31", typed)
	assert.Equal(t, "1 number typed, not run yet", said)
	assert.Equal(t, "true", bar, "the bar stays in view")
	do(t, ctx, chromedp.Click("#differs summary", chromedp.ByQuery), chromedp.Click(`button[name="undo"]`, chromedp.ByQuery), chromedp.WaitVisible("#outdated"),
		chromedp.Value(dryersField, &undone, chromedp.ByQuery), chromedp.Value(wood, &typed, chromedp.ByQuery))
	assert.Equal(t, "1", undone)
	assert.Equal(t, "0.31", typed, "what else was typed is kept")

	// A run is stopped by a press of its button, and what was typed meanwhile stays.
	var answer string
	do(t, ctx, setTo(dryersField, "2"), setTo("#seasons", "5000"), chromedp.Click(`button[value="compare"]`, chromedp.ByQuery),
		chromedp.WaitVisible("#bar"), setTo(wood, "0,32"), chromedp.Click("#stop"), chromedp.WaitNotPresent("#bar"),
		chromedp.Value(wood, &typed, chromedp.ByQuery), chromedp.Text("#answer", &answer))
	assert.Equal(t, "0,32", typed)
	assert.Contains(t, answer, "Stopped")
}

// Two windows of the same plan: the second is told, keeps what was typed, and can put it in place.
func TestSecondWindowInTheBrowser(t *testing.T) {
	address, plan, _ := opened(t, "one-cooperative")
	first, second := window(t, "desk"), window(t, "desk")
	var older, kept string
	do(t, first, chromedp.Navigate(address+plan), chromedp.WaitVisible("#change"))
	do(t, second, chromedp.Navigate(address+plan), chromedp.WaitVisible("#change"))
	do(t, first, setTo(dryersField, "3"), chromedp.Click(`.buttons button[value="save"]`, chromedp.ByQuery), chromedp.WaitVisible(".changed input", chromedp.ByQuery))
	do(t, second, setTo(dryersField, "2"), chromedp.Click(`.buttons button[value="save"]`, chromedp.ByQuery), chromedp.WaitVisible("#older"),
		chromedp.Text("#older table", &older, chromedp.ByQuery), chromedp.Value(dryersField, &kept, chromedp.ByQuery))
	assert.Equal(t, "2", kept)
	assert.Regexp(t, `Dryers in the plan.*\s3\s+2$`, older)
	accessible(t, second, "older")
	picture(t, second, "older")
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

// Names of eighty letters break no layout at 360 px: nothing runs out of the window, and all sites
// stand in one table.
func TestLongNamesInTheBrowser(t *testing.T) {
	address, plan, _ := uploaded(t, longNames(t))
	ctx := window(t, "phone")
	do(t, ctx, chromedp.Navigate(address+plan), chromedp.WaitVisible("#change"))
	openAll(t, ctx)
	fitsTheWindow(t, ctx, "long names")
	assert.Equal(t, "7", asks(t, ctx, `String(document.querySelector(".sites thead tr").cells.length)`), "a column for each site")
	accessible(t, ctx, "long names")
	picture(t, ctx, "long-names")
}
