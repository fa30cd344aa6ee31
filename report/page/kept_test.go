package page

import (
	"net/http"
	"net/http/httptest"
	"net/url"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drystalk/scenarios"
)

// asked posts a form to a page without a network.
func asked(s *Server, path string, form url.Values) *httptest.ResponseRecorder {
	form.Set("token", s.token)
	r := httptest.NewRequest(http.MethodPost, "http://127.0.0.1:80"+path, strings.NewReader(form.Encode()))
	r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
	w := httptest.NewRecorder()
	s.Handler().ServeHTTP(w, r)
	return w
}

// keeper is a page with a folder of plans.
func keeper(t *testing.T, folder string) *Server {
	s := New("test")
	t.Cleanup(s.stop)
	s.port = "80"
	require.NoError(t, s.KeepIn(folder))
	return s
}

// A plan is kept by name with its today, and opens again with both, in a page started later; the
// file is one that every command reads.
func TestPlansAreKeptByName(t *testing.T) {
	folder := filepath.Join(t.TempDir(), "our plans")
	s := keeper(t, folder)
	at := asked(s, "/start", url.Values{"demo": {"one-cooperative"}}).Header().Get("Location")
	w := asked(s, at, url.Values{"ask": {"keep"}, "name": {"Two dryers"}, "n:sites.Heron Point.dryers": {"2"}, "n:money.wood_per_kg": {"0,1"}})
	require.Equal(t, http.StatusSeeOther, w.Code, w.Body.String())
	data, err := os.ReadFile(filepath.Join(folder, "Two dryers.yaml"))
	require.NoError(t, err)
	plan, err := scenarios.Read("x.yaml", data)
	require.NoError(t, err)
	assert.Equal(t, 2, plan.Region.Sites[0].Dryers)

	later := keeper(t, folder)
	require.Equal(t, []string{"Two dryers"}, later.keptNames())
	at = asked(later, "/kept", url.Values{"name": {"Two dryers"}}).Header().Get("Location")
	require.Contains(t, at, "/plan/")
	p := later.plans[strings.TrimPrefix(at, "/plan/")]
	assert.Equal(t, 1, p.today.Region.Sites[0].Dryers, "today is what it was")
	assert.Equal(t, 2, p.now.Region.Sites[0].Dryers)
	assert.Len(t, later.changes(p.today, p.now), 2)
	assert.Len(t, p.now.Changes, 2, "its command line says what was changed")
	w = asked(later, at, url.Values{"ask": {"keep"}, "name": {"Two dryers"}, "n:sites.Heron Point.dryers": {"3"}})
	assert.Equal(t, http.StatusSeeOther, w.Code, "its own name is written anew")
	assert.Equal(t, 3, p.stand().now.Region.Sites[0].Dryers, "what is kept is what stands in the page")
}

// Numbers of an old form are not kept over those that another window saved, neither in the page nor in the
// folder.
func TestOldFormIsNotKept(t *testing.T) {
	folder := t.TempDir()
	s := keeper(t, folder)
	at := openedText(t, s, reeds)
	old := strconv.Itoa(planAt(t, s, at).state)
	require.Equal(t, http.StatusSeeOther, asked(s, at, dryersAt("save", "2")).Code)
	form := dryersAt("keep", "3")
	form.Set("state", old)
	form.Set("name", "Ours")
	w := asked(s, at, form)
	assert.Equal(t, http.StatusConflict, w.Code)
	assert.Contains(t, w.Body.String(), "changed in another window")
	assert.Empty(t, s.keptNames())
	assert.Equal(t, 2, planAt(t, s, at).stand().now.Region.Sites[0].Dryers)
}

// The plan that stands beside another is kept with it under its name, in the weather that was chosen, and
// opens again beside it in a page started later; when it is taken away, so are its files. One that was
// changed by hand into another region is said, and opens nothing.
func TestPlansBesideAreKeptToo(t *testing.T) {
	folder := t.TempDir()
	s := keeper(t, folder)
	at := openedText(t, s, reeds)
	for _, form := range []url.Values{dryersAt("keep", "1"), dryersAt("station", "3"), dryersAt("beside", "3"), dryersAt("keep", "3")} {
		form.Set("name", map[string]string{"1": "One dryer", "3": "Three dryers"}[form.Get("n:sites.Upper Landing.dryers")])
		form.Set("beside", "One dryer")
		form.Set("station", "43003")
		if form.Get("ask") == "station" {
			at = openedText(t, s, reeds)
		}
		w := asked(s, at, form)
		require.Equal(t, http.StatusSeeOther, w.Code, w.Body.String())
	}
	before := planAt(t, s, at).stand()
	reopened := func() (*Server, string) {
		later := keeper(t, folder)
		require.Equal(t, []string{"One dryer", "Three dryers"}, later.keptNames())
		w := asked(later, "/kept", url.Values{"name": {"Three dryers"}})
		return later, w.Header().Get("Location")
	}
	later, there := reopened()
	p := planAt(t, later, there)
	after := p.stand()
	require.NotNil(t, after.beside)
	assert.Equal(t, []int{0, 3, 1}, []int{after.today.Region.Sites[0].Dryers, after.now.Region.Sites[0].Dryers, after.beside.Region.Sites[0].Dryers})
	assert.Equal(t, string(before.beside.Write()), string(after.beside.Write()))
	assert.Equal(t, "One dryer", later.planView(p).Beside.Name)
	station, _, _ := after.beside.ChosenWeather()
	assert.Equal(t, "43003", station)
	require.Equal(t, http.StatusSeeOther, asked(later, there, dryersAt("compare", "3")).Code)
	<-p.run.done
	require.NoError(t, p.run.err)
	assert.NotNil(t, p.run.result.three)

	second := filepath.Join(folder, "Three dryers.beside.yaml")
	right, err := os.ReadFile(second)
	require.NoError(t, err)
	for _, wrong := range []string{strings.ReplaceAll(string(right), "Upper Landing", "Far Landing"), "region: 3\n"} {
		require.NoError(t, os.WriteFile(second, []byte(wrong), 0o644))
		w := asked(keeper(t, folder), "/kept", url.Values{"name": {"Three dryers"}})
		assert.Equal(t, http.StatusUnprocessableEntity, w.Code)
		assert.Contains(t, w.Body.String(), "Three dryers.beside.yaml")
	}
	require.NoError(t, os.WriteFile(second, right, 0o644))
	require.NoError(t, os.WriteFile(filepath.Join(folder, "Three dryers.beside.txt"), nil, 0o644))
	later, there = reopened()
	assert.EqualValues(t, English.Second.Aside, planAt(t, later, there).stand().besideName, "without a name it is the one set aside")
	alone := dryersAt("keep", "3")
	alone.Set("name", "Three dryers")
	require.Equal(t, http.StatusSeeOther, asked(later, there, dryersAt("alone", "3")).Code)
	require.Equal(t, http.StatusSeeOther, asked(later, there, alone).Code)
	assert.NoFileExists(t, second)
	later, there = reopened()
	assert.Nil(t, planAt(t, later, there).stand().beside)
}

// A plan that cannot be kept is not put in place either: nothing was changed, as the page says.
func TestRefusedNameChangesNothing(t *testing.T) {
	s := keeper(t, t.TempDir())
	at := openedText(t, s, reeds)
	before := planAt(t, s, at).stand()
	for _, name := range []string{"../ours", ""} {
		form := dryersAt("keep", "2")
		form.Set("name", name)
		w := asked(s, at, form)
		assert.Equal(t, http.StatusUnprocessableEntity, w.Code)
		assert.Contains(t, w.Body.String(), English.Faults.String())
		assert.Equal(t, before, planAt(t, s, at).stand(), name)
	}
}

// A name that is taken, or was changed since, is not written over; names that are paths or devices
// are refused; a folder that cannot be is said when the page starts.
func TestKeepingWritesOverNothing(t *testing.T) {
	folder := t.TempDir()
	s := keeper(t, folder)
	first := asked(s, "/start", url.Values{"demo": {"one-cooperative"}}).Header().Get("Location")
	second := asked(s, "/start", url.Values{"demo": {"one-cooperative"}}).Header().Get("Location")
	require.Equal(t, http.StatusSeeOther, asked(s, first, url.Values{"ask": {"keep"}, "name": {"ours"}}).Code)
	kept, err := os.ReadFile(filepath.Join(folder, "ours.yaml"))
	require.NoError(t, err)
	w := asked(s, second, url.Values{"ask": {"keep"}, "name": {"ours"}, "n:sites.Heron Point.dryers": {"2"}})
	assert.Equal(t, http.StatusUnprocessableEntity, w.Code)
	assert.Contains(t, w.Body.String(), "is there already")
	now, err := os.ReadFile(filepath.Join(folder, "ours.yaml"))
	require.NoError(t, err)
	assert.Equal(t, string(kept), string(now))
	require.NoError(t, os.WriteFile(filepath.Join(folder, "ours.yaml"), []byte("region: changed by hand\n"), 0o644))
	assert.Equal(t, http.StatusUnprocessableEntity, asked(s, first, url.Values{"ask": {"keep"}, "name": {"ours"}}).Code)
	assert.Equal(t, http.StatusUnprocessableEntity, asked(s, "/kept", url.Values{"name": {"ours"}}).Code, "a broken file is said line by line")

	for _, name := range []string{"", "../ours", `a\b`, "a/b", ".hidden", "ours.today", "CON", "x\x00", strings.Repeat("a", 61), "a  b", "lpt1"} {
		w := asked(s, first, url.Values{"ask": {"keep"}, "name": {name}})
		assert.Equal(t, http.StatusUnprocessableEntity, w.Code, "%q", name)
		assert.Contains(t, w.Body.String(), "allowed: a name", "%q", name)
		assert.Equal(t, http.StatusNotFound, asked(s, "/kept", url.Values{"name": {name}}).Code, "%q", name)
	}
	list, err := os.ReadDir(folder)
	require.NoError(t, err)
	assert.Len(t, list, 2)

	outside := filepath.Join(t.TempDir(), "secret.yaml")
	require.NoError(t, os.WriteFile(outside, kept, 0o600))
	require.NoError(t, os.Symlink(outside, filepath.Join(folder, "link.yaml")))
	assert.NotContains(t, s.keptNames(), "link")
	assert.NotEqual(t, http.StatusSeeOther, asked(s, "/kept", url.Values{"name": {"link"}}).Code, "no way out of the folder")
	assert.Error(t, New("test").KeepIn(filepath.Join(outside, "x")))
	assert.Error(t, New("test").KeepIn(outside))
}

// Numbers as people write them.
func TestPlainNumber(t *testing.T) {
	for _, tt := range []struct {
		text, want string
		whole      bool
	}{
		{"0,15", "0.15", false},
		{" 12 ", "12", false},
		{"1,5", "1.5", true},
		{"6 000", "6000", false},
		{"1 250 000,5", "1250000.5", false},
		{"6\u00a0000", "6000", true},
		{"6\u202f000", "6000", true},
		{"6,000", "6000", true},
		{"1,250,000", "1250000", false},
		{"1,250.5", "1250.5", false},
		{"0,125", "0.125", false},
		{",5", ".5", false},
		{"-0,5", "-0.5", false},
		{"two", "two", false},
		{"1.500,5", "1.500,5", false},
		{"1,2,3", "1,2,3", false},
		{"", "", false},
	} {
		got, ambiguous := plainNumber(tt.text, tt.whole)
		assert.Equal(t, tt.want, got, "%q", tt.text)
		assert.False(t, ambiguous, "%q", tt.text)
	}
	for _, text := range []string{"1,500", "-12,345", "999,999", "20000,40000"} {
		_, ambiguous := plainNumber(text, false)
		assert.True(t, ambiguous, "%q", text)
	}
}
