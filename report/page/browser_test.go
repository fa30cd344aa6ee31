package page_test

import (
	"context"
	"net"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drystalk/report/page"
	"drystalk/scenarios"
)

// serve runs a page on a free port of the loopback for the length of a test.
func serve(t testing.TB) string {
	t.Helper()
	l, err := net.Listen("tcp", "127.0.0.1:0")
	require.NoError(t, err)
	ctx, cancel := context.WithCancel(context.Background())
	done := make(chan error, 1)
	go func() { done <- page.New("test").Serve(ctx, l) }()
	t.Cleanup(func() {
		cancel()
		require.NoError(t, <-done)
	})
	return "http://" + l.Addr().String()
}

// browser opens a headless browser, or skips the test where none is installed.
func browser(t *testing.T, width, height int64) context.Context {
	t.Helper()
	if os.Getenv("DRYSTALK_LONG") == "" {
		t.Skip("DRYSTALK_LONG=1, as in .ci/run, opens a browser")
	}
	path := ""
	for _, name := range []string{"chromium", "chromium-browser", "google-chrome"} {
		if p, err := exec.LookPath(name); err == nil {
			path = p
			break
		}
	}
	if path == "" {
		t.Skip("no browser is installed here; .ci/run installs one where it may")
	}
	options := append(append([]chromedp.ExecAllocatorOption(nil), chromedp.DefaultExecAllocatorOptions[:]...), chromedp.ExecPath(path), chromedp.NoSandbox, chromedp.WSURLReadTimeout(time.Minute))
	allocator, cancelAllocator := chromedp.NewExecAllocator(context.Background(), options...)
	ctx, cancel := chromedp.NewContext(allocator)
	ctx, cancelTime := context.WithTimeout(ctx, browserTime)
	t.Cleanup(func() { cancelTime(); cancel(); cancelAllocator() })
	require.NoError(t, chromedp.Run(ctx, emulation.SetDeviceMetricsOverride(width, height, 1, width < 500)))
	return ctx
}

func do(t *testing.T, ctx context.Context, actions ...chromedp.Action) {
	t.Helper()
	require.NoError(t, chromedp.Run(ctx, actions...))
}

// picture saves what the browser shows, where a folder for pictures is named.
func picture(t *testing.T, ctx context.Context, name string) {
	t.Helper()
	folder := os.Getenv("DRYSTALK_PICTURES")
	if folder == "" {
		return
	}
	var png []byte
	var top bool // the bar stands there, not in the middle
	do(t, ctx, chromedp.Evaluate(`window.scrollTo(0, 0); true`, &top), chromedp.FullScreenshot(&png, 100))
	require.NoError(t, os.WriteFile(filepath.Join(folder, name), png, 0o644))
}

// noSeriousFinding runs axe-core on the page as it stands.
func noSeriousFinding(t *testing.T, ctx context.Context, where string) {
	t.Helper()
	axe, err := os.ReadFile("testdata/axe.min.js")
	require.NoError(t, err)
	var found string
	var zero int
	do(t, ctx, chromedp.Evaluate(string(axe)+";0", &zero), chromedp.Evaluate(
		`axe.run().then(r => JSON.stringify(r.violations.filter(v => v.impact === "serious" || v.impact === "critical").map(v => [v.id, v.help, v.nodes.slice(0, 3).map(n => n.html)])))`,
		&found, awaitPromise))
	assert.Equal(t, "[]", found, where)
}

const dryersField = `[name="n:sites.Heron Point.dryers"]`

// setTo opens the group of a field and replaces what the field holds, by keyboard.
func setTo(selector, value string) chromedp.Action {
	var found bool
	return chromedp.Tasks{
		chromedp.Evaluate(`(e => { for (let d = e.closest("details"); d; d = d.parentElement.closest("details")) { d.open = true; } e.focus(); e.select(); return true; })(document.querySelector('`+selector+`'))`, &found),
		chromedp.KeyEvent(value),
	}
}

// What a cooperative does: open the demo, ask for a second dryer, run, read the answer, at the
// desk and on a phone; nothing in it keeps out who reads by keyboard or screen reader.
func TestSecondDryerInTheBrowser(t *testing.T) {
	for name, size := range map[string][2]int64{"desk": {1280, 900}, "phone": {360, 740}} {
		t.Run(name, func(t *testing.T) {
			address := serve(t)
			ctx := browser(t, size[0], size[1])
			do(t, ctx, chromedp.Navigate(address), chromedp.WaitVisible("#demos"))
			noSeriousFinding(t, ctx, "start")
			picture(t, ctx, name+"-start.png")
			// By keyboard alone: the second demo's button.
			do(t, ctx, chromedp.Focus(`form:nth-of-type(2) button`, chromedp.ByQuery), chromedp.KeyEvent(kb.Enter), chromedp.WaitVisible("#change"))
			noSeriousFinding(t, ctx, "plan")
			picture(t, ctx, name+"-plan.png")
			var sentence, wide string
			do(t, ctx,
				setTo(dryersField, "2"), setTo("#seasons", "60"), setTo("#futures", "30"),
				chromedp.Click(`button[value="compare"]`, chromedp.ByQuery),
				chromedp.WaitVisible("#sentence"), chromedp.Text("#sentence", &sentence),
				chromedp.Evaluate(`String(document.documentElement.scrollWidth <= window.innerWidth + 1)`, &wide))
			assert.Regexp(t, "^With .*trial seasons.*each member", sentence)
			assert.Equal(t, "true", wide, "nothing runs out of the window")
			var changed string
			do(t, ctx, chromedp.Value(dryersField, &changed, chromedp.ByQuery))
			assert.Equal(t, "2", changed)
			noSeriousFinding(t, ctx, "answer")
			picture(t, ctx, name+"-answer.png")
		})
	}
}

// A long run is stopped; nonsense in a field is said beside it and kept; both leave the page
// in order.
func TestStopAndNonsenseInTheBrowser(t *testing.T) {
	address := serve(t)
	ctx := browser(t, 1280, 900)
	var answer, faults, kept string
	do(t, ctx, chromedp.Navigate(address), chromedp.Click(`input[value="lake-tavari"] + button`, chromedp.ByQuery), chromedp.WaitVisible("#change"),
		setTo(dryersField, "1"), setTo("#seasons", "5000"), chromedp.Click(`button[value="compare"]`, chromedp.ByQuery),
		chromedp.WaitVisible("#bar"), chromedp.Click(`#under-way button`, chromedp.ByQuery))
	require.Eventually(t, func() bool { // the run ends when its workers have seen it, and the page loads anew
		err := chromedp.Run(ctx, chromedp.Evaluate(`document.readyState === "complete" && !document.getElementById("bar") ? document.getElementById("answer").textContent : ""`, &answer))
		return err == nil && answer != ""
	}, time.Minute, 300*time.Millisecond)
	assert.Contains(t, answer, "Stopped")

	do(t, ctx, setTo(dryersField, "two"), setTo("#seasons", "60"), chromedp.Click(`button[value="compare"]`, chromedp.ByQuery),
		chromedp.WaitVisible(".faults"), chromedp.Text(".faults", &faults), chromedp.Value(dryersField, &kept, chromedp.ByQuery))
	assert.Contains(t, faults, `sites.Heron Point.dryers: found "two", allowed: a whole number from 0 to 50`)
	assert.Equal(t, "two", kept, "what was typed is not lost")
	noSeriousFinding(t, ctx, "faults")
	picture(t, ctx, "faults.png")
}

// A broken file is answered line by line; the plan taken away reads back as the same plan, and
// opens again.
func TestUploadAndDownloadInTheBrowser(t *testing.T) {
	address := serve(t)
	ctx := browser(t, 1280, 900)
	dir := t.TempDir()
	broken := filepath.Join(dir, "broken.yaml")
	require.NoError(t, os.WriteFile(broken, []byte("region: Here\nseason: {start: 1 jun, days: 400}\n"), 0o644))
	var faults string
	do(t, ctx, chromedp.Navigate(address), chromedp.SetUploadFiles("#file", []string{broken}), chromedp.Click(`form[action="/upload"] button`, chromedp.ByQuery),
		chromedp.WaitVisible(".faults"), chromedp.Text(".faults", &faults))
	assert.Contains(t, faults, "broken.yaml:2: season.days: found 400, allowed: a whole number from 1 to 365")

	var text, report, name string
	fetch := func(file string) string {
		return `fetch(location.pathname + "/file/` + file + `").then(r => r.text())`
	}
	do(t, ctx, chromedp.Navigate(address), chromedp.Click(`input[value="one-cooperative"] + button`, chromedp.ByQuery), chromedp.WaitVisible("#change"),
		setTo(dryersField, "2"), setTo("#seasons", "40"), setTo("#futures", "30"), chromedp.Click(`button[value="compare"]`, chromedp.ByQuery), chromedp.WaitVisible("#sentence"),
		chromedp.Text("#sentence", &name),
		chromedp.Evaluate(fetch("plan.yaml"), &text, awaitPromise), chromedp.Evaluate(fetch("report.html"), &report, awaitPromise))
	s, err := scenarios.Read("plan.yaml", []byte(text))
	require.NoError(t, err)
	assert.Equal(t, 2, s.Region.Sites[0].Dryers)
	assert.Contains(t, report, "<!DOCTYPE html>")
	assert.Contains(t, report, strings.ReplaceAll(name, "+", "&#43;"))

	again := filepath.Join(dir, "plan.yaml")
	require.NoError(t, os.WriteFile(again, []byte(text), 0o644))
	var dryers string
	do(t, ctx, chromedp.Navigate(address), chromedp.SetUploadFiles("#file", []string{again}), chromedp.Click(`form[action="/upload"] button`, chromedp.ByQuery),
		chromedp.WaitVisible("#change"), chromedp.Value(dryersField, &dryers, chromedp.ByQuery))
	assert.Equal(t, "2", dryers)

	// The report taken away opens by itself and shows its answer.
	file := filepath.Join(dir, "report.html")
	require.NoError(t, os.WriteFile(file, []byte(report), 0o644))
	var shown string
	do(t, ctx, chromedp.Navigate("file://"+file), chromedp.Text("p.answer", &shown, chromedp.ByQuery))
	assert.Equal(t, name, shown)
	noSeriousFinding(t, ctx, "report")
}

// browserTime is how long one test may use the browser.
const browserTime = 2 * time.Minute
