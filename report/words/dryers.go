package words

import (
	"fmt"
	"strconv"
	"strings"

	"drystalk/sim/decide"
	"drystalk/sim/goal"
	"drystalk/sim/trials"
	"drystalk/tongue"
)

// DryersSentence is the answer to "how many dryers, and where?" in one sentence. A number that is
// not proven is one that may do, and smaller ones that may do as well are named at once. Where a
// smaller one reached the target in the trial seasons, though not beyond chance, that comes first:
// nobody is told to buy what may not be needed.
func DryersSentence(a decide.Answer) string {
	if a.Needed < 0 {
		return noneReaches(a)
	}
	if fewer := fewerReached(a); fewer >= 0 {
		return tooClose(a, fewer)
	}
	p := a.Plans[a.Needed]
	met := fmt.Sprintf("%s; %s.", planReaches(a.Goal, p), askedFor(a.Target, p.Odds)+fewerMay(a))
	proven := a.Proof.Enough == p.Dryers
	stand := standing(a)
	no, enough := tongue.Say("No"), tongue.Sayf("%s enough", isOrAre(p.Dryers-stand))
	if !proven {
		no, enough = tongue.Say("Perhaps no"), tongue.Say("may be enough")
	}
	switch {
	case p.Dryers == 0:
		return tongue.Sayf("%s dryer is needed: without one %s", no, met)
	case p.Dryers == stand:
		return tongue.Sayf("%s further dryer is needed: with the %s that %s (%s) %s", no, spelled(stand), stands(stand), ShortWhere(a.Sites, p.PerSite), met)
	case stand > 0:
		return tongue.Sayf("%s more (%s) beside the %s that %s %s: %s", Dryers(p.Dryers-stand), ShortWhere(a.Sites, added(a.Standing, p.PerSite)),
			spelled(stand), stands(stand), enough, met)
	}
	return fmt.Sprintf("%s (%s) %s: %s", Dryers(p.Dryers), ShortWhere(a.Sites, p.PerSite), enough, met)
}

// noneReaches says that no number of dryers reaches the target, and which may all the same.
func noneReaches(a decide.Answer) string {
	best := a.Plans[a.Best()]
	most := a.Plans[len(a.Plans)-1].Dryers
	s, may := tongue.Sayf("No number of dryers up to %d is enough", most), ""
	if u := a.Proof.Undecided; len(u) > 0 {
		s, may = tongue.Sayf("No number of dryers up to %d is shown to be enough", most), tongue.Sayf("; %s may do", eitherOf(u))
	}
	return tongue.Sayf("%s: with the best, %s, %s; %s.", s, Dryers(best.Dryers), planReaches(a.Goal, best), askedFor(a.Target, best.Odds)+may)
}

// fewerMay says of a number which smaller ones may do too.
func fewerMay(a decide.Answer) string {
	var fewer []int
	for _, d := range a.Proof.Undecided {
		if d < a.Plans[a.Needed].Dryers {
			fewer = append(fewer, d)
		}
	}
	if len(fewer) == 0 {
		return ""
	}
	switch stand := standing(a); {
	case stand > 0 && len(fewer) == 1 && fewer[0] == stand:
		return tongue.Say("; what stands may do too")
	case stand > 0:
		return tongue.Sayf("; %s in all may do too", eitherOf(fewer))
	}
	return tongue.Sayf("; %s may do too", eitherOf(fewer))
}

// eitherOf lists numbers of which any may do: "6, 7 or 8"; many in a row by their ends.
func eitherOf(n []int) string {
	if len(n) > 3 && n[len(n)-1]-n[0] == len(n)-1 {
		return tongue.Sayf("%d to %d", n[0], n[len(n)-1])
	}
	words := make([]string, len(n))
	for i, k := range n {
		words[i] = strconv.Itoa(k)
	}
	if len(words) < 2 {
		return words[0]
	}
	return tongue.Sayf("%s or %s", strings.Join(words[:len(words)-1], ", "), words[len(words)-1])
}

// standing returns how many dryers every plan of an answer keeps.
func standing(a decide.Answer) int {
	n := 0
	for _, k := range a.Standing {
		n += k
	}
	return n
}

func stands(n int) string {
	if n == 1 {
		return tongue.Say("stands")
	}
	return tongue.Say("stand")
}

// added returns the dryers of each site that a plan has beyond those that stand.
func added(standing, plan []int) []int {
	out := append([]int(nil), plan...)
	for k, n := range standing {
		out[k] -= n
	}
	return out
}

// DryersParagraph is the answer to "how many dryers?" for a decision paper, the most telling
// sentence first: at is the plan that is spoken of.
func DryersParagraph(a decide.Answer, at int, currency string) []string {
	var out []string
	if a.Stopped != "" {
		out = append(out, tongue.Say("This run was stopped early."))
	}
	return append(out, provenInShort(a), swingInShort(a), fundInShort(a, at, currency), fewerInShort(a, currency), neighboursInShort(a), WithoutTolerance(a), netInShort(a, at, currency), shortInShort(a.Short))
}

// DryersNotes are what stands beside the number of dryers; compare is the command line that asks more of
// its loan, "" where it is too long to name.
func DryersNotes(a decide.Answer, at int, currency, compare string) []Note {
	stop := ""
	if a.Stopped != "" {
		stop = tongue.Sayf("Stopped %s: this is what is known so far.", stopped(a))
	}
	return notes(
		note(tongue.Say("Stopped early"), stop),
		note(tongue.Say("How sure"), Proven(a)),
		note(tongue.Say("One fewer, one more"), neighbours(a)),
		note(tongue.Say("Nothing missing"), WithoutTolerance(a)),
		note(tongue.Say("In phases"), inPhases(a)),
		note(tongue.Say("What would change it"), swingWords(a, 2)...),
		note(tongue.Say("What to measure first"), measureFirst(a)...),
		note(tongue.Say("What was short"), ShortParagraph(a.Short)...),
		note(tongue.Say("Money"), earnsWords(a, at, currency, compare)...),
		note(tongue.Say("The hub"), HubSentence(a.Hub)),
	)
}

// provenInShort says what is proven of the number.
func provenInShort(a decide.Answer) string {
	p := a.Proof
	sure := tongue.Sayf("(%s sure)", Percent(p.Level))
	switch {
	case p.Enough == 0:
		return tongue.Sayf("In this model it is enough without a dryer %s; your place may differ.", sure)
	case p.Enough >= 0 && p.Enough == standing(a):
		return tongue.Sayf("In this model the %s that %s %s enough %s; your place may differ.", spelled(p.Enough), stands(p.Enough), isOrAre(p.Enough), sure)
	case p.Enough >= 0 && p.NotEnough >= 0:
		return tongue.Sayf("In this model %d is enough and %d is not %s; your place may differ.", p.Enough, p.NotEnough, sure)
	case p.Enough >= 0:
		return tongue.Sayf("In this model %d is enough %s; your place may differ.", p.Enough, sure)
	case len(p.Undecided) > 0 && p.NotEnough >= 0:
		return tongue.Sayf("In this model %d is not enough %s; of %s it is too close to tell.", p.NotEnough, sure, eitherOf(p.Undecided))
	case len(p.Undecided) > 0:
		return tongue.Say("Nothing is proven: it is too close to tell.")
	}
	return tongue.Sayf("In this model even %d is not enough %s; your place may differ.", p.NotEnough, sure)
}

// fundInShort says what money has to be found.
func fundInShort(a decide.Answer, at int, currency string) string {
	if a.Needed < 0 || len(a.Money) == 0 {
		return ""
	}
	f := a.Money[at].ToFund
	if f == nil || f.Cost == 0 {
		return ""
	}
	var of []string
	if f.Own > 0 {
		of = append(of, tongue.Say("in cash"))
	}
	if f.Loan > 0 {
		of = append(of, tongue.Say("by loan"))
	}
	s := newCost(a, at, Amount(f.Cost, currency))
	switch {
	case f.Grant > 0 && f.Grant < f.Cost:
		s += tongue.Sayf(": %s by grant, the rest %s", Grouped(Round(f.Grant.Units())), And(of))
	case f.Grant > 0:
		s += tongue.Say(", all of it by grant")
	case len(of) > 0:
		s += ", " + And(of)
	}
	return s + "."
}

// fewerInShort says what fewer dryers cost where it is too close to tell whether they are enough.
func fewerInShort(a decide.Answer, currency string) string {
	if a.Needed < 0 || len(a.Money) == 0 {
		return ""
	}
	k := fewerReached(a)
	if k < 0 || a.Money[k].ToFund == nil || a.Money[k].ToFund.Cost == 0 {
		return ""
	}
	return newCost(a, k, Amount(a.Money[k].ToFund.Cost, currency)) + "."
}

// newCost says what the new dryers of a plan cost, and of how many in all where some stand.
func newCost(a decide.Answer, at int, cost string) string {
	switch n, all := a.Money[at].ToFund.New, a.Plans[at].Dryers; {
	case all == 1:
		return tongue.Sayf("One dryer costs %s", cost)
	case n == all:
		return tongue.Sayf("The %s new dryers cost %s", spelled(n), cost)
	case n == 1:
		return tongue.Sayf("Of %s dryers in all, the new one costs %s", spelled(all), cost)
	default:
		return tongue.Sayf("Of %s dryers in all, the %s new ones cost %s", spelled(all), spelled(n), cost)
	}
}

// netInShort says what is left of a year.
func netInShort(a decide.Answer, at int, currency string) string {
	if len(a.Money) == 0 {
		return ""
	}
	return yearInShort(a.Money[at].Net, currency)
}

// neighboursInShort says what one fewer and one more would do.
func neighboursInShort(a decide.Answer) string {
	var parts []string
	say := func(at int) {
		if a.Needed >= 0 && at >= 0 && at < len(a.Plans) {
			p := a.Plans[at]
			parts = append(parts, tongue.Sayf("with %s in %s", withDryers(p.Dryers), ofSeasons(p.Odds.Share)))
		}
	}
	say(a.Needed - 1)
	say(a.Needed + 1)
	if len(parts) == 0 {
		return ""
	}
	return Upper(briefly(a.Goal)) + " " + strings.Join(parts, ", ") + "."
}

// withDryers writes a number of dryers after "with".
func withDryers(n int) string {
	if n == 0 {
		return tongue.Say("no dryer")
	}
	return Dryers(n)
}

// neighbours says what one fewer and one more would do, with intervals.
func neighbours(a decide.Answer) string {
	var parts []string
	if a.Needed > 0 {
		p := a.Plans[a.Needed-1]
		parts = append(parts, tongue.Sayf("With %d it is %s%s", p.Dryers, Odds(p.Odds), monthOf(a.Goal, p)))
	}
	if a.Needed >= 0 && a.Needed+1 < len(a.Plans) {
		p := a.Plans[a.Needed+1]
		parts = append(parts, tongue.Sayf("with %d it would be %s%s", p.Dryers, Odds(p.Odds), monthOf(a.Goal, p)))
	}
	if len(parts) == 0 {
		return ""
	}
	return Upper(strings.Join(parts, "; ") + ".")
}

// monthOf names the worst month of a plan where the goal goes by months and one was missed.
func monthOf(g goal.Goal, p decide.PlanResult) string {
	if !g.ByMonth() || p.Odds.Met == p.Odds.Seasons {
		return ""
	}
	return " (" + p.WorstMonth().Name + ")"
}

// inPhases says in which order the plan can be put up dryer by dryer, and what that costs.
func inPhases(a decide.Answer) string {
	if len(a.Phases) < 2 {
		return ""
	}
	var at []string
	most := a.Phases[0]
	for _, p := range a.Phases {
		at = append(at, p.AddedAt)
		if p.NestingCosts.Mean > most.NestingCosts.Mean {
			most = p
		}
	}
	s := tongue.Sayf("To fund it in phases, put up one after the other at %s: ", And(at))
	if most.NestingCosts.Mean <= 0 {
		return tongue.Sayf("%sagainst the best placement of each number that order makes no month less safe.", s)
	}
	return tongue.Sayf("%sagainst the best placement of each number that order costs at most %s of the odds, with %s.", s, pointsLost(most.NestingCosts), Dryers(most.Dryers))
}

// pointsLost writes a loss of odds: "3 points (1 to 5)".
func pointsLost(m trials.Mean) string {
	unit := tongue.Say("points")
	if Round(100*m.Mean) == 1 {
		unit = tongue.Say("point")
	}
	return tongue.Sayf("%d %s (%d to %d)", Round(100*m.Mean), unit, Round(100*m.Low), Round(100*m.High))
}

// farOff is how many times the seasons so far are not worth waiting for.
const farOff = 10

// Proven says what is proven of the number, and on what condition.
func Proven(a decide.Answer) string {
	g := a.Proof
	sure := tongue.Sayf("(%s sure, over %s trial seasons)", Percent(g.Level), Grouped(g.Seasons))
	s := provenNumbers(a, sure)
	if len(g.Undecided) > 0 && g.MoreNeed > g.Seasons && g.MoreNeed <= farOff*g.Seasons {
		s += tongue.Sayf(" About %s seasons may tell (--limit %d).", Grouped(g.MoreNeed), g.MoreNeed)
	}
	if g.Fewer > 0 {
		s += tongue.Sayf(" In %s of %s comparisons one dryer more missed a month that was met without it; the proof allows for that.", Grouped(g.Fewer), Grouped(g.Pairs))
	}
	if a.Whole {
		s += tongue.Say(" Stalks are hauled or dryers moved: each number was run whole and proven by itself; placements were chosen without that.")
	}
	return s + tongue.Say(" This holds for dryers at these sites and for the weather, luck and ranges that the scenario states; what the model leaves out is in no proof, so your place may differ.")
}

// provenNumbers says which numbers are enough, which are not, and which cannot be told.
func provenNumbers(a decide.Answer, sure string) string {
	g := a.Proof
	open := ""
	if len(g.Undecided) > 0 {
		open = tongue.Sayf("; of %s it is too close to tell", eitherOf(g.Undecided))
	}
	switch {
	case g.Enough == 0:
		return tongue.Sayf("In this model no dryer is needed %s.", sure)
	case g.Enough > 0 && g.Enough == standing(a):
		return tongue.Sayf("In this model the %s that %s %s enough %s.", spelled(g.Enough), stands(g.Enough), isOrAre(g.Enough), sure)
	case g.Enough >= 0 && g.NotEnough >= 0:
		return tongue.Sayf("In this model %d is enough and %d is not %s%s.", g.Enough, g.NotEnough, sure, open)
	case g.Enough >= 0:
		return tongue.Sayf("In this model %d is enough %s%s.", g.Enough, sure, open)
	case len(g.Undecided) > 0 && g.NotEnough >= 0:
		return tongue.Sayf("In this model %d is not enough %s%s.", g.NotEnough, sure, open)
	case len(g.Undecided) > 0:
		return tongue.Sayf("Nothing is proven %s: of %s it is too close to tell.", sure, eitherOf(g.Undecided))
	}
	return tongue.Sayf("In this model none of the numbers tried, up to %d, is enough %s.", g.NotEnough, sure)
}

func isOrAre(n int) string {
	if n == 1 {
		return tongue.Say("is")
	}
	return tongue.Say("are")
}

// neededOf says a needed number, or that it is above all that were tried.
func neededOf(n, most int) string {
	if n < 0 {
		return tongue.Sayf("more than %d", most)
	}
	return strconv.Itoa(n)
}

// Needed writes a needed number, or that it is above all that were tried.
func Needed(n int) string {
	if n < 0 {
		return tongue.Say("more than tried")
	}
	return strconv.Itoa(n)
}
