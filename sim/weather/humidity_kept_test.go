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
}
