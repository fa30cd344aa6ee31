package page

import (
	"bytes"
	"fmt"
	"mime/multipart"
	"net/http"
	"net/http/httptest"
	"net/url"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drystalk/scenarios"
	"drystalk/sim/weather"
)

// sent posts files of a form to a page without a network, by the name of their fields.
func sent(t *testing.T, s *Server, path string, form url.Values, files map[string][2]string) *httptest.ResponseRecorder {
	t.Helper()
	var body bytes.Buffer
	w := multipart.NewWriter(&body)
	require.NoError(t, w.WriteField("token", s.token))
	for key, list := range form {
		require.NoError(t, w.WriteField(key, list[0]))
	}
	for field, f := range files {
		part, err := w.CreateFormFile(field, f[0])
		require.NoError(t, err)
		_, err = part.Write([]byte(f[1]))
		require.NoError(t, err)
	}
	require.NoError(t, w.Close())
	r := httptest.NewRequest(http.MethodPost, "http://127.0.0.1:80"+path, &body)
	r.Header.Set("Content-Type", w.FormDataContentType())
	out := httptest.NewRecorder()
	s.Handler().ServeHTTP(out, r)
	return out
}

// planAt returns the plan of an address.
func planAt(t *testing.T, s *Server, at string) *plan {
	t.Helper()
	p := s.plans[strings.TrimPrefix(at, "/plan/")]
	require.NotNil(t, p, at)
	return p
}

// fitted returns a climate of a real record, as its file; it is fitted once.
func fitted(t *testing.T) []byte {
	t.Helper()
	data, err := fitOnce()
	require.NoError(t, err)
	return data
}

var fitOnce = sync.OnceValues(func() ([]byte, error) {
	const name = "../../testdata/records/mumbai_santacruz_IN012070800_daily_1950_1970_1980_1998.csv"
	data, err := os.ReadFile(name)
	if err != nil {
		return nil, err
	}
	rec, err := weather.ReadRecord("ours.csv", bytes.NewReader(data))
	if err != nil {
		return nil, err
	}
	rest, err := scenarios.StationNormals("43003")
	if err != nil {
		return nil, err
	}
	c, err := weather.Fit(rec, rest, weather.FitOptions{Seed: 1})
	c.Station = "ours"
	c.Judged = weather.Judgement{Verdict: weather.VerdictGood, CompleteYears: 23}
	return scenarios.WriteClimate(c), err
})

// A record that cannot be read is refused with one sentence that names its line, and changes nothing:
// neither the plan nor what was typed; so is one that is too large, or none.
func TestBadRecordChangesNothing(t *testing.T) {
	s := keeper(t, t.TempDir())
	at := asked(s, "/start", url.Values{"demo": {"one-cooperative"}}).Header().Get("Location")
	p := planAt(t, s, at)
	before := p.stand()
	big := "date,rain_mm\n" + strings.Repeat("1990-01-01,0.0\n", mostRecord/15+1)
	for what, tt := range map[string]struct{ text, rest, says string }{
		"a word for rain":  {"date,rain_mm\n1990-01-01,2\n1990-01-02,lots\n", "", "ours.csv: line 3: rain_mm: found &#34;lots&#34;"},
		"no rain":          {"day,what\n1,2\n", "", "ours.csv: "},
		"no record at all": {"", "", "ours.csv: no known form of a daily station record: the file is empty"},
		"too large":        {big, "", "at most 5 MB"},
		"another station":  {"date,rain_mm\n1990-01-01,2\n", "nowhere", "found &#34;nowhere&#34;, allowed: a station of the list"},
	} {
		w := sent(t, s, at+recordPath, url.Values{"state": {"0"}, "rest": {tt.rest}, "n:money.wood_per_kg": {"0,2"}}, map[string][2]string{"days": {"ours.csv", tt.text}})
		assert.Equal(t, http.StatusUnprocessableEntity, w.Code, what)
		assert.Contains(t, w.Body.String(), tt.says, what)
		assert.Contains(t, w.Body.String(), `name="n:money.wood_per_kg" value="0,2"`, "%s: what was typed is kept", what)
		assert.Equal(t, before, p.stand(), what)
		assert.Nil(t, p.run, what)
	}
	w := sent(t, s, at+recordPath, nil, nil)
	assert.Equal(t, http.StatusUnprocessableEntity, w.Code)
	assert.Contains(t, w.Body.String(), "found no file, allowed: a daily record")
	w = asked(s, at, url.Values{"ask": {"record"}})
	assert.Equal(t, http.StatusUnprocessableEntity, w.Code)
	assert.Contains(t, w.Body.String(), "found no record that can be used")
	w = asked(s, at, url.Values{"ask": {"station"}, "station": {"Atlantis"}})
	assert.Equal(t, http.StatusUnprocessableEntity, w.Code)
	assert.Contains(t, w.Body.String(), "found &#34;Atlantis&#34;, allowed: a station of the list")
	assert.Equal(t, before, p.stand())
	assert.Equal(t, http.StatusRequestEntityTooLarge, sent(t, s, at+recordPath, nil, map[string][2]string{"days": {"ours.csv", strings.Repeat("x", mostRecord+mostBody)}}).Code)
}

// A record that is too short for a fit says so, with the years that are not used, and cannot be taken.
func TestShortRecordIsNotOffered(t *testing.T) {
	s := keeper(t, t.TempDir())
	at := asked(s, "/start", url.Values{"demo": {"one-cooperative"}}).Header().Get("Location")
	var days strings.Builder
	days.WriteString("date,rain_mm\n")
	for d := time.Date(1990, 1, 1, 0, 0, 0, 0, time.UTC); d.Year() < 1992; d = d.AddDate(0, 0, 1) {
		fmt.Fprintf(&days, "%s,%d\n", d.Format(time.DateOnly), d.Day()%4)
	}
	w := sent(t, s, at+recordPath, url.Values{"state": {"0"}}, map[string][2]string{"days": {"short.csv", days.String()}})
	require.Equal(t, http.StatusSeeOther, w.Code, w.Body.String())
	p := planAt(t, s, at)
	<-p.run.done
	v := s.planView(p)
	assert.Contains(t, v.Run.Error, "short.csv: not usable: ")
	assert.Empty(t, v.Weather.Record)
	assert.Equal(t, http.StatusUnprocessableEntity, asked(s, at, url.Values{"ask": {"record"}}).Code)
	assert.Same(t, p.opened, p.stand().today)
}

// What a record does not hold is that of the station that was chosen for it, else of the scenario.
func TestRestOfARecord(t *testing.T) {
	s := keeper(t, t.TempDir())
	p := planAt(t, s, asked(s, "/start", url.Values{"demo": {"one-cooperative"}}).Header().Get("Location"))
	rest := func(station string) weather.Normals {
		var body bytes.Buffer
		w := multipart.NewWriter(&body)
		part, err := w.CreateFormFile("days", "ours.csv")
		require.NoError(t, err)
		_, err = part.Write([]byte("date,rain_mm\n1990-01-01,3\n"))
		require.NoError(t, err)
		require.NoError(t, w.Close())
		r := httptest.NewRequest(http.MethodPost, "/", &body)
		r.Header.Set("Content-Type", w.FormDataContentType())
		sent, list := s.daysOf(r, p, station)
		require.Empty(t, list)
		return sent.rest.Normals
	}
	of, err := scenarios.StationNormals("43003")
	require.NoError(t, err)
	assert.Equal(t, of, rest("43003"))
	assert.Equal(t, p.opened.Normals, rest(""))
	assert.NotEqual(t, of, p.opened.Normals)
}

// The weather that was chosen is that of today and the plan, keeps the numbers of the plan, counts among
// what can be undone and taken back, and refuses a form of another window.
func TestChosenWeatherIsOfBoth(t *testing.T) {
	s := keeper(t, t.TempDir())
	at := asked(s, "/start", url.Values{"demo": {"one-cooperative"}}).Header().Get("Location")
	p := planAt(t, s, at)
	w := asked(s, at, url.Values{"state": {"0"}, "ask": {"station"}, "station": {"43003"}, "n:sites.Heron Point.dryers": {"2"}, "n:money.wood_per_kg": {"0,2"}})
	require.Equal(t, http.StatusSeeOther, w.Code, w.Body.String())
	now := p.stand()
	_, err := scenarios.Differences(now.today, now.now)
	require.NoError(t, err, "they live through the same seasons")
	station, _, _ := now.today.ChosenWeather()
	assert.Equal(t, "43003", station)
	assert.Equal(t, 2, now.now.Region.Sites[0].Dryers, "what was typed is kept")
	assert.Len(t, s.changes(now.today, now.now), 2)
	w = asked(s, at, url.Values{"state": {"0"}, "ask": {"stated"}, "n:sites.Heron Point.dryers": {"3"}})
	assert.Equal(t, http.StatusConflict, w.Code, "a form of another window")
	require.Equal(t, http.StatusSeeOther, asked(s, at, url.Values{"state": {"1"}, "ask": {"stated"}, "n:sites.Heron Point.dryers": {"2"}}).Code)
	assert.Same(t, p.opened, p.stand().today)
	assert.Equal(t, 2, p.stand().now.Region.Sites[0].Dryers)
	require.Equal(t, http.StatusSeeOther, asked(s, at, url.Values{"state": {"2"}, "ask": {"back"}}).Code)
	assert.Equal(t, "43003", p.stand().weather.station, "the undo is taken back")
}

// A plan in the weather of a record is kept by name with that weather and what the scenario stated, in
// files that every command reads, and opens again so, with the undo.
func TestChosenWeatherIsKept(t *testing.T) {
	folder := t.TempDir()
	s := keeper(t, folder)
	at := asked(s, "/start", url.Values{"demo": {"one-cooperative"}}).Header().Get("Location")
	planAt(t, s, at).record = &chosen{record: "ours.csv", verdict: weather.VerdictGood, climate: fitted(t)}
	require.Equal(t, http.StatusSeeOther, asked(s, at, url.Values{"ask": {"record"}, "n:sites.Heron Point.dryers": {"2"}}).Code)
	require.Equal(t, http.StatusSeeOther, asked(s, at, url.Values{"ask": {"keep"}, "name": {"Our rain"}, "n:sites.Heron Point.dryers": {"2"}}).Code)
	for _, name := range []string{"Our rain.yaml", "Our rain.today.yaml"} {
		data, err := os.ReadFile(filepath.Join(folder, name))
		require.NoError(t, err)
		read, err := scenarios.ReadWith(name, data, func(name string) ([]byte, error) { return os.ReadFile(filepath.Join(folder, name)) })
		require.NoError(t, err)
		assert.Contains(t, read.WeatherWords(), "fitted to 39 complete years of ours", name)
	}
	later := keeper(t, folder)
	require.Equal(t, []string{"Our rain"}, later.keptNames())
	at = asked(later, "/kept", url.Values{"name": {"Our rain"}}).Header().Get("Location")
	p := planAt(t, later, at)
	v := later.planView(p)
	assert.Equal(t, "uploaded record ours (good for planning)", v.Weather.Chosen)
	assert.Len(t, v.Changes, 1)
	require.Equal(t, http.StatusSeeOther, asked(later, at, url.Values{"ask": {"stated"}, "n:sites.Heron Point.dryers": {"2"}}).Code)
	assert.NotContains(t, p.stand().today.WeatherWords(), "ours")
	assert.Equal(t, 2, p.stand().now.Region.Sites[0].Dryers)
}

// What was taken away in the weather of a record opens again, together with its climate file; without
// it the missing file is named.
func TestScenarioOpensWithItsClimate(t *testing.T) {
	s := keeper(t, t.TempDir())
	at := asked(s, "/start", url.Values{"demo": {"one-cooperative"}}).Header().Get("Location")
	p := planAt(t, s, at)
	p.record = &chosen{record: "ours.csv", verdict: weather.VerdictGood, climate: fitted(t)}
	require.Equal(t, http.StatusSeeOther, asked(s, at, url.Values{"ask": {"record"}}).Code)
	plan := string(p.stand().now.Write())
	alone := sent(t, s, "/upload", nil, map[string][2]string{"file": {"drystalk-plan.yaml", plan}})
	assert.Equal(t, http.StatusUnprocessableEntity, alone.Code)
	assert.Contains(t, alone.Body.String(), `weather.climate_file</code>: found &#34;drystalk-climate.yaml&#34;, allowed: a climate file beside the scenario (it was not opened together with the scenario)`)
	both := sent(t, s, "/upload", nil, map[string][2]string{"file": {"drystalk-plan.yaml", plan}, "beside": {"drystalk-climate.yaml", string(p.stand().weather.climate)}})
	require.Equal(t, http.StatusSeeOther, both.Code, both.Body.String())
	assert.Equal(t, plan, string(planAt(t, s, both.Header().Get("Location")).now.Write()))
}
