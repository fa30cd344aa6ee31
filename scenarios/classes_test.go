package scenarios

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drystalk/sim"
)

// The days and the moistures of the classes of a stock are those that stalks of them have in seasons of
// the demo with and without a dryer, to two days and five hundredths.
func TestWetClassesAreThoseOfTheYard(t *testing.T) {
	require.Len(t, wetClasses, 3)
	var stalks, age, wet [3]float64
	for _, dryers := range []string{"1", "0"} {
		s, err := Demo(OneCooperative)
		require.NoError(t, err)
		s, err = s.With([]string{"Heron Point: dryers=" + dryers})
		require.NoError(t, err)
		c, err := s.Setup(1)
		require.NoError(t, err)
		season, err := c.Setup.Season(0)
		require.NoError(t, err)
		for day := 100; day < 230; day += 10 { // through the rains
			run := sim.NewRunner(c.Setup.Region)
			run.TakenOn = day
			_, err := run.Ledger(season)
			require.NoError(t, err)
			for _, l := range run.Taken()[0].Sites[0].Yard {
				class := 0
				switch w := l.Wet.WetBasis(); {
				case w <= 0.6:
					class = 2
				case w <= 0.86:
					class = 1
				}
				n := float64(l.Stalks)
				stalks[class], age[class], wet[class] = stalks[class]+n, age[class]+n*float64(day-l.CutDay), wet[class]+n*float64(l.Wet.WetBasis())
			}
		}
	}
	for i, c := range wetClasses {
		require.Positive(t, stalks[i])
		t.Logf("%s: cut %.1f days ago, %.2f wet basis", c.key, age[i]/stalks[i], wet[i]/stalks[i])
		assert.InDelta(t, float64(c.daysAgo), age[i]/stalks[i], 2)
		if c.wet > 0 {
			assert.InDelta(t, float64(c.wet), wet[i]/stalks[i], 0.05)
		}
	}
}
