package decide

import "drystalk/sim/trials"

// WorstBySeason tells of each season whether a plan meets its worst contract month (of Judge),
// and how many stalks all months together miss. A plan that the table does not hold is an error.
func WorstBySeason(t *trials.Table, plan []int) (met []bool, missing []float64, err error) {
	if err := t.CheckPlan(plan); err != nil {
		return nil, nil, err
	}
	p := play(t, plan)
	if len(p.asked) == 0 {
		return nil, nil, ErrNoContract
	}
	missing = make([]float64, t.Seasons)
	for _, month := range p.shortfall {
		for i, stalks := range month {
			missing[i] += stalks
		}
	}
	return p.met[p.worst()], missing, nil
}
