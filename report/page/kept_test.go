package page

import (
	"net/http"
	"net/http/httptest"
	"net/url"
	"os"
	"path/filepath"
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
