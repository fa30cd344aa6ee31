package page

import (
	"bytes"
	"encoding/json"
	"html"
	"net/http"
	"net/http/httptest"
	"net/url"
	"strings"
	"sync"
	"testing"
	"time"

	"drystalk/sim/decide"
	"drystalk/sim/weather"
	"drystalk/tongue"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"github.com/xuri/excelize/v2"
)

// reeds is a region of one site that is quickly lived through; a dryer costs 2,000.
const reeds = `region: Reed Bend
currency: coins
season: {start: 1 jun, days: 12}
weather: {wmo_station: 41923}
contract: {stalks_per_month: {jun: 5000}}
money: {price_per_good_stalk: 0.12, pay_per_stalk_cut: 0.04, wood_per_kg: 0.1, dryer_cost: 2000, dryer_life_years: 2}
sites: {Upper Landing: {cutters: 3, stalks_per_person_h: 117, open_rack_m2: 75, dryers: 0, max_dryers: 3}}
`

// openedText opens a scenario on a page and returns where its plan is.
func openedText(t *testing.T, s *Server, text string) string {
	t.Helper()
	w := sent(t, s, "/upload", nil, map[string][2]string{"file": {"plan.yaml", text}})
	require.Equal(t, http.StatusSeeOther, w.Code, w.Body.String())
	return w.Header().Get("Location")
}

// dryersAt is a form that asks something with so many dryers.
func dryersAt(ask, dryers string) url.Values {
	return url.Values{"ask": {ask}, "n:sites.Upper Landing.dryers": {dryers}, "seasons": {"30"}, "futures": {"30"}, "seed": {"7"}}
}

// fileOf is a file that the page hands out.
func fileOf(t *testing.T, p *plan, name string) []byte {
	t.Helper()
	require.NoError(t, p.run.err)
	data := p.run.result.files[name]
	require.NotEmpty(t, data, name)
	return data
}

// A plan that is set aside is the plan, under its name in every weather until it is left out, and the answer of three
// has each under its own: today buys nothing, one dryer costs 2,000 and three cost 6,000, and today is the same
// today in both comparisons, which live through the same seasons.
func TestPlanSetAsideIsComparedAsItWas(t *testing.T) {
	s := keeper(t, t.TempDir())
	s.clock = func() time.Time { return time.Date(2026, time.November, 26, 12, 0, 0, 0, time.UTC) }
	at := openedText(t, s, reeds)
	p := planAt(t, s, at)
	for _, form := range []url.Values{dryersAt("aside", "1"), dryersAt("station", "3"), dryersAt("stated", "3")} {
		form.Set("station", "43003")
		require.Equal(t, http.StatusSeeOther, asked(s, at, form).Code)
		v := s.planView(p)
		require.EqualValues(t, English.Second.Aside, v.Beside.Name, form.Get("ask"))
		require.Len(t, v.Beside.Changes, 1)
		assert.Equal(t, []string{"0", "1"}, []string{v.Beside.Changes[0].From, v.Beside.Changes[0].To})
	}
	require.Equal(t, http.StatusSeeOther, asked(s, at, dryersAt("compare", "3")).Code)
	<-p.run.done
	var said [2]struct {
		Seed       uint64            `json:"seed"`
		Comparison decide.Comparison `json:"comparison"`
	}
	require.NoError(t, json.Unmarshal(fileOf(t, p, "answer.json"), &said[0]))
	require.NoError(t, json.Unmarshal(fileOf(t, p, besideJSON), &said[1]))
	assert.Equal(t, []uint64{7, 7}, []uint64{said[0].Seed, said[1].Seed})
	assert.Equal(t, []int{0, 3, 0, 1}, []int{said[0].Comparison.A.Dryers, said[0].Comparison.B.Dryers, said[1].Comparison.A.Dryers, said[1].Comparison.B.Dryers})
	assert.Equal(t, said[0].Comparison.A, said[1].Comparison.A, "one today")
	three := s.planView(p).Run.Three
	require.NotNil(t, three)
	assert.NotEmpty(t, three.Sentence)
	assert.Contains(t, string(fileOf(t, p, besideReport)), ">"+three.Sentence+"<")
	assert.NotContains(t, string(fileOf(t, p, "report.html")), ">"+three.Sentence+"<")
	require.NotEmpty(t, three.Tables)
	bought := 0
	for _, row := range three.Tables[0].Words() {
		if row[0] == "to buy, coins" {
			bought++
			assert.Equal(t, []string{"nothing", "6,000", "2,000"}, row[1:])
		}
	}
	assert.Equal(t, 1, bought)
	assert.Contains(t, string(fileOf(t, p, "brief.html")), "26 November 2026")
	book, err := excelize.OpenReader(bytes.NewReader(fileOf(t, p, "report.xlsx")))
	require.NoError(t, err)
	head, err := book.GetCellValue("Answer", "A1")
	require.NoError(t, err)
	assert.Equal(t, "Reed Bend, 26 November 2026", head)
}

// Numbers of the page and of its answers are written as each scenario says, whoever asks for another
// meanwhile: of two runs that end side by side each has its own.
func TestNumbersOnThePageAreAsThePlanSays(t *testing.T) {
	t.Cleanup(func() { require.NoError(t, tongue.WriteNumbersAsIn("")) })
	s := keeper(t, t.TempDir())
	there, here := openedText(t, s, "numbers_as_in: pt-BR\n"+reeds), openedText(t, s, reeds)
	const points, commas = "2.000 coins", "2,000 coins"
	var all sync.WaitGroup
	for _, one := range []struct{ at, has, not string }{{there, points, commas}, {here, commas, points}} {
		all.Go(func() {
			assert.Equal(t, http.StatusSeeOther, asked(s, one.at, dryersAt("compare", "1")).Code)
			p := planAt(t, s, one.at)
			for ended := false; !ended; {
				select {
				case <-p.run.done:
					ended = true
				default:
				}
				assert.Equal(t, []bool{true, false}, has(shown(t, s, one.at), one.has, one.not))
			}
			for _, name := range []string{"report.html", "brief.html"} {
				assert.Equal(t, []bool{true, false}, has(string(fileOf(t, p, name)), one.has, one.not), name)
			}
		})
	}
	all.Wait()
}

// has tells of each word whether a text has it.
func has(text string, words ...string) (out []bool) {
	for _, word := range words {
		out = append(out, strings.Contains(text, word))
	}
	return out
}

// A record that was found useless is neither offered nor taken; a good one is offered, and where it is the weather
// the page says so and what the scenario states.
func TestUselessRecordIsNotTaken(t *testing.T) {
	s := keeper(t, t.TempDir())
	at := openedText(t, s, reeds)
	p := planAt(t, s, at)
	before, stated := p.stand(), s.planView(p).Weather.Stated
	p.record = &chosen{record: "ours.csv", verdict: weather.VerdictUseless, climate: fitted(t)}
	offered := []string{English.Weather.NotOffered.String(), English.Weather.TakeRecord.String(), English.Weather.InUse.String()}
	says := func() []bool { return has(html.UnescapeString(shown(t, s, at)), offered...) }
	assert.Equal(t, []bool{true, false, false}, says())
	w := asked(s, at, dryersAt("record", "0"))
	assert.Equal(t, http.StatusUnprocessableEntity, w.Code)
	assert.Contains(t, w.Body.String(), "found no record that can be used")
	assert.Equal(t, before, p.stand())
	p.record = &chosen{record: "ours.csv", verdict: weather.VerdictGood, climate: fitted(t)}
	assert.Equal(t, []bool{false, true, false}, says())
	require.Equal(t, http.StatusSeeOther, asked(s, at, dryersAt("record", "0")).Code)
	assert.Equal(t, []bool{false, false, true}, says())
	assert.Equal(t, stated, s.planView(p).Weather.Stated)
	assert.NotContains(t, stated, "ours")
}

// shown is the page of a plan.
func shown(t *testing.T, s *Server, path string) string {
	t.Helper()
	w := httptest.NewRecorder()
	s.Handler().ServeHTTP(w, httptest.NewRequest(http.MethodGet, "http://127.0.0.1:80"+path, nil))
	require.Equal(t, http.StatusOK, w.Code)
	return w.Body.String()
}
