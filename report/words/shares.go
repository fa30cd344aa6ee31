package words

import (
	"fmt"
	"math"
	"strconv"

	"drystalk/sim/trials"
	"drystalk/tongue"
)

// howMany is how a share is counted in words.
type howMany int

const (
	ofNone howMany = iota
	ofHardlyAny
	ofSome
	ofNearlyAll
	ofAll
)

// counting returns how a share is counted.
func counting(x float64) howMany {
	switch p := 100 * x; {
	case x <= 0:
		return ofNone
	case p < 1:
		return ofHardlyAny
	case x >= 1:
		return ofAll
	case p >= 99.5:
		return ofNearlyAll
	}
	return ofSome
}

// OutOf says a share as a lay reader counts, to stand after "in": "92 of 100", "fewer than 1 of
// 100", "nearly all". What is neither none nor all is never called so.
func OutOf(x float64) string {
	switch counting(x) {
	case ofNone:
		return tongue.Say("none")
	case ofHardlyAny:
		return tongue.Say("fewer than 1 of 100")
	case ofAll:
		return tongue.Say("all")
	case ofNearlyAll:
		return tongue.Say("nearly all")
	}
	return tongue.Sayf("%d of 100", Round(100*x))
}

// bareOutOf says a share as a number of a hundred whatever it is, to stand after "the list's": "93 of 100".
func bareOutOf(x float64) string {
	switch counting(x) {
	case ofNone, ofAll:
		return tongue.Sayf("%d of 100", Round(100*x))
	case ofNearlyAll:
		return tongue.Say("over 99 of 100")
	}
	return OutOf(x)
}

// outOfBefore says a share after another one has been said as OutOf does: "92".
func outOfBefore(x float64) string {
	switch counting(x) {
	case ofHardlyAny:
		return tongue.Say("fewer than 1")
	case ofSome:
		return strconv.Itoa(Round(100 * x))
	}
	return OutOf(x)
}

// ofSeasons says a share as OutOf does, and of what where that is no number: "92 of 100", "all trial
// seasons".
func ofSeasons(x float64) string {
	if counting(x) == ofSome {
		return OutOf(x)
	}
	return inSeasons(x)
}

// InTrials says odds in a sentence, with their interval: "92 of 100 trial seasons (91 to 94)". Where
// nearly all or hardly any are met the interval is left to the tables.
func InTrials(o trials.Odds) string {
	said := OutOf(o.Share)
	switch counting(o.Share) {
	case ofNone, ofAll, ofNearlyAll:
		return tongue.Sayf("%s of the trial seasons", said)
	}
	if within := shareWithin(o); within != "" {
		return tongue.Sayf("%s trial seasons (%s)", said, within)
	}
	return tongue.Sayf("%s trial seasons", said)
}

// withoutTrials says odds after others have been said as InTrials does: "81 of 100 (76 to 85)".
func withoutTrials(o trials.Odds) string {
	if within := shareWithin(o); within != "" {
		return fmt.Sprintf("%s (%s)", OutOf(o.Share), within)
	}
	return OutOf(o.Share)
}

// shareWithin is the interval of odds by hundreds: "91 to 94"; "" where none is said.
func shareWithin(o trials.Odds) string {
	low, high := math.Round(100*o.Low), math.Round(100*o.High)
	if counting(o.Share) != ofSome || low == high {
		return ""
	}
	return tongue.Sayf("%s to %s", bare(o.Low), bare(o.High))
}

// askedFor says a target beside odds that are said as InTrials does: "90 were asked for".
func askedFor(target float64, beside trials.Odds) string {
	switch counting(beside.Share) {
	case ofNone, ofAll, ofNearlyAll:
		return tongue.Sayf("%s were asked for", ofHundred(target))
	}
	return tongue.Sayf("%s were asked for", inHundred(target))
}

// ofHundred writes a target: "90 of 100".
func ofHundred(target float64) string { return tongue.Sayf("%s of 100", inHundred(target)) }

func inHundred(target float64) string { return Number(math.Round(1000*target) / 10) }
