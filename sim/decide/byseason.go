package decide

import (
	"drystalk/sim"
	"drystalk/sim/goal"
	"drystalk/sim/trials"
)

// BySeason tells of each season whether a plan reaches its goal, that is, the event reached in
// the fewest seasons (the worst month of Judge), and how many stalks all months together miss. A
// plan that the table does not hold is an error.
func BySeason(g goal.Goal, r *sim.Region, t *trials.Table, plan []int) (reached []bool, missing []float64, err error) {
	if err := t.CheckPlan(plan); err != nil {
		return nil, nil, err
	}
	p := playFor(g, lived{r, t, plan})
	if len(p.asked) == 0 {
		return nil, nil, ErrNoContract
	}
	missing = make([]float64, t.Seasons)
	for _, month := range p.shortfall {
		for i, stalks := range month {
			missing[i] += stalks
		}
	}
	return p.least(), missing, nil
}
