package table

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"drystalk/sim"
)

// wideTable is a table of so many named rows and columns.
func wideTable(rows, columns int, head string) Table {
	t := Table{Title: "Wide", Head: []string{"dryers"}, Left: 1}
	for c := range columns {
		t.Head = append(t.Head, fmt.Sprintf("%s %d", head, c+1))
	}
	for r := range rows {
		row := []Cell{plain(r, "")}
		for c := range columns {
			row = append(row, plain(100*r+c, ""))
		}
		t.Rows = append(t.Rows, row)
	}
	return t
}

// Fourteen sites with long names become rows; a table that fits stays as it is.
func TestWideTablesAreTurned(t *testing.T) {
	small := wideTable(3, 4, "site")
	assert.Equal(t, []Table{small}, small.Fitted(100))
	got := wideTable(9, 14, "UpperBackwaterLandingOfTheVillage").Fitted(100)
	require.Len(t, got, 1)
	assert.Equal(t, []string{"dryers", "0", "1", "2", "3", "4", "5", "6", "7", "8"}, got[0].Head)
	require.Len(t, got[0].Rows, 14)
	assert.Equal(t, "UpperBackwaterLandingOfTheVillage 14", got[0].Rows[13][0].Text)
	assert.Equal(t, "813", got[0].Rows[13][9].Text)
}

// However wide a table is, no cell is lost, every part names its rows, and none is wider than asked
// where one column fits.
func TestFittedTablesKeepEveryCell(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		table := wideTable(rapid.IntRange(1, 60).Draw(t, "rows"), rapid.IntRange(1, 60).Draw(t, "columns"), rapid.SampledFrom([]string{"a", "median", "Lower Channel"}).Draw(t, "head"))
		seen := map[string]int{}
		for _, row := range table.Rows {
			for _, c := range row[1:] {
				seen[c.Text]++
			}
		}
		for _, part := range table.Fitted(60) {
			if part.wide() > 60 {
				t.Fatalf("a part is %d letters wide", part.wide())
			}
			for _, row := range part.Rows {
				if len(row) != len(part.Head) {
					t.Fatalf("%d cells under %d heads", len(row), len(part.Head))
				}
				for _, c := range row[1:] {
					seen[c.Text]--
				}
			}
		}
		for text, n := range seen {
			if n != 0 {
				t.Fatalf("%s: %d times too often in the table", text, n)
			}
		}
	})
}

// Sites of which the same is stated stand in one row; nothing else is joined.
func TestAssumptionsStandOnce(t *testing.T) {
	got := AssumptionsOnce(Assumptions([]sim.Assumption{
		{Name: "site A", Value: "cutters 3", Source: "stated"},
		{Name: "site B", Value: "cutters 3", Source: "stated"},
		{Name: "site C", Value: "cutters 4", Source: "stated"},
		{Name: "hub.x", Value: "0", Source: "none stated"},
		{Name: "hub.y", Value: "0", Source: "none stated"},
	}))
	var names []string
	for _, row := range got.Rows {
		names = append(names, row[0].Text)
	}
	assert.Equal(t, []string{"site A; B", "site C", "hub.x", "hub.y"}, names)
}

// What is stated alike of months that follow each other is said once; anything else stays.
func TestMonthsOnce(t *testing.T) {
	for list, want := range map[string]string{
		"stalks_per_month.apr 9 stalks, stalks_per_month.may 9 stalks, stalks_per_month.jun 9 stalks": "stalks_per_month.apr to jun 9 stalks",
		"a.apr 9, a.may 8, a.jun 8, b.jul 8, tolerance 0.05":                                          "a.apr 9, a.may to jun 8, b.jul 8, tolerance 0.05",
		"a.apr 9, a.jun 9": "a.apr 9, a.jun 9",
		"cutters 5":        "cutters 5",
	} {
		assert.Equal(t, want, monthsOnce(list))
	}
}

// A table that takes two parts has them about as wide as each other.
func TestPartsAreEven(t *testing.T) {
	table := wideTable(2, 12, "column")
	whole := table.wide()
	parts := table.parted(whole - 2)
	require.Len(t, parts, 2)
	assert.InDelta(t, parts[0].wide(), parts[1].wide(), 8)
	assert.Equal(t, table.Title+" (continued)", parts[1].Title)
}

// Columns that are read together stay together on paper, however narrow it is.
func TestColumnsReadTogetherAreNotParted(t *testing.T) {
	w := wideTable(40, 6, "third")
	w.Together = 3
	got := w.Fitted(20)
	require.Len(t, got, 2)
	assert.Equal(t, []string{"dryers", "third 1", "third 2", "third 3"}, got[0].Head)
	assert.Equal(t, []string{"dryers", "third 4", "third 5", "third 6"}, got[1].Head)
}
