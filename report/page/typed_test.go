package page

import (
	"html"
	"net/http"
	"net/http/httptest"
	"net/url"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Whatever button is pressed, what else was typed is in the form again: numbers of seasons, what may be
// spent, the site that is asked about, the name.
func TestNothingTypedIsLost(t *testing.T) {
	s := keeper(t, t.TempDir())
	at := openedText(t, s, strings.Replace(reeds, "sites: {", "sites: {Lower Landing: {cutters: 3, stalks_per_person_h: 117, open_rack_m2: 75}, ", 1))
	for k, ask := range []string{"save", "aside", "station", "keep", "beside", "alone", "back", "reset"} {
		form := url.Values{"ask": {ask}, "n:sites.Upper Landing.dryers": {"2"}, "second": {"Upper Landing"}, "name": {"Ours"}, "station": {"43003"}, "beside": {"Ours"}}
		typed := map[string]string{"seasons": "7", "seed": "3", "futures": "2", "budget": "9", "number": "1"}
		for name := range typed {
			typed[name] += strconv.Itoa(k) + "0"
			form.Set(name, typed[name])
		}
		w := asked(s, at, form)
		require.Equal(t, http.StatusSeeOther, w.Code, ask)
		page := shown(t, s, at)
		for name, value := range typed {
			assert.Regexp(t, `name="`+name+`"[^>]* value="`+value+`"`, page, ask)
		}
		assert.Contains(t, page, `<option selected>Upper Landing</option>`, ask)
		assert.Contains(t, page, `name="name" value="Ours"`, ask)
	}
}

// The plan of the folder that was chosen to stand beside is chosen still after another button was pressed.
func TestPlanChosenBesideStaysChosen(t *testing.T) {
	s := keeper(t, t.TempDir())
	at := openedText(t, s, reeds)
	for _, name := range []string{"First", "Second"} {
		form := dryersAt("keep", "1")
		form.Set("name", name)
		form.Set("beside", "Second")
		require.Equal(t, http.StatusSeeOther, asked(s, at, form).Code, name)
	}
	page := shown(t, s, at)
	assert.Contains(t, page, `<option>First</option>`)
	assert.Contains(t, page, `<option selected>Second</option>`)
}

// A number that was typed and is saved nowhere stands in its field when the last change is taken back,
// and can be taken back itself when all were; one that is no number keeps nobody from today.
func TestTypedNumbersSurviveTakingBack(t *testing.T) {
	s := keeper(t, t.TempDir())
	at := openedText(t, s, reeds)
	p := planAt(t, s, at)
	sent := func(ask, dryers, wood string) *httptest.ResponseRecorder {
		form := dryersAt(ask, dryers)
		form.Set("n:money.wood_per_kg", wood)
		return asked(s, at, form)
	}
	require.Equal(t, http.StatusSeeOther, sent("save", "2", "0.1").Code)
	w := sent("back", "2", "0,3")
	require.Equal(t, http.StatusOK, w.Code)
	assert.Contains(t, w.Body.String(), `name="n:money.wood_per_kg" value="0,3"`)
	assert.Contains(t, w.Body.String(), `name="n:sites.Upper Landing.dryers" value="0"`)
	assert.Empty(t, s.changes(p.today, p.stand().now), "it is saved nowhere yet")

	require.Equal(t, http.StatusSeeOther, sent("reset", "3", "0,4").Code)
	assert.Empty(t, s.changes(p.today, p.stand().now))
	require.Equal(t, http.StatusSeeOther, sent("back", "0", "0.1").Code)
	assert.Len(t, s.changes(p.today, p.stand().now), 2, "what was typed before is back")
	require.Equal(t, http.StatusSeeOther, sent("reset", "three", "0.1").Code)
	assert.Empty(t, s.changes(p.today, p.stand().now))
}

// What is wrong is said by the words of its field, with a way to it, beside its key.
func TestFaultsLeadToTheirFields(t *testing.T) {
	s := keeper(t, t.TempDir())
	at := openedText(t, s, reeds)
	form := dryersAt("compare", "many")
	form.Set("seasons", "1")
	w := asked(s, at, form)
	require.Equal(t, http.StatusUnprocessableEntity, w.Code)
	said := html.UnescapeString(w.Body.String())
	assert.Contains(t, said, `<a href="#seasons">Trial seasons behind each figure</a><br><code>seasons</code>: found 1, allowed: `)
	assert.Contains(t, said, `<a href="#f-sites.Upper%2520Landing.dryers">Upper Landing: Dryers in the plan</a><br><code>sites.Upper Landing.dryers</code>: found "many", allowed: `)
	assert.Contains(t, said, `<input id="f-sites.Upper%20Landing.dryers"`, "a browser decodes where a link leads to once")
}

// A budget that is wrong is told once, and one that is missing in words of the page alone.
func TestBudgetIsWrongOnce(t *testing.T) {
	s := keeper(t, t.TempDir())
	at := openedText(t, s, reeds)
	for typed, what := range map[string]string{
		"10.000": `found "10.000", whose point may part thousands, allowed: 10000, or 10`,
		"much":   `found "much", allowed: a number without thousands apart`,
		"-1":     `found -1, allowed: more than 0`,
		"":       `found nothing, allowed: more than 0, such as 5000`,
	} {
		form := dryersAt("spend", "1")
		form.Set("budget", typed)
		w := asked(s, at, form)
		require.Equal(t, http.StatusUnprocessableEntity, w.Code, typed)
		said := html.UnescapeString(w.Body.String())
		assert.Equal(t, 1, strings.Count(said, "<code>budget</code>"), typed)
		_, after, _ := strings.Cut(said, "<code>budget</code>: ")
		fault, _, _ := strings.Cut(after, "<")
		assert.True(t, strings.HasPrefix(fault, what), fault)
		assert.False(t, strings.Contains(said, "--cheapest"), typed)
	}
}

// What may be spent stands beside its money, as each price does.
func TestBudgetHasItsMoney(t *testing.T) {
	s := keeper(t, t.TempDir())
	assert.Regexp(t, `<input id="budget"[^>]*> <span class="unit">coins</span>`, shown(t, s, openedText(t, s, reeds)))
}

// One season is one picture of rain, yard, dryers, store and collections, with what the dryers did below.
func TestSeasonIsSeenOnOnePicture(t *testing.T) {
	s := keeper(t, t.TempDir())
	at := openedText(t, s, reeds)
	form := dryersAt("season", "1")
	form.Set("number", "3")
	require.Equal(t, http.StatusSeeOther, asked(s, at, form).Code)
	p := planAt(t, s, at)
	<-p.run.done
	require.NoError(t, p.run.err)
	require.Len(t, p.run.result.charts, 2)
	assert.Contains(t, string(fileOf(t, p, "chart-"+p.run.result.charts[0].Name+".svg")), "Reed Bend, season 3")
	assert.NotEqual(t, p.run.result.charts[0].Name, p.run.result.charts[1].Name)
}
