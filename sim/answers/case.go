package answers

import (
	"runtime"

	"drystalk/sim/decide"
	"drystalk/sim/plans"
	"drystalk/sim/trials"
)

// Case is a plan that questions are asked of, as scenarios.Scenario.Setup returns it.
type Case = plans.Case

// Pair is two plans that live through the same seasons, as scenarios.Pair returns them.
type Pair = plans.Pair

// trialsOf returns the trials of a case with the workers of a question.
func trialsOf(c *Case, n *Numbers) trials.Setup {
	set := c.Setup
	set.Workers = n.Workers
	if set.Workers == 0 {
		set.Workers = runtime.GOMAXPROCS(0)
	}
	return set
}

// File is a file that the numbers of an answer come from.
type File = plans.File

// Asked is what an answer is the answer to.
type Asked struct {
	Case    Case
	Command string // prints the same numbers again
}

// Doing is what a run is at; report.Doing says it in words.
type Doing = decide.Doing

// Progress is told how far a run has come: what it is at, and how many seasons of how
// many; 0 of 0 where that is not known.
type Progress func(at Doing, done, of int)

// seasons returns a progress in seasons of so many.
func (p Progress) seasons(of int) func(done int) {
	return func(done int) { p.tell(Doing{}, done, of) }
}

// tell tells whoever wants to know.
func (p Progress) tell(at Doing, done, of int) {
	if p != nil {
		p(at, done, of)
	}
}
