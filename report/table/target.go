package table

import (
	"slices"

	"drystalk/report/words"
	"drystalk/sim/decide"
	"drystalk/sim/goal"
	"drystalk/sim/trials"
	"drystalk/tongue"
)

// Tables of plans tell how often the worst month and how often all months are met, whatever the
// target. Another target has a column of its own, before the last.

// ownColumn tells whether a goal is neither of the two.
func ownColumn(g goal.Goal) bool { return g.Kind != goal.WorstMonth && g.Kind != goal.AllMonths }

// withGoalHead adds the heading of the odds of a goal that has a column of its own.
func withGoalHead(g goal.Goal, head []string) []string {
	if !ownColumn(g) {
		return head
	}
	return slices.Insert(slices.Clone(head), len(head)-1, words.MetIn(g))
}

// withGoal adds the odds of a goal that has a column of its own.
func withGoal(g goal.Goal, o trials.Odds, row []Cell) []Cell {
	if !ownColumn(g) {
		return row
	}
	return slices.Insert(row, len(row)-1, odds(o))
}

// Tolerance lists how plans would do in the same seasons if nothing of a month might be missing.
// It is empty where the contract has no tolerance.
func Tolerance(g goal.Goal, plans []decide.PlanResult) Table {
	t := Table{
		Sheet: tongue.Say("If nothing might be missing"), Title: tongue.Say("If nothing of a month might be missing, in the same seasons"),
		Head: []string{tongue.Say("dryers"), words.MetIn(g), tongue.Say("without tolerance: worst month"), tongue.Say("met in"), tongue.Say("all months met in"), tongue.Say("seasons")}, Left: 1,
	}
	for _, p := range plans {
		if s := p.Strict; s != nil {
			t.Rows = append(t.Rows, []Cell{plain(p.Dryers, ""), odds(p.Odds), worstMonth(s.WorstName, s.Worst), odds(s.Worst), odds(s.AllMonths), count(s.Odds.Seasons, "")})
		}
	}
	return t
}
