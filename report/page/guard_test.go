package page

import (
	"net/http"
	"net/http/httptest"
	"net/url"
	"strconv"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A panic inside a request becomes a message, and the server lives on; too many requests at
// once are told to come again.
func TestPanicsAndCrowds(t *testing.T) {
	s := New("test")
	defer s.stop()
	s.port = "80"
	ask := func(h http.Handler) *httptest.ResponseRecorder {
		r := httptest.NewRequest(http.MethodGet, "http://127.0.0.1:80/", nil)
		w := httptest.NewRecorder()
		s.guard(h).ServeHTTP(w, r)
		return w
	}
	broken := ask(http.HandlerFunc(func(http.ResponseWriter, *http.Request) { panic("a bug") }))
	assert.Equal(t, http.StatusInternalServerError, broken.Code)
	assert.Contains(t, broken.Body.String(), s.text.Broken)
	assert.NotContains(t, broken.Body.String(), "a bug", "no inner words for the outside")
	fine := http.HandlerFunc(func(w http.ResponseWriter, _ *http.Request) { w.WriteHeader(http.StatusOK) })
	assert.Equal(t, http.StatusOK, ask(fine).Code)

	for range mostAtOnce {
		s.slots <- struct{}{}
	}
	crowded := ask(fine)
	assert.Equal(t, http.StatusServiceUnavailable, crowded.Code)
	assert.Equal(t, "2", crowded.Header().Get("Retry-After"))
	<-s.slots
	assert.Equal(t, http.StatusOK, ask(fine).Code)
}

// No more plans are kept than there is room for; the one asked for longest ago makes room.
func TestPlansMakeRoom(t *testing.T) {
	s := New("test")
	defer s.stop()
	first := s.keep(nil)
	var last *plan
	for range mostPlans {
		last = s.keep(nil)
	}
	assert.Len(t, s.plans, mostPlans)
	assert.Nil(t, s.plans[first.id])
	assert.NotNil(t, s.plans[last.id])
}

// Names that browsers send hold no path.
func TestBaseName(t *testing.T) {
	for name, want := range map[string]string{`C:\x\plan.yaml`: "plan.yaml", "../../etc/passwd": "passwd", "": "the file", "a/": "the file"} {
		assert.Equal(t, want, baseName(name))
	}
}

// Every option of the form has its words, begins with the default of the command line, and is
// refused beyond what a run of the page may ask for; what is wrong changes nothing.
func TestOptionsOfTheForm(t *testing.T) {
	q := unasked()
	all := q.options()
	require.Len(t, all, len(mostOf))
	for _, same := range all {
		flag := same[0].Flag
		assert.NotEmpty(t, English.Options[flag], flag)
		assert.NotEmpty(t, English.OptionWhy[flag], flag)
		for _, o := range same {
			assert.Equal(t, o.Default, o.Value(), flag)
		}
		assert.Empty(t, q.read(url.Values{flag: {strconv.Itoa(mostOf[flag])}}), flag)
		faults := q.read(url.Values{flag: {strconv.Itoa(mostOf[flag] + 1)}})
		require.Len(t, faults, 1, flag)
		assert.Equal(t, flag, faults[0].Where)
		assert.Contains(t, faults[0].What, "allowed: ")
	}
	assert.Equal(t, []int{mostSeasons, mostSeasons, mostSeasons}, []int{q.odds.Seasons, q.dryers.Seasons, q.compare.Seasons}, "one field for all questions")
	assert.Equal(t, []int{500, 500, 500}, []int{q.odds.Short, q.dryers.Short, q.compare.Futures})
	assert.Empty(t, q.read(url.Values{"seed": {"7"}}))
	assert.EqualValues(t, 7, q.seed)
	assert.Len(t, q.read(url.Values{"seed": {"-7"}, "seasons": {"many"}}), 2)
	assert.EqualValues(t, 7, q.seed)
}

// A browser leaves the usual port of the web out of the addresses it sends: a page on port 80
// takes its own address, and a page on another port no such one.
func TestPageOnPort80TakesItsOwnAddress(t *testing.T) {
	s := New("test")
	defer s.stop()
	for _, tt := range []struct {
		port, host string
		ours       bool
	}{
		{"80", "127.0.0.1", true},
		{"80", "localhost", true},
		{"80", "[::1]", true},
		{"80", "127.0.0.1:80", true},
		{"80", "lake.example", false},
		{"80", "127.0.0.1:8080", false},
		{"80", "", false},
		{"8080", "127.0.0.1", false},
		{"8080", "127.0.0.1:8080", true},
	} {
		s.port = tt.port
		assert.Equal(t, tt.ours, s.ourHost(tt.host), "%v", tt)
		r := httptest.NewRequest(http.MethodPost, "http://127.0.0.1/start", nil)
		r.Header.Set("Origin", "http://"+tt.host)
		assert.Equal(t, tt.ours, tt.host != "" && s.ourOrigin(r), "%v", tt)
	}
}
