package main

import (
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// testdataAhead is where the stocks and tallies of examples lie.
var testdataAhead = func() string {
	path, err := filepath.Abs("../../testdata/ahead")
	if err != nil {
		panic(err)
	}
	return path
}()

// ofOneGroup is a file about the group of the tiny scenario.
func ofOneGroup(ending string) string { return filepath.Join(testdataAhead, "one-group"+ending) }

// tinyStock is a stock of the tiny scenario.
const tinyStock = `today: 3 jun
hub: {good_stalks: 700, delivered_this_month_stalks: 100}
sites:
  Stone Weir's: {fresh_stalks: 900, half_dry_stalks: 600, nearly_dry_stalks: 400, in_dryers_stalks: 300, in_store_stalks: 200}
`

// inAhead asks what lies ahead of the tiny scenario with files laid beside it.
func inAhead(t *testing.T, files map[string]string, args ...string) (code int, out, errOut string) {
	t.Helper()
	t.Chdir(t.TempDir())
	require.NoError(t, os.WriteFile("plan.yaml", []byte(tiny), 0o644))
	for name, text := range files {
		require.NoError(t, os.WriteFile(name, []byte(text), 0o644))
	}
	return runHere(t, append([]string{"ahead", "plan.yaml", "--seasons", "30"}, args...)...)
}

// What is wrong with a stock is said in one line, with file, line, key, what was found and what is
// allowed, and nothing is answered.
func TestFaultsOfAStock(t *testing.T) {
	for _, tt := range []struct{ old, now, want string }{
		{tinyStock, "", "stock.yaml:1: found an empty file, allowed: a stock: today, hub, sites"},
		{"today: 3 jun\n", "", "stock.yaml:1: today: found nothing, allowed: a day of the season, such as \"10 apr\""},
		{"3 jun", "3 aug", "stock.yaml:1: today: found \"3 aug\", allowed: a day between season.start and the last day of the season"},
		{"3 jun", "2026-06-03", "stock.yaml:1: today: found \"2026-06-03\", allowed: a day and a month, such as \"1 mar\", in a year without 29 February"},
		{"fresh_stalks: 900, ", "", "stock.yaml:4: sites.Stone Weir's.fresh_stalks: found nothing, allowed: a whole number from 0 to"},
		{"fresh_stalks: 900", "fresh_stalks: 900 kg", "stock.yaml:4: sites.Stone Weir's.fresh_stalks: found \"900 kg\", allowed: a whole number from 0 to"},
		{"fresh_stalks: 900", "fresh_stalks: 900,5", "stock.yaml:4: sites.Stone Weir's.fresh_stalks: found 900,5, allowed: a whole number without marks, such as 900"},
		{"good_stalks: 700", "good_stalks: 118.000", "stock.yaml:2: hub.good_stalks: found 118.000, allowed: a whole number without marks, such as 118000"},
		{"good_stalks: 700", "good_stalks: 118,000", "stock.yaml:2: hub.good_stalks: found 118,000, allowed: a whole number without marks, such as 118000"},
		{"good_stalks: 700", "good_stalks: 118.5", "stock.yaml:2: hub.good_stalks: found 118.5, allowed: a whole number without marks, such as 118"},
		{"fresh_stalks: 900, half_dry_stalks: 600", "fresh_stalks: 3,000, half_dry_stalks: 5,000", "stock.yaml:4: sites.Stone Weir's.fresh_stalks: found 3,000, allowed: a whole number without marks, such as 3000\nerror: stock.yaml:4: sites.Stone Weir's.half_dry_stalks: found 5,000, allowed: a whole number without marks, such as 5000"},
		{"in_store_stalks: 200", "in_store_stalks: 39000000", "stock.yaml:4: sites.Stone Weir's.in_store_stalks: found 39000000, allowed: a whole number from 0 to 90000, 20 times the largest month of the contract"},
		{"good_stalks: 700", "good_stalks: 90001", "stock.yaml:2: hub.good_stalks: found 90001, allowed: a whole number from 0 to 90000, 20 times the largest month of the contract"},
		{"fresh_stalks: 900", "fresh_stalks: 900000", "stock.yaml:4: sites.Stone Weir's.fresh_stalks: found 900000, allowed: a whole number from 0 to"},
		{"fresh_stalks", "fresh_stalk", "stock.yaml:4: sites.Stone Weir's.fresh_stalk: found an unknown key, did you mean fresh_stalks?"},
		{"Stone Weir's:", "Stone Wier's:", "stock.yaml:4: sites.Stone Wier's: found an unknown key, did you mean Stone Weir's?"},
		{"delivered_this_month_stalks: 100", "delivered_this_month_stalks: 4501", "delivered_this_month_stalks: found 4501, allowed: a whole number from 0 to 4500, what the contract asks for in June"},
		{"in_dryers_stalks: 300", "in_dryers_stalks: 5000", "sites.Stone Weir's.in_dryers_stalks: found 5000, allowed: a whole number from 0 to 1500, what its dryers hold"},
		{"in_dryers_stalks: 300", "in_dryers_stalks: 300, dryers_down: 2", "sites.Stone Weir's.dryers_down: found 2, allowed: a whole number from 0 to 1"},
		{"sites:", "comes: [{on: 1 jun, to: hub, stalks: 5}]\nsites:", "comes[1].on: found \"1 jun\", allowed: a day from today on"},
		{"sites:", "comes: [{on: 5 jun, to: harbour, stalks: 5}]\nsites:", "comes[1].to: found \"harbour\", allowed: hub, or the name of a site"},
		{"sites:", "outlook_rain_mm: 12\nsites:", "outlook_rain_mm: found 12, allowed: rain of 1 to 10 days from today on, such as [12, 0, 30]"},
		{"sites:", "outlook_rain_mm: [12, -1]\nsites:", "outlook_rain_mm[2]: found -1, allowed: a number from 0 to 1825"},
		{"sites:", "rest_of_season: {dry: 0.5, middle: 0.5, wet: 0.5}\nsites:", "rest_of_season: found chances that add up to 1.5, allowed: the chances of three kinds of rest"},
	} {
		require.Contains(t, tinyStock, tt.old)
		text := strings.Replace(tinyStock, tt.old, tt.now, 1)
		code, out, errOut := inAhead(t, map[string]string{"stock.yaml": text}, "--stock", "stock.yaml")
		assert.Equal(t, exitUsage, code, tt.want)
		assert.Contains(t, errOut, tt.want)
		assert.Empty(t, out)
	}
	code, _, errOut := inAhead(t, map[string]string{"stock.yaml": tinyStock}, "--stock", "stock.yaml", "--with", "Stone Weir's: dryers=0")
	assert.Equal(t, exitUsage, code)
	assert.Contains(t, errOut, "in_dryers_stalks: found 300, allowed: 0, as the plan has no dryer at Stone Weir's (--with 'Stone Weir's: dryers=1' states one)")
	noDryer := strings.Replace(tinyStock, "in_dryers_stalks: 300", "in_dryers_stalks: 0, dryers_down: 1", 1)
	code, _, errOut = inAhead(t, map[string]string{"stock.yaml": noDryer}, "--stock", "stock.yaml", "--with", "Stone Weir's: dryers=0")
	assert.Equal(t, exitUsage, code)
	assert.Contains(t, errOut, "dryers_down: found 1, allowed: 0, as the plan has no dryer there")
	code, _, errOut = inAhead(t, nil)
	assert.Equal(t, exitUsage, code)
	assert.Contains(t, errOut, "--stock: found nothing, allowed: a file that says what lies where today")
	code, _, errOut = inAhead(t, map[string]string{"stock.yaml": tinyStock}, "--stock", "stock.yaml", "--truckload", "500")
	assert.Equal(t, exitUsage, code)
	assert.Contains(t, errOut, "--truck-price: found nothing, allowed: the price of a stalk of the truckload")
	code, _, errOut = inAhead(t, map[string]string{"stock.yaml": tinyStock}, "--stock", "stock.yaml", "--truckload", "500", "--truck-price", "0.1", "--truck-on", "2-jun")
	assert.Equal(t, exitUsage, code)
	assert.Contains(t, errOut, "--truck-on: found 2-jun, allowed: a day from today on")
}

// stockTable is the stock of tinyStock as a table.
const stockTable = `date,place,fresh_stalks,half_dry_stalks,nearly_dry_stalks,in_dryers_stalks,in_store_stalks,delivered_this_month_stalks
2026-06-03,stone weir's,900,600,400,300,200,
2026-06-03,hub,-,-,-,-,700,100
`

// A stock as a table says what it says as YAML, and what is wrong with it is said with its line and column.
func TestStockAsATable(t *testing.T) {
	answer := func(files map[string]string, name string) (a json.RawMessage) {
		code, out, errOut := inAhead(t, files, "--stock", name, "--json")
		require.Equal(t, exitDone, code, errOut)
		var all map[string]json.RawMessage
		require.NoError(t, json.Unmarshal([]byte(out), &all))
		return all["ahead"]
	}
	assert.Equal(t, string(answer(map[string]string{"stock.yaml": tinyStock}, "stock.yaml")), string(answer(map[string]string{"stock.csv": stockTable}, "stock.csv")))
	for _, tt := range []struct{ old, now, want string }{
		{"2026-06-03,hub,-,-,-,-,700,100\n", "", "stock.csv: place: found no line of hub, allowed: a line of every site of the scenario and one of the hub"},
		{"stone weir's,900", "stone wier's,900", "stock.csv:2: place: found \"stone wier's\", allowed: Stone Weir's"},
		{"900,600", "900.5,600", "stock.csv:2: fresh_stalks: found \"900.5\""},
		{"900,600", "95 kg,600", "stock.csv:2: fresh_stalks: found \"95 kg\""},
		{"900,600", ",600", "stock.csv:2: fresh_stalks: found nothing, allowed: a count; write 0 where there is none"},
		{"2026-06-03,hub", "2026-06-04,hub", "stock.csv:3: date: found 2026-06-04, allowed: the same day in all lines"},
		{"-,700,100", "-,700,9000", "stock.csv:3: delivered_this_month_stalks: found 9000, allowed: a whole number from 0 to 4500, what the contract asks for in June"},
		{"300,200,", "300,39000000,", "stock.csv:2: in_store_stalks: found 39000000, allowed: a whole number from 0 to 90000, 20 times the largest month of the contract"},
		{"hub,-", "hub,3", "stock.csv:3: fresh_stalks: found 3, allowed: nothing in the line of the hub"},
		{"2026-06-03", "03/06/2026", "stock.csv:2: date: found \"03/06/2026\""},
	} {
		require.Contains(t, stockTable, tt.old)
		code, out, errOut := inAhead(t, map[string]string{"stock.csv": strings.Replace(stockTable, tt.old, tt.now, 1)}, "--stock", "stock.csv")
		assert.Equal(t, exitUsage, code, tt.want)
		assert.Contains(t, errOut, tt.want)
		assert.Empty(t, out)
	}
}

// A month of paper tallies typed in with the usual slips: every slip is told with its line and column,
// or the line says nothing; none gives an answer that is wrong.
func TestSlipsOfATally(t *testing.T) {
	const head = "date,site,stalks,person_hours\n"
	for _, tt := range []struct{ text, want string }{
		{head + "2026-06-01,Stone Weir's,160,17.5\n", "cut.csv:2: stalks: found 160 in 17.5 person-hours, 9 an hour, allowed: 29 to 468 an hour, around the 117 of the scenario; are these kg (1,000 stalks weigh about"},
		{head + "2026-06-01,Stone Weir's,1710 kg,17.5\n", "cut.csv:2: stalks: found \"1710 kg\", allowed: a whole number"},
		{head + "2026-06-01,Stone Weir's,\"1,710\",17.5\n", "cut.csv:2: stalks: found \"1,710\", allowed: a whole number"},
		{head + "01/06/2026,Stone Weir's,1710,17.5\n02/06/2026,Stone Weir's,1710,17.5\n", "cut.csv:2: date: found \"01/06/2026\", allowed: 2026-06-01 or 2026-01-06"},
		{head + "2026-06-03,Stone Weir's,1710,17.5\n", "cut.csv:2: date: found 2026-06-03, allowed: a day before today, 3 June"},
		{head + "2026-05-30,Stone Weir's,1710,17.5\n", "cut.csv:2: date: found 2026-05-30, allowed: a day of the season of the scenario, from 1 June to 10 June"},
		{head + "2025-06-01,Stone Weir's,1710,17.5\n2026-06-02,Stone Weir's,1710,17.5\n", "cut.csv:3: date: found 2026-06-02, allowed: a day of the same season as 2025-06-01"},
		{head + "2026-06-01,Stone Weir's,1710,0\n", "cut.csv:2: person_hours: found 1710 stalks in 0 hours, allowed: both above 0, or both 0"},
		{head + "2026-06-01,Stone Weir's,1710,17.5\n2026-06-01,Stone Weir's,1500,17.5\n", "cut.csv:3: date, site: found the same as in line 2"},
		{head + "2026-06-01,Old Sluice,1710,17.5\n", "cut.csv:2: site: found \"Old Sluice\", allowed: one of Stone Weir's"},
		{head + "2026-06-01,Stone Weir's,?,\n", "cut.csv: stalks: found no day on which anything was cut"},
	} {
		code, out, errOut := inAhead(t, map[string]string{"stock.yaml": tinyStock, "cut.csv": tt.text}, "--stock", "stock.yaml", "--cut", "cut.csv")
		assert.Equal(t, exitUsage, code, tt.want)
		assert.Contains(t, errOut, tt.want)
		assert.Empty(t, out)
	}
	const good = "date;site;stalks;person_hours\n2.6.2026;Stone Weir's;1710;17,5\n"
	later := strings.Replace(tinyStock, "3 jun", "6 jun", 1)
	code, _, errOut := inAhead(t, map[string]string{"stock.yaml": later, "cut.csv": good + "5.6.2026;stone weir's;1600;17:30\n"}, "--stock", "stock.yaml", "--cut", "cut.csv")
	assert.Equal(t, exitDone, code, errOut)
	assert.Contains(t, errOut, "warning: cut.csv: no line of 2026-06-03, 2026-06-04: taken as not known, not as nothing")
	code, _, errOut = inAhead(t, map[string]string{"stock.yaml": later, "cut.csv": good, "rain.csv": "date,rain_mm\n2026-06-02,3\n2026-06-03,0\n"}, "--stock", "stock.yaml", "--cut", "cut.csv", "--rain", "rain.csv")
	assert.Equal(t, exitDone, code, errOut)
	for _, want := range []string{
		"warning: cut.csv: ends on 2 June, before today, 6 June: the days after are taken as not known, not as nothing",
		"warning: rain.csv: begins on 2 June, after the season does, 1 June: the days before are taken as not known, not as nothing",
		"warning: rain.csv: ends on 3 June, before today, 6 June: the days after are taken as not known, not as nothing",
	} {
		assert.Contains(t, errOut, want)
	}
	for text, want := range map[string]string{
		"date,rain_mm\n2026-06-04,3\n":               "rain.csv:2: date: found 2026-06-04, allowed: a day before today, 3 June",
		"date,rain_mm\n2026-06-01,3 mm\n":            "rain.csv:2: rain_mm: found \"3 mm\"",
		"date,rain_mm\n2026-06-01,2000\n":            "rain.csv:2: rain_mm: found \"2000\"",
		"date,rain\n2026-06-01,3\n":                  "rain",
		"date,rain_mm\n2026-06-01,3\n2026-06-01,4\n": "rain.csv:3: date: found the same as in line 2",
	} {
		code, out, errOut := inAhead(t, map[string]string{"stock.yaml": tinyStock, "rain.csv": text}, "--stock", "stock.yaml", "--rain", "rain.csv")
		assert.Equal(t, exitUsage, code, want)
		assert.Contains(t, errOut, want)
		assert.Empty(t, out)
	}
}

// What lies ahead is said in a sentence and a paragraph that can be read aloud; night fires are tried only
// with the word of those who tend them.
func TestAheadCanBeReadAloud(t *testing.T) {
	for k, args := range [][]string{{}, {"--night-work"}, {"--truckload", "1500", "--truck-price", "0.3"}, {"--cut", ofOneGroup("-cut.csv"), "--rain", ofOneGroup("-rain.csv")}} {
		args = append([]string{"--stock", ofOneGroup(".yaml"), "--json"}, args...)
		code, out, errOut := inAhead(t, nil, args...)
		require.Equal(t, exitDone, code, errOut)
		var a struct {
			Sentence, Paragraph string
			Ahead               struct {
				Ways []struct {
					Way string `json:"way"`
				} `json:"ways"`
			} `json:"ahead"`
		}
		require.NoError(t, json.Unmarshal([]byte(out), &a))
		readAloud(t, fmt.Sprintf("ahead %d", k), a.Sentence, a.Paragraph)
		assert.Equal(t, k == 1, strings.Contains(out, `"night_fires"`))
		assert.GreaterOrEqual(t, len(a.Ahead.Ways), 4)
	}
}
