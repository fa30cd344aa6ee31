package decide

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"drystalk/sim/trials"
)

// plansWith returns plans of 0, 1, ... dryers whose one month is met in so many of 100
// seasons.
func plansWith(met ...int) []PlanResult {
	var plans []PlanResult
	for n, k := range met {
		plans = append(plans, PlanResult{Dryers: n, Months: []MonthResult{{Odds: trials.NewOdds(k, 100)}}})
	}
	return plans
}

// The needed number is the smallest that reaches the target, equality included; it is
// sure only when its interval lies above the target and that of one fewer below.
func TestNeededAndSure(t *testing.T) {
	for _, tt := range []struct {
		met        []int
		needed     int
		sure       bool
		cannotTell []int
	}{
		{[]int{10, 60, 99}, 2, true, nil},
		{[]int{10, 60, 90, 99}, 2, false, []int{2}},
		{[]int{10, 88, 91, 99}, 2, false, []int{1, 2}},
		{[]int{10, 30, 50}, -1, false, nil},
		{[]int{100}, 0, true, nil},
	} {
		a := Answer{Target: 0.9, Needed: -1, Plans: plansWith(tt.met...)}
		a.decide()
		assert.Equal(t, tt.needed, a.Needed, "%v", tt.met)
		assert.Equal(t, tt.sure, a.Sure, "%v", tt.met)
		assert.Equal(t, tt.cannotTell, a.CannotTell, "%v", tt.met)
	}
}
