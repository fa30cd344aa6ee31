package words

import (
	"drystalk/sim/decide"
	"drystalk/sim/goal"
	"drystalk/sim/money"
	"drystalk/tongue"
)

// Happens says what a goal asks of a season as a clause, to go on with "in 92 of 100 seasons": "the
// worst month, August, is met". A month is said of the worst month alone. What may be missing of a
// month that counts as met is named.
func Happens(g goal.Goal, month string) string {
	switch g.Kind {
	case goal.AllMonths:
		return tongue.Sayf("every contract month of a season is met%s", leastOf(g))
	case goal.ShareDelivered:
		return tongue.Sayf("at least %s of a season's contract is delivered", Percent(g.Share))
	case goal.PenaltyAtMost:
		return tongue.Sayf("the penalty of a season is at most %s", Amount(g.MostPenalty, g.Currency))
	case goal.IncomeAtLeast:
		if g.Prices != nil && g.Prices.Hands == money.Hired {
			return tongue.Sayf("at least %s are left over of a season", Amount(g.LeastIncome, g.Currency))
		}
		return tongue.Sayf("a season earns the members at least %s", Amount(g.LeastIncome, g.Currency))
	default:
		return tongue.Sayf("the worst month, %s, is met%s", month, leastOf(g))
	}
}

// HappensBriefly is Happens without what counts as met.
func HappensBriefly(g goal.Goal, month string) string {
	if g.ByMonth() {
		return tongue.Sayf("the worst month, %s, is met", month)
	}
	return briefly(g)
}

// briefly is Happens where the goal has been said before.
func briefly(g goal.Goal) string {
	if g.ByMonth() {
		return tongue.Say("the worst month is met")
	}
	return tongue.Say("the target is reached")
}

// leastOf says from how much of a month's contract on it counts as met, where that is not all.
func leastOf(g goal.Goal) string {
	if g.Tolerance == 0 {
		return ""
	}
	return tongue.Sayf(" (at least %s of its contract)", Percent(1-g.Tolerance))
}

// Beside says what is printed beside the odds of any goal: those of the worst month and of all
// months, whichever was not asked for, and what is delivered of a season's contract on average.
func Beside(g goal.Goal, p decide.PlanResult) string {
	m := p.WorstMonth()
	all := AllMonthsSentence(p)
	switch {
	case g.Kind == goal.AllMonths:
		all = tongue.Sayf("The worst month, %s, is met in %s.", m.Name, Odds(m.Odds))
	case !g.ByMonth():
		all = tongue.Sayf("The worst month, %s, is met in %s, every contract month of a season in %s.", m.Name, Odds(m.Odds), Odds(p.AllMonths))
	}
	return all + tongue.Sayf(" On average %s of a season's contract is delivered.", Share(p.Share))
}

// MetIn heads a column of the odds of a goal.
func MetIn(g goal.Goal) string {
	switch g.Kind {
	case goal.AllMonths:
		return tongue.Say("all months met in")
	case goal.ShareDelivered:
		return tongue.Sayf("%s delivered in", Percent(g.Share))
	case goal.PenaltyAtMost:
		return tongue.Sayf("penalty at most %s in", Amount(g.MostPenalty, g.Currency))
	case goal.IncomeAtLeast:
		return tongue.Sayf("at least %s earned in", Amount(g.LeastIncome, g.Currency))
	default:
		return tongue.Say("worst month met in")
	}
}

// MetWith heads a column of the odds of a goal with the number of dryers that an answer is about: the
// number to fund, or the best where none reaches the target.
func MetWith(a decide.Answer) string {
	at := a.Needed
	if at < 0 {
		at = a.Best()
	}
	p := a.Plans[at]
	if a.Goal.ByMonth() {
		return tongue.Sayf("met in with %s", Dryers(p.Dryers))
	}
	return tongue.Sayf("%s with %s", MetIn(a.Goal), Dryers(p.Dryers))
}

// HowOften heads a chart of the odds of a goal.
func HowOften(g goal.Goal) string {
	switch g.Kind {
	case goal.WorstMonth:
		return tongue.Say("How often the worst month is met")
	case goal.AllMonths:
		return tongue.Say("How often all contract months of a season are met")
	default:
		return tongue.Sayf("How often %s", Happens(g, ""))
	}
}

// WithoutTolerance says how many dryers it would take if nothing of a month might be missing, or
// with the same number how often it would do; nothing where that changes nothing.
func WithoutTolerance(a decide.Answer) string {
	if a.Needed < 0 || a.Plans[a.Needed].Strict == nil {
		return ""
	}
	if a.NeededStrictly == a.Needed {
		return StrictOdds(a.Plans[a.Needed])
	}
	if a.NeededStrictly < 0 {
		return tongue.Sayf("If nothing of a month might be missing, no number tried, up to %d, would do.", a.Plans[len(a.Plans)-1].Dryers)
	}
	return tongue.Sayf("If nothing of a month might be missing, it may take %s.", Dryers(a.Plans[a.NeededStrictly].Dryers))
}

// StrictOdds says what the odds of a plan would be if nothing of a month might be missing, where
// that changes them; else nothing.
func StrictOdds(p decide.PlanResult) string {
	s := p.Strict
	if s == nil || s.Odds.Met == p.Odds.Met {
		return ""
	}
	return tongue.Sayf("If nothing of a month might be missing, what is asked would be met in %s.", InTrials(s.Odds))
}
