package words

import (
	"strings"

	"drystalk/sim/goal"
	"drystalk/sim/money"
	"drystalk/sim/trials"
	"drystalk/sim/ways"
	"drystalk/tongue"
)

// Offer is what an answer offers, beside which a free rival is set.
type Offer int

// What is offered.
const (
	SomeDryers Offer = iota // a number of dryers
	Purchase                // what a second plan buys
	List                    // a list of what to buy
	Contract                // a promise
)

// RivalSentence says what working better would do, by the goal of the answer, in place of what is
// offered.
func RivalSentence(r ways.Rival, of Offer, g goal.Goal, currency string) string {
	how := changesInShort(r.Changes)
	switch {
	case of == SomeDryers && r.Reaches && r.Dryers == 0:
		return tongue.Sayf("Without a dryer but with %s, it may do%s.", how, theyHave(r, of, currency))
	case of == SomeDryers && r.Reaches:
		return tongue.Sayf("With %s, %s may do%s.", how, Dryers(r.Dryers), theyHave(r, of, currency))
	case of == SomeDryers && r.Dryers == 0:
		return tongue.Sayf("Without a dryer but with %s, it would be enough in %s, still less than was asked.", how, insteadOfOdds(r.Odds, r.Without))
	case of == SomeDryers:
		return tongue.Sayf("With %s, %s would be enough in %s, still less than was asked.", how, Dryers(r.Dryers), insteadOfOdds(r.Odds, r.Without))
	case of == Contract:
		return tongue.Sayf("With %s, the promise would be met in %s%s.", how, insteadOfOdds(r.Odds, r.Without), theyHave(r, of, currency))
	}
	if g.ByMonth() {
		return Upper(tongue.Sayf("%s would meet %s in %s, with nothing bought.", how, r.Worst, inSeasons(r.Odds.Share)))
	}
	return tongue.Sayf("With %s and nothing bought, %s in %s.", how, Happens(g, r.Worst), inSeasons(r.Odds.Share))
}

// besideWhat names what the work and money of a rival are measured against: they are those of its whole
// plan beside the whole plan that is offered, not beside today.
func besideWhat(r ways.Rival, of Offer) string {
	switch {
	case of == Purchase:
		return tongue.Say("compared with the purchase")
	case of == List:
		return tongue.Say("compared with the list")
	case of == Contract || asStands(r):
		return tongue.Say("compared with working as now")
	case r.Dryers == r.OfferedDryers:
		return tongue.Sayf("compared with %s as worked now", spelledDryers(r.OfferedDryers))
	}
	return tongue.Sayf("compared with %s", spelledDryers(r.OfferedDryers))
}

// spelledDryers writes a number of dryers in words: the answer names it in digits.
func spelledDryers(n int) string {
	if n == 0 {
		return tongue.Say("no dryer")
	}
	return tongue.Several(n, "one dryer", "%s dryers", spelled(n))
}

// asStands tells whether what is offered is what a rival works better: the same dryers, worked as now.
func asStands(r ways.Rival) bool { return r.Dryers == r.OfferedDryers && r.Offered == r.Without }

// theyHave says what those whose work it is have of a rival, as an aside that says beside what.
func theyHave(r ways.Rival, of Offer, currency string) string {
	n := float64(max(1, r.Members))
	each := func(m trials.Mean) trials.Mean {
		return trials.Mean{Mean: m.Mean / n, Low: m.Low / n, High: m.High / n, Seasons: m.Seasons}
	}
	work := map[int]string{1: tongue.Say("works more"), -1: tongue.Say("works less"), 0: tongue.Say("works as much")}[sign(r.Hours.More)]
	if r.Cutters != money.Members.String() {
		return tongue.Sayf("; %s each cutter %s", besideWhat(r, of), work)
	}
	earn := tongue.Say("earns about the same")
	if sign(r.Income.More) != 0 {
		earn = tongue.Sayf("earns %s a year", moreOrLess(each(r.Income.More), func(x float64) string { return Money(x, currency) }))
	}
	return tongue.Sayf("; %s each member %s and %s", besideWhat(r, of), work, earn)
}

// RivalNotes say what a rival rests on.
func RivalNotes(r ways.Rival, of Offer, currency string) []Note {
	var asks []string
	for _, c := range r.Changes {
		asks = append(asks, Upper(WayAt(c))+": "+WayAsks(c)+".")
	}
	offered := tongue.Sayf(", what is offered %s", Odds(r.Offered))
	if asStands(r) {
		offered = "" // it is what stands
	}
	found := tongue.Sayf("Found in a small search over a few ways of working and judged in the first %s seasons, with %s: %s, as worked now %s%s.",
		Grouped(r.Seasons), dryersOrNone(r.Dryers), Odds(r.Odds), Odds(r.Without), offered)
	beside := Upper(strings.TrimPrefix(theyHave(r, of, currency), "; ")) + "."
	return note(tongue.Say("Working better"), append([]string{found, beside, tongue.Say("drystalk ways looks further.")}, asks...)...)
}

// dryersOrNone writes a number of dryers to stand before a verb.
func dryersOrNone(n int) string {
	if n == 0 {
		return tongue.Say("no dryer")
	}
	return Dryers(n)
}

// WaysInShort names changes of working, as far as there are few.
func WaysInShort(list []ways.Change) string { return changesInShort(list) }

// WithDryersOrNone says with how many dryers something is done.
func WithDryersOrNone(n int) string { return tongue.Sayf("with %s", dryersOrNone(n)) }

// Offered names what an answer offers; "" for a promise, which a rival keeps too.
func Offered(r ways.Rival, of Offer) string {
	how := WithDryersOrNone(r.OfferedDryers)
	switch of {
	case Purchase:
		return tongue.Sayf("what is bought, %s", how)
	case List:
		return tongue.Sayf("the list bought, %s", how)
	case Contract:
		return ""
	}
	return how
}
