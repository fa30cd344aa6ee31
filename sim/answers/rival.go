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

// rivalOf returns the best free rival of a region that is offered, with the dryers of each of some
// plans, from the fewest on; nil where there is none, or the run is stopped before one is found.
func rivalOf(ctx context.Context, c *Case, n *Numbers, set, offered trials.Setup, tried [][]int) (*ways.Rival, error) {
	if len(tried) == 0 {
		return nil, nil
	}
	r, err := ways.FindRival(ctx, ways.RivalQuestion{
		Setup: set, Plans: tried, Offered: offered, Goal: c.Goal, Target: c.Target, Prices: c.Prices, Seasons: n.Seasons,
	})
	if ctx.Err() != nil { // the answer is whole without it
		return nil, nil
	}
	return r, err
}

// dryersRival is the rival of so many dryers: fewer of them, worked better. Where none are to be
// bought nothing is offered.
func dryersRival(ctx context.Context, c *Case, q *DryersOptions, set trials.Setup, a *decide.Answer) (*ways.Rival, error) {
	at := a.Needed
	if at < 0 {
		at = a.Best()
	}
	if at == 0 {
		return nil, nil
	}
	var tried [][]int
	for _, p := range a.Plans[:at] {
		tried = append(tried, p.PerSite)
	}
	return rivalOf(ctx, c, &q.Numbers, set, withDryers(set, a.Plans[at].PerSite), tried)
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
