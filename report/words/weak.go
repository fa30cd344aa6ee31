package words

import (
	"slices"

	"drystalk/sim/spend"
	"drystalk/tongue"
)

// MayDoNothing tells whether the gain of a step cannot be told from chance: neither are the odds of the
// target better by more than that, nor are fewer stalks missing.
func MayDoNothing(b spend.Bought) bool { return sign(b.Gain) <= 0 && sign(b.Fewer) <= 0 }

// StepName names what a step buys, and marks one that may do nothing.
func StepName(b spend.Bought) string { return marked(OfLevers(b.What), b) }

// StepNameAt is StepName with where that is.
func StepNameAt(b spend.Bought) string { return marked(OfLevers(b.What)+AtSite(b.Site), b) }

// marked marks the name of a step that may do nothing.
func marked(name string, b spend.Bought) string {
	if MayDoNothing(b) {
		return tongue.Sayf("%s (may do nothing)", name)
	}
	return name
}

// weakSteps counts the steps of a list that may do nothing.
func weakSteps(s spend.Answer) (n int) {
	for _, b := range s.Steps {
		if MayDoNothing(b) {
			n++
		}
	}
	return n
}

// idle is 1 of a thing that only steps buy which may do nothing, else 0.
func idle(s spend.Answer, of spend.Lever) int {
	only := 0
	for _, b := range s.Steps {
		if slices.ContainsFunc(b.What, func(q spend.Quantity) bool { return q.Of == of }) {
			if !MayDoNothing(b) {
				return 0
			}
			only = 1
		}
	}
	return only
}

// weakInShort says how many steps of a list may do nothing; "" for none.
func weakInShort(s spend.Answer) string {
	n, all := weakSteps(s), len(s.Steps)
	switch {
	case n == 0:
		return ""
	case all == 1:
		return tongue.Say("What is bought brings no more than chance may.")
	case n == all:
		return tongue.Sayf("None of the %s steps alone brings more than chance may.", spelled(all))
	case n == 1:
		return tongue.Sayf("One of %s steps brings no more than chance may: buy it last or not at all.", spelled(all))
	}
	return tongue.Sayf("%s of %s steps bring no more than chance may: buy them last or not at all.", Upper(spelled(n)), spelled(all))
}

// weakNotes name the steps of a list that may do nothing, and in how many seasons that was looked at.
func weakNotes(s spend.Answer) []Note {
	var names []string
	for k, b := range s.Steps {
		if MayDoNothing(b) {
			names = append(names, tongue.Sayf("%s (step %d)", OfLevers(b.What)+AtSite(b.Site), k+1))
		}
	}
	seasons := s.Seasons
	if s.LinesHaveFewer() {
		seasons = s.LineSeasons
	}
	says := ""
	switch n := len(names); {
	case n == 0:
	case n == len(s.Steps):
		says = tongue.Sayf("In these %s seasons the gain of no step alone can be told from chance; the first line and the last show what all of them do.", Grouped(seasons))
	case n == 1:
		says = tongue.Sayf("In these %s seasons the gain of %s cannot be told from chance: buy it last or not at all.", Grouped(seasons), names[0])
	default:
		says = tongue.Sayf("In these %s seasons the gains of %s cannot be told from chance: buy them last or not at all.", Grouped(seasons), And(names))
	}
	return note(tongue.Say("What may do nothing"), says)
}
