package main

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"html"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drystalk/report"
	"drystalk/sim"
	"drystalk/sim/decide"
	"drystalk/sim/plans"
	"drystalk/sim/weather"
)

// colabaRecord is the record of Mumbai Colaba, wherever a test works.
var colabaRecord, _ = filepath.Abs("../../testdata/records/mumbai_colaba_IN012070300_daily_rain_1901_1970.csv")

// runHere runs a command and returns what it prints.
func runHere(t *testing.T, args ...string) (code int, out, errOut string) {
	t.Helper()
	var o, e bytes.Buffer
	code = run(context.Background(), args, &o, &e)
	return code, unbroken(o.String()), e.String()
}

// unbroken takes the line breaks out of the sentences of an answer, which end at its first
// table.
func unbroken(text string) string {
	sentences, tables, ok := strings.Cut(text, "\n  ")
	if !ok {
		return text
	}
	return strings.Join(strings.Fields(sentences), " ") + "\n  " + tables
}

// fitted is what a fit to the record of Mumbai Colaba wrote, once it has been made.
var fitted struct{ climate, report, numbers []byte }

// fittedScenario fits the weather of Mumbai Colaba and writes a scenario that uses it, with
// a contract that is met in most seasons but not in all.
func fittedScenario(t *testing.T) string {
	t.Helper()
	dir := t.TempDir()
	if fitted.climate == nil { // the same for all tests
		code, out, errOut := runHere(t, "fit", "weather", colabaRecord, "--wmo-station", "43057", "--years", "200", "--out", dir)
		require.Equal(t, exitDone, code, errOut)
		assert.Contains(t, out, "1901 to 1970 (69 complete years), is "+weather.VerdictGood)
		for _, name := range []string{"spells.png", "rain-by-month.svg"} {
			assert.FileExists(t, filepath.Join(dir, name))
		}
		for name, data := range map[string]*[]byte{"climate.yaml": &fitted.climate, "fit-report.html": &fitted.report, "fit.json": &fitted.numbers} {
			var err error
			*data, err = os.ReadFile(filepath.Join(dir, name))
			require.NoError(t, err)
		}
	}
	require.NoError(t, os.WriteFile(filepath.Join(dir, "climate.yaml"), fitted.climate, 0o644))
	scenario := filepath.Join(dir, "coast.yaml")
	require.NoError(t, os.WriteFile(scenario, []byte(`region: Test Coast
season: {start: 1 may, days: 184}
weather: {climate_file: climate.yaml}
contract: {stalks_per_month: {jun: 34000, jul: 34000, aug: 34000, sep: 34000}, target_stock_stalks: {may: 20000, jun: 20000, jul: 20000, aug: 20000, sep: 20000}}
yard: {stalks_are_spread: at_full_load, cutting_stops_at: full_yard}
sites:
  Heron Point: {cutters: 6, stalks_per_person_h: 117, open_rack_m2: 150, clear_roof_m2: 12, sealed_store: true, dryers: 1}
`), 0o644))
	return scenario
}

// The odds of a plan from the generator fitted to Mumbai Colaba and those of the same plan
// through the station's real years agree within their intervals, in every month; and the
// report says so.
func TestGeneratorAgreesWithRealYears(t *testing.T) {
	scenario, dir := fittedScenario(t), t.TempDir()
	code, out, errOut := runHere(t, "odds", scenario, "--record", colabaRecord, "--draws", "5", "--seasons", "300", "--short", "5", "--out", dir)
	require.Equal(t, exitDone, code, errOut)
	flowing := strings.Join(strings.Fields(out), " ")
	assert.Contains(t, flowing, "No month differs beyond chance. So many years would show a difference of")
	assert.Contains(t, flowing, "The weather was fitted to 69 complete years of "+strings.TrimSuffix(filepath.Base(colabaRecord), ".csv")+" and is good for planning.")
	page, err := os.ReadFile(filepath.Join(dir, "report.html"))
	require.NoError(t, err)
	assert.Contains(t, string(page), "Through the real years")
	answer, err := os.ReadFile(filepath.Join(dir, "answer.json"))
	require.NoError(t, err)
	var got struct {
		Notes []report.Note       `json:"notes"`
		Plan  decide.PlanResult   `json:"plan"`
		Years *decide.YearsResult `json:"real_years"`
	}
	require.NoError(t, json.Unmarshal(answer, &got))
	assert.Contains(t, fmt.Sprint(got.Notes), "No month differs beyond chance.")
	require.NotNil(t, got.Years)
	assert.GreaterOrEqual(t, len(got.Years.Years), 69)
	assert.True(t, got.Years.Agree)
	assert.Equal(t, 5, got.Years.Draws)
	for _, y := range got.Years.Years {
		require.Len(t, y.Shares, 4)
	}
	between := false
	for _, m := range got.Years.Months {
		t.Logf("%s: real %.2f (%.2f to %.2f), generator %.2f, p %.2f", m.Name, m.Real.Mean, m.Real.Low, m.Real.High, m.Generator.Share, m.PValue)
		assert.True(t, m.Shows > 0 && m.Shows < 0.25, "%s: seventy years tell a difference of %.2f", m.Name, m.Shows)
		assert.True(t, m.Real.Low <= m.Generator.High && m.Generator.Low <= m.Real.High, m.Name)
		between = between || (m.Generator.Share > 0.1 && m.Generator.Share < 0.9)
	}
	assert.True(t, between, "the comparison must be able to fail: some month lies between never and always")
}

// A changed climate is not held against real years that had none of it: before, any change of size
// was told as a disagreement.
func TestChangedClimateIsNotHeldAgainstTheRecord(t *testing.T) {
	scenario := fittedScenario(t)
	text, err := os.ReadFile(scenario)
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(scenario, []byte(strings.Replace(string(text), "climate.yaml}", "climate.yaml, rain_chance_probit: 0.7}", 1)), 0o644))
	code, out, errOut := runHere(t, "odds", scenario, "--record", colabaRecord, "--draws", "1", "--seasons", "30", "--short", "0", "--out", t.TempDir())
	require.Equal(t, exitDone, code, errOut)
	assert.Contains(t, strings.Join(strings.Fields(out), " "), "The plan changes its climate (rain_chance_probit) and the real years are as they were, so the two are not compared.")
	assert.NotContains(t, out, "They do not agree")
}

// A verdict is not lost: whoever uses the climate file reads it first, with its reason. Money is not
// spent on weather that is not usable unless that is asked for.
func TestVerdictGoesWhereTheClimateGoes(t *testing.T) {
	scenario := fittedScenario(t)
	file := filepath.Join(filepath.Dir(scenario), "climate.yaml")
	bad := strings.Replace(string(fitted.climate), `verdict: "good for planning"`, `verdict: "not usable"`, 1)
	bad = strings.Replace(bad, "\nreasons:\n", "\nreasons:\n- \"A step from 1936 on.\"\n", 1)
	require.NotEqual(t, string(fitted.climate), bad)
	require.NoError(t, os.WriteFile(file, []byte(bad), 0o644))
	const said = "and is not usable. A step from 1936 on."
	for _, args := range [][]string{{"odds", "--seasons", "30", "--short", "0"}, {"season"}} {
		code, out, errOut := runHere(t, append(append([]string{args[0], scenario}, args[1:]...), "--out", t.TempDir())...)
		require.Equal(t, exitDone, code, errOut)
		assert.Contains(t, out, said, args[0])
	}
	for _, args := range [][]string{{"dryers", "--seasons", "30", "--search", "30", "--limit", "30", "--short", "0"}, {"promise", "--seasons", "30", "--search", "30"}, {"spend", "--seasons", "30", "--search", "30", "--budget", "1000"}} {
		line := append(append([]string{args[0], scenario}, args[1:]...), "--json")
		code, out, errOut := runHere(t, line...)
		assert.Equal(t, exitUsage, code, args[0])
		assert.Empty(t, out)
		assert.Equal(t, 1, strings.Count(errOut, "error: "), errOut)
		assert.Contains(t, errOut, " is not usable: A step from 1936 on. Settle that and fit again, or state --use-anyway")
		if args[0] == "spend" {
			continue // it would ask for prices next
		}
		code, out, errOut = runHere(t, append(line, "--use-anyway")...)
		require.Equal(t, exitDone, code, errOut)
		var got struct {
			Paragraph string         `json:"paragraph"`
			Fits      []plans.Fitted `json:"weather_fits"`
			Reproduce []string       `json:"reproduce"`
		}
		require.NoError(t, json.Unmarshal([]byte(out), &got))
		assert.Contains(t, got.Paragraph, said)
		require.Len(t, got.Fits, 1)
		assert.Equal(t, weather.VerdictUseless, got.Fits[0].Verdict)
		assert.Contains(t, got.Reproduce[0], "--use-anyway")
	}
}

// A change of climate and a wet year move the odds the way they say.
func TestStressedClimate(t *testing.T) {
	scenario := fittedScenario(t)
	text, err := os.ReadFile(scenario)
	require.NoError(t, err)
	odds := func(change string) float64 {
		require.NoError(t, os.WriteFile(scenario, []byte(strings.Replace(string(text), "climate.yaml}", "climate.yaml"+change+"}", 1)), 0o644))
		code, out, errOut := runHere(t, "odds", scenario, "--seasons", "60", "--short", "0", "--json")
		require.Equal(t, exitDone, code, errOut)
		var got struct {
			Plan decide.PlanResult `json:"plan"`
		}
		require.NoError(t, json.Unmarshal([]byte(out), &got))
		return got.Plan.Share.Mean
	}
	asRecorded := odds("")
	assert.Less(t, odds(", rain_chance_probit: 0.7"), asRecorded)
	assert.Greater(t, odds(", rain_chance_probit: -0.7"), asRecorded)
	assert.Less(t, odds(", wetness_of_year: 3, storms_per_year: 6, storm_rain_mm: 300"), asRecorded)
}

// The line of a fit report gives the same numbers in an empty folder, to the byte.
func TestPrintedLineOfAFit(t *testing.T) {
	fittedScenario(t)
	found := regexp.MustCompile(`<code>(drystalk fit [^<]*)</code>`).FindSubmatch(fitted.report)
	require.NotNil(t, found)
	words := shellWords(t, html.UnescapeString(string(found[1])))
	t.Chdir(t.TempDir())
	code, out, errOut := runHere(t, append(words[1:], "--json")...)
	require.Equal(t, exitDone, code, errOut)
	assert.Equal(t, string(fitted.numbers), out)
}

// Poor records: exit code 2, one sentence that says what is wrong, nothing written.
func TestPoorRecords(t *testing.T) {
	good, err := os.ReadFile(colabaRecord)
	require.NoError(t, err)
	lines := strings.Split(string(good), "\n")
	dir := t.TempDir()
	write := func(name string, change func(i int, cells []string) string) string {
		var b strings.Builder
		for i, line := range lines {
			if i < 2 || line == "" {
				b.WriteString(line + "\n")
				continue
			}
			b.WriteString(change(i, strings.Split(line, ",")))
		}
		file := filepath.Join(dir, name)
		require.NoError(t, os.WriteFile(file, []byte(b.String()), 0o644))
		return file
	}
	keep := func(cells []string) string { return strings.Join(cells, ",") + "\n" }
	for file, want := range map[string]string{
		write("rain-days-only.csv", func(_ int, c []string) string {
			if c[1] == "0.0" {
				return ""
			}
			return keep(c)
		}): "usable years of rain",
		write("four-years.csv", func(_ int, c []string) string {
			if c[0] >= "1905" {
				return ""
			}
			return keep(c)
		}): "3 usable years",
		write("shifted.csv", func(_ int, c []string) string {
			if c[1] != "" {
				c[1] = strings.Replace(c[1], ".", "", 1)
			}
			return keep(c)
		}): "tenths of a millimetre?",
		write("words.csv", func(i int, c []string) string {
			if i == 700 {
				c[1] = "trace"
			}
			return keep(c)
		}): `rain_mm: found "trace"`,
	} {
		out := filepath.Join(dir, "out")
		code, stdout, errOut := runHere(t, "fit", "weather", file, "--wmo-station", "43057", "--out", out)
		if strings.Contains(file, "words") {
			want = `prcp_mm: found "trace"`
		}
		assert.Equal(t, exitUsage, code, file)
		assert.Empty(t, stdout)
		assert.Contains(t, errOut, want, file)
		assert.NoDirExists(t, out)
	}
	code, _, errOut := runHere(t, "fit", "weather", colabaRecord)
	assert.Equal(t, exitUsage, code)
	assert.Contains(t, errOut, "give one of --wmo-station and --scenario")
	code, _, errOut = runHere(t, "odds", "one-cooperative", "--record", "nowhere.csv")
	assert.Equal(t, exitUsage, code)
	assert.Contains(t, errOut, "no such station record")
}

// Sites far apart do not share their bad weeks: with all other chance taken out, the
// region's months spread less between seasons, and as much is cut. The hub asks for more
// than the sites can bring, so that no month is cut short by what is asked.
// Sites close together share one weather, coordinates or not.
func TestSitesApart(t *testing.T) {
	scenario := fittedScenario(t)
	text, err := os.ReadFile(scenario)
	require.NoError(t, err)
	head, site, _ := strings.Cut(string(text), "  Heron Point: {")
	head = strings.ReplaceAll(strings.ReplaceAll(head, "34000", "160000"), "20000", "40000")
	odds := func(length, lon string) decide.PlanResult {
		two := "knowledge: {fixed: true}\nluck: {output_season_sd: 0, output_site_season_sd: 0, output_day_sd: 0}\ntrouble: {out_for_season_fraction: 0, firing_h_between_breakdowns: 0}\n" + strings.Replace(head, "climate.yaml}", "climate.yaml, correlation_length_km: "+length+"}", 1) +
			"  Heron Point: {latitude_deg: 18, longitude_deg: 73, " + site + "  Stone Weir: {latitude_deg: 18, longitude_deg: " + lon + ", " + site
		require.NoError(t, os.WriteFile(scenario, []byte(two), 0o644))
		code, out, errOut := runHere(t, "odds", scenario, "--seasons", "60", "--short", "0", "--json")
		require.Equal(t, exitDone, code, errOut)
		var got struct {
			Plan decide.PlanResult `json:"plan"`
		}
		require.NoError(t, json.Unmarshal([]byte(out), &got))
		return got.Plan
	}
	together, apart := odds("115", "73.05"), odds("5", "74.5")
	assert.Equal(t, together, odds("5", "73.05"), "5 km apart, one weather")
	t.Logf("worst month: together %.3f, apart %.3f", together.WorstMonth().Odds.Share, apart.WorstMonth().Odds.Share)
	require.Len(t, apart.Months, 4)
	width := func(p decide.PlanResult) (sum float64) {
		for _, m := range p.Months {
			sum += m.Available.P95 - m.Available.P5
		}
		return sum
	}
	assert.Less(t, width(apart), width(together))
	assert.InEpsilon(t, together.Flow.Of(sim.Cut).Mean, apart.Flow.Of(sim.Cut).Mean, 0.05)
}
