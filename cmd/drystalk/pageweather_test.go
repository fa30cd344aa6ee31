package main

import (
	"bytes"
	"mime/multipart"
	"net/http"
	"net/url"
	"os"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// rested waits for the end of a run.
func rested(t *testing.T, plan string) {
	t.Helper()
	require.Eventually(t, func() bool {
		_, status := get(t, plan+"/status")
		return strings.Contains(status, `"under_way":false`)
	}, 2*time.Minute, 20*time.Millisecond)
}

// asks posts a question of a plan and waits for its answer.
func asks(t *testing.T, plan string, form url.Values) string {
	t.Helper()
	r, err := http.PostForm(plan, form)
	require.NoError(t, err)
	_ = r.Body.Close()
	require.Equal(t, http.StatusOK, r.StatusCode)
	rested(t, plan)
	_, body := get(t, plan)
	return body
}

// sends posts a daily record to a plan.
func sends(t *testing.T, plan, token, name string, record []byte, rest string) (int, string) {
	t.Helper()
	var form bytes.Buffer
	w := multipart.NewWriter(&form)
	require.NoError(t, w.WriteField("token", token))
	require.NoError(t, w.WriteField("rest", rest))
	file, err := w.CreateFormFile("days", name)
	require.NoError(t, err)
	_, err = file.Write(record)
	require.NoError(t, err)
	require.NoError(t, w.Close())
	r, err := http.Post(plan+"/record", w.FormDataContentType(), &form)
	require.NoError(t, err)
	var body bytes.Buffer
	_, err = body.ReadFrom(r.Body)
	require.NoError(t, err)
	require.NoError(t, r.Body.Close())
	rested(t, plan)
	return r.StatusCode, body.String()
}

// savedFromPage saves a file of a plan as a browser names it.
func savedFromPage(t *testing.T, plan, name string) {
	t.Helper()
	code, data := get(t, plan+"/file/"+name)
	require.Equal(t, http.StatusOK, code, name)
	require.NoError(t, os.WriteFile("drystalk-"+name, []byte(data), 0o644))
}

// sameAsLine runs the line that the answer on the page prints, and compares to the byte.
func sameAsLine(t *testing.T, plan, line string, more ...string) {
	t.Helper()
	code, onPage := get(t, plan+"/file/answer.json")
	require.Equal(t, http.StatusOK, code)
	said := printedLine(t, onPage)
	assert.Equal(t, line, said)
	code, out, errOut := runHere(t, append(append(shellWords(t, said)[1:], "--json"), more...)...)
	require.Equal(t, exitDone, code, errOut)
	assert.Equal(t, out, onPage)
}

const someRecord = "../../testdata/records/mumbai_santacruz_IN012070800_daily_1950_1970_1980_1998.csv"

// The weather that is chosen on the page gives the numbers that the command gives of the files which the
// page hands out: a station of the table, and a record of one's own, which the page judges as fit weather
// does.
func TestPageWeatherAgreesWithCommand(t *testing.T) {
	record, err := os.ReadFile(someRecord)
	require.NoError(t, err)
	t.Chdir(t.TempDir())
	require.NoError(t, os.WriteFile("plan.yaml", []byte(tiny), 0o644))
	require.NoError(t, os.WriteFile("our days.csv", record, 0o644))
	plan, token := opened(t, "plan.yaml", tiny)
	few := func(ask string) url.Values {
		return url.Values{"token": {token}, "ask": {ask}, "seasons": {"30"}, "futures": {"30"}, "n:sites.Stone Weir's.dryers": {"2"}}
	}
	station := few("station")
	station.Set("station", "43003")
	body := asks(t, plan, station)
	assert.Contains(t, body, "; another weather</summary>", "it counts among what differs")
	assert.Contains(t, body, `>monthly normals of MUMBAI SANTACRUZ, India</strong>`)
	asks(t, plan, few("compare"))
	savedFromPage(t, plan, "today.yaml")
	sameAsLine(t, plan, `drystalk compare drystalk-today.yaml --with 'Stone Weir'\''s: dryers=2' --seed 1 --seasons 30 --futures 30`)

	code, _ := sends(t, plan, token, "our days.csv", record, "")
	require.Equal(t, http.StatusOK, code)
	_, judged := get(t, plan+"/file/answer.json")
	require.Equal(t, `drystalk fit weather 'our days.csv' --scenario plan.yaml --years 1000 --seed 1`, printedLine(t, judged))
	_, climate := get(t, plan+"/file/record-climate.yaml")
	written := folderOf(t, printedLine(t, judged))
	assert.Equal(t, written["fit.json"], judged)
	assert.Equal(t, written["climate.yaml"], climate)
	_, body = get(t, plan)
	assert.Contains(t, body, "Nothing has been changed yet.")
	assert.Contains(t, body, `>monthly normals of MUMBAI SANTACRUZ, India</strong>`, "judged, not taken")

	body = asks(t, plan, few("record"))
	assert.Contains(t, body, "uploaded record our days.csv (good for planning)")
	asks(t, plan, few("compare"))
	savedFromPage(t, plan, "today.yaml")
	savedFromPage(t, plan, "climate.yaml")
	sameAsLine(t, plan, `drystalk compare drystalk-today.yaml --with 'Stone Weir'\''s: dryers=2' --seed 1 --seasons 30 --futures 30`, "--table", "seasons.csv")
	for _, name := range []string{"seasons.csv", "seasons.columns.csv"} {
		_, onPage := get(t, plan+"/file/"+name)
		written, err := os.ReadFile(name)
		require.NoError(t, err)
		assert.Equal(t, string(written), onPage, name)
	}

	body = asks(t, plan, few("stated"))
	assert.NotContains(t, body, "; another weather</summary>")
	_, now := get(t, plan+"/file/plan.yaml")
	assert.Contains(t, now, "wmo_station: Dhaka")
}
