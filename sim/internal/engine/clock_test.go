package engine

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Engines on one clock live a day of each after another, each in its own order, and end at the
// same time; a later run goes on with them.
func TestEnginesLiveSideBySide(t *testing.T) {
	var log []string
	var c Clock
	for _, name := range []string{"a", "b"} {
		e := New(func(nowH float64, day int) { log = append(log, fmt.Sprintf("%s %g", name, nowH)) })
		for _, timeH := range []float64{30, 2, 23, 48} {
			e.At(timeH, 0, 0)
		}
		c.Drive(e)
	}
	require.NoError(t, c.RunDays(2))
	assert.Equal(t, []string{"a 2", "a 23", "b 2", "b 23", "a 30", "b 30"}, log)
	require.NoError(t, c.RunDays(3))
	assert.Equal(t, []string{"a 48", "b 48"}, log[6:])
	require.NoError(t, c.RunDays(3), "no day runs twice")
	assert.Len(t, log, 8)
}

// A day of each engine comes after another, and an evening after each day, however many days are run
// at a time and in one event of the library.
func TestDaysAreLivedInTurns(t *testing.T) {
	const days = 2*daysAnEvent + 5
	var want []string
	for day := range days {
		want = append(want, fmt.Sprint("a ", day), fmt.Sprint("b ", day), fmt.Sprint("evening ", day))
	}
	for _, stops := range [][]int{{days}, {1, 2, daysAnEvent, daysAnEvent + 1, days}, {daysAnEvent - 1, 2 * daysAnEvent, days}} {
		var log []string
		var c Clock
		for _, name := range []string{"a", "b"} {
			var e *Engine[int]
			e = New(func(nowH float64, day int) {
				log = append(log, fmt.Sprint(name, " ", day))
				e.At(nowH+24, 0, day+1)
			})
			e.At(12, 0, 0)
			c.Drive(e)
		}
		c.Evening(func(day int) { log = append(log, fmt.Sprint("evening ", day)) })
		for _, to := range stops {
			require.NoError(t, c.RunDays(to))
			require.Len(t, log, 3*to)
		}
		require.Equal(t, want, log, "stops at %v", stops)
		assert.Greater(t, c.sim.Now(), 24.0*(days-daysAnEvent), "the library drives them")
	}
}

// The clock tells whose day failed, and goes on only after a reset.
func TestClockTellsWhoFailed(t *testing.T) {
	var c Clock
	for i := range 3 {
		e := New(func(float64, int) {
			if i == 1 {
				panic("a bug")
			}
		})
		e.At(26, 0, 0)
		c.Drive(e)
	}
	require.ErrorContains(t, c.RunDays(4), "at hour 26: a bug")
	assert.Equal(t, 1, c.Running())
	require.ErrorContains(t, c.RunDays(4), "a bug")
	c.Reset()
	require.NoError(t, c.RunDays(4))
}

// However many engines a clock drives, its days cost the event library the same few pieces of
// memory.
func TestDaysOfManyEnginesCostThoseOfOne(t *testing.T) {
	perRun := func(engines int) float64 {
		var c Clock
		var all []*Engine[int]
		for range engines {
			all = append(all, New(func(float64, int) {}))
		}
		return testing.AllocsPerRun(20, func() {
			c.Reset()
			for _, e := range all {
				e.Reset()
				c.Drive(e)
			}
			require.NoError(t, c.RunDays(200))
		})
	}
	one := perRun(1)
	assert.Less(t, one, 2.0*200/daysAnEvent+20)
	assert.LessOrEqual(t, perRun(30), one)
}
