package decide

import (
	"context"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drystalk/sim"
	"drystalk/sim/goal"
	"drystalk/sim/money"
	"drystalk/sim/trials"
)

// A plan whose seasons are lived through piece by piece, with the rows of its sites added up, is told as
// one whose rows are all there: odds of every goal that goes by stalks, flows, money, hub and what months
// are missed, where stalks spoil at the hub and the contract has a tolerance.
func TestCourseAddedUpSaysTheSame(t *testing.T) {
	const seasons = 130
	set := sites(t, 26_000, 3)
	set.Region.Sites[1].Dryers = 2
	set.Region.Hub.Humidity, set.Region.Hub.OpeningStock, set.Region.Contract.Tolerance = 0.9, 4000, 0.05
	plan := PlanOf(set.Region)
	p := &money.Prices{PerGoodStalk: 0.12, PerStalkCut: 0.04, WagePerH: 1.3, WoodPerKg: 0.1, PerMissing: 0.2, PerSecondStalk: 0.01, SecondMost: 900, DryerCost: 900, DryerYears: 5}
	rows, err := CourseOf(t.Context(), CourseQuestion{Setup: set, Prices: p, Seasons: seasons})
	require.NoError(t, err)
	set.Together = true
	told := 0
	sum, err := CourseOf(t.Context(), CourseQuestion{Setup: set, Prices: p, Seasons: seasons, piece: 110, Tell: func(done int) { told = max(told, done) }})
	require.NoError(t, err)
	assert.Equal(t, seasons, told)
	assert.Equal(t, rows.Hub, sum.Hub)
	assert.Equal(t, rows.Earns(p, plan), sum.Earns(p, plan))
	direct, _, err := EarnsOf(p, set.Region, rows.Table, plan)
	require.NoError(t, err)
	assert.Equal(t, direct, *sum.Earns(p, plan))
	for _, kind := range []goal.Kind{goal.WorstMonth, goal.AllMonths} {
		want, err := JudgeFor(goal.Goal{Kind: kind}, set.Region, rows.Table, plan)
		require.NoError(t, err)
		got, err := JudgeFor(goal.Goal{Kind: kind}, set.Region, sum.Table, plan)
		require.NoError(t, err)
		require.NotNil(t, got.Strict)
		assert.Equal(t, want, got)
	}
	var missed, again Shortage
	want := missedMonths(rows.Table, plan, seasons, &missed)
	require.NotEmpty(t, want)
	assert.Equal(t, want, missedMonths(sum.Table, plan, seasons, &again))
	assert.Panics(t, func() { sum.Table.MonthFigures(sim.Cut, 1, 2, 0) }, "the rows of single sites are gone")
	assert.NotPanics(t, func() { rows.Table.MonthFigures(sim.Cut, 1, 2, 0) })
}

// A course is stopped between its pieces as within them, and few seasons keep their rows.
func TestCourseStopsAndKeeps(t *testing.T) {
	_, set := small(t)
	set.Together = true
	few, err := CourseOf(t.Context(), CourseQuestion{Setup: set, Seasons: 20})
	require.NoError(t, err)
	assert.Nil(t, few.Earns(nil, PlanOf(set.Region)), "no prices")
	whole, err := set.Table(t.Context(), 0, 20, trials.Only(PlanOf(set.Region)), nil)
	require.NoError(t, err)
	assert.Equal(t, whole.Digest(), few.Table.Digest())
	set.Together = false
	read, err := CourseOf(t.Context(), CourseQuestion{Setup: set, Seasons: 20, piece: 8})
	require.NoError(t, err)
	assert.Equal(t, whole.Digest(), read.Table.Digest(), "somebody reads the rows of many seasons")
	set.Together = true
	ctx, stop := context.WithCancel(t.Context())
	_, err = CourseOf(ctx, CourseQuestion{Setup: set, Seasons: 40, piece: 10, Tell: func(done int) {
		if done > 12 {
			stop()
		}
	}})
	assert.ErrorIs(t, err, context.Canceled)
}
