package words

import (
	"fmt"
	"strconv"
	"strings"

	"drystalk/sim/decide"
	"drystalk/sim/trials"
)

// DryersSentence is the answer to "how many dryers, and where?" in one sentence. A number that is
// not proven is one that may do, and smaller ones that may do as well are named at once.
func DryersSentence(a decide.Answer) string {
	if a.Needed < 0 {
		return noneReaches(a)
	}
	p := a.Plans[a.Needed]
	met := fmt.Sprintf("%s in %s of %s seasons, where %s were asked for%s.", Happens(a.Goal, p.WorstMonth().Name), Odds(p.Odds), Grouped(p.Odds.Seasons), OfTen(a.Target), fewerMay(a))
	proven := a.Proof.Enough == p.Dryers
	stand := standing(a)
	is, may := "No", ""
	if !proven {
		is, may = "Perhaps no", " may do"
	}
	switch {
	case p.Dryers == 0:
		return fmt.Sprintf("%s dryer is needed at %s: without one %s", is, a.Region, met)
	case p.Dryers == stand:
		return fmt.Sprintf("%s further dryer is needed at %s: with the %s that %s (%s) %s", is, a.Region, spelled(stand), stands(stand), Where(a.Sites, p.PerSite), met)
	case stand > 0:
		return fmt.Sprintf("%s more (%s) beside the %s that %s%s, %d in all (%s): %s", Dryers(p.Dryers-stand), Where(a.Sites, added(a.Standing, p.PerSite)),
			spelled(stand), stands(stand), may, p.Dryers, Where(a.Sites, p.PerSite), met)
	}
	return fmt.Sprintf("%s%s (%s): %s", Dryers(p.Dryers), may, Where(a.Sites, p.PerSite), met)
}

// noneReaches says that no number of dryers reaches the target, and which may all the same.
func noneReaches(a decide.Answer) string {
	best := a.Plans[a.Best()]
	s := fmt.Sprintf("No number of dryers up to %d reaches the target of %s: with the best, %s, %s in %s of %s seasons",
		a.Plans[len(a.Plans)-1].Dryers, OfTen(a.Target), Dryers(best.Dryers), Happens(a.Goal, best.WorstMonth().Name), Odds(best.Odds), Grouped(best.Odds.Seasons))
	if u := a.Proof.Undecided; len(u) > 0 {
		s += fmt.Sprintf("; %s may do all the same", eitherOf(u))
	}
	return s + "."
}

// fewerMay says of a number that it is not proven, and which smaller ones may do too.
func fewerMay(a decide.Answer) string {
	n := a.Plans[a.Needed].Dryers
	var fewer []int
	for _, d := range a.Proof.Undecided {
		if d < n {
			fewer = append(fewer, d)
		}
	}
	s := ""
	if a.Proof.Enough != n {
		s = "; that is not proven"
	}
	if len(fewer) == 0 {
		return s
	}
	return s + "; fewer may do, " + eitherOf(fewer)
}

// eitherOf lists numbers of which any may do: "6, 7 or 8".
func eitherOf(n []int) string {
	words := make([]string, len(n))
	for i, k := range n {
		words[i] = strconv.Itoa(k)
	}
	if len(words) < 2 {
		return words[0]
	}
	return strings.Join(words[:len(words)-1], ", ") + " or " + words[len(words)-1]
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
		return "stands"
	}
	return "stand"
}

// added returns the dryers of each site that a plan has beyond those that stand.
func added(standing, plan []int) []int {
	out := append([]int(nil), plan...)
	for k, n := range standing {
		out[k] -= n
	}
	return out
}

// DryersParagraph is the answer to "how many dryers?" for a decision paper: at is the plan that is
// spoken of.
func DryersParagraph(a decide.Answer, at int, currency string) []string {
	var out []string
	if a.Stopped != "" {
		out = append(out, "Stopped "+stopped(a)+": this is what is known so far.")
	}
	out = append(out, WithoutTolerance(a), HubSentence(a.Hub), neighbours(a), Proven(a), inPhases(a))
	out = append(out, ShortParagraph(a.Short)...)
	out = append(out, swingWords(a, 2)...)
	out = append(out, measureFirst(a)...)
	return append(out, earnsWords(a, at, currency)...)
}

// neighbours says what one fewer and one more would do.
func neighbours(a decide.Answer) string {
	var parts []string
	if a.Needed > 0 {
		p := a.Plans[a.Needed-1]
		month := ""
		if a.Goal.ByMonth() {
			month = " (" + p.WorstMonth().Name + ")"
		}
		parts = append(parts, fmt.Sprintf("With %d it is %s%s", p.Dryers, Odds(p.Odds), month))
	}
	if a.Needed >= 0 && a.Needed+1 < len(a.Plans) {
		p := a.Plans[a.Needed+1]
		parts = append(parts, fmt.Sprintf("with %d it would be %s", p.Dryers, Odds(p.Odds)))
	}
	if len(parts) == 0 {
		return ""
	}
	s := strings.Join(parts, "; ") + "."
	return strings.ToUpper(s[:1]) + s[1:]
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
	s := fmt.Sprintf("To fund it in phases, put up one after the other at %s: ", And(at))
	if most.NestingCosts.Mean <= 0 {
		return s + "against the best placement of each number that order costs nothing."
	}
	return s + fmt.Sprintf("against the best placement of each number that order costs at most %s of the odds, with %s.", pointsLost(most.NestingCosts), Dryers(most.Dryers))
}

// pointsLost writes a loss of odds: "3 points (1 to 5)".
func pointsLost(m trials.Mean) string {
	unit := "points"
	if Round(100*m.Mean) == 1 {
		unit = "point"
	}
	return fmt.Sprintf("%d %s (%d to %d)", Round(100*m.Mean), unit, Round(100*m.Low), Round(100*m.High))
}

// farOff is how many times the seasons so far are not worth waiting for.
const farOff = 10

// Proven says what is proven of the number, and on what condition.
func Proven(a decide.Answer) string {
	g := a.Proof
	level := fmt.Sprintf("at %s confidence over %s seasons", Percent(g.Level), Grouped(g.Seasons))
	var s string
	switch {
	case g.Enough == 0:
		s = fmt.Sprintf("Proven %s: none is enough.", level)
	case g.Enough > 0 && g.Enough == standing(a):
		s = fmt.Sprintf("Proven %s: the %s that %s %s enough.", level, spelled(g.Enough), stands(g.Enough), isOrAre(g.Enough))
	case g.Decided():
		s = fmt.Sprintf("Proven %s: %d is enough and %d is not.", level, g.Enough, g.NotEnough)
	case g.Enough >= 0 && g.NotEnough >= 0:
		s = fmt.Sprintf("Proven %s: %d is enough and %d is not; %s undecided.", level, g.Enough, g.NotEnough, areNumbers(g.Undecided))
	case g.Enough >= 0:
		s = fmt.Sprintf("Proven %s: %d is enough; %s undecided.", level, g.Enough, areNumbers(g.Undecided))
	case len(g.Undecided) > 0 && g.NotEnough >= 0:
		s = fmt.Sprintf("Not proven enough: %d is proven too few %s; %s undecided.", g.NotEnough, level, areNumbers(g.Undecided))
	case len(g.Undecided) > 0:
		s = fmt.Sprintf("Nothing is proven %s: %s undecided.", level, areNumbers(g.Undecided))
	default:
		s = fmt.Sprintf("Proven %s: none of the numbers tried, up to %d, is enough.", level, g.NotEnough)
	}
	switch {
	case len(g.Undecided) == 0 || g.MoreNeed <= g.Seasons:
	case g.MoreNeed > farOff*g.Seasons:
		s += " That is too close to tell."
	default:
		s += fmt.Sprintf(" About %s seasons may tell (--limit %d).", Grouped(g.MoreNeed), g.MoreNeed)
	}
	if g.Fewer > 0 {
		s += fmt.Sprintf(" In %s of %s comparisons one dryer more missed a month that was met without it; the proof allows for that.", Grouped(g.Fewer), Grouped(g.Pairs))
	}
	if a.Whole {
		s += " Stalks are hauled or dryers moved: each number was run whole and proven by itself; placements were chosen without that."
	}
	return s + " This holds for these placements and for the weather, luck and ranges of knowledge of the scenario; what the model leaves out is in no proof."
}

func isOrAre(n int) string {
	if n == 1 {
		return "is"
	}
	return "are"
}

func areNumbers(n []int) string {
	words := make([]string, len(n))
	for i, k := range n {
		words[i] = strconv.Itoa(k)
	}
	if len(n) == 1 {
		return words[0] + " is"
	}
	return And(words) + " are"
}

// swingWords says how the needed number moves with the parameters that move the
// odds most.
func swingWords(a decide.Answer, most int) []string {
	var out []string
	for _, s := range a.Swings {
		if len(out) == most || s.Low == s.High {
			continue
		}
		tried := a.Plans[len(a.Plans)-1].Dryers
		out = append(out, fmt.Sprintf("It may take %s if the %s is low (below %s), %s if it is high (above %s).",
			neededOf(s.Low, tried), s.Parameter, Quantity(s.LowBelow, s.Unit), neededOf(s.High, tried), Quantity(s.HighAbove, s.Unit)))
	}
	return out
}

// measureFirst says which measurement narrows the answer most: the parameter whose low
// third of seasons differs most from its high third. Swings come in that order.
func measureFirst(a decide.Answer) []string {
	if len(a.Swings) == 0 || a.Swings[0].Measure == "" {
		return nil
	}
	s := a.Swings[0]
	if !s.ToldApart() {
		return []string{fmt.Sprintf("No single measurement would narrow the answer much: none of the %d unmeasured parameters moves the odds by more than chance.", len(a.Swings))}
	}
	return []string{fmt.Sprintf("Measure first the %s: %s in %s of seasons in its low third and in %s in its high third. How: %s.",
		s.Parameter, briefly(a.Goal), Odds(s.OddsLow), Odds(s.OddsHigh), s.Measure)}
}

// neededOf says a needed number, or that it is above all that were tried.
func neededOf(n, most int) string {
	if n < 0 {
		return fmt.Sprintf("more than %d", most)
	}
	return strconv.Itoa(n)
}

// Needed writes a needed number, or that it is above all that were tried.
func Needed(n int) string {
	if n < 0 {
		return "more than tried"
	}
	return strconv.Itoa(n)
}
