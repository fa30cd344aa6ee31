package answers

import (
	"context"

	"drystalk/sim"
	"drystalk/sim/decide"
	"drystalk/sim/trials"
	"drystalk/sim/ways"
)

// What an answer offers is set beside the best free rival: a better way of working with what there
// is, from a small search in the seasons of the answer. It costs a small part of the question.

// beside is what a free rival is set beside: the region as written with the dryers of some plans,
// from the fewest on, and what is offered; known are the seasons of each and of what is offered that
// the answer has lived through already (ways.RivalQuestion.Known).
type beside struct {
	set, offered trials.Setup
	tried        [][]int
	known        []*trials.Table
}

// rivalOf returns the best free rival of what is offered; nil where there is none, or the run is
// stopped before one is found.
func rivalOf(ctx context.Context, c *Case, n *Numbers, b beside) (*ways.Rival, error) {
	if len(b.tried) == 0 {
		return nil, nil
	}
	r, err := ways.FindRival(ctx, ways.RivalQuestion{
		Setup: b.set, Plans: b.tried, Offered: b.offered, Known: b.known, Goal: c.Goal, Target: c.Target, Prices: c.Prices, Seasons: n.Seasons,
	})
	if ctx.Err() != nil { // the answer is whole without it
		return nil, nil
	}
	return r, err
}

// dryersRival is the rival of so many dryers: fewer of them, worked better. Where none are to be
// bought nothing is offered. known are the seasons of each plan of the answer.
func dryersRival(ctx context.Context, c *Case, q *DryersOptions, a *decide.Answer, known []*trials.Table) (*ways.Rival, error) {
	at := a.Needed
	if at < 0 {
		at = a.Best()
	}
	if at == 0 {
		return nil, nil
	}
	set := trialsOf(c, &q.Numbers)
	b := beside{set: set, offered: withDryers(set, a.Plans[at].PerSite), known: known[:at+1]}
	for _, p := range a.Plans[:at] {
		b.tried = append(b.tried, p.PerSite)
	}
	return rivalOf(ctx, c, &q.Numbers, b)
}

// withDryers is a setup with the dryers of a plan.
func withDryers(set trials.Setup, plan []int) trials.Setup {
	set.Region = set.Region.Clone()
	for i, n := range plan {
		set.Region.Sites[i].Dryers = n
	}
	return set
}

// withRegion is a setup with another region.
func withRegion(set trials.Setup, r *sim.Region) trials.Setup {
	set.Region = r
	return set
}
