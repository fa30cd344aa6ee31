package trials

import (
	"context"
	"math/rand/v2"
	"runtime"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drystalk/sim"
)

// The sum of a plan's sites serves the hub and says every figure as their rows do, where some stalks
// spoil and where all keep, and so do joined sums and their first seasons.
func TestTogetherIsTheSumOfTheSites(t *testing.T) {
	plan := []int{1, 0}
	for _, humidity := range []float64{0.65, 0.95} {
		set := tinySetup(1)
		set.Region.Hub.Humidity, set.Region.Hub.OpeningStock = humidity, 20_000
		table, err := set.Table(context.Background(), 0, 12, Only(plan), nil)
		require.NoError(t, err)
		later, err := set.Table(context.Background(), 12, 6, Only(plan), nil)
		require.NoError(t, err)
		sum, err := table.Together(plan)
		require.NoError(t, err)
		rest, err := later.Together(plan)
		require.NoError(t, err)
		want, got := Join(table, later), Join(sum, rest)
		assert.Equal(t, humidity > 0.9, want.OpeningKept(0) != nil, "whether anything spoils at a humidity of %g", humidity)
		sameSums(t, want, got, plan)
		sameSums(t, want.Before(15), got.Before(15).WithoutTolerance(), plan)
		none, err := want.Before(0).Together(plan)
		require.NoError(t, err)
		assert.Zero(t, none.Seasons)
	}
}

// sameSums asserts that two tables say the same of a plan as a whole.
func sameSums(t *testing.T, want, got *Table, plan []int) {
	t.Helper()
	require.NoError(t, got.CheckPlan(plan))
	require.Equal(t, want.Seasons, got.Seasons)
	months, again, sums := make([]sim.HubMonth, want.Months()), make([]sim.HubMonth, want.Months()), &Arriving{}
	figures := sim.Figures()
	require.Greater(t, len(figures), 40)
	for i := range want.Seasons {
		want.Hub(months, sums, plan, i)
		got.Hub(again, sums, plan, i)
		require.Equal(t, months, again, "season %d", i)
		require.Equal(t, want.RainMM(i), got.RainMM(i))
		require.Equal(t, want.Draws(i), got.Draws(i))
		for _, f := range figures {
			require.Equal(t, want.Sum(f.ID, plan, i), got.Sum(f.ID, plan, i), "%s, season %d", f.Key, i)
		}
	}
}

// What goes by site is there no longer, and is not mistaken for the sum; sums that fit into no row leave
// the table as it is; a plan that is not there is told.
func TestTogetherForgetsTheSites(t *testing.T) {
	set, plan := tinySetup(1), []int{0, 0}
	table, err := set.Table(context.Background(), 0, 2, Only(plan), nil)
	require.NoError(t, err)
	sum, err := table.Together(plan)
	require.NoError(t, err)
	for name, ask := range map[string]func(){
		"accepted": func() { sum.Accepted(0, 0, 0) }, "kept": func() { sum.Kept(0, 0, 0) }, "figure": func() { sum.At(sim.Cut, 0, 0, 0) },
		"month": func() { sum.MonthFigures(sim.Cut, 0, 0, 0) }, "dryer": func() { sum.DryerMinutes(0, 0, 0, 0) }, "digest": func() { sum.Digest() },
	} {
		assert.Panics(t, ask, name)
	}
	_, err = table.Together([]int{1, 0})
	assert.EqualError(t, err, table.CheckPlan([]int{1, 0}).Error())
	for site := range 2 {
		table.row(site, 0, 1)[table.Months()+int(sim.Cut)] = 1 << 30
	}
	same, err := table.Together(plan)
	require.NoError(t, err)
	assert.Same(t, table, same)
}

// The sum of the sites takes a few dozen bytes a season besides its rain, however many sites there are.
func TestTogetherKeepsFewBytesOfASeason(t *testing.T) {
	kept := func(pieces int) uint64 {
		rng, set, plan := rand.New(rand.NewPCG(3, 4)), tinySetup(1), []int{1, 1}
		before := inUse()
		var all *Table
		for k := range pieces {
			study, err := set.Study(k*window, window, []Variant{{Region: set.Region, Levels: Only(plan)}})
			require.NoError(t, err)
			table := study.Tables[0]
			for i := range window {
				for site := range 2 {
					table.put(sim.Lane{Site: site, Dryers: 1}, i, made(rng))
				}
			}
			table.runTo(window)
			sum, err := table.Together(plan)
			require.NoError(t, err)
			if all == nil {
				all = sum
				continue
			}
			all = Join(all, sum)
		}
		after := inUse()
		runtime.KeepAlive(all)
		return after - before
	}
	kept(1)
	few, many := kept(4), kept(20)
	assert.Less(t, float64(many-few)/(16*window), 90.0, "bytes a season")
}
