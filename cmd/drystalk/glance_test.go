package main

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drystalk/report"
	"drystalk/scenarios"
)

// What the collections of a month must bring adds up to what the contract asks of it.
func TestPickupsAddUpToTheContract(t *testing.T) {
	s, err := scenarios.Demo(scenarios.LakeTavari)
	require.NoError(t, err)
	sum := map[string]float64{}
	for _, p := range report.PickupsOf(&s.Region) {
		month, _ := s.Region.Calendar.Date(p.Day)
		sum[month.String()] += p.Must
	}
	require.Len(t, sum, 7)
	for month, asked := range s.Region.Contract.StalksByMonth {
		if asked > 0 {
			assert.InDelta(t, float64(asked), sum[month.String()], 1e-6, month)
		}
	}
}
