package words

import (
	"slices"

	"drystalk/sim/decide"
	"drystalk/tongue"
)

// mostWithWhere is how many words a sentence may have that says where dryers go too.
const mostWithWhere = 44

// fewerReached returns the plan of the smallest number below the number to fund that reached the
// target in the trial seasons without that being proven; -1 where there is none.
func fewerReached(a decide.Answer) int {
	return slices.IndexFunc(a.Plans[:a.Needed], func(p decide.PlanResult) bool {
		return p.Odds.Share >= a.Target && slices.Contains(a.Proof.Undecided, p.Dryers)
	})
}

// tooClose says that it cannot be told whether more dryers are needed than those of a smaller plan,
// by its index, and what both numbers do.
func tooClose(a decide.Answer, smaller int) string {
	few, p := a.Plans[smaller], a.Plans[a.Needed]
	whether, with, more := whetherMore(a, few, p)
	then := withoutTrials(p.Odds)
	if counting(p.Odds.Share) >= ofNearlyAll {
		then += tongue.Say(" of them")
	} else if p.WorstMonth().Name != few.WorstMonth().Name {
		more += monthOf(a.Goal, p)
	}
	say := func(where string) string {
		return tongue.Sayf("Whether %s is too close to tell: %s %s, with %s%s in %s; %s.",
			whether, with, planReaches(a.Goal, few), more, where, then, askedFor(a.Target, few.Odds))
	}
	where := ShortWhere(a.Sites, added(a.Standing, p.PerSite))
	if s := say(" (" + where + ")"); where != "" {
		if n, _ := Count(s); n <= mostWithWhere {
			return s
		}
	}
	return say("")
}

// whetherMore asks whether the larger of two plans is needed, and names both after "with".
func whetherMore(a decide.Answer, few, p decide.PlanResult) (whether, with, more string) {
	stand := standing(a)
	switch {
	case few.Dryers == 0:
		return tongue.Say("a dryer is needed"), tongue.Say("without one"), spelled(p.Dryers)
	case few.Dryers == 1 && p.Dryers == 2:
		return tongue.Say("a second dryer is needed"), tongue.Say("with one"), tongue.Say("two")
	case few.Dryers == stand:
		return tongue.Sayf("more than the %s dryers that stand are needed", spelled(stand)), tongue.Say("with them"), spelled(p.Dryers)
	}
	return tongue.Sayf("more than %s dryers are needed", spelled(few.Dryers)), tongue.Sayf("with %s", spelled(few.Dryers)), spelled(p.Dryers)
}
