package main

import (
	"encoding/json"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drystalk/sim/answers"
)

// tiny is a scenario that is quickly lived through, with prices.
const tiny = `region: Stone Weir group
currency: T$
season: {start: 1 jun, days: 20}
weather: {wmo_station: 41923}
contract: {stalks_per_month: {jun: 9000}}
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

// again runs the line that an answer prints for whoever wants the same numbers, in an empty
// folder, and compares the answers to the byte.
func again(t *testing.T, what string, args ...string) {
	t.Helper()
	t.Chdir(t.TempDir())
	code, out, errOut := runHere(t, append(args, "--json")...)
	require.Equal(t, exitDone, code, "%s: %s", what, errOut)
	var said struct {
		Reproduce []string `json:"reproduce"`
	}
	require.NoError(t, json.Unmarshal([]byte(out), &said), what)
	require.NotEmpty(t, said.Reproduce, what)
	words := shellWords(t, said.Reproduce[0])
	require.Equal(t, "drystalk", words[0], what)
	t.Chdir(t.TempDir())
	code, second, errOut := runHere(t, append(words[1:], "--json")...)
	require.Equal(t, exitDone, code, "%s: %s: %s", what, said.Reproduce[0], errOut)
	assert.Equal(t, out, second, "%s: %s", what, said.Reproduce[0])
}

// The line that every answer prints for whoever wants the same numbers gives them, to the byte,
// whichever option was changed. An option that has no other value here fails the test.
func TestPrintedLineGivesTheSameNumbers(t *testing.T) {
	dir := t.TempDir()
	file, record := filepath.Join(dir, "a group's plan.yaml"), filepath.Join(dir, "station.csv")
	require.NoError(t, os.WriteFile(file, []byte(tiny), 0o644))
	days, err := os.ReadFile("../../testdata/records/mumbai_santacruz_IN012070800_daily_1950_1970_1980_1998.csv")
	require.NoError(t, err)
	lines := strings.SplitAfter(string(days), "\n")
	require.Greater(t, len(lines), 1500)
	require.NoError(t, os.WriteFile(record, []byte(strings.Join(lines[:1500], "")), 0o644))

	others := map[string]string{
		"seasons": "31", "workers": "2", "record": record, "short": "2", "search": "31", "limit": "62", "futures": "31", "stock-at": "none",
		"budget": "3000", "number": "3", "moisture": "0.41", "stalks": "300", "set-c": "75", "ambient-c": "31", "humidity": "0.7",
	}
	few := []string{"--seasons", "30"}
	for _, q := range []struct {
		command string
		base    []string
		options any
	}{
		{"odds", few, &answers.OddsOptions{}},
		{"dryers", append([]string{"--search", "30"}, few...), &answers.DryersOptions{}},
		{"compare", append([]string{"--futures", "30", "--with", "Stone Weir's: dryers=2"}, few...), &answers.CompareOptions{}},
		{"promise", append([]string{"--search", "30"}, few...), &answers.PromiseOptions{}},
		{"spend", append([]string{"--search", "30", "--budget", "2500"}, few...), &answers.SpendOptions{}},
		{"season", nil, &answers.SeasonOptions{}},
		{"charge", nil, &answers.LoadOptions{}},
	} {
		again(t, q.command, append([]string{q.command, file, "--seed", "5"}, q.base...)...)
		if q.command != "compare" {
			again(t, q.command+" --with", append([]string{q.command, file, "--with", "Stone Weir's: crew=1, open_rack_m2=70", "--with", "dryer: shift_end_h=20"}, q.base...)...)
		}
		options := answers.OptionsOf(q.options)
		require.NotEmpty(t, options)
		for _, o := range options {
			other, ok := others[o.Flag]
			require.True(t, ok, "%s has an option --%s that this test does not change", q.command, o.Flag)
			args := []string{q.command, file}
			for i := 0; i < len(q.base); i += 2 {
				if q.base[i] != "--"+o.Flag {
					args = append(args, q.base[i:i+2]...)
				}
			}
			again(t, q.command+" --"+o.Flag, append(args, "--"+o.Flag, other)...)
		}
	}
}
