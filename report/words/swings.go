package words

import (
	"math"
	"strings"

	"drystalk/sim/decide"
	"drystalk/sim/knowledge"
	"drystalk/tongue"
)

// swingWord says of a parameter that nobody has measured what it means that it is low, or high,
// after "if".
type swingWord[T tongue.Text | string] struct{ low, high T }

// swingKeys are the words of all parameters. That of a cutter is said with its number.
var swingKeys = map[knowledge.Key]swingWord[tongue.Text]{
	knowledge.OutputFactor:      {"cutters bring less than you wrote", "cutters bring more than you wrote"},
	knowledge.MouldFactor:       {"stalks mould more slowly than assumed", "stalks mould faster than assumed"},
	knowledge.SkinFactor:        {"racks dry more slowly than assumed", "racks dry faster than assumed"},
	knowledge.RateAt80CPerH:     {"stalks dry more slowly than assumed", "stalks dry faster than assumed"},
	knowledge.EvaporatesKgPerH:  {"a dryer takes out less water than assumed", "a dryer takes out more water than assumed"},
	knowledge.LivingH:           {"fresh stalks keep for a shorter time than assumed", "fresh stalks keep longer than assumed"},
	knowledge.MouldSpread:       {"stalks mould more alike than assumed", "stalks mould less alike than assumed"},
	knowledge.RateSpread:        {"stalks dry more alike than assumed", "stalks dry less alike than assumed"},
	knowledge.AcceptedShare:     {"the gate accepts fewer stalks than assumed", "the gate accepts more stalks than assumed"},
	knowledge.EMCFactor:         {"dry stalks take up less damp than assumed", "dry stalks take up more damp than assumed"},
	knowledge.FreshMoisture:     {"fresh stalks hold less water than assumed", "fresh stalks hold more water than assumed"},
	knowledge.StoreRank:         {"stores are tighter than assumed", "stores leak more air than assumed"},
	knowledge.FurnaceEfficiency: {"the furnace wastes more heat than assumed", "the furnace wastes less heat than assumed"},
	knowledge.ExhaustFactor:     {"less heat leaves with the air than assumed", "more heat leaves with the air than assumed"},
	knowledge.CabinetKg:         {"a dryer takes less wood to warm than assumed", "a dryer takes more wood to warm than assumed"},
	knowledge.ClearRoofSun:      {"clear roofs let in less sun than assumed", "clear roofs let in more sun than assumed"},
	knowledge.SolidRoofRank:     {"solid roofs keep out more sun and air than assumed", "solid roofs keep out less sun and air than assumed"},
	knowledge.FreshStalkG:       {"stalks are lighter than assumed", "stalks are heavier than assumed"},
	knowledge.RainsHumidity:     {"the rains are drier than stated", "the rains are damper than stated"},
}

// swingWordsOf returns the words of a parameter by its name.
func swingWordsOf(s decide.Swing) swingWord[string] {
	for _, r := range knowledge.Table() {
		if r.Name.String() != s.Parameter {
			continue
		}
		w := swingWord[string]{swingKeys[r.Key].low.String(), swingKeys[r.Key].high.String()}
		if r.Key == knowledge.OutputFactor {
			w.low = lessOrMore("cutters bring %.0f %% less than you wrote", 1-s.LowBelow, w.low)
			w.high = lessOrMore("cutters bring %.0f %% more than you wrote", s.HighAbove-1, w.high)
		}
		return w
	}
	return swingWord[string]{tongue.Sayf("the %s is low", s.Parameter), tongue.Sayf("the %s is high", s.Parameter)}
}

// lessOrMore says by how much, where that is a number worth saying.
func lessOrMore(format string, by float64, otherwise string) string {
	if p := math.Round(100 * by); p >= 1 {
		return tongue.Sayf(format, p)
	}
	return otherwise
}

// moving returns the parameters whose thirds need different numbers, those first whose thirds are
// told apart.
func moving(a decide.Answer) []decide.Swing {
	var apart, rest []decide.Swing
	for _, s := range a.Swings {
		switch {
		case s.Low == s.High:
		case s.ToldApart():
			apart = append(apart, s)
		default:
			rest = append(rest, s)
		}
	}
	return append(apart, rest...)
}

// swingInShort says which unmeasured number makes the answer dearer.
func swingInShort(a decide.Answer) string {
	for _, s := range moving(a) {
		w := swingWordsOf(s)
		low, high := needs(s.Low), needs(s.High)
		n, when := low, w.low
		if high > low {
			n, when = high, w.high
		}
		most := a.Plans[len(a.Plans)-1].Dryers
		switch {
		case n == math.MaxInt && a.Needed >= 0:
			return tongue.Sayf("If %s, even %d may not do.", when, most)
		case a.Needed >= 0 && n > a.Plans[a.Needed].Dryers:
			return tongue.Sayf("If %s, it may take %d.", when, n)
		}
	}
	return ""
}

// needs is a needed number to compare, more than any where none reaches the target.
func needs(n int) int {
	if n < 0 {
		return math.MaxInt
	}
	return n
}

// swingWords says how the needed number moves with the parameters that move it.
func swingWords(a decide.Answer, most int) []string {
	var out []string
	tried := a.Plans[len(a.Plans)-1].Dryers
	for k, s := range moving(a) {
		if len(out) == most || k > 0 && !s.ToldApart() { // what is not told apart is likely chance
			break
		}
		w := swingWordsOf(s)
		var parts []string
		for _, third := range []struct {
			needs int
			when  string
		}{{s.Low, w.low}, {s.High, w.high}} {
			if a.Needed < 0 || third.needs != a.Plans[a.Needed].Dryers { // the answer itself is no change of it
				parts = append(parts, tongue.Sayf("%s if %s", thirdNeeds(third.needs, tried, len(parts) == 0), third.when))
			}
		}
		out = append(out, tongue.Sayf("It may take %s.", strings.Join(parts, tongue.Say(", and "))))
	}
	return out
}

// thirdNeeds names a needed number, the first of a sentence with what it counts.
func thirdNeeds(n, tried int, first bool) string {
	said := neededOf(n, tried)
	switch {
	case first && n == 1:
		return tongue.Sayf("%s dryer", said)
	case first:
		return tongue.Sayf("%s dryers", said)
	}
	return said
}

// measureFirst says which measurement narrows the answer most: the parameter whose low third of
// seasons differs most from its high third, and where none is told apart the one that the number
// may hang on. Swings come in that order.
func measureFirst(a decide.Answer) []string {
	if len(a.Swings) == 0 {
		return nil
	}
	if s := a.Swings[0]; s.Measure != "" && s.ToldApart() {
		return []string{tongue.Sayf("For the odds, the %s: %s in %s of the third of seasons in which it is lowest, and in %s of the third in which it is highest. How: %s.",
			s.Parameter, briefly(a.Goal), Odds(s.OddsLow), Odds(s.OddsHigh), s.Measure)}
	}
	if m := moving(a); len(m) > 0 && m[0].Measure != "" {
		return []string{tongue.Sayf("For the odds, the %s: it may decide between %s. How: %s.", m[0].Parameter, betweenNumbers(m[0], a.Plans[len(a.Plans)-1].Dryers), m[0].Measure)}
	}
	return []string{tongue.Sayf("No single measurement would narrow the answer much: none of the %d unmeasured parameters moves the odds by more than chance.", len(a.Swings))}
}

// betweenNumbers names the numbers of dryers that a parameter decides between, the smaller first;
// most is the largest that was tried.
func betweenNumbers(s decide.Swing, most int) string {
	low, high := s.Low, s.High
	if needs(low) > needs(high) {
		low, high = high, low
	}
	if high == 1 || high < 0 && most == 1 {
		return tongue.Sayf("%s and %s dryer", neededOf(low, most), neededOf(high, most))
	}
	return tongue.Sayf("%s and %s dryers", neededOf(low, most), neededOf(high, most))
}
