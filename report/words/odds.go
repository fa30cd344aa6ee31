package words

import (
	"fmt"

	"drystalk/sim/decide"
	"drystalk/sim/goal"
)

// Worst says the odds of a plan's worst month: "August, met in 92 % (90 to 94 %) of
// 1,000 seasons".
func Worst(p decide.PlanResult) string {
	m := p.WorstMonth()
	return fmt.Sprintf("%s, met in %s of %s seasons", m.Name, Odds(m.Odds), Grouped(m.Odds.Seasons))
}

// OddsSentence is the answer to "will the plan as written do?".
func OddsSentence(region string, target float64, g goal.Goal, sites []string, p decide.PlanResult) string {
	plan := "without a dryer"
	if p.Dryers > 0 {
		plan = fmt.Sprintf("with %s (%s)", Dryers(p.Dryers), Where(sites, p.PerSite))
	}
	return fmt.Sprintf("%s %s: %s in %s of %s seasons; that %s the target of %s.",
		region, plan, Happens(g, p.WorstMonth().Name), Odds(p.Odds), Grouped(p.Odds.Seasons), reaches(p.Odds, target), OfTen(target))
}

// AllMonthsSentence says how often no month is missed.
func AllMonthsSentence(p decide.PlanResult) string {
	return fmt.Sprintf("All contract months of a season are met in %s of %s seasons.", Odds(p.AllMonths), Grouped(p.AllMonths.Seasons))
}

// ShortParagraph says in a sentence or two what is short.
func ShortParagraph(s decide.Shortage) []string {
	if s.Months == 0 {
		if s.OfAll == 0 {
			return nil
		}
		if s.Whole {
			return []string{fmt.Sprintf("The target was reached in all %s seasons looked at for what is short.", Grouped(s.OfAll))}
		}
		return []string{fmt.Sprintf("No month was missed in the %s seasons looked at for what is short.", Grouped(s.OfAll))}
	}
	out := fmt.Sprintf("Of %s missed months in %s seasons", Grouped(s.Months), Grouped(s.OfAll))
	if s.Whole {
		out = fmt.Sprintf("Of %s seasons in %s that did not reach the target", Grouped(s.Months), Grouped(s.OfAll))
	}
	if len(s.Single) == 0 {
		return []string{out + " no single thing tried would have met any."}
	}
	top := s.Single[0]
	out += fmt.Sprintf(", %s would have met most: %s (%s)", Things(top), Grouped(top.Met.Met), Odds(top.Met))
	for k, next := range s.Single[1:min(3, len(s.Single))] {
		if k == 0 {
			out += "; then " + Things(next) + fmt.Sprintf(" %s", Grouped(next.Met.Met))
		} else {
			out += ", " + Things(next) + fmt.Sprintf(" %s", Grouped(next.Met.Met))
		}
	}
	if rest := s.Months - s.Alone.Met; rest > 0 {
		out += fmt.Sprintf("; %s needed two things at once or more", Grouped(rest))
	}
	return []string{out + "."}
}
