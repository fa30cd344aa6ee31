package decide

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drystalk/sim"
	"drystalk/sim/trials"
)

// The years of a plan add up to what the plan does in the same seasons: months met, stalks
// missing, and what took most stalks.
func TestYearsAddUp(t *testing.T) {
	s, set := small(t)
	s.Region.Contract.StalksByMonth = map[time.Month]int{time.June: 1_300, time.July: 1_000_000} // July is always missed
	table := tableOf(t, set, 10, 0)
	judged, err := Judge(table, []int{0})
	require.NoError(t, err)
	names := make([]int, 10)
	for i := range names {
		names[i] = 1951 + i
	}
	years := Years(table, []int{0}, names)
	require.Len(t, years, 10)
	met, missing := 0, 0
	for i, y := range years {
		assert.Equal(t, 1951+i, y.Year)
		assert.Equal(t, 2, y.Asked)
		assert.Len(t, y.Missed, 2-y.Met)
		assert.Contains(t, y.Missed, "July")
		assert.Equal(t, "July", y.Worst, "it misses the larger part")
		most := 0
		for _, lost := range []sim.FigureID{
			sim.NotCutRain, sim.NotCutYardFull, sim.NotCutPeople, sim.NotCutStand, sim.NotCutClosed,
			sim.Second, sim.Rejected, sim.ThrownOut, sim.Broken, sim.RefusedAtGate,
		} {
			most = max(most, table.Sum(lost, []int{0}, i))
		}
		assert.Equal(t, most, y.LostCount)
		assert.Equal(t, most, table.Sum(y.MostLost, []int{0}, i), "named is what it was lost to")
		met += y.Met
		missing += y.Missing
	}
	require.Len(t, judged.Months, 2)
	assert.Equal(t, judged.Months[0].Odds.Met+judged.Months[1].Odds.Met, met)
	assert.True(t, 0 < met && met < 10, "June is met in some years: %d", met)
	assert.InDelta(t, 10*(judged.Months[0].Shortfall.Mean+judged.Months[1].Shortfall.Mean), float64(missing), 1e-6)
}

// A year in which everything is met names no month; a month that asks for nothing is not
// counted.
func TestYearsWithNothingMissed(t *testing.T) {
	s, set := small(t)
	s.Region.Contract.StalksByMonth = map[time.Month]int{time.July: 1}
	years := Years(tableOf(t, set, 3, 1), []int{1}, []int{1951, 1952, 1953})
	require.Len(t, years, 3)
	for _, y := range years {
		assert.Equal(t, 1, y.Asked)
		assert.Equal(t, 1, y.Met)
		assert.Zero(t, y.Missing)
		assert.Empty(t, y.Missed)
		assert.Empty(t, y.Worst)
	}
}

// Fisher's exact test against published tables: the lady who tastes tea, 3 of 4 against 1 of
// 4, has 34 of 70 tables no likelier (Fisher 1935), two-sided 0.4857; the twins of convicts,
// 10 of 13 against 2 of 17, have 0.0005367 (the manual page of fisher.test in R).
func TestFisherAgainstTables(t *testing.T) {
	assert.InDelta(t, 34.0/70, fisher(3, 4, 1, 4), 1e-12)
	assert.InDelta(t, 0.0005367, fisher(10, 13, 2, 17), 5e-8)
	assert.InDelta(t, 0.0005367, fisher(2, 17, 10, 13), 5e-8, "either way round")
	assert.InDelta(t, 1, fisher(5, 10, 50, 100), 1e-12, "the same share")
	assert.InDelta(t, 1, fisher(0, 7, 0, 9), 1e-12)
}

// One month out of two that tells record from generator is enough to disagree, at 0.05 over
// the number of months.
func TestAgree(t *testing.T) {
	result := func(seasons int, met ...int) PlanResult {
		var r PlanResult
		for k, m := range met {
			r.Months = append(r.Months, MonthResult{Name: time.Month(6 + k).String(), Odds: trials.NewOdds(m, seasons)})
		}
		return r
	}
	months, agree := Agree(result(20, 18, 10), result(1000, 900, 500))
	require.Len(t, months, 2)
	assert.True(t, agree)
	assert.Equal(t, "July", months[1].Name)
	assert.Equal(t, 10, months[1].Real.Met)
	assert.Equal(t, 500, months[1].Generator.Met)

	months, agree = Agree(result(20, 18, 2), result(1000, 900, 500))
	assert.False(t, agree)
	assert.Greater(t, months[0].PValue, 0.05)
	assert.Less(t, months[1].PValue, 0.001)

	// A month at 0.046 disagrees alone and not beside another: 15 of 20 against 900 of 1000.
	p := fisher(15, 20, 900, 1000)
	require.True(t, 0.025 < p && p < 0.05, "%g", p)
	_, agree = Agree(result(20, 15), result(1000, 900))
	assert.False(t, agree)
	_, agree = Agree(result(20, 15, 18), result(1000, 900, 900))
	assert.True(t, agree)
}

// Where nobody cuts, nothing is lost either.
func TestNothingLost(t *testing.T) {
	s, set := small(t)
	s.Region.Sites[0].OutputPerPersonH = 0
	years := Years(tableOf(t, set, 2, 0), []int{0}, []int{1951, 1952})
	require.Len(t, years, 2)
	for _, y := range years {
		assert.Equal(t, sim.NoFigure, y.MostLost)
		assert.Zero(t, y.LostCount)
		assert.Equal(t, "June", y.Worst, "all of both is missing: the first of equals")
	}
}
