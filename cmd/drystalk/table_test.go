package main

import (
	"encoding/csv"
	"encoding/json"
	"os"
	"slices"
	"strconv"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drystalk/report/columns"
)

// The table of odds has a row for every season; what they meet is what the answer counts.
func TestTableOfOdds(t *testing.T) {
	t.Chdir(t.TempDir())
	require.NoError(t, os.WriteFile("plan.yaml", []byte(tiny), 0o644))
	code, out, errOut := runHere(t, "odds", "plan.yaml", "--seasons", "40", "--json", "--table", "new/seasons.csv")
	require.Equal(t, exitDone, code, errOut)
	var answer struct {
		Plan struct {
			Months []struct {
				Odds struct{ Met, Seasons int }
			}
		}
	}
	require.NoError(t, json.Unmarshal([]byte(out), &answer))
	require.Len(t, answer.Plan.Months, 1)
	file, err := os.Open("new/seasons.csv")
	require.NoError(t, err)
	rows, err := csv.NewReader(file).ReadAll()
	require.NoError(t, err)
	require.NoError(t, file.Close())
	require.Len(t, rows, 41)
	met := 0
	for _, row := range rows[1:] {
		if row[slices.Index(rows[0], "met_jun")] == "true" {
			met++
		}
	}
	assert.Equal(t, answer.Plan.Months[0].Odds.Met, met)
	dictionary, err := os.ReadFile("new/seasons.columns.csv")
	require.NoError(t, err)
	assert.Contains(t, string(dictionary), "cut_stalks,stalks,whole number,figure of the ledger: cut")
}

// Tables of dryers and compare have rows for each plan, of months too; the plan as written has the
// rows that odds gives it.
func TestTablesOfPlans(t *testing.T) {
	t.Chdir(t.TempDir())
	require.NoError(t, os.WriteFile("plan.yaml", []byte(tiny), 0o644))
	for _, args := range [][]string{
		{"dryers", "plan.yaml", "--seasons", "31", "--search", "30", "--table", "dryers.parquet"},
		{"compare", "plan.yaml", "--with", "Stone Weir's: dryers=2", "--seasons", "31", "--futures", "31", "--table", "compare.parquet", "--table-rows", "month"},
		{"odds", "plan.yaml", "--seasons", "31", "--table", "odds.parquet", "--table-rows", "site-month"},
	} {
		code, out, errOut := runHere(t, args...)
		require.Equal(t, exitDone, code, errOut)
		assert.Contains(t, out, "\n  "+args[0]+".parquet\n")
	}
	cut := map[string]map[string]float64{} // by file and plan: stalks cut in the first 31 seasons
	for name, plan := range map[string]string{"dryers": "dryers_in_all", "compare": "plan", "odds": "site"} {
		table, err := columns.ReadFile(name + ".parquet")
		require.NoError(t, err)
		require.NoError(t, table.Check())
		at := map[string]int{}
		for c, col := range table.Columns {
			at[col.Name] = c
		}
		require.Contains(t, at, plan)
		cut[name] = map[string]float64{}
		for _, row := range table.Rows {
			if row[at["season"]].Number < 31 {
				cell := row[at[plan]]
				cut[name][cell.Text+strconv.FormatFloat(cell.Number, 'g', -1, 64)] += row[at["cut_stalks"]].Number
			}
		}
	}
	require.Contains(t, cut["odds"], "Stone Weir's0")
	assert.Equal(t, cut["odds"]["Stone Weir's0"], cut["compare"]["first0"])
	assert.Equal(t, cut["odds"]["Stone Weir's0"], cut["dryers"]["1"])
	assert.Len(t, cut["compare"], 2)
}

// A table that cannot be is refused before anything is run.
func TestTableUsage(t *testing.T) {
	for want, args := range map[string][]string{
		`error: --table: found "seasons.xlsx", allowed: a file that ends in .parquet or .csv` + "\n":                   {"--table", "seasons.xlsx"},
		`error: --table-rows: found "week", allowed: season, site, month or site-month` + "\n":                         {"--table", "seasons.csv", "--table-rows", "week"},
		`error: --table-rows: found it without --table, allowed: beside a file such as --table seasons.parquet` + "\n": {"--table-rows", "month"},
	} {
		code, _, errOut := runHere(t, append([]string{"odds", "--json"}, args...)...)
		assert.Equal(t, exitUsage, code)
		assert.Equal(t, want, errOut)
	}
}
