package words

import (
	"fmt"

	"drystalk/sim/decide"
	"drystalk/sim/goal"
	"drystalk/sim/trials"
	"drystalk/tongue"
)

// Planned is what is said of a plan as written.
type Planned struct {
	Region string
	Target float64
	Goal   goal.Goal
	Sites  []string
	Plan   decide.PlanResult
	Hub    decide.HubAir
	Short  decide.Shortage
	Money  *decide.Earns // nil where no prices are stated
}

// Worst says the odds of a plan's worst month: "August, met in 92 of 100 trial seasons (90 to 94)".
func Worst(p decide.PlanResult) string {
	m := p.WorstMonth()
	return tongue.Sayf("%s, met in %s", m.Name, InTrials(m.Odds))
}

// happensIn says the odds of a goal: "the worst month, August, is met in 92 of 100 trial seasons (90
// to 94)".
func happensIn(g goal.Goal, month string, o trials.Odds) string {
	if g.ByMonth() && o.Met == o.Seasons { // then no month is the worst
		return tongue.Sayf("every contract month is met%s in %s", leastOf(g), InTrials(o))
	}
	return tongue.Sayf("%s in %s", Happens(g, month), InTrials(o))
}

// planReaches says the odds of the goal with a plan.
func planReaches(g goal.Goal, p decide.PlanResult) string {
	return happensIn(g, p.WorstMonth().Name, p.Odds)
}

// OddsSentence is the answer to "will the plan as written do?".
func OddsSentence(o Planned) string {
	plan := tongue.Say("without a dryer")
	if o.Plan.Dryers > 0 {
		plan = tongue.Sayf("with %s (%s)", Dryers(o.Plan.Dryers), ShortWhere(o.Sites, o.Plan.PerSite))
	}
	verdict := map[reach]string{reached: tongue.Say("The plan is enough"), untold: tongue.Say("Whether the plan is enough is too close to tell"), missed: tongue.Say("The plan is not enough")}[reaching(o.Plan.Odds, o.Target)]
	s := fmt.Sprintf("%s: %s %s; %s.", verdict, plan, planReaches(o.Goal, o.Plan), askedFor(o.Target, o.Plan.Odds))
	if o.Money != nil && o.Money.Net.High < 0 {
		return losesMoney.String() + s
	}
	return s
}

// OddsParagraph is the answer to "will the plan as written do?" for a decision paper, the most
// telling sentence first.
func OddsParagraph(o Planned, currency string) []string {
	out := []string{shortInShort(o.Short)}
	if o.Goal.Kind != goal.AllMonths && len(o.Plan.Months) > 1 {
		out = append(out, tongue.Sayf("Every month of a season is met in %s.", ofSeasons(o.Plan.AllMonths.Share)))
	}
	if o.Money != nil {
		out = append(out, yearInShort(o.Money.Net, currency))
	}
	return out
}

// OddsNotes are what stands beside the odds of a plan.
func OddsNotes(o Planned, currency string) []Note {
	var year string
	if o.Money != nil {
		year = PlanEarnsSentence(*o.Money, currency)
	}
	return notes(
		note(tongue.Say("How sure"), howSure(o.Plan.AllMonths.Seasons)),
		note(tongue.Say("Other targets"), Beside(o.Goal, o.Plan), StrictOdds(o.Plan)),
		note(tongue.Say("What was short"), ShortParagraph(o.Short)...),
		note(tongue.Say("Money"), year),
		note(tongue.Say("The hub"), HubSentence(o.Hub)),
	)
}

// howSure says what intervals hold, and what they leave out.
func howSure(seasons int) string {
	return tongue.Sayf("%s trial seasons were run, each with weather, luck and unmeasured numbers of its own. Two numbers such as (91 to 94) mean that the share of this model lies between them, 95 %% sure; what the model leaves out is in neither.", Grouped(seasons))
}

// leftOrShort says what is left of a year, with its interval, and of what is lost that it is missing.
// The pay of members is their income, so that "the region earns" would be said too early.
func leftOrShort(net trials.Mean, currency string) string {
	if net.Mean < 0 {
		return tongue.Sayf("is short of %s", Amounts(trials.Mean{Mean: -net.Mean, Low: -net.High, High: -net.Low}, currency))
	}
	return tongue.Sayf("is left with %s", Amounts(net, currency))
}

// yearInShort says what is left, or missing, in an average year.
func yearInShort(net trials.Mean, currency string) string {
	switch {
	case net.High < 0:
		return tongue.Sayf("When all work is paid, %s a year are missing.", Money(-net.Mean, currency))
	case net.Low < 0:
		return tongue.Say("Whether money is left in an average year, when all work is paid, is too close to tell.")
	}
	return tongue.Sayf("When all work is paid, %s a year are left.", Money(net.Mean, currency))
}

// AllMonthsSentence says how often no month is missed.
func AllMonthsSentence(p decide.PlanResult) string {
	return tongue.Sayf("All contract months of a season are met in %s of %s seasons.", Odds(p.AllMonths), Grouped(p.AllMonths.Seasons))
}

// shortInShort says what would have met most of the missed months.
func shortInShort(s decide.Shortage) string {
	if s.Months == 0 {
		return ""
	}
	list := Advised(s.Single)
	if len(list) == 0 || list[0].Met.Share < 0.1 {
		return tongue.Say("No single thing tried would have helped much.")
	}
	what := tongue.Say("missed months")
	if s.Whole {
		what = tongue.Say("seasons that missed the target")
	}
	return Upper(tongue.Sayf("%s would have met %s of %s %s.", Things(list[0]), Grouped(list[0].Met.Met), Grouped(s.Months), what))
}

// ShortParagraph says in a sentence or two what is short.
func ShortParagraph(s decide.Shortage) []string {
	if s.Months == 0 {
		if s.OfAll == 0 {
			return nil
		}
		if s.Whole {
			return []string{tongue.Sayf("The target was reached in all %s seasons looked at for what is short.", Grouped(s.OfAll))}
		}
		return []string{tongue.Sayf("No month was missed in the %s seasons looked at for what is short.", Grouped(s.OfAll))}
	}
	out := tongue.Sayf("Of %s missed months in %s seasons", Grouped(s.Months), Grouped(s.OfAll))
	if s.Whole {
		out = tongue.Sayf("Of %s seasons in %s that did not reach the target", Grouped(s.Months), Grouped(s.OfAll))
	}
	list := Advised(s.Single)
	if len(list) == 0 {
		return []string{tongue.Sayf("%s no single thing that may be advised would have met any.", out)}
	}
	most := list[0].Met
	out += tongue.Sayf(", %s would have met most: %s (%s)", Things(list[0]), Grouped(most.Met), Odds(most))
	fewer := false
	for _, next := range list[1:min(3, len(list))] {
		switch {
		case next.Met == most:
			out += tongue.Sayf("; %s as many", Things(next))
		case !fewer:
			out += tongue.Sayf("; then %s %s", Things(next), Grouped(next.Met.Met))
			fewer = true
		default:
			out += fmt.Sprintf(", %s %s", Things(next), Grouped(next.Met.Met))
		}
	}
	if rest := s.Months - s.Alone.Met; rest > 0 {
		out += tongue.Sayf("; %s needed two things at once or more", Grouped(rest))
	}
	return []string{out + "."}
}
