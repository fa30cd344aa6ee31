package words

import (
	"fmt"
	"math"
	"strings"

	"drystalk/sim/trials"
)

// OutOf says a share as a lay reader counts, to stand after "in": "92 of 100", "fewer than 1 of
// 100", "nearly all". What is neither none nor all is never called so.
func OutOf(x float64) string {
	switch p := 100 * x; {
	case x <= 0:
		return "none"
	case p < 1:
		return "fewer than 1 of 100"
	case x >= 1:
		return "all"
	case p >= 99.5:
		return "nearly all"
	default:
		return fmt.Sprintf("%d of 100", Round(p))
	}
}

// InTrials says odds in a sentence, with their interval: "92 of 100 trial seasons (91 to 94)". Where
// nearly all or hardly any are met the interval is left to the tables.
func InTrials(o trials.Odds) string {
	switch said := OutOf(o.Share); said {
	case "none", "all", "nearly all":
		return said + " of the trial seasons"
	case "fewer than 1 of 100":
		return said + " trial seasons"
	default:
		low, high := math.Round(100*o.Low), math.Round(100*o.High)
		if low == high {
			return said + " trial seasons"
		}
		return fmt.Sprintf("%s trial seasons (%.0f to %.0f)", said, low, high)
	}
}

// askedFor says a target beside odds that are said as InTrials does: "90 were asked for".
func askedFor(target float64, beside trials.Odds) string {
	if said := OutOf(beside.Share); said == "none" || said == "all" || said == "nearly all" {
		return ofHundred(target) + " were asked for"
	}
	return strings.TrimSuffix(ofHundred(target), " of 100") + " were asked for"
}

// ofHundred writes a target: "90 of 100".
func ofHundred(target float64) string { return Number(math.Round(1000*target)/10) + " of 100" }
