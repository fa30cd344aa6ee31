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
	assert.Less(t, one, 2*200+20.0)
	assert.LessOrEqual(t, perRun(30), one)
}
