package page_test

import (
	"bytes"
	"io"
	"mime/multipart"
	"net/http"
	"net/url"
	"regexp"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// opened opens a demo on a page of its own.
func opened(t *testing.T, demo string) (address, plan, tok string) {
	t.Helper()
	address = serve(t)
	tok = token(t, address)
	_, plan, _ = post(t, address, "/start", url.Values{"demo": {demo}, "token": {tok}})
	require.Contains(t, plan, "/plan/")
	return address, plan, tok
}

// uploaded opens a scenario on a page of its own.
func uploaded(t *testing.T, text string) (address, plan, tok string) {
	t.Helper()
	address = serve(t)
	tok = token(t, address)
	return address, uploadedTo(t, address, tok, text), tok
}

// uploadedTo opens a scenario on a page and returns the path of its plan.
func uploadedTo(t *testing.T, address, tok, text string) (plan string) {
	t.Helper()
	var form bytes.Buffer
	w := multipart.NewWriter(&form)
	require.NoError(t, w.WriteField("token", tok))
	file, err := w.CreateFormFile("file", "plan.yaml")
	require.NoError(t, err)
	_, err = io.WriteString(file, text)
	require.NoError(t, err)
	require.NoError(t, w.Close())
	r, err := http.Post(address+"/upload", w.FormDataContentType(), &form)
	require.NoError(t, err)
	body, err := io.ReadAll(r.Body)
	require.NoError(t, err)
	_ = r.Body.Close()
	require.Equal(t, http.StatusOK, r.StatusCode, string(body))
	return r.Request.URL.Path
}

// read reads a page.
func read(t *testing.T, address string) string {
	t.Helper()
	r, err := http.Get(address)
	require.NoError(t, err)
	defer func() { _ = r.Body.Close() }()
	body, err := io.ReadAll(r.Body)
	require.NoError(t, err)
	return string(body)
}

// finds returns the one part of a page that a pattern finds.
func finds(t *testing.T, page, pattern string) string {
	t.Helper()
	m := regexp.MustCompile(pattern).FindStringSubmatch(page)
	require.NotNil(t, m, pattern)
	return m[1]
}

// stateOf returns the number that a form says of the plan it was made of.
func stateOf(t *testing.T, page string) string {
	return finds(t, page, `name="state" value="(\d+)"`)
}

// holds returns what a field of the page holds.
func holds(t *testing.T, page, path string) string {
	return finds(t, page, `name="n:`+regexp.QuoteMeta(path)+`" value="([^"]*)"`)
}

// ended waits for the end of a run.
func ended(t *testing.T, address, plan string) {
	t.Helper()
	require.Eventually(t, func() bool { return strings.Contains(read(t, address+plan+"/status"), `"under_way":false`) }, time.Minute, 20*time.Millisecond)
}

const (
	heronDryers = "sites.Heron Point.dryers"
	woodPrice   = "money.wood_per_kg"
)

// A run that is refused changes nothing: neither for nonsense in an option, nor while another run of
// the plan is under way; what was typed stays in the form.
func TestRefusedRunChangesNothing(t *testing.T) {
	address, plan, tok := opened(t, "one-cooperative")
	before := read(t, address+plan+"/file/plan.yaml")
	code, _, body := post(t, address, plan, url.Values{"token": {tok}, "state": {"0"}, "ask": {"compare"}, "seasons": {"3"}, "n:" + heronDryers: {"4"}})
	require.Equal(t, http.StatusUnprocessableEntity, code)
	assert.Equal(t, "4", holds(t, body, heronDryers))
	assert.Equal(t, before, read(t, address+plan+"/file/plan.yaml"))

	code, _, _ = post(t, address, plan, url.Values{"token": {tok}, "state": {"0"}, "ask": {"compare"}, "seasons": {"5000"}, "n:" + heronDryers: {"2"}})
	require.Equal(t, http.StatusSeeOther, code)
	running := read(t, address+plan+"/file/plan.yaml")
	assert.NotEqual(t, before, running)
	code, _, body = post(t, address, plan, url.Values{"token": {tok}, "state": {"1"}, "ask": {"compare"}, "seasons": {"40"}, "n:" + heronDryers: {"3"}})
	assert.Equal(t, http.StatusConflict, code)
	assert.Contains(t, body, "under way")
	assert.Equal(t, "3", holds(t, body, heronDryers), "what was typed is not lost")
	assert.Equal(t, "1", stateOf(t, body))
	assert.Equal(t, running, read(t, address+plan+"/file/plan.yaml"))
	code, _, _ = post(t, address, plan, url.Values{"token": {tok}, "ask": {"a question of nobody"}, "n:" + heronDryers: {"3"}})
	assert.Equal(t, http.StatusUnprocessableEntity, code)
	assert.Equal(t, running, read(t, address+plan+"/file/plan.yaml"))
}

// What was typed while a run was under way comes back with the answer to Stop.
func TestStopLosesNothingTyped(t *testing.T) {
	address, plan, tok := opened(t, "one-cooperative")
	_, _, _ = post(t, address, plan, url.Values{"token": {tok}, "state": {"0"}, "ask": {"compare"}, "seasons": {"5000"}, "n:" + heronDryers: {"2"}})
	code, _, body := post(t, address, plan+"/stop", url.Values{"token": {tok}, "state": {"1"}, "n:" + heronDryers: {"2"}, "n:" + woodPrice: {"0,1"}})
	assert.Equal(t, http.StatusOK, code)
	assert.Equal(t, "0,1", holds(t, body, woodPrice))
	assert.NotContains(t, read(t, address+plan+"/file/plan.yaml"), "wood_per_kg: 0.1\n", "stopping saves nothing")
	ended(t, address, plan)
}

// Two windows do not write over each other in silence: a form of an older state is refused, shows
// what is saved beside what was typed, and is taken when it is sent again knowingly.
func TestSecondWindowIsTold(t *testing.T) {
	address, plan, tok := opened(t, "one-cooperative")
	first := url.Values{"token": {tok}, "state": {stateOf(t, read(t, address+plan))}, "ask": {"save"}, "n:" + heronDryers: {"3"}}
	second := url.Values{"token": {tok}, "state": first["state"], "ask": {"save"}, "n:" + heronDryers: {"1"}, "n:" + woodPrice: {"0.2"}}
	code, _, _ := post(t, address, plan, first)
	require.Equal(t, http.StatusSeeOther, code)
	saved := read(t, address+plan+"/file/plan.yaml")

	for _, ask := range []string{"save", "compare", "reset", "back", "promise"} {
		second.Set("ask", ask)
		code, _, body := post(t, address, plan, second)
		require.Equal(t, http.StatusConflict, code, ask)
		assert.Contains(t, body, "changed in another window", ask)
		assert.Contains(t, body, "<td>3</td><td>1</td>", "the dryers saved there and typed here")
		assert.Equal(t, "0.2", holds(t, body, woodPrice), "what was typed is not lost")
		assert.Equal(t, saved, read(t, address+plan+"/file/plan.yaml"), ask)
		assert.Equal(t, "1", stateOf(t, body))
	}
	second.Set("ask", "save")
	second.Set("state", "1") // the form that was shown, sent again
	code, _, _ = post(t, address, plan, second)
	require.Equal(t, http.StatusSeeOther, code)
	now := read(t, address+plan)
	assert.Equal(t, "1", holds(t, now, heronDryers))
	assert.Equal(t, "0.2", holds(t, now, woodPrice))
	code, _, _ = post(t, address, plan, second)
	assert.Equal(t, http.StatusSeeOther, code, "who says what is saved already is told nothing")
	code, _, _ = post(t, address, plan, url.Values{"token": {tok}, "state": {"x"}})
	assert.Equal(t, http.StatusUnprocessableEntity, code)
}

// Each difference from today is shown and undone by itself; all are reset, and the reset is taken
// back.
func TestUndoAndReset(t *testing.T) {
	address, plan, tok := opened(t, "one-cooperative")
	two := url.Values{"token": {tok}, "state": {"0"}, "ask": {"save"}, "n:" + heronDryers: {"3"}, "n:" + woodPrice: {"0.2"}}
	code, _, _ := post(t, address, plan, two)
	require.Equal(t, http.StatusSeeOther, code)
	body := read(t, address+plan)
	assert.Contains(t, body, "2 numbers differ from today")
	assert.Contains(t, body, `name="undo" value="`+woodPrice+`"`)

	two.Set("state", "1")
	two.Set("undo", woodPrice)
	two.Set("n:"+heronDryers, "4") // typed, not run yet
	code, _, _ = post(t, address, plan, two)
	require.Equal(t, http.StatusSeeOther, code)
	body = read(t, address+plan)
	assert.Equal(t, "0.08", holds(t, body, woodPrice))
	assert.Equal(t, "4", holds(t, body, heronDryers), "what else was typed is kept")

	code, _, _ = post(t, address, plan, url.Values{"token": {tok}, "state": {"2"}, "ask": {"reset"}, "n:" + heronDryers: {"4"}})
	require.Equal(t, http.StatusSeeOther, code)
	body = read(t, address+plan)
	assert.Equal(t, "1", holds(t, body, heronDryers))
	assert.Contains(t, body, "Nothing differs from today")
	code, _, _ = post(t, address, plan, url.Values{"token": {tok}, "state": {"3"}, "ask": {"back"}})
	require.Equal(t, http.StatusSeeOther, code)
	assert.Equal(t, "4", holds(t, read(t, address+plan), heronDryers), "the reset is taken back")
	for state := 4; state < 6; state++ { // and the changes before it
		code, _, _ = post(t, address, plan, url.Values{"token": {tok}, "state": {string(rune('0' + state))}, "ask": {"back"}})
		require.Equal(t, http.StatusSeeOther, code)
	}
	body = read(t, address+plan)
	assert.Equal(t, "1", holds(t, body, heronDryers))
	assert.NotContains(t, body, `value="back"`, "nothing is left to take back")
}

// Each plan is judged against its own contract, and the table says both.
func TestEachAgainstItsOwnContract(t *testing.T) {
	address, plan, tok := opened(t, "one-cooperative")
	code, _, _ := post(t, address, plan, url.Values{
		"token": {tok}, "state": {"0"}, "ask": {"compare"}, "seasons": {"30"}, "futures": {"30"},
		"n:contract.stalks_per_month.jul": {"99999999"}, "n:contract.stalks_per_month.aug": {"0"},
	})
	require.Equal(t, http.StatusSeeOther, code)
	ended(t, address, plan)
	body := read(t, address+plan)
	july := finds(t, body, `(<th scope="row">July</th>.*)</tr>`)
	assert.Regexp(t, `^<th scope="row">July</th><td class="n">30,000</td><td class="n">\d+ %[^<]*</td><td class="n">99,999,999</td><td class="n">0 %`, july)
	august := finds(t, body, `(<th scope="row">August</th>.*?)</tr>`)
	assert.Regexp(t, `<td class="n">30,000</td><td class="n">[^<]* %[^<]*</td><td class="n">not asked</td><td class="n">not asked</td>`, august)
}

// The money form reads as sentences: each price with what it is for and in which money, each number
// of the form with a unit or words behind it.
func TestMoneyFormIsReadable(t *testing.T) {
	address, plan, _ := opened(t, "one-cooperative")
	body := read(t, address+plan)
	for field, sentence := range map[string][2]string{
		"money.dryer_cost":           {"A dryer, put up and ready, costs", "coins"},
		"money.wood_in_rains_per_kg": {"A kg of wood in months with more than 100 mm of rain costs", "coins (-1: as in other months)"},
		"money.upkeep_per_firing_h":  {"An hour of firing costs", "coins of upkeep"},
		"money.loan_months":          {"A loan is paid back over", "months"},
	} {
		assert.Contains(t, body, `<label for="f-`+field+`">`+sentence[0]+`</label>`, field)
		assert.Regexp(t, `name="n:`+regexp.QuoteMeta(field)+`"[^>]*> <span class="unit">`+regexp.QuoteMeta(sentence[1])+`</span>`, body, field)
	}
}

// Numbers are taken as people write them; what could be two numbers is asked about.
func TestCommaDecimals(t *testing.T) {
	address, plan, tok := opened(t, "one-cooperative")
	code, _, _ := post(t, address, plan, url.Values{
		"token": {tok}, "n:" + woodPrice: {"0,15"}, "n:money.dryer_cost": {"6 500,5"}, "n:contract.stalks_per_month.jul": {"31,000"}, "n:money.rent_per_site_year": {"1,250.5"},
	})
	require.Equal(t, http.StatusSeeOther, code)
	body := read(t, address+plan)
	for path, want := range map[string]string{woodPrice: "0.15", "money.dryer_cost": "6500.5", "contract.stalks_per_month.jul": "31000", "money.rent_per_site_year": "1250.5"} {
		assert.Equal(t, want, holds(t, body, path), path)
	}
	code, _, body = post(t, address, plan, url.Values{"token": {tok}, "n:money.dryer_cost": {"6,500"}})
	assert.Equal(t, http.StatusUnprocessableEntity, code)
	assert.Contains(t, body, "allowed: a number without thousands apart")
	assert.Equal(t, "6,500", holds(t, body, "money.dryer_cost"))
}
