package table

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drystalk/report/internal/sample"
	"drystalk/sim/trials"
)

// Of fewer than 20 futures tables say no median: the purchase has the least and the most, a what-if nothing.
func TestNoMedianOfAHandfulOfFutures(t *testing.T) {
	p := *sample.Comparison().Purchase
	p.PaysIn = trials.Band{P5: 6, Median: 67, P95: 80, Seasons: 19}
	said := map[string]string{}
	for _, row := range Purchase(p, "coins").Rows {
		said[row[0].Text] = row[1].Text
	}
	assert.Equal(t, "6 months to 6.7 years", said["back after, least and most (too few futures for a median)"])
	assert.NotContains(t, said, "back after, median of the futures in which it does")
	back := func() string {
		rows := WhatIf(p, "coins").Rows
		require.NotEmpty(t, rows)
		return rows[0][6].Text
	}
	assert.Equal(t, "-", back())
	p.PaysIn.Seasons = 20
	assert.Equal(t, "5.6 years", back())
}
