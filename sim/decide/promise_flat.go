package decide

import "drystalk/sim"

// Contract returns the region with a contract of so many stalks in each contract month, its stock
// wanted ahead as written: what a promise of so many is judged by.
func (q *PromiseQuestion) Contract(stalks int) *sim.Region { return q.flat(stalks) }
