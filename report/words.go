// Package report turns answers into sentences, tables, charts and pages. It draws
// what it is given and computes no odds.
package report

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"drystalk/sim/decide"
	"drystalk/sim/trials"
)

// grouped writes a whole number with thousands apart.
func grouped(n int) string {
	s := strconv.Itoa(n)
	sign := ""
	if n < 0 {
		sign, s = "-", s[1:]
	}
	for i := len(s) - 3; i > 0; i -= 3 {
		s = s[:i] + "," + s[i:]
	}
	return sign + s
}

// Number writes a number with thousands apart and no more decimals than it has.
func Number(x float64) string {
	if x == math.Trunc(x) && math.Abs(x) < 1e15 {
		return grouped(int(x))
	}
	return strconv.FormatFloat(x, 'g', -1, 64)
}

func round(x float64) int { return int(math.Round(x)) }

// percent writes a share as a per cent without saying 0 or 100 of what is neither.
func percent(x float64) string {
	switch p := 100 * x; {
	case x > 0 && p < 0.5:
		return "under 1 %"
	case x < 1 && p > 99.5:
		return "over 99 %"
	default:
		return strconv.Itoa(round(p)) + " %"
	}
}

// odds writes a share with its interval: "92 % (90 to 94 %)".
func odds(o trials.Odds) string {
	return fmt.Sprintf("%s (%s to %s)", percent(o.Share), bare(o.Low), percent(o.High))
}

// bare is percent without its sign where that is a number.
func bare(x float64) string { return strings.TrimSuffix(percent(x), " %") }

// ofTen says odds as a lay reader counts: "9 seasons of 10".
func ofTen(target float64) string {
	for _, of := range []int{10, 20, 100} {
		if n := target * float64(of); math.Abs(n-math.Round(n)) < 1e-9 {
			return fmt.Sprintf("%d seasons of %d", round(n), of)
		}
	}
	return percent(target) + " of seasons"
}

var smallNumbers = []string{"no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten"}

func spelled(n int) string {
	if n < len(smallNumbers) {
		return smallNumbers[n]
	}
	return strconv.Itoa(n)
}

func dryers(n int) string {
	if n == 1 {
		return "1 dryer"
	}
	return fmt.Sprintf("%d dryers", n)
}

// where says how dryers are shared out: "two at Heron Point, one each at Old Sluice
// and Ferry Bank".
func where(sites []string, perSite []int) string {
	most := 0
	for _, n := range perSite {
		most = max(most, n)
	}
	var parts []string
	for n := most; n > 0; n-- {
		var at []string
		for i, k := range perSite {
			if k == n {
				at = append(at, sites[i])
			}
		}
		switch len(at) {
		case 0:
		case 1:
			parts = append(parts, spelled(n)+" at "+at[0])
		default:
			parts = append(parts, spelled(n)+" each at "+and(at))
		}
	}
	return strings.Join(parts, ", ")
}

func and(words []string) string {
	if len(words) < 2 {
		return strings.Join(words, "")
	}
	return strings.Join(words[:len(words)-1], ", ") + " and " + words[len(words)-1]
}

// worst says the odds of a plan's worst month: "August, met in 92 % (90 to 94 %) of
// 1,000 seasons".
func worst(p decide.PlanResult) string {
	m := p.WorstMonth()
	return fmt.Sprintf("%s, met in %s of %s seasons", m.Name, odds(m.Odds), grouped(m.Odds.Seasons))
}

// Sentence is the answer to "how many dryers, and where?" in one sentence.
func Sentence(a decide.Answer) string {
	if a.Needed < 0 {
		best := a.Plans[a.Best()]
		return fmt.Sprintf("No number of dryers up to %d meets the worst month in %s: the best, %s, meets %s in %s of %s seasons.",
			a.Plans[len(a.Plans)-1].Dryers, ofTen(a.Target), dryers(best.Dryers), best.WorstMonth().Name, odds(best.WorstMonth().Odds), grouped(best.WorstMonth().Odds.Seasons))
	}
	p := a.Plans[a.Needed]
	m := p.WorstMonth()
	met := fmt.Sprintf("the worst month, %s, is met in %s of %s seasons, where %s were asked for.", m.Name, odds(m.Odds), grouped(m.Odds.Seasons), ofTen(a.Target))
	if p.Dryers == 0 {
		return fmt.Sprintf("No dryer is needed at %s: without one %s", a.Region, met)
	}
	return fmt.Sprintf("%s (%s): %s", dryers(p.Dryers), where(a.Sites, p.PerSite), met)
}

// neighbours says what one fewer and one more would do.
func neighbours(a decide.Answer) string {
	var parts []string
	if a.Needed > 0 {
		p := a.Plans[a.Needed-1]
		parts = append(parts, fmt.Sprintf("With %d it is %s (%s)", p.Dryers, odds(p.WorstMonth().Odds), p.WorstMonth().Name))
	}
	if a.Needed >= 0 && a.Needed+1 < len(a.Plans) {
		p := a.Plans[a.Needed+1]
		parts = append(parts, fmt.Sprintf("with %d it would be %s", p.Dryers, odds(p.WorstMonth().Odds)))
	}
	if len(parts) == 0 {
		return ""
	}
	s := strings.Join(parts, "; ") + "."
	return strings.ToUpper(s[:1]) + s[1:]
}

// Proven says what is proven of the number, and on what condition.
func Proven(a decide.Answer) string {
	g := a.Guarantee
	level := fmt.Sprintf("at %s confidence over %s seasons", percent(g.Level), grouped(g.Seasons))
	var s string
	switch {
	case g.Enough == 0:
		s = fmt.Sprintf("Proven %s: none is enough.", level)
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
	if len(g.Undecided) > 0 && g.MoreNeed > g.Seasons {
		s += fmt.Sprintf(" About %s seasons would settle that (--limit).", grouped(g.MoreNeed))
	}
	if g.Fewer > 0 {
		s += fmt.Sprintf(" In %s of %s comparisons one dryer more missed a month that was met without it; the proof allows for that.", grouped(g.Fewer), grouped(g.Pairs))
	}
	if a.Whole {
		s += " Stalks are hauled or dryers moved: each number was run whole and proven by itself; placements were chosen without that."
	}
	return s + " This holds for these placements and for the weather, luck and ranges of knowledge of the scenario; what the model leaves out is in no proof."
}

func areNumbers(n []int) string {
	words := make([]string, len(n))
	for i, k := range n {
		words[i] = strconv.Itoa(k)
	}
	if len(n) == 1 {
		return words[0] + " is"
	}
	return and(words) + " are"
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
		out = append(out, fmt.Sprintf("It would be %s if the %s is low (below %s), %s if it is high (above %s).",
			neededOf(s.Low, tried), s.Parameter, quantity(s.LowBelow, s.Unit), neededOf(s.High, tried), quantity(s.HighAbove, s.Unit)))
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
	return []string{fmt.Sprintf("Measure first the %s: the worst month is met in %s of seasons in its low third and in %s in its high third. How: %s.",
		s.Parameter, odds(s.OddsLow), odds(s.OddsHigh), s.Measure)}
}

// neededOf says a needed number, or that it is above all that were tried.
func neededOf(n, most int) string {
	if n < 0 {
		return fmt.Sprintf("more than %d", most)
	}
	return strconv.Itoa(n)
}

func needed(n int) string {
	if n < 0 {
		return "more than tried"
	}
	return strconv.Itoa(n)
}

func quantity(x float64, unit string) string {
	return strings.TrimSpace(strconv.FormatFloat(x, 'g', 3, 64) + " " + unit)
}

// OddsSentence is the answer to "will the plan as written do?".
func OddsSentence(region string, target float64, sites []string, p decide.PlanResult) string {
	plan := "without a dryer"
	if p.Dryers > 0 {
		plan = fmt.Sprintf("with %s (%s)", dryers(p.Dryers), where(sites, p.PerSite))
	}
	verdict := "reaches"
	m := p.WorstMonth()
	switch {
	case m.Odds.High < target:
		verdict = "does not reach"
	case m.Odds.Low < target:
		verdict = "cannot be told from"
	}
	return fmt.Sprintf("%s %s: the worst month is %s; that %s the target of %s.", region, plan, worst(p), verdict, ofTen(target))
}
