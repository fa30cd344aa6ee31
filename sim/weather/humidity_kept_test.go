package weather

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Wet hours that are kept are those of the very month that is asked for: months that differ in one thing
// have hours of their own, whichever was asked for before.
func TestKeptWetHoursAreThoseDrawn(t *testing.T) {
	of := rainOfMonth{month: 6, excessMM: 20, rainDays: 18}
	months := []rainOfMonth{of, of, of, of, of}
	months[1].month, months[2].excessMM, months[3].rainDays, months[4].coast = 7, 21, 19, true
	seen := map[[24]float64]bool{}
	for range 2 { // drawn, then kept
		for _, m := range months {
			require.Equal(t, m.drawWet(), keptWet.of(m))
			seen[keptWet.of(m)] = true
		}
	}
	assert.Len(t, seen, len(months))

	n := levelNormals(0.6, 20)
	n.Place.Coast = true
	_, excess := n.monthlyWet(6)
	asked := rainOfMonth{month: 6, excessMM: excess, rainDays: n.Months[6].RainDays, coast: true}
	assert.Equal(t, asked.drawWet(), n.humidHours(6).wet, "a coast has the hours of a coast")
	n.Place.Coast = false
	assert.NotEqual(t, asked.drawWet(), n.humidHours(6).wet)
}
