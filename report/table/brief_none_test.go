package table

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"drystalk/sim/decide"
	"drystalk/sim/trials"
)

// A plan that misses no month has no worst month beside another plan either.
func TestNoneMissedOfTwoPlans(t *testing.T) {
	some := func(name string) decide.MonthResult {
		return decide.MonthResult{Name: name, Odds: trials.NewOdds(90, 100)}
	}
	none := decide.MonthResult{Name: "April", Odds: trials.NewOdds(100, 100)}
	assert.Equal(t, "worst month met in", worstOf(none, none))
	assert.Equal(t, "worst month, July, met in", worstOf(some("July"), none))
	assert.Equal(t, "worst month, July, met in", worstOf(none, some("July")))
	assert.Equal(t, "worst month, July, met in", worstOf(some("July"), some("July")))
	assert.Equal(t, "worst month (July, then August) met in", worstOf(some("July"), some("August")))
	assert.Equal(t, "none missed", oddsOrNone(none).Text)
	assert.Contains(t, oddsOrNone(some("July")).Text, "90 %")
}
