package page_test

import (
	"context"
	"net/http"
	"net/url"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drystalk/report/page"
	"drystalk/scenarios"
)

// openAll opens all that a view folds away.
func openAll(t *testing.T, ctx context.Context) {
	t.Helper()
	asks(t, ctx, `document.querySelectorAll("details").forEach(d => d.open = true); ""`)
}

// thinned hides all but three of what repeats beside each other in the same dress: a fourth row of a
// table or a fourth field has the colours of the third. unthinned shows it again.
const thinned = `(function () {
  document.querySelectorAll("body *").forEach(parent => {
    const seen = {};
    Array.from(parent.children).forEach(e => {
      const dress = [e.tagName, e.getAttribute("class"), e.getAttribute("style"), e.getAttribute("fill")].join("|");
      seen[dress] = (seen[dress] || 0) + 1;
      if (seen[dress] > 3) { e.dataset.thin = ""; }
    });
  });
  document.querySelectorAll("[data-thin]").forEach(e => e.style.setProperty("display", "none", "important"));
  return "";
})()`

const unthinned = `document.querySelectorAll("[data-thin]").forEach(e => { e.style.removeProperty("display"); delete e.dataset.thin; }); ""`

// accessible runs axe-core on what the browser shows: each rule that is not about colours on all of it,
// then those about colours in light and in dark, which are slow, on what is left when it is thinned.
func accessible(t *testing.T, ctx context.Context, where string) {
	t.Helper()
	axe, err := os.ReadFile("testdata/axe.min.js")
	require.NoError(t, err)
	asks(t, ctx, string(axe)+`;""`)
	noneSerious(t, ctx, `rules: {"color-contrast": {enabled: false}, "link-in-text-block": {enabled: false}}`, where)
	picture(t, ctx, where)
	asks(t, ctx, thinned)
	for _, colours := range []string{"light", "dark"} {
		do(t, ctx, look(colours))
		noneSerious(t, ctx, `runOnly: {type: "rule", values: ["color-contrast", "link-in-text-block"]}`, where+", "+colours)
	}
	asks(t, ctx, unthinned)
	picture(t, ctx, where+"-dark")
	do(t, ctx, look("light"))
}

// onPaper looks at what is printed where the browser shows dark colours: black on white, and nothing to
// press.
func onPaper(t *testing.T, ctx context.Context, where string) {
	t.Helper()
	do(t, ctx, emulation.SetEmulatedMedia().WithMedia("print").WithFeatures([]*emulation.MediaFeature{{Name: "prefers-color-scheme", Value: "dark"}}))
	assert.Equal(t, "rgb(255, 255, 255)", asks(t, ctx, `getComputedStyle(document.body).backgroundColor`), "%s: the ground of the paper", where)
	assert.Equal(t, "", asks(t, ctx, `Array.from(document.querySelectorAll("header, .bar, input, select, button:not(.sort), a[download]")).filter(e => e.getClientRects().length > 0).map(e => e.outerHTML).join(" ")`), "%s: nothing to press is printed", where)
	do(t, ctx, emulation.SetEmulatedMedia().WithMedia(""))
}

// noneSerious fails where axe-core finds something serious or critical with the rules that are asked.
func noneSerious(t *testing.T, ctx context.Context, rules, where string) {
	t.Helper()
	assert.Equal(t, "[]", asks(t, ctx, `axe.run({resultTypes: ["violations"], `+rules+`}).then(r => JSON.stringify(r.violations.filter(v => v.impact === "serious" || v.impact === "critical").map(v => [v.id, v.help, v.nodes.slice(0, 3).map(n => n.html)])))`), where)
}

// viewer walks through the views of a page in one window of a phone's size.
type viewer struct {
	t       *testing.T
	ctx     context.Context
	address string
	tok     string
	plan    string
}

// sees opens a view and looks at it, with all that it folds away.
func (v *viewer) sees(name, path string) {
	v.t.Helper()
	do(v.t, v.ctx, chromedp.Navigate(v.address+path), chromedp.WaitReady("main"))
	v.looks(name)
}

func (v *viewer) looks(name string) {
	v.t.Helper()
	openAll(v.t, v.ctx)
	fitsTheWindow(v.t, v.ctx, name)
	onPaper(v.t, v.ctx, name)
	if os.Getenv("DRYSTALK_PICTURES") != "" {
		printed(v.t, v.ctx, name)
	}
	accessible(v.t, v.ctx, name)
}

// asks sends the form of the plan and waits for what it asks for.
func (v *viewer) asks(form url.Values) {
	v.t.Helper()
	form.Set("token", v.tok)
	code, _, body := post(v.t, v.address, v.plan, form)
	require.Equal(v.t, http.StatusSeeOther, code, body)
	ended(v.t, v.address, v.plan)
}

// Nothing of the page, of a report or of a paper keeps out who reads by keyboard or screen reader, in
// light and in dark: every view is looked at.
func TestEveryViewInTheBrowser(t *testing.T) {
	s := page.New("test")
	require.NoError(t, s.KeepIn(t.TempDir()))
	v := &viewer{t: t, ctx: window(t, "phone"), address: serveWith(t, s)}
	v.tok = token(t, v.address)
	v.sees("start", "/")
	v.sees("not-there", "/plan/x")
	_, v.plan, _ = post(t, v.address, "/start", url.Values{"demo": {"one-cooperative"}, "token": {v.tok}})
	v.sees("one-site", v.plan)
	v.plan = uploadedTo(t, v.address, v.tok, small)
	v.sees("sites", v.plan)
	v.answers()
	v.asks(url.Values{"ask": {"keep"}, "name": {"Ours"}, "n:sites.Lower Landing.dryers": {"1"}, "n:money.wood_per_kg": {"0,2"}})
	v.sees("outdated-and-kept", v.plan)
	v.sees("start-with-plans", "/")
	v.faults()
	v.underWay()
}

// withoutForm takes the form of a plan away where it was looked at before.
const withoutForm = `document.querySelector("[aria-labelledby=change]").remove(); ""`

// answers are the views of every question's answer, with its report and its paper.
func (v *viewer) answers() {
	dir := v.t.TempDir()
	briefs := 0
	for _, tt := range []struct{ name, ask, dryers string }{
		{"compare", "compare", "2"},
		{"alone", "compare", "1"},
		{"dryers", "dryers", "1"},
		{"second", "second", "1"},
		{"promise", "promise", "1"},
		{"spend", "spend", "1"},
		{"ways", "ways", "1"},
		{"season", "season", "1"},
	} {
		v.asks(url.Values{
			"ask": {tt.ask}, "seasons": {"30"}, "search": {"30"}, "limit": {"30"}, "short": {"3"}, "futures": {"30"}, "budget": {"3000"}, "second": {"Upper Landing"},
			"n:sites.Upper Landing.dryers": {tt.dryers},
		})
		do(v.t, v.ctx, chromedp.Navigate(v.address+v.plan), chromedp.WaitVisible("#sentence"))
		asks(v.t, v.ctx, withoutForm)
		v.looks("answer-" + tt.name)
		for _, file := range []string{"report.html", "brief.html"} {
			r, err := http.Get(v.address + v.plan + "/file/" + file)
			require.NoError(v.t, err)
			_ = r.Body.Close()
			if r.StatusCode == http.StatusNotFound && file == "brief.html" {
				continue
			}
			require.Equal(v.t, http.StatusOK, r.StatusCode, "%s of %s", file, tt.name)
			if file == "brief.html" {
				briefs++
			}
			here := filepath.Join(dir, file)
			require.NoError(v.t, os.WriteFile(here, []byte(read(v.t, v.address+v.plan+"/file/"+file)), 0o644))
			do(v.t, v.ctx, chromedp.Navigate("file://"+here))
			v.looks(tt.name + "-" + strings.TrimSuffix(file, ".html"))
		}
	}
	assert.Equal(v.t, 5, briefs, "papers: compare, second, dryers, promise, spend")
}

// faults are the views of what is wrong: with a number, which is kept as it was typed, with a run, and
// with a file.
func (v *viewer) faults() {
	const field = `[name="n:sites.Upper Landing.dryers"]`
	var said, kept string
	do(v.t, v.ctx, chromedp.Navigate(v.address+v.plan), chromedp.WaitVisible("#change"), setTo(field, "two"), chromedp.Click(`.buttons button[value="compare"]`, chromedp.ByQuery),
		chromedp.WaitVisible(".faults"), chromedp.Text(".faults", &said), chromedp.Value(field, &kept, chromedp.ByQuery))
	assert.Contains(v.t, said, `sites.Upper Landing.dryers: found "two", allowed: a whole number from 0 to 50`)
	assert.Equal(v.t, "two", kept, "what was typed is not lost")
	v.looks("faults")

	broken := filepath.Join(v.t.TempDir(), "broken.yaml")
	require.NoError(v.t, os.WriteFile(broken, []byte("region: Here\nseason: {start: 1 jun, days: 400}\n"), 0o644))
	do(v.t, v.ctx, chromedp.Navigate(v.address), chromedp.SetUploadFiles("#file", []string{broken}), chromedp.Click(`form[action="/upload"] button`, chromedp.ByQuery),
		chromedp.WaitVisible(".faults"), chromedp.Text(".faults", &said))
	assert.Contains(v.t, said, "broken.yaml:2: season.days: found 400, allowed: a whole number from 1 to 365")
	v.looks("broken-file")
}

// short is a daily record of too few days to make a weather of.
const short = "date,rain_mm\n2001-06-01,12\n2001-06-02,0\n2001-06-03,41\n"

// Runs that end otherwise than with a whole answer keep out nobody either: one that ends in an error, and
// one that was stopped and says what was known by then; on a phone and at the desk.
func TestRunsThatEndEarlyInTheBrowser(t *testing.T) {
	v := &viewer{t: t, ctx: window(t, "phone"), address: serve(t)}
	v.tok = token(t, v.address)
	v.plan = uploadedTo(t, v.address, v.tok, small)
	record := filepath.Join(t.TempDir(), "short.csv")
	require.NoError(t, os.WriteFile(record, []byte(short), 0o644))
	do(t, v.ctx, chromedp.Navigate(v.address+v.plan), chromedp.WaitVisible("#change"))
	openAll(t, v.ctx)
	var said string
	do(t, v.ctx, chromedp.SetUploadFiles("#days", []string{record}), chromedp.Click(`button[formaction$="/record"]`, chromedp.ByQuery), chromedp.WaitVisible(`#answer [role="alert"]`, chromedp.ByQuery),
		chromedp.Text(`#answer [role="alert"]`, &said, chromedp.ByQuery))
	assert.Contains(t, said, "short.csv: ")
	v.atBoth("error")

	stopped := false
	for after := 100 * time.Millisecond; !stopped && after < 10*time.Second; after = after * 8 / 5 { // till something is known, and not all
		code, _, _ := post(t, v.address, v.plan, url.Values{"token": {v.tok}, "ask": {"spend"}, "seasons": {"1500"}, "budget": {"9000"}})
		require.Equal(t, http.StatusSeeOther, code)
		time.Sleep(after)
		_, _, _ = post(t, v.address, v.plan+"/stop", url.Values{"token": {v.tok}})
		ended(t, v.address, v.plan)
		stopped = strings.Contains(read(t, v.address+v.plan), page.English.Early.String())
	}
	require.True(t, stopped, "a search is stopped half-way")
	do(t, v.ctx, chromedp.Navigate(v.address+v.plan), chromedp.WaitVisible("#sentence"), chromedp.Text("#answer .note", &said, chromedp.ByQuery))
	assert.Contains(t, said, "It was stopped")
	v.atBoth("stopped-early")
}

// atBoth looks at a view without its form at a desk's size too.
func (v *viewer) atBoth(name string) {
	v.t.Helper()
	asks(v.t, v.ctx, withoutForm)
	v.looks(name)
	resize(v.t, v.ctx, "desk")
	fitsTheWindow(v.t, v.ctx, name)
	accessible(v.t, v.ctx, name+"-desk")
	resize(v.t, v.ctx, "phone")
}

// underWay are the views of a run that goes on, and of one that was stopped.
func (v *viewer) underWay() {
	_, v.plan, _ = post(v.t, v.address, "/start", url.Values{"demo": {"lake-tavari"}, "token": {v.tok}})
	code, _, _ := post(v.t, v.address, v.plan, url.Values{"token": {v.tok}, "ask": {"compare"}, "seasons": {"5000"}})
	require.Equal(v.t, http.StatusSeeOther, code)
	do(v.t, v.ctx, chromedp.Navigate(v.address+v.plan), chromedp.WaitVisible("#bar"))
	asks(v.t, v.ctx, withoutForm)
	v.looks("under-way")
	assert.Contains(v.t, read(v.t, v.address+v.plan+"/status"), `"under_way":true`, "it went on while it was looked at")
	_, _, _ = post(v.t, v.address, v.plan+"/stop", url.Values{"token": {v.tok}})
	ended(v.t, v.address, v.plan)
	do(v.t, v.ctx, chromedp.Navigate(v.address+v.plan), chromedp.WaitVisible("#answer"))
	asks(v.t, v.ctx, withoutForm)
	v.looks("stopped")
}

// The plan taken away reads back as the same plan and opens again; the report taken away opens by
// itself and shows its answer.
func TestWhatIsTakenAwayOpensAgain(t *testing.T) {
	address := serve(t)
	tok := token(t, address)
	plan := uploadedTo(t, address, tok, small)
	code, _, _ := post(t, address, plan, url.Values{"token": {tok}, "ask": {"compare"}, "seasons": {"30"}, "futures": {"30"}, "n:sites.Lower Landing.dryers": {"1"}})
	require.Equal(t, http.StatusSeeOther, code)
	ended(t, address, plan)
	text := read(t, address+plan+"/file/plan.yaml")
	s, err := scenarios.Read("plan.yaml", []byte(text))
	require.NoError(t, err)
	assert.Equal(t, 1, s.Region.Sites[1].Dryers)
	again := uploadedTo(t, address, tok, text)
	assert.Equal(t, text, read(t, address+again+"/file/plan.yaml"))
	assert.Equal(t, "1", holds(t, read(t, address+again), "sites.Lower Landing.dryers"))
	sentence := finds(t, read(t, address+plan), `id="sentence">([^<]+)</p>`)
	assert.Contains(t, read(t, address+plan+"/file/report.html"), `<p class="answer">`+sentence+`</p>`)
}
