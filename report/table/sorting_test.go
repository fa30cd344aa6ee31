package table

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drystalk/report/internal/sample"
	"drystalk/sim/trials"
)

// A cell is sorted by the number that it says, however it says it.
func TestCellsSortByWhatTheySay(t *testing.T) {
	for _, tt := range []struct {
		cell Cell
		want string
	}{
		{odds(trials.NewOdds(3, 1000)), "0.003"}, // "under 1 %"
		{odds(trials.NewOdds(998, 1000)), "0.998"},
		{percent(0.92), "0.92"},
		{count(12_345, ""), "12345"},
		{meanSpan(trials.Mean{Mean: 5, Low: -1200.5, High: 7}, ""), "-1200.5"},
		{one("no limit", Money, "", math.Inf(1)), "Infinity"},
		{text("12 of them"), ""},
		{text(""), ""},
	} {
		assert.Equal(t, tt.want, tt.cell.Sorts(), tt.cell.Text)
	}
}

// A table is sortable where a column is of one kind; what sums up the rows is not among those sorted.
func TestWhatCanBeSorted(t *testing.T) {
	a := sample.Answer()
	dryers := Dryers(a)
	require.GreaterOrEqual(t, len(dryers.Rows), 3)
	assert.True(t, dryers.Sortable())
	parts := Parts(a.Money[0], "coins")
	require.Greater(t, len(parts.Rows), 1)
	assert.Len(t, parts.Foot(), 1)
	assert.Equal(t, parts.Rows[len(parts.Rows)-1], parts.Foot()[0])
	assert.Len(t, parts.Lines(), len(parts.Rows)-1)
	mixed := Table{Head: []string{"", "x"}, Left: 1, Rows: [][]Cell{{text("a"), count(1, "h")}, {text("b"), count(2, "h")}, {text("c"), count(3, "kg")}}}
	assert.False(t, mixed.Sortable(), "hours and kilograms")
	mixed.Rows[2][1] = text("none")
	assert.True(t, mixed.Sortable())
	assert.False(t, Table{Said: true, Rows: mixed.Rows, Head: mixed.Head}.Sortable())
}
