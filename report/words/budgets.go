package words

import (
	"slices"
	"strings"

	"drystalk/sim/money"
	"drystalk/sim/spend"
	"drystalk/sim/trials"
	"drystalk/tongue"
)

// Bought sums up what a list buys: "1 dryer (one at Heron Point) and 50 m² of open rack".
func Bought(s spend.Answer) string {
	if len(s.Steps) == 0 {
		return tongue.Say("nothing")
	}
	return boughtWords(s)
}

// CheapestSentence says for how much the target is reached, by which list, and how sure that is;
// or that nothing reaches it.
func CheapestSentence(s spend.Answer, target float64, currency string) string {
	last := LastBought(s)
	happens := happensIn(s.Goal, last.Worst.Name, last.Odds)
	switch bought := len(s.Steps) > 0; {
	case !bought && last.Odds.Low >= target:
		return tongue.Sayf("Nothing need be bought: as it is, %s.", happens)
	case !bought && last.Odds.Share >= target:
		return tongue.Sayf("Perhaps nothing need be bought: as it is, %s.", happens)
	case !bought:
		return tongue.Sayf("Nothing that was found %s is enough, and nothing helps: as it is, %s.", within(s.Budget, currency), happens)
	case last.Odds.Share < target:
		return tongue.Sayf("Nothing that was found %s is enough. The best list costs %s: %s; then %s.", within(s.Budget, currency), Amount(last.Spent, currency), boughtInShort(s), happens)
	default:
		return tongue.Sayf("The cheapest list found that %s costs %s: %s; then %s, %s.", enough(last.Odds, target), Amount(last.Spent, currency), boughtInShort(s), happens, before(s))
	}
}

// enough says of odds that are not below a target whether they are enough or only may be.
func enough(o trials.Odds, target float64) string {
	if o.Low < target {
		return tongue.Say("may be enough")
	}
	return tongue.Say("is enough")
}

// BoughtOrNot sums up a list in few words.
func BoughtOrNot(s spend.Answer) string {
	if len(s.Steps) == 0 {
		return tongue.Say("nothing")
	}
	return boughtInShort(s)
}

// within says within which bounds a list was looked for.
func within(budget money.Amount, currency string) string {
	if budget == 0 {
		return tongue.Say("in all that can be bought")
	}
	return tongue.Sayf("for %s", Amount(budget, currency))
}

// BudgetsSentence says which of several budgets is the smallest that reaches the target, or that
// none does; first of all that nothing needs buying, where that is so.
func BudgetsSentence(each []spend.Answer, target float64, currency string) string {
	if each[0].Start.Odds.Share >= target {
		return alreadySo(each, target)
	}
	for _, s := range each {
		if last := LastBought(s); last.Odds.Share >= target {
			return tongue.Sayf("Of %s budgets %s is the smallest that %s. Its list takes %s: %s; then %s.",
				spelled(len(each)), Amount(s.Budget, currency), enough(last.Odds, target), Grouped(Round(last.Spent.Units())), BoughtOrNot(s), happensIn(s.Goal, last.Worst.Name, last.Odds))
		}
	}
	s := each[len(each)-1]
	last := LastBought(s)
	return tongue.Sayf("None of the %s budgets is enough: with the largest, %s, %s.", spelled(len(each)), Amount(s.Budget, currency), happensIn(s.Goal, last.Worst.Name, last.Odds))
}

// alreadySo says that the plan as it is reaches the target, or may, and how often it does.
func alreadySo(each []spend.Answer, target float64) string {
	start := each[0].Start
	happens := happensIn(each[0].Goal, start.Worst.Name, start.Odds)
	if start.Odds.Low < target {
		return tongue.Sayf("The plan as it is may reach the %s asked for already: %s.", ofHundred(target), happens)
	}
	return tongue.Sayf("The plan as it is reaches the %s asked for already: %s.", ofHundred(target), happens)
}

// mayStillBuy says what the smallest budget that buys anything would still bring.
func mayStillBuy(each []spend.Answer, currency string) string {
	for _, s := range each {
		if len(s.Steps) > 0 {
			last := LastBought(s)
			return tongue.Sayf("For %s there is still a list that takes %s: %s; then %s.",
				Amount(s.Budget, currency), Grouped(Round(last.Spent.Units())), BoughtOrNot(s), happensIn(s.Goal, last.Worst.Name, last.Odds))
		}
	}
	return tongue.Say("Nothing that these budgets buy helps.")
}

// BudgetsParagraph says what each budget brings, what was asked for, which budgets buy no more than
// a smaller one, and that what members earn may fall.
func BudgetsParagraph(each []spend.Answer, target float64, currency string) []string {
	out := askedOfBudgets(each, target, currency)
	if may := strings.TrimSpace(membersMayEarnLess(each[len(each)-1])); may != "" {
		out = append(out, may)
	}
	return out
}

// askedOfBudgets says what was asked for, or where that is so already what may still be bought, and of which budgets
// the list is that of a smaller one.
func askedOfBudgets(each []spend.Answer, target float64, currency string) []string {
	var out []string
	if each[len(each)-1].Stopped {
		out = append(out, tongue.Say("The search was stopped: these are the budgets and the list so far."))
	}
	if each[0].Start.Odds.Share >= target {
		out = append(out, mayStillBuy(each, currency))
	} else {
		out = append(out, tongue.Sayf("%s were asked for.", ofHundred(target)))
	}
	return append(append(out, smaller(each, currency)...), nothingMore(each, currency)...)
}

// nothingMore names the budgets that buy the same as a smaller one.
func nothingMore(each []spend.Answer, currency string) []string {
	var out []string
	for k, s := range each {
		if first := SameAs(each, k); first != k && s.Smaller == 0 {
			out = append(out, tongue.Sayf("%s buy the same as %s.", Amount(s.Budget, currency), Grouped(Round(each[first].Budget.Units()))))
		}
	}
	return out
}

// SameAs returns the smallest of several budgets whose list is that of the k-th; k where that is its
// own, or buys nothing.
func SameAs(each []spend.Answer, k int) int {
	same := func(a, b spend.InAll) bool { return a.Of == b.Of && slices.Equal(a.PerSite, b.PerSite) }
	for first := range k {
		if len(each[k].Steps) > 0 && slices.EqualFunc(each[first].All, each[k].All, same) && spentOf(each[first]) == spentOf(each[k]) {
			return first
		}
	}
	return k
}

// smaller names the budgets for which the list of a smaller one is shown.
func smaller(each []spend.Answer, currency string) []string {
	var out []string
	for _, s := range each {
		if s.Smaller > 0 {
			out = append(out, tongue.Sayf("For %s no list was found as good as that for %s, which stands in its place.", Amount(s.Budget, currency), Grouped(Round(s.Smaller.Units()))))
		}
	}
	return out
}

// BudgetsNotes are what stands beside the lists of several budgets.
func BudgetsNotes(each []spend.Answer) []Note {
	last := each[len(each)-1]
	return notes(
		note(tongue.Say("How sure"), howSure(last.Seasons)),
		note(tongue.Say("How it was found"), tongue.Sayf("All lists are judged on the same %s seasons, none of which chose them. Each is what its budget alone gives.", Grouped(last.Seasons))),
		note(tongue.Say("Not tried"), ended(strings.Join(notTried(last), "; "))),
		note(tongue.Say("The hub"), HubSentence(last.Hub)),
	)
}

// DroppedNotes name what the search had found and what was left out because it does harm, or no
// good.
func DroppedNotes(s spend.Answer) []Note {
	var harm, useless []string
	for _, d := range s.Dropped {
		name := OfLevers(d.What) + AtSite(d.Site)
		if d.Harm {
			harm = append(harm, name)
		} else {
			useless = append(useless, name)
		}
	}
	var said []string
	if len(harm) > 0 {
		said = append(said, tongue.Sayf("Left out, as doing harm in the fresh seasons: %s.", And(harm)))
	}
	if len(useless) > 0 {
		said = append(said, tongue.Sayf("Left out, as doing no good in the fresh seasons: %s.", And(useless)))
	}
	return note(tongue.Say("Left out"), said...)
}
