package chart

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"drystalk/sim"
)

// The chart of dryer use leaves out no hour: every state is in exactly one band.
func TestEveryStateIsInOneBand(t *testing.T) {
	var drawn []sim.DryerState
	for _, b := range useBands {
		drawn = append(drawn, b.states...)
	}
	assert.ElementsMatch(t, sim.DryerStates(), drawn)
}
