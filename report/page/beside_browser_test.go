package page_test

import (
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/assert"
)

// A plan is set aside by keyboard, another is made, and all three stand in one table and one picture; at
// the desk and on a phone.
func TestThreePlansInTheBrowser(t *testing.T) {
	for size := range sizes {
		t.Run(size, func(t *testing.T) {
			address, plan, _ := opened(t, "one-cooperative")
			ctx := window(t, size)
			var rows string
			do(t, ctx, chromedp.Navigate(address+plan), chromedp.WaitVisible("#change"), setTo(dryersField, "2"), setTo("#seasons", "40"), setTo("#futures", "30"),
				chromedp.Click(`.buttons button[value="save"]`, chromedp.ByQuery), chromedp.WaitVisible(".changed input", chromedp.ByQuery))
			openAll(t, ctx)
			do(t, ctx, chromedp.Focus(`#differs button[value="aside"]`, chromedp.ByQuery), chromedp.KeyEvent("\r"), chromedp.WaitReady("#beside-plan"),
				setTo(dryersField, "1"), setTo(`[name="n:sites.Heron Point.clear_roof_m2"]`, "60"), // the numbers of seasons are as they were typed
				chromedp.Click(`button[value="compare"]`, chromedp.ByQuery), chromedp.WaitVisible("#three"), chromedp.Text("#three table", &rows, chromedp.ByQuery))
			assert.Regexp(t, `July, asked for\s+30,000\s+30,000\s+30,000`, rows)
			fitsTheWindow(t, ctx, "three")
			assert.Equal(t, "0", asks(t, ctx, `String(Array.from(document.querySelectorAll("#three table, #three tr, #three td")).filter(e => e.getBoundingClientRect().right > document.documentElement.clientWidth || e.scrollWidth > e.clientWidth + 1).length)`), "no number of three plans is out of sight")
			assert.Equal(t, "true", asks(t, ctx, `String(document.querySelector("#three caption").getBoundingClientRect().width > 200)`), "and its title is not squeezed")
			accessible(t, ctx, size+"-three")
		})
	}
}
