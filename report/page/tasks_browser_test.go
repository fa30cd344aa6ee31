package page_test

import (
	"context"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	chrome "github.com/chromedp/cdproto/browser"
	cdp "github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// mostActions is in how many presses and entries each task must end on paper.
const mostActions = 12

// small is a region of two sites that is quickly lived through, with prices and a loan.
const small = `region: Reed Bend
invented: true
currency: coins
season: {start: 1 jun, days: 12}
weather: {wmo_station: 41923}
contract: {stalks_per_month: {jun: 9000}}
money: {price_per_good_stalk: 0.12, pay_per_stalk_cut: 0.04, wood_per_kg: 0.1, opening_cash: 500, dryer_cost: 2000, dryer_life_years: 2, grant_fraction: 0.3, loan_fraction: 0.5, loan_months: 12, loan_interest_per_year: 0.12, clear_roof_per_m2: 20, cutter_cost: 200}
sites:
  Upper Landing: {cutters: 3, stalks_per_person_h: 117, open_rack_m2: 75, dryers: 1, max_dryers: 2}
  Lower Landing: {cutters: 3, stalks_per_person_h: 117, open_rack_m2: 75, dryers: 0, max_dryers: 1}
`

// hands do what a person does at the page, and count: each press, each entry, each file chosen or
// opened is one action.
type hands struct {
	t       *testing.T
	ctx     context.Context
	folder  string // of what is taken away, and of the person's own files
	actions int
}

func (h *hands) act(what ...chromedp.Action) {
	h.t.Helper()
	h.actions++
	do(h.t, h.ctx, what...)
}

// What a treasurer wants to know, from opening the page to the two pages on paper, at the desk and
// on a phone, in at most twelve actions: from a demo, opened by keyboard, and from a file of her own.
func TestThreeTasksInTheBrowser(t *testing.T) {
	own := func(h *hands) {
		file := filepath.Join(h.folder, "ours.yaml")
		require.NoError(h.t, os.WriteFile(file, []byte(small), 0o644))
		h.act(chromedp.SetUploadFiles("#file", []string{file}))
		h.act(chromedp.Click(`form[action="/upload"] button`, chromedp.ByQuery), chromedp.WaitVisible("#change"))
	}
	demo := func(h *hands) {
		do(h.t, h.ctx, chromedp.Focus(demoButton("one-cooperative"), chromedp.ByQuery))
		h.act(chromedp.KeyEvent(kb.Enter), chromedp.WaitVisible("#change"))
	}
	for _, task := range []struct {
		ask, title string
		open       func(*hands)
	}{
		{"dryers", "How many dryers does", own},
		{"second", "What would a second dryer at", demo},
		{"promise", "promise", own},
	} {
		for size := range sizes {
			t.Run(task.ask+" "+size, func(t *testing.T) {
				h := &hands{t: t, ctx: window(t, size), folder: t.TempDir()}
				h.act(chromedp.Navigate(serve(t)), chromedp.WaitVisible("#demos"))
				if size == "phone" {
					task.open = own
				}
				task.open(h)
				h.act(setTo("#seasons", "60"))
				h.act(setTo("#futures", "30"))
				var sentence string
				h.act(chromedp.Click(`.cards button[value="`+task.ask+`"]`, chromedp.ByQuery), chromedp.WaitVisible("#sentence"), chromedp.WaitNotPresent("#bar"), chromedp.Text("#sentence", &sentence))
				fitsTheWindow(t, h.ctx, "answer")
				picture(t, h.ctx, task.ask+"-"+size)
				brief := h.takeAway(`.files a`) // the first link
				h.act(chromedp.Navigate("file://" + brief))
				pages := h.print(task.ask + "-" + size + "-brief")
				assert.LessOrEqual(t, h.actions, mostActions)
				assert.GreaterOrEqual(t, h.actions, 8, "what is not counted cannot be held")
				require.LessOrEqual(t, len(pages), 2)
				first := strings.Join(strings.Fields(pages[0]), " ")
				assert.Contains(t, first[:len(first)/4], task.title, "the question stands at the head")
				assert.Contains(t, first, sentence)
			})
		}
	}
}

// takeAway presses a link that is a file to be taken away and returns where it came to lie.
func (h *hands) takeAway(link string) (file string) {
	h.t.Helper()
	came := make(chan string, 1)
	chromedp.ListenTarget(h.ctx, func(event any) {
		if p, ok := event.(*chrome.EventDownloadProgress); ok && p.State == chrome.DownloadProgressStateCompleted {
			came <- p.GUID
		}
	})
	do(h.t, h.ctx, chrome.SetDownloadBehavior(chrome.SetDownloadBehaviorBehaviorAllowAndName).WithDownloadPath(h.folder).WithEventsEnabled(true))
	h.act(chromedp.Click(link, chromedp.ByQuery))
	select {
	case guid := <-came:
		file = filepath.Join(h.folder, "brief.html")
		require.NoError(h.t, os.Rename(filepath.Join(h.folder, guid), file))
	case <-h.ctx.Done():
		h.t.Fatal("nothing came of the link")
	}
	return file
}

// print presses print and returns the text of the pages.
func (h *hands) print(name string) []string {
	h.t.Helper()
	h.actions++
	return printed(h.t, h.ctx, name)
}

// printed prints what the browser shows and returns its text page by page.
func printed(t *testing.T, ctx context.Context, name string) []string {
	t.Helper()
	reader, err := exec.LookPath("pdftotext")
	if err != nil {
		t.Skip("no pdftotext is installed here; .ci/run installs it where it may")
	}
	var pdf []byte
	do(t, ctx, chromedp.ActionFunc(func(ctx context.Context) (err error) {
		pdf, _, err = cdp.PrintToPDF().WithPreferCSSPageSize(true).WithPrintBackground(true).Do(ctx)
		return err
	}))
	keep(t, name+".pdf", pdf)
	file := filepath.Join(t.TempDir(), "paper.pdf")
	require.NoError(t, os.WriteFile(file, pdf, 0o644))
	text, err := exec.Command(reader, "-layout", file, "-").Output()
	require.NoError(t, err)
	return strings.Split(strings.TrimSuffix(string(text), "\f"), "\f")
}
