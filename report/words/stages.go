package words

import (
	"drystalk/sim/decide"
	"drystalk/tongue"
)

// stageWords say what a run is at.
var stageWords = map[decide.Stage]tongue.Text{
	decide.Searching: "searching",
	decide.Judging:   "judging on fresh seasons",
	decide.Proving:   "proving",
	decide.Raising:   "raising",
	decide.Stocking:  "stock after",
}

// Doing says what a run is at, "" for one season after another.
func Doing(at decide.Doing) string {
	if at.Month == 0 {
		return stageWords[at.Stage].String()
	}
	return stageWords[at.Stage].String() + " " + tongue.Month(at.Month.String())
}

// stopped says how far an interrupted run came.
func stopped(a decide.Answer) string {
	if a.Stopped == decide.WhileProving {
		return tongue.Sayf("after %d fresh seasons", a.Proof.Seasons)
	}
	return tongue.Say("before all of what is short had been looked at")
}
