package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// TestEveryTableOfWeatherHasItsTerms looks for a row of owner and licence for each table that is
// shipped, and for the owner's notice where the terms of other countries bind: data of theirs must
// not be part of the program that is built.
func TestEveryTableOfWeatherHasItsTerms(t *testing.T) {
	for _, folder := range []string{"../../testdata/records", "../../scenarios/normals"} {
		text, err := os.ReadFile(filepath.Join(folder, "PROVENANCE.md"))
		require.NoError(t, err)
		tables, err := filepath.Glob(filepath.Join(folder, "*.csv"))
		require.NoError(t, err)
		require.NotEmpty(t, tables)
		for _, table := range tables {
			row := rowOf(string(text), filepath.Base(table))
			require.Len(t, row, 4, "%s in %s: what, source and licence", table, folder)
			for _, cell := range row {
				assert.NotEmpty(t, strings.TrimSpace(cell), table)
			}
		}
	}
	records, err := os.ReadFile("../../testdata/records/PROVENANCE.md")
	require.NoError(t, err)
	assert.Contains(t, string(records), "WMO Resolution 40 (Cg-XII)")
	assert.Contains(t, string(records), "For non-U.S. locations, the data or any derived product shall not be provided to other users")
	shipped, err := filepath.Glob("../../scenarios/normals/*.csv")
	require.NoError(t, err)
	assert.Len(t, shipped, 1, "what the program carries is the table of normals alone")
}

// rowOf returns the cells of the row of a Markdown table that names a file.
func rowOf(text, file string) []string {
	for _, line := range strings.Split(text, "\n") {
		if strings.HasPrefix(line, "|") && strings.Contains(line, file) {
			return strings.Split(strings.Trim(line, "|"), "|")
		}
	}
	return nil
}
