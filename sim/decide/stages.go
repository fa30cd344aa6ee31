package decide

import "time"

// Stage is the key of what a run is at, where that is more than one season after another.
type Stage string

// The stages.
const (
	Searching Stage = "searching" // on the search seasons
	Judging   Stage = "judging"   // what was found, on fresh seasons
	Proving   Stage = "proving"   // a contract, on fresh seasons
	Raising   Stage = "raising"   // one month of the contract alone
	Stocking  Stage = "stocking"  // looking for the stock at the hub after a month
)

// Stages lists all stages.
func Stages() []Stage { return []Stage{Searching, Judging, Proving, Raising, Stocking} }

// Doing is what a run is at. The zero value is one season after another.
type Doing struct {
	Stage Stage
	Month time.Month // that the stage is about; 0 for none
}

// Stop is how far an interrupted run came; "" for a run that was not.
type Stop string

// How far an interrupted run may have come.
const (
	WhileProving Stop = "while_proving"                  // Proof.Seasons fresh seasons are known
	WhileLooking Stop = "while_looking_at_what_is_short" // the plans are known
)

// Stops lists how far an interrupted run may have come.
func Stops() []Stop { return []Stop{WhileProving, WhileLooking} }
