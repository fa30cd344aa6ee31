package main

import (
	"bytes"
	"context"
	"net/http"
	"net/url"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drystalk/scenarios"
	"drystalk/tongue"
)

// asked are the command lines that the language is looked for in: what each prints, and every report,
// paper, picture and workbook it writes. ~ is a space inside of an argument.
var asked = []struct {
	line string
	long bool // only with DRYSTALK_LONG, which asks nothing else
}{
	{"odds one-cooperative --seasons 30", false},
	{"compare plan.yaml --seasons 30 --futures 32 --brief --date 2026-03-01 --with Stone~Weir's:~dryers=2", false},
	{"check one-cooperative --explain", false},
	{"check lake-tavari", false},
	{"fit charges charges.csv --scenario lake-tavari", false},
	{"ahead plan.yaml --stock stock.yaml --seasons 30", false},
	{"study run tiny.yaml", false},
	{"check lake-tavari --explain", true},
	{"check two.yaml --explain", true},
	{"check --stations near~10.2,77.5,350", true},
	{"odds --seasons 30", true},
	{"odds two.yaml --seasons 30", true},
	{"charge", true},
	{"promise --seasons 30 --search 30 --brief", true},
	{"season --number 3", true},
	{"compare one-cooperative --seasons 30 --futures 30 --brief --with Heron~Point:~dryers=2", true},
	{"dryers --seasons 30 --search 30 --limit 30 --short 3 --brief", true},
	{"ways one-cooperative --seasons 30 --search 30 --judge 30", true},
	{"spend one-cooperative --budget 5000 --seasons 30 --search 30 --brief", true},
	{"spend one-cooperative --budget 2500,5000 --seasons 30 --search 30", true},
	{"spend one-cooperative --cheapest --seasons 30 --search 30", true},
	{"fit racks racks.csv --scenario lake-tavari --record racks_weather.csv", true},
	{"fit output output.csv --scenario lake-tavari", true},
	{"fit weather days.csv --wmo-station 43057 --years 200", true},
}

// twoPlaces is a scenario whose sites have weathers of their own.
const twoPlaces = `region: Two Banks
season: {start: 1 may, days: 122}
weather: {wmo_station: 43057}
contract: {stalks_per_month: {jul: 9000, aug: 9000}}
sites:
  Ferry Bank: {cutters: 3, stalks_per_person_h: 117, open_rack_m2: 75, dryers: 1, latitude_deg: 10.0, longitude_deg: 76.3}
  Reed Bank: {cutters: 3, stalks_per_person_h: 117, open_rack_m2: 75, latitude_deg: 11.0, longitude_deg: 77.0, weather: {wmo_station: 43371}}
`

// inMadeUp has the program speak the made-up language, in a folder with the files that are asked about,
// and returns the file of the language.
func inMadeUp(t *testing.T) string {
	t.Helper()
	language := filepath.Join(t.TempDir(), "made-up.yaml")
	require.NoError(t, os.WriteFile(language, madeUp(t), 0o644))
	files := map[string]string{"plan.yaml": tiny, "stock.yaml": tinyStock, "tiny.yaml": tinyStudy, "two.yaml": twoPlaces}
	for name, from := range map[string]string{
		"charges.csv": "logs/lake_tavari_charges.csv", "racks.csv": "logs/lake_tavari_racks.csv", "output.csv": "logs/lake_tavari_output.csv",
		"racks_weather.csv": "logs/lake_tavari_racks_weather.csv", "days.csv": "records/mumbai_colaba_IN012070300_daily_rain_1901_1970.csv",
	} {
		data, err := os.ReadFile("../../testdata/" + from)
		require.NoError(t, err)
		files[name] = string(data)
	}
	t.Chdir(t.TempDir())
	for name, text := range files {
		require.NoError(t, os.WriteFile(name, []byte(text), 0o644))
	}
	t.Cleanup(func() { tongue.Use(nil) })
	return language
}

// found runs a command in the made-up language and returns what it leaves outside, by where.
func found(t *testing.T, language string, args ...string) map[string][]string {
	t.Helper()
	dir := t.TempDir()
	var out, errOut bytes.Buffer
	args = append(args, "--language", language)
	if args[0] != "check" {
		args = append(args, "--out", dir)
	}
	code := run(context.Background(), args, &out, &errOut)
	require.Zero(t, code, "%v: %s", args, errOut.String())
	all := map[string][]string{"answer": leftOutside(strings.ReplaceAll(out.String(), dir, "")), "messages": leftOutside(strings.ReplaceAll(errOut.String(), dir, ""))}
	require.NoError(t, filepath.WalkDir(dir, func(file string, d os.DirEntry, err error) error {
		if err == nil && !d.IsDir() {
			all[d.Name()] = leftOutside(saidIn(t, file))
		}
		return err
	}))
	return all
}

// Nothing that the program says in its answers, reports, papers, charts and workbooks stands outside the
// catalogue. What may stands in outside with its reason.
func TestNothingIsSaidOutsideTheCatalogue(t *testing.T) {
	language := inMadeUp(t)
	long := os.Getenv("DRYSTALK_LONG") != ""
	for _, a := range asked {
		if a.long != long {
			continue
		}
		places := found(t, language, words(a.line)...)
		require.GreaterOrEqual(t, len(places), 2, a.line)
		for where, texts := range places {
			assert.Empty(t, texts, "%s, %s: these texts do not go through the catalogue (package tongue)", a.line, where)
		}
	}
}

// What is wrong with a scenario is said in the language in use.
func TestFaultsAreNotSaidOutsideTheCatalogue(t *testing.T) {
	bad, err := filepath.Glob("../../testdata/scenarios/*.bad.yaml")
	require.NoError(t, err)
	require.Greater(t, len(bad), 50)
	texts := map[string]string{}
	for _, file := range bad {
		data, err := os.ReadFile(file)
		require.NoError(t, err)
		texts[filepath.Base(file)] = string(data)
	}
	language := inMadeUp(t)
	l, err := readLanguage(language)
	require.NoError(t, err)
	tongue.Use(l)
	for name, text := range texts {
		_, err := scenarios.Read(name, []byte(text))
		require.Error(t, err, name)
		assert.Empty(t, leftOutside(withoutKeys(t, unquoted(strings.ReplaceAll(err.Error(), name, "·")), text)), "%s: %s", name, err)
	}
}

// unquoted leaves what a message quotes of a file, or of the parser of YAML, out of it.
func unquoted(message string) string {
	return regexp.MustCompile(`"[^"]*"|'[^']*'|\(.*must be specified\)|\(.*cannot start any token\)|\{[^}]*\}`).ReplaceAllString(message, "·")
}

// withoutKeys leaves the words of a file, the keys and choices that a scenario may have and
// the months that are keys out of a message.
func withoutKeys(t *testing.T, message, file string) string {
	t.Helper()
	schema, err := scenarios.Schema()
	require.NoError(t, err)
	known := map[string]bool{}
	inFiles := regexp.MustCompile(`[A-Za-z_0-9]+`)
	for _, m := range regexp.MustCompile(`"([a-z_0-9]+)"`).FindAllStringSubmatch(string(schema), -1) {
		known[m[1]] = true
	}
	for _, word := range inFiles.FindAllString(file, -1) {
		known[word] = true
	}
	return inFiles.ReplaceAllStringFunc(message, func(word string) string {
		if known[word] {
			return "·"
		}
		return word
	})
}

// The page says nothing outside the catalogue either: the start, a plan, what it answers, and what it
// refuses.
func TestThePageSaysNothingOutsideTheCatalogue(t *testing.T) {
	language := inMadeUp(t)
	l, err := readLanguage(language)
	require.NoError(t, err)
	tongue.Use(l)
	plan, token := opened(t, "plan.yaml", tiny)
	start := plan[:strings.Index(plan, "/plan/")]
	look := func(where, address string) {
		code, body := get(t, address)
		assert.Less(t, code, 500, where)
		assert.Empty(t, leftOutside(saidOn(body)), "%s: these texts do not go through the catalogue (package tongue)", where)
	}
	look("start", start)
	look("no such page", start+"/none")
	look("a plan", plan)
	list := []string{"compare", "odds"}
	if os.Getenv("DRYSTALK_LONG") != "" {
		list = []string{"compare", "second", "dryers", "promise", "spend", "ways", "season"}
	}
	for _, ask := range list {
		sent(t, plan, url.Values{
			"token": {token}, "ask": {ask}, "seasons": {"30"}, "seed": {"3"}, "search": {"31"}, "limit": {"61"}, "short": {"7"}, "futures": {"32"},
			"second": {"Stone Weir's"}, "budget": {"9 000"}, "number": {"4"}, "n:sites.Stone Weir's.dryers": {"2"}, "n:contract.stalks_per_month.jun": {"4600"},
		})
		require.Eventually(t, func() bool {
			_, status := get(t, plan+"/status")
			return strings.Contains(status, `"under_way":false`)
		}, 2*time.Minute, 20*time.Millisecond)
		look(ask, plan)
	}
	for _, wrong := range []url.Values{
		{"n:sites.Stone Weir's.dryers": {"-1"}}, {"n:dryer.shift_end_h": {"many"}}, {"seasons": {"3"}}, {"budget": {"5.500"}, "ask": {"spend"}},
	} {
		wrong.Set("token", token)
		if wrong.Get("ask") == "" {
			wrong.Set("ask", "compare")
		}
		assert.Empty(t, leftOutside(unquoted(saidOn(sent(t, plan, wrong)))), "%v", wrong)
	}
}

// sent posts a form and returns the page that comes.
func sent(t *testing.T, address string, form url.Values) string {
	t.Helper()
	r, err := http.PostForm(address, form)
	require.NoError(t, err)
	defer func() { _ = r.Body.Close() }()
	var body bytes.Buffer
	_, err = body.ReadFrom(r.Body)
	require.NoError(t, err)
	return body.String()
}

// words are the arguments of a command line, ~ for a space inside of one.
func words(line string) []string {
	args := strings.Fields(line)
	for i, a := range args {
		args[i] = strings.ReplaceAll(a, "~", " ")
	}
	return slices.Clip(args)
}
