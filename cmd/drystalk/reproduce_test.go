package main

import (
	"encoding/json"
	"maps"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/alecthomas/kong"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drystalk/scenarios"
	"drystalk/sim/answers"
)

// tiny is a scenario that is quickly lived through, with prices.
const tiny = `region: Stone Weir group
currency: coins
season: {start: 1 jun, days: 10}
weather: {wmo_station: 41923}
contract: {stalks_per_month: {jun: 4500}}
money: {price_per_good_stalk: 0.12, pay_per_stalk_cut: 0.04, wood_per_kg: 0.1, dryer_cost: 2000, dryer_life_years: 1, clear_roof_per_m2: 20}
sites: {"Stone Weir's": {cutters: 3, stalks_per_person_h: 117, open_rack_m2: 75, dryers: 1, max_dryers: 2}}
`

// shellWords lets a POSIX shell take a line apart.
func shellWords(t *testing.T, line string) []string {
	t.Helper()
	out, err := exec.Command("sh", "-c", `printf '%s\n' `+line).Output()
	require.NoError(t, err, line)
	return strings.Split(strings.TrimSuffix(string(out), "\n"), "\n")
}

// printedLine returns the line that an answer as JSON prints for whoever wants its numbers again.
func printedLine(t *testing.T, answer string) string {
	t.Helper()
	var said struct {
		Reproduce []string `json:"reproduce"`
	}
	require.NoError(t, json.Unmarshal([]byte(answer), &said))
	require.NotEmpty(t, said.Reproduce)
	return said.Reproduce[0]
}

// again runs the line that an answer prints for whoever wants the same numbers, in an empty
// folder, compares the answers to the byte, and returns the words of the line.
func again(t *testing.T, args ...string) []string {
	t.Helper()
	t.Chdir(t.TempDir())
	code, first, errOut := runHere(t, append(args, "--json")...)
	require.Equal(t, exitDone, code, "%v: %s", args, errOut)
	line := printedLine(t, first)
	words := shellWords(t, line)
	require.Equal(t, "drystalk", words[0])
	t.Chdir(t.TempDir())
	code, second, errOut := runHere(t, append(words[1:], "--json")...)
	require.Equal(t, exitDone, code, "%s: %s", line, errOut)
	assert.Equal(t, first, second, line)
	return words
}

// anotherValue is a value other than the default for every option of every question.
func anotherValue(record string) map[string]string {
	return map[string]string{
		"seasons": "31", "workers": "2", "record": record, "draws": "2", "use-anyway": "true", "short": "2", "search": "31", "limit": "62", "futures": "31", "stock-at": "none",
		"budget": "3000", "cheapest": "true", "number": "3", "moisture": "0.41", "stalks": "300", "set-c": "75", "ambient-c": "31", "humidity": "0.7", "wood-wet": "0.3", "trials": "101", "free-placement": "true",
		"judge": "31", "earn": "true", "night-work": "true", "most-c": "85", "climates": "1",
		"stock": ofOneGroup(".yaml"), "cut": ofOneGroup("-cut.csv"), "rain": ofOneGroup("-rain.csv"), "rent-ready": "1", "truckload": "900", "truck-price": "0.09", "truck-on": "5-jun",
	}
}

// questionsAsked are the questions that commands ask of a plan.
var questionsAsked = []struct {
	command string
	few     []string // options of the first run
	options any
}{
	{"odds", []string{"--seasons", "30"}, &answers.OddsOptions{}},
	{"dryers", []string{"--seasons", "30", "--search", "30"}, &answers.DryersOptions{}},
	{"compare", []string{"--seasons", "30", "--futures", "30"}, &answers.CompareOptions{}},
	{"promise", []string{"--seasons", "30", "--search", "30"}, &answers.PromiseOptions{}},
	{"spend", []string{"--seasons", "30", "--search", "30", "--budget", "2500"}, &answers.SpendOptions{}},
	{"ways", []string{"--seasons", "30", "--search", "30", "--judge", "30"}, &answers.WaysOptions{}},
	{"ahead", []string{"--seasons", "30", "--stock", ofOneGroup(".yaml")}, &answers.AheadOptions{}},
	{"season", nil, &answers.SeasonOptions{}},
	{"charge", nil, &answers.LoadOptions{}},
}

// The line that every answer prints for whoever wants the same numbers gives them, to the byte:
// with a changed plan, and with every option changed. The options are those of the question's
// struct, so none can be left out here.
func TestPrintedLineGivesTheSameNumbers(t *testing.T) {
	dir := t.TempDir()
	file, record := filepath.Join(dir, "a group's plan.yaml"), filepath.Join(dir, "station.csv")
	require.NoError(t, os.WriteFile(file, []byte(tiny), 0o644))
	days, err := os.ReadFile("../../testdata/records/mumbai_santacruz_IN012070800_daily_1950_1970_1980_1998.csv")
	require.NoError(t, err)
	lines := strings.SplitAfter(string(days), "\n")
	require.Greater(t, len(lines), 1500)
	require.NoError(t, os.WriteFile(record, []byte(strings.Join(lines[:1500], "")), 0o644))
	another := anotherValue(record)
	for _, q := range questionsAsked {
		plan := []string{q.command, file}
		changed := []string{q.command, file, "--with", "Stone Weir's: crew=1, open_rack_m2=70", "--with", "dryer: shift_end_h=20", "--seed", "5"}
		again(t, append(changed, q.few...)...)
		if q.command == "compare" { // it needs a second plan
			plan = changed
		}
		all := answers.OptionsOf(q.options)
		require.NotEmpty(t, all)
		for _, o := range all {
			require.Contains(t, another, o.Flag, "%s: an option that this test does not change", q.command)
			plan = append(plan, "--"+o.Flag)
			if !o.Switch {
				plan = append(plan, another[o.Flag])
			}
		}
		said := strings.Join(again(t, plan...), "\n")
		for _, o := range all {
			want := "--" + o.Flag
			if !o.Switch {
				want += "\n" + another[o.Flag]
			}
			assert.Equal(t, !o.Silent, strings.Contains(said, want), "%s --%s: %s", q.command, o.Flag, said)
		}
	}
}

// named matches what an answer says of a file that its numbers come from.
var named = regexp.MustCompile(`^(scenario|file) (.+), content ([0-9a-f]{16})$`)

// The answer names every file that its numbers come from, as the command line and the scenario
// name it, with a hash of its bytes. Those files alone, laid into an empty folder, and its line
// give the same numbers.
func TestPrintedLineNeedsOnlyTheFilesThatTheAnswerNames(t *testing.T) {
	coast, err := os.ReadFile(fittedScenario(t))
	require.NoError(t, err)
	record, err := os.ReadFile(colabaRecord)
	require.NoError(t, err)
	all := map[string][]byte{
		"coast.yaml": coast, "climate.yaml": fitted.climate, "unused.csv": []byte("x"), "tiny.yaml": []byte(tiny),
		"more.yaml":   []byte(strings.Replace(string(coast), "dryers: 1", "dryers: 2", 1)),
		"station.csv": []byte(strings.Join(strings.SplitAfter(string(record), "\n")[:6000], "")), "-plan.yaml": []byte(tiny),
	}
	lay := func(names []string) {
		t.Chdir(t.TempDir())
		for _, name := range names {
			require.Contains(t, all, name)
			require.NoError(t, os.WriteFile(name, all[name], 0o644))
		}
	}
	for _, tt := range []struct {
		args  []string
		files []string
	}{
		{[]string{"odds", "coast.yaml", "--record", "station.csv", "--draws", "2", "--seasons", "30", "--short", "1"}, []string{"climate.yaml", "coast.yaml", "station.csv"}},
		{[]string{"dryers", "tiny.yaml", "--record", "station.csv", "--draws", "2", "--seasons", "30", "--search", "30"}, []string{"station.csv", "tiny.yaml"}},
		{[]string{"compare", "coast.yaml", "more.yaml", "--seasons", "30", "--futures", "30"}, []string{"climate.yaml", "coast.yaml", "more.yaml"}},
		{[]string{"season", "coast.yaml", "--number", "2"}, []string{"climate.yaml", "coast.yaml"}},
		{[]string{"charge", "./-plan.yaml"}, []string{"-plan.yaml"}},
		{[]string{"fit", "weather", "station.csv", "--scenario", "tiny.yaml", "--years", "200"}, []string{"station.csv", "tiny.yaml"}},
	} {
		lay(slices.Collect(maps.Keys(all)))
		code, first, errOut := runHere(t, append(tt.args, "--json")...)
		require.Equal(t, exitDone, code, "%v: %s", tt.args, errOut)
		var said struct {
			Reproduce []string `json:"reproduce"`
		}
		require.NoError(t, json.Unmarshal([]byte(first), &said))
		var files []string
		for _, line := range said.Reproduce[1:] {
			m := named.FindStringSubmatch(line)
			if m == nil {
				assert.Equal(t, "drystalk "+version, line)
				continue
			}
			name := strings.TrimPrefix(m[2], "./")
			files = append(files, name)
			if m[1] == "file" && strings.HasSuffix(name, ".csv") || name == "climate.yaml" {
				assert.Equal(t, scenarios.ContentOf(all[name]), m[3], name)
			}
		}
		slices.Sort(files)
		assert.Equal(t, tt.files, files, "%v", tt.args)
		lay(files)
		code, second, errOut := runHere(t, append(shellWords(t, said.Reproduce[0])[1:], "--json")...)
		require.Equal(t, exitDone, code, "%s: %s", said.Reproduce[0], errOut)
		assert.Equal(t, first, second, said.Reproduce[0])
	}
}

// The flags of the commands are the options of the questions by name, default and words.
func TestFlagsAreTheOptions(t *testing.T) {
	var c commands
	parser, err := kong.New(&c, kong.Vars{"version": version})
	require.NoError(t, err)
	seen := 0
	for _, q := range questionsAsked {
		flags := map[string]*kong.Flag{}
		for _, node := range parser.Model.Children {
			if node.Name == q.command {
				for _, f := range node.Flags {
					flags[f.Name] = f
				}
			}
		}
		for _, o := range answers.OptionsOf(q.options) {
			seen++
			if assert.Contains(t, flags, o.Flag, q.command) {
				assert.Equal(t, o.Default, flags[o.Flag].Default, "%s --%s", q.command, o.Flag)
				assert.Equal(t, o.Help, flags[o.Flag].Help, "%s --%s", q.command, o.Flag)
			}
		}
	}
	assert.GreaterOrEqual(t, seen, 25)
}
