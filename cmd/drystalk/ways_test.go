package main

import (
	"encoding/json"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// waysOf asks for better ways of working and returns what JSON says of them, with the file written.
func waysOf(t *testing.T, args ...string) (with, last json.RawMessage) {
	t.Helper()
	code, _, errOut := runHere(t, append([]string{"ways"}, args...)...)
	require.Equal(t, exitDone, code, errOut)
	data, err := os.ReadFile(filepath.Join("out", "answer.json"))
	require.NoError(t, err)
	var a struct {
		Ways struct {
			With     json.RawMessage `json:"with_all"`
			Together []struct {
				Odds json.RawMessage `json:"target_odds"`
			} `json:"together"`
		} `json:"ways"`
	}
	require.NoError(t, json.Unmarshal(data, &a))
	require.NotEmpty(t, a.Ways.Together, "something helps")
	return a.Ways.With, a.Ways.Together[len(a.Ways.Together)-1].Odds
}

// What ways says of a plan with all its changes, odds says of the plan with the file of ways, to the
// last digit; so do the second plan of compare and ways itself, of the plan that works so already.
func TestOddsWithWaysAreThoseOfTheLastRow(t *testing.T) {
	t.Chdir(t.TempDir())
	require.NoError(t, os.WriteFile("plan.yaml", []byte(strings.Replace(tiny, "jun: 4500", "jun: 6000", 1)), 0o644))
	plan := []string{"plan.yaml", "--seed", "3", "--seasons", "40"}
	with, last := waysOf(t, append(plan, "--search", "30", "--judge", "30")...)
	var odds struct {
		Plan json.RawMessage
	}
	answer := func(into any, args ...string) {
		code, out, errOut := runHere(t, append(append(args, plan...), "--ways", filepath.Join("out", "ways.yaml"), "--json")...)
		require.Equal(t, exitDone, code, errOut)
		require.NoError(t, json.Unmarshal([]byte(out), into))
	}
	answer(&odds, "odds")
	assert.JSONEq(t, string(with), string(odds.Plan))
	var compared struct {
		Comparison struct {
			Second json.RawMessage `json:"second"`
		} `json:"comparison"`
	}
	answer(&compared, "compare")
	assert.JSONEq(t, string(with), string(compared.Comparison.Second))
	var again struct {
		Ways struct {
			Now struct {
				Odds json.RawMessage `json:"target_odds"`
			} `json:"today"`
		} `json:"ways"`
	}
	answer(&again, "ways")
	assert.JSONEq(t, string(last), string(again.Ways.Now.Odds))
}

// The line that an answer prints names the file of ways, and gives the same numbers with it: of one
// plan, and of two, of which the second or both work so.
func TestPrintedLineNamesTheWays(t *testing.T) {
	t.Chdir(t.TempDir())
	require.NoError(t, os.WriteFile("plan.yaml", []byte(tiny), 0o644))
	require.NoError(t, os.WriteFile("ways.yaml", []byte("ways:\n  - \"Stone Weir's: loading_kg_per_m2=6\"\n  - \"hub: collections_per_month=4\"\n"), 0o644))
	few := []string{"--seasons", "30"}
	for _, args := range [][]string{
		{"odds", "plan.yaml", "--ways", "ways.yaml"},
		{"odds", "plan.yaml", "--ways", "ways.yaml", "--with", "dryer: shift_end_h=20"},
		{"compare", "plan.yaml", "--ways", "ways.yaml", "--futures", "30"},
		{"compare", "plan.yaml", "--ways", "ways.yaml", "--with", "Stone Weir's: dryers=2", "--futures", "30"},
	} {
		code, first, errOut := runHere(t, append(append(args, few...), "--json")...)
		require.Equal(t, exitDone, code, errOut)
		assert.True(t, strings.Contains(first, `"file ways.yaml, content `), "%v", args)
		words := shellWords(t, printedLine(t, first))
		assert.Contains(t, words, "--ways")
		code, second, errOut := runHere(t, append(words[1:], "--json")...)
		require.Equal(t, exitDone, code, errOut)
		assert.True(t, first == second, "%v", args)
	}
}

// What is wrong with a file of ways is said in one line, with file, line, key, what was found and
// what is allowed.
func TestFaultsOfAFileOfWays(t *testing.T) {
	t.Chdir(t.TempDir())
	require.NoError(t, os.WriteFile("plan.yaml", []byte(tiny), 0o644))
	for _, tt := range []struct{ text, said string }{
		{"", "ways.yaml:1: found an empty file, allowed: a file of ways of working: a list of changes under the key ways"},
		{"- 1\n", "ways.yaml:1: found a list, allowed: a file of ways of working: a list of changes under the key ways"},
		{"wayss: []\n", "ways.yaml:1: wayss: found an unknown key, did you mean ways?"},
		{"ways: 6\n", "ways.yaml:1: ways: found no list, allowed: a list of changes such as - \"Heron Point: loading_kg_per_m2=6\""},
		{"ways:\n  - {dryer: 1}\n", "ways.yaml:2: ways: found a group of keys, allowed: a change in quotes, such as \"Heron Point: loading_kg_per_m2=6\""},
		{"ways:\n  - \"hub: collections_per_month=4\"\n  - \"hub: colections_per_month=4\"\n", "ways.yaml:3: hub.colections_per_month: found an unknown key, did you mean collections_per_month?"},
		{"ways:\n\n  - \"dryer: set_temperature_c=200\"\n", "ways.yaml:3: dryer.set_temperature_c: found 200, allowed: a number from 45 to 95"},
		{"ways:\n  - \"Heron Pont: dryers=2\"\n", "ways.yaml:2: found \"Heron Pont\", allowed: Stone Weir's"},
	} {
		require.NoError(t, os.WriteFile("ways.yaml", []byte(tt.text), 0o644))
		code, _, errOut := runHere(t, "odds", "plan.yaml", "--ways", "ways.yaml")
		assert.Equal(t, exitUsage, code, tt.text)
		assert.Contains(t, errOut, "error: "+tt.said)
	}
	code, _, errOut := runHere(t, "odds", "plan.yaml", "--ways", "nowhere.yaml")
	assert.Equal(t, exitUsage, code)
	assert.Contains(t, errOut, "nowhere.yaml: no such file of ways of working")
}

// rivalSaid is the free rival of an answer as JSON says it.
type rivalSaid struct {
	Rival *struct {
		Edits   []string        `json:"edits"`
		PerSite []int           `json:"dryers_per_site"`
		Seasons int             `json:"seasons"`
		Odds    json.RawMessage `json:"target_odds"`
		Without json.RawMessage `json:"target_odds_as_written"`
	} `json:"free_rival"`
	Paragraph string `json:"paragraph"`
	Promise   struct {
		Flat int `json:"stalks_a_month"`
	} `json:"promise"`
}

// What an answer says of its best free rival is what odds says of that plan, worked better and worked
// as now, in as many seasons.
func TestRivalsAreWhatOddsSays(t *testing.T) {
	t.Chdir(t.TempDir())
	hard := strings.Replace(strings.Replace(tiny, "days: 10", "days: 30", 1), "jun: 4500", "jun: 26000", 1)
	hard = strings.Replace(hard, "open_rack_m2: 75", "open_rack_m2: 60", 1) + "yard: {stalks_are_spread: at_full_load, cutting_stops_at: full_yard}\n"
	require.NoError(t, os.WriteFile("plan.yaml", []byte(hard), 0o644))
	seen := 0
	for _, args := range [][]string{
		{"dryers", "--search", "30", "--limit", "100"},
		{"compare", "--with", "Stone Weir's: dryers=2", "--futures", "30"},
		{"spend", "--search", "30", "--budget", "2500"},
		{"promise", "--search", "30"},
	} {
		code, out, errOut := runHere(t, append(append([]string{args[0], "plan.yaml"}, args[1:]...), "--seasons", "100", "--json")...)
		require.Equal(t, exitDone, code, errOut)
		var said rivalSaid
		require.NoError(t, json.Unmarshal([]byte(out), &said))
		if said.Rival == nil {
			t.Log(args[0], "has no rival here")
			continue
		}
		seen++
		assert.Contains(t, strings.ToLower(said.Paragraph), "stalks spread", args[0])
		plan := []string{"--with", "Stone Weir's: dryers=" + strconv.Itoa(said.Rival.PerSite[0])}
		if args[0] == "promise" {
			plan = append(plan, "--with", "contract.stalks_per_month.jun="+strconv.Itoa(said.Promise.Flat))
		}
		better := plan
		for _, e := range said.Rival.Edits {
			better = append(better, "--with", e)
		}
		assert.JSONEq(t, string(said.Rival.Odds), oddsOf(t, said.Rival.Seasons, better), args[0])
		assert.JSONEq(t, string(said.Rival.Without), oddsOf(t, said.Rival.Seasons, plan), args[0])
	}
	assert.GreaterOrEqual(t, seen, 2, "some have one")
}

// oddsOf is what odds says of the goal of a changed plan, as JSON.
func oddsOf(t *testing.T, seasons int, changes []string) string {
	t.Helper()
	code, out, errOut := runHere(t, append([]string{"odds", "plan.yaml", "--short", "0", "--json", "--seasons", strconv.Itoa(seasons)}, changes...)...)
	require.Equal(t, exitDone, code, errOut)
	var a struct {
		Plan struct {
			Odds json.RawMessage `json:"target_odds"`
		} `json:"plan"`
	}
	require.NoError(t, json.Unmarshal([]byte(out), &a))
	return string(a.Plan.Odds)
}
