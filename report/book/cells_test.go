package book

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"drystalk/report/table"
)

// Figures come apart as the tables write them.
func TestFiguresComeApart(t *testing.T) {
	for text, want := range map[string]float64{"1,234": 1234, "-5,000": -5000, "+12": 12, "92 %": 92, "under 1 %": 1, "T$ 1,200": 1200, "0.0835": 0.0835} {
		x, _, ok := numberOf(text)
		assert.True(t, ok, text)
		assert.Equal(t, want, x, text)
	}
	for _, text := range []string{"", "August", "8 (fund)", "1 Jul", "no limit", "2.5 years", "1 to 2"} {
		_, _, ok := numberOf(text)
		assert.False(t, ok, text)
	}
	g := gridOf(table.Table{
		Title: "x", Head: []string{"dryers", "met in", "interval", "month"}, Left: 1,
		Rows: [][]string{{"0", "under 1 % (0 to 2 %)", "1,000 to 2,000", "July"}, {"1", "92 % (90 to 94 %)", "", "August"}},
	})
	assert.Equal(t, []string{"dryers", "met in, %", "met in, %, low", "met in, %, high", "interval, from", "interval, to", "month"}, g.head)
	assert.Equal(t, []cell{{number: 1, isNumber: true}, {number: 92, isNumber: true}, {number: 90, isNumber: true}, {number: 94, isNumber: true}, {}, {}, {text: "August"}}, g.rows[1])
}
