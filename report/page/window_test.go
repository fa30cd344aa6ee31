package page_test

import (
	"context"
	"net"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drystalk/report/page"
)

// browserTime is how long one test may use the browser.
const browserTime = 5 * time.Minute

// The sizes of window at which tests look: a desk's screen and a small phone.
var sizes = map[string][2]int64{"desk": {1280, 900}, "phone": {360, 740}}

// serve runs a page on a free port of the loopback for the length of a test.
func serve(t testing.TB) string { return serveWith(t, page.New("test")) }

// serveWith runs a page that was made ready.
func serveWith(t testing.TB, s *page.Server) string {
	t.Helper()
	l, err := net.Listen("tcp", "127.0.0.1:0")
	require.NoError(t, err)
	ctx, cancel := context.WithCancel(context.Background())
	done := make(chan error, 1)
	go func() { done <- s.Serve(ctx, l) }()
	t.Cleanup(func() {
		cancel()
		require.NoError(t, <-done)
	})
	return "http://" + l.Addr().String()
}

// closeBrowser ends the browser that the tests share, where one was opened.
var closeBrowser = func() {}

// TestMain runs the tests and ends their browser.
func TestMain(m *testing.M) {
	code := m.Run()
	closeBrowser()
	os.Exit(code)
}

// sharedBrowser opens the one headless browser of all tests; each has windows of its own in it.
var sharedBrowser = sync.OnceValues(func() (context.Context, error) {
	options := append(append([]chromedp.ExecAllocatorOption(nil), chromedp.DefaultExecAllocatorOptions[:]...), chromedp.ExecPath(browserPath()), chromedp.NoSandbox, chromedp.WSURLReadTimeout(time.Minute))
	allocator, cancelAllocator := chromedp.NewExecAllocator(context.Background(), options...)
	ctx, cancel := chromedp.NewContext(allocator)
	closeBrowser = func() { cancel(); cancelAllocator() }
	return ctx, chromedp.Run(ctx)
})

// browserPath returns where a browser is installed; "" where none is.
func browserPath() string {
	for _, name := range []string{"chromium", "chromium-browser", "google-chrome"} {
		if path, err := exec.LookPath(name); err == nil {
			return path
		}
	}
	return ""
}

// window opens a window of the shared browser, or skips the test where none is installed.
func window(t *testing.T, size string) context.Context {
	t.Helper()
	if os.Getenv("DRYSTALK_LONG") == "" {
		t.Skip("DRYSTALK_LONG=1, as in .ci/run, opens a browser")
	}
	if browserPath() == "" {
		t.Skip("no browser is installed here; .ci/run installs one where it may")
	}
	shared, err := sharedBrowser()
	require.NoError(t, err)
	tab, cancel := chromedp.NewContext(shared)
	require.NoError(t, chromedp.Run(tab))
	ctx, cancelTime := context.WithTimeout(tab, browserTime)
	t.Cleanup(func() { cancelTime(); cancel() })
	resize(t, ctx, size)
	return ctx
}

// resize makes a window as large as a desk's or a phone's.
func resize(t *testing.T, ctx context.Context, size string) {
	t.Helper()
	require.Contains(t, sizes, size)
	do(t, ctx, emulation.SetDeviceMetricsOverride(sizes[size][0], sizes[size][1], 1, size == "phone").WithScreenWidth(sizes[size][0]).WithScreenHeight(sizes[size][1]))
}

// do lets the browser act, one action after another. Where a page takes the place of another while an action
// looks for something on it, that action did nothing yet and is tried again.
func do(t *testing.T, ctx context.Context, actions ...chromedp.Action) {
	t.Helper()
	for _, action := range actions {
		err := chromedp.Run(ctx, action)
		for tries := 0; tries < 5 && err != nil && strings.Contains(err.Error(), "No node with given id found"); tries++ {
			err = chromedp.Run(ctx, action)
		}
		require.NoError(t, err)
	}
}

// asks evaluates an expression of the page, waiting for what it promises, as a text.
func asks(t *testing.T, ctx context.Context, expression string) (said string) {
	t.Helper()
	do(t, ctx, chromedp.Evaluate(expression, &said, func(p *runtime.EvaluateParams) *runtime.EvaluateParams { return p.WithAwaitPromise(true) }))
	return said
}

// look lets the browser ask for light or dark colours.
func look(colours string) chromedp.Action {
	return emulation.SetEmulatedMedia().WithFeatures([]*emulation.MediaFeature{{Name: "prefers-color-scheme", Value: colours}})
}

// picture saves what the browser shows, where a folder for pictures is named.
func picture(t *testing.T, ctx context.Context, name string) {
	t.Helper()
	if os.Getenv("DRYSTALK_PICTURES") == "" {
		return
	}
	var png []byte
	var top bool // the bar stands there, not in the middle
	do(t, ctx, chromedp.Evaluate(`window.scrollTo(0, 0); true`, &top), chromedp.FullScreenshot(&png, 100))
	keep(t, name+".png", png)
}

// keep saves a file, where a folder for pictures is named.
func keep(t *testing.T, name string, data []byte) {
	t.Helper()
	if folder := os.Getenv("DRYSTALK_PICTURES"); folder != "" {
		require.NoError(t, os.WriteFile(filepath.Join(folder, name), data, 0o644))
	}
}

// fitsTheWindow looks whether something runs out of the window to the right; a phone's browser makes
// the window wider for what does, never the screen.
func fitsTheWindow(t *testing.T, ctx context.Context, where string) {
	t.Helper()
	assert.Equal(t, "true", asks(t, ctx, `String(document.documentElement.scrollWidth <= Math.min(window.innerWidth, screen.width))`), "%s: nothing runs out of the window", where)
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

// demoButton is the button that opens a demo.
func demoButton(name string) string { return `input[value="` + name + `"] + button` }
