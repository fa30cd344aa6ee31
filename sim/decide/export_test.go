package decide

// The two ways of searching, for their comparison.
var (
	AllPlacements   = allPlacements
	GrownPlacements = grownPlacements
)
