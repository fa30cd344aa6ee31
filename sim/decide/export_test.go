package decide

import "drystalk/sim/trials"

// AllPlacements and GrownPlacements are the two ways of searching, for their comparison.
func AllPlacements(t *trials.Table, least, most []int) [][]int {
	return allPlacements(newScorer(t), least, most)
}

func GrownPlacements(t *trials.Table, least, most []int) [][]int {
	return grownPlacements(newScorer(t), least, most)
}
