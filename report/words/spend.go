package words

import (
	"cmp"
	"slices"
	"strings"

	"drystalk/sim/money"
	"drystalk/sim/spend"
	"drystalk/tongue"
)

// LastBought returns the state after the last step, or before the first where nothing helps.
func LastBought(s spend.Answer) spend.Bought {
	if len(s.Steps) == 0 {
		return s.Start
	}
	return s.Steps[len(s.Steps)-1]
}

// SpendSentence says what a budget buys and what that does; what loses money says so first.
func SpendSentence(s spend.Answer, currency string) string {
	last := LastBought(s)
	first := ""
	if s.After.High < 0 {
		first = losesMoney.String()
	}
	if len(s.Steps) == 0 && s.Stopped {
		return first + tongue.Sayf("The search for what %s buys was stopped before it found anything: as it is, %s.", Amount(s.Budget, currency), happensIn(s.Goal, last.Worst.Name, last.Odds))
	}
	if len(s.Steps) == 0 {
		return first + tongue.Sayf("Nothing that %s buys helps: as it is, %s.", Amount(s.Budget, currency), happensIn(s.Goal, last.Worst.Name, last.Odds))
	}
	return first + tongue.Sayf("Of %s this list takes %s: %s; then %s, %s.",
		Amount(s.Budget, currency), Grouped(Round(last.Spent.Units())), boughtInShort(s), happensIn(s.Goal, last.Worst.Name, last.Odds), before(s))
}

// before says the odds of the worst month of the plan as written, by its name where another month
// is the worst then.
func before(s spend.Answer) string {
	at := ""
	if s.Goal.ByMonth() && s.Start.Worst.Name != LastBought(s).Worst.Name {
		at = " (" + s.Start.Worst.Name + ")"
	}
	was := outOfBefore(s.Start.Odds.Share)
	if counting(LastBought(s).Odds.Share) != ofSome {
		was = OutOf(s.Start.Odds.Share)
	}
	return tongue.Sayf("%s before%s", was, at)
}

// SpendParagraph says for a decision paper whether the list reaches the target, what it earns and
// why it ends, the most telling sentence first.
func SpendParagraph(s spend.Answer, target float64, currency string) []string {
	var out []string
	if s.Stopped && len(s.Steps) > 0 {
		out = append(out, tongue.Say("The search was stopped: this is the list so far."))
	}
	out = append(out, listReaches(s, target, currency), weakInShort(s), yearNow(s, currency))
	if len(s.Steps) > 0 {
		out = append(out, whyEnds(s, target, currency))
	}
	if m, ok := nextStep(s); ok {
		out = append(out, nextInShort(s, m, currency))
	}
	return out
}

// nextInShort says what step would come next, and whether money or use is wanting.
func nextInShort(s spend.Answer, m spend.Marginal, currency string) string {
	step := tongue.Sayf("%s%s for %s", OfLever(m.What), AtSite(m.Site), Amount(m.Cost, currency))
	switch left := s.Budget - spentOf(s); {
	case s.Budget > 0 && m.Cost > left: // without a budget money is no bound
		return tongue.Sayf("With more money, next would come %s.", step)
	case s.Ends == spend.NothingHelps:
		return tongue.Sayf("What is left would pay for %s, but that helps too little to tell.", step)
	}
	return tongue.Sayf("The next step, if you wish to do more, would be %s.", step)
}

// spentOf returns what the list costs.
func spentOf(s spend.Answer) money.Amount {
	if len(s.Steps) == 0 {
		return 0
	}
	return s.Steps[len(s.Steps)-1].Spent
}

// listReaches says whether the list reaches the target, and after which step.
func listReaches(s spend.Answer, target float64, currency string) string {
	last := LastBought(s).Odds
	list := tongue.Sayf("the list's %s", bareOutOf(last.Share))
	if len(s.Steps) == 0 {
		list = tongue.Sayf("today's %s", bareOutOf(last.Share))
	}
	switch at, start := reaching(last, target), reaching(s.Start.Odds, target); {
	case at == missed:
		return tongue.Sayf("%s is short of the %s asked for.", Upper(list), inHundred(target))
	case at == untold:
		return tongue.Sayf("Whether %s reaches the %s asked for is too close to tell.", list, inHundred(target))
	case start == reached && len(s.Steps) > 0:
		return tongue.Sayf("The plan as it is reaches the %s asked for already.", ofHundred(target))
	case start == untold && len(s.Steps) > 0 && s.Start.Odds.Share >= target:
		return tongue.Sayf("The plan as it is may reach the %s asked for already.", ofHundred(target))
	case s.Reached > 0 && s.Reached < len(s.Steps):
		return reachedAfter(s, target, currency)
	}
	if len(s.Steps) == 0 {
		return tongue.Sayf("The plan as it is, is enough: %s were asked for.", ofHundred(target))
	}
	return tongue.Sayf("The list is enough: %s were asked for.", ofHundred(target))
}

// reachedAfter says after which step of a list a target is reached, or may be where the interval of that step,
// which the table shows, holds it.
func reachedAfter(s spend.Answer, target float64, currency string) string {
	b := s.Steps[s.Reached-1]
	if reaching(b.Odds, target) == reached {
		return tongue.Sayf("The %s asked for are reached after %d of %d steps, for %s.", inHundred(target), s.Reached, len(s.Steps), Amount(b.Spent, currency))
	}
	return tongue.Sayf("The %s asked for may be reached after %d of %d steps, for %s.", inHundred(target), s.Reached, len(s.Steps), Amount(b.Spent, currency))
}

// yearNow says what is left of a year with the list, and as it is.
func yearNow(s spend.Answer, currency string) string {
	if len(s.Steps) == 0 || s.After.Low < 0 || s.Before.Low < 0 {
		return yearInShort(s.After, currency) + membersMayEarnLess(s)
	}
	said := tongue.Sayf("When all work is paid, %s a year are then left, as it is %s.", Money(s.After.Mean, currency), Whole(s.Before.Mean))
	return said + noMoreThanChance(s) + membersMayEarnLess(s)
}

// noMoreThanChance says of what a list changes of what is left of a year that it is no more than
// chance, where its interval holds nothing; else nothing.
func noMoreThanChance(s spend.Answer) string {
	if sign(s.More) != 0 {
		return ""
	}
	return tongue.Say(" That difference is no more than chance.")
}

// membersMayEarnLess says that what members earn by their work is not in what is left over.
func membersMayEarnLess(s spend.Answer) string {
	if len(s.Steps) == 0 || s.Hands != money.Members {
		return ""
	}
	return tongue.Say(" What members earn by their work may fall: see drystalk compare.")
}

// whyEnds says why a list ends; where what is left buys nothing on offer, how much that is.
func whyEnds(s spend.Answer, target float64, currency string) string {
	left := s.Budget - spentOf(s)
	affordable := func(m spend.Marginal) bool { return m.Cost <= left }
	if s.Ends == spend.NothingHelps && s.Budget > 0 && len(s.Marginal) > 0 && !slices.ContainsFunc(s.Marginal, affordable) {
		if left == 0 {
			return tongue.Say("The list ends because the budget is spent.")
		}
		return tongue.Sayf("The list ends because %s are left over, less than the cheapest thing on offer costs.", Amount(left, currency))
	}
	if last := LastBought(s).Odds; s.Ends == spend.TargetMet && reaching(last, target) != reached {
		if last.Share < target {
			return tongue.Say("The list ends because the target is reached in the seasons that choose it.")
		}
		return tongue.Say("The list ends because the target may be reached.")
	}
	return tongue.Sayf("The list ends because %s.", endingWords[s.Ends].String())
}

// nextStep returns the step that would come next with more money.
func nextStep(s spend.Answer) (spend.Marginal, bool) {
	if len(s.Marginal) == 0 || !(s.Marginal[0].Fewer > 0) {
		return spend.Marginal{}, false
	}
	return s.Marginal[0], true
}

// leftThen says what is left of a year with the list, and as it is.
func leftThen(s spend.Answer, currency string) string {
	if len(s.Steps) == 0 {
		return tongue.Sayf("When all work is paid the region is left with %s a year.", Amounts(s.Before, currency))
	}
	return tongue.Sayf("When all work is paid the region is then left with %s a year, %s, against %s as it is.", Amounts(s.After, currency), Included(tongue.Say("what is bought"), s.GrantShare), Amounts(s.Before, currency)) +
		noMoreThanChance(s) + membersMayEarnLess(s)
}

// waysTried counts the ways that were run.
func waysTried(n int) string {
	if n == 1 {
		return tongue.Say("1 way was found")
	}
	return tongue.Sayf("%s ways were found", Grouped(n))
}

// SpendNotes are what stands beside a list of what to buy.
func SpendNotes(s spend.Answer, target float64, currency string) []Note {
	next := ""
	if m, ok := nextStep(s); ok {
		next = tongue.Sayf("%s%s for %s: %s fewer stalks missing a season (search seasons).", OfLever(m.What), AtSite(m.Site), Amount(m.Cost, currency), Whole(m.Fewer))
	}
	list := ""
	if len(s.All) > 0 {
		list = boughtWords(s) + "."
	}
	return notes(
		note(tongue.Say("In all"), list),
		weakNotes(s),
		note(tongue.Say("How sure"), howSure(s.Seasons)),
		note(tongue.Say("Money"), leftThen(s, currency)),
		note(tongue.Say("Why it ends"), whyEnds(s, target, currency)),
		note(tongue.Say("The next step"), next),
		note(tongue.Say("How it was found"), tongue.Sayf("%s to equip a site and run through %s search seasons to choose; the figures are of %s.", waysTried(s.Tried), Grouped(s.SearchSeasons), freshOf(s))),
		note(tongue.Say("Not tried"), ended(strings.Join(notTried(s), "; "))),
		note(tongue.Say("The hub"), HubSentence(s.Hub)),
	)
}

// AtSite says where something is bought; "" for the region.
func AtSite(site string) string {
	if site == "" {
		return ""
	}
	return tongue.Sayf(" at %s", site)
}

// OfLevers writes what one step buys as a list.
func OfLevers(list []spend.Quantity) string {
	var parts []string
	for _, a := range list {
		parts = append(parts, OfLever(a))
	}
	return And(parts)
}

// mostInList is how many words a list of things in a sentence may have.
const mostInList = 16

// boughtInShort sums up a list in few words: with its sites, without them, or its first things.
func boughtInShort(s spend.Answer) string {
	if said := boughtWords(s); wordsOf(said) <= mostInList {
		return said
	}
	parts := withoutSites(s)
	if said := And(parts); wordsOf(said) <= mostInList {
		return said
	}
	n := min(2, len(parts))
	return tongue.Sayf("%s and %s more (listed below)", strings.Join(parts[:n], ", "), things(len(parts)-n))
}

// withoutSites names the things of a list, each summed up over all sites, last those that may do nothing.
func withoutSites(s spend.Answer) []string {
	var parts []string
	things := slices.Clone(s.All)
	slices.SortStableFunc(things, func(a, b spend.InAll) int { return cmp.Compare(idle(s, a.Of), idle(s, b.Of)) })
	for _, all := range things {
		sum := 0.0
		for _, x := range all.PerSite {
			sum += x
		}
		parts = append(parts, quantityWords(all, sum))
	}
	return parts
}

// mostInAll is how many words a list may have that names every thing with its sites.
const mostInAll = 40

// inAll sums up a list, thing by thing, with its sites where there is room for them.
func inAll(s spend.Answer) string {
	if said := boughtWords(s); wordsOf(said) <= mostInAll {
		return said
	}
	return And(withoutSites(s))
}

func wordsOf(text string) int {
	n, _ := Count(text)
	return n
}

func things(n int) string {
	if n == 1 {
		return tongue.Say("one thing")
	}
	return tongue.Sayf("%s things", spelled(n))
}

// quantityWords says so much of a thing; hours of several sites do not add up.
func quantityWords(all spend.InAll, sum float64) string {
	if all.Of == spend.LongerShifts {
		return leverWords[all.Of].name.String()
	}
	return OfLever(spend.Quantity{Of: all.Of, Size: sum, Unit: all.Unit})
}

// boughtWords sums up a list, thing by thing, with its sites.
func boughtWords(s spend.Answer) string {
	var parts []string
	for _, all := range s.All {
		sum := 0.0
		var at []string
		for i, x := range all.PerSite {
			sum += x
			if x > 0 && i < len(s.Sites) {
				at = append(at, s.Sites[i])
			}
		}
		words := quantityWords(all, sum)
		switch {
		case all.Of == spend.Dryers:
			per := make([]int, len(s.Sites))
			for i := range per {
				per[i] = Round(all.PerSite[i])
			}
			words += " (" + Where(s.Sites, per) + ")"
		case len(at) > 0:
			words += " (" + And(at) + ")"
		}
		parts = append(parts, words)
	}
	return And(parts)
}

// freshOf says how many fresh seasons are behind the figures of a list.
func freshOf(s spend.Answer) string {
	if s.LinesHaveFewer() {
		return tongue.Sayf("%s fresh seasons, those of the lines between the first and the last and all gains of the first %s of them", Grouped(s.Seasons), Grouped(s.LineSeasons))
	}
	return tongue.Sayf("%s fresh seasons", Grouped(s.Seasons))
}
