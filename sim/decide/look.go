package decide

import (
	"context"
	"slices"

	"drystalk/sim/goal"
	"drystalk/sim/trials"
)

// fewestFresh is the smallest number of fresh seasons of which anything is said.
const fewestFresh = 50

// look judges all plans on the first seasons, and those around the number to fund on more
// until it is proven or the limit is reached.
func (d *dryers) look(ctx context.Context, a *Answer) error {
	judged, err := d.run(ctx, d.plans, 0, d.Seasons)
	if err != nil && (judged == nil || ctx.Err() == nil || judged[0].table.Seasons < fewestFresh) {
		return err
	}
	d.judged = judged
	a.Seasons = judged[0].table.Seasons
	for _, c := range judged {
		p := playFor(d.Goal, lived(c))
		if len(p.asked) == 0 {
			return ErrNoContract
		}
		d.played = append(d.played, p)
	}
	d.first = judged[0].table
	g, err := d.lookAgain(ctx, err)
	if err != nil {
		if ctx.Err() == nil {
			return err
		}
		a.Stopped = WhileProving
	}
	a.Proof = g
	for _, c := range d.judged {
		r, err := JudgeFor(d.Goal, c.region, c.table, c.plan)
		if err != nil {
			return err
		}
		a.Plans = append(a.Plans, r)
	}
	a.decide()
	return nil
}

// lookAgain proves what it can from the first look, and looks again at what is undecided while
// the limit allows. What stopped the first look is handed on with what it has proven.
func (d *dryers) lookAgain(ctx context.Context, stopped error) (Proof, error) {
	after := looks(d.Seasons, max(d.Limit, d.Raised))
	base := total(d.plans[0])
	from, to := base, base+len(d.plans)
	g := d.prove(d.played, from, len(after))
	for k := 1; k < len(after) && stopped == nil && d.goesOn(&g, after[k]); k++ {
		from, to = around(g, from, to)
		more, err := d.run(ctx, d.plans[from-base:to-base], after[k-1], after[k]-after[k-1])
		if err != nil {
			return g.above(base), err // a look counts whole or not at all
		}
		played := make([]seasons, 0, to-from)
		for i := range more {
			c := &d.judged[from-base+i]
			c.table = trials.Join(c.table, more[i].table)
			played = append(played, playFor(d.Goal, lived(*c)))
		}
		before := g
		g = d.prove(played, from, len(after))
		g.Looks = k + 1
		g.meet(before)
	}
	return g.above(base), stopped
}

// looks returns after how many seasons the numbers are looked at: the first so many, then each
// time twice as many, up to the limit in whole numbers of the first.
func looks(seasons, limit int) []int {
	seasons = max(1, seasons)
	most := max(1, limit/seasons) * seasons
	out := []int{seasons}
	for last := seasons; last < most; {
		last = min(2*last, most)
		out = append(out, last)
	}
	return out
}

// goesOn tells whether numbers are looked at again with so many seasons in all: up to the limit
// whatever is undecided, beyond it one number that alone separates two answers.
func (d *dryers) goesOn(g *Proof, seasons int) bool {
	if seasons > d.Limit {
		return len(g.Undecided) == 1
	}
	return len(g.Undecided) > 0
}

// prove returns the proof of plans of so many dryers and more.
func (d *dryers) prove(played []seasons, fewest, planned int) Proof {
	met := make([][][]bool, len(played))
	for k := range played {
		met[k] = played[k].events()
	}
	g := proofOf(met, fewest, d.Target, planned)
	if d.whole || d.Goal.Kind == goal.IncomeAtLeast { // a dryer more may earn less
		g = eachBound(met, fewest, d.Target, planned)
	}
	g.Looks = 1
	return g
}

// above returns the proof of numbers from the fewest on: of smaller ones nothing is proven.
func (g Proof) above(fewest int) Proof {
	if g.NotEnough < fewest {
		g.NotEnough = -1
	}
	return g
}

// meet keeps what an earlier look has proven.
func (g *Proof) meet(before Proof) {
	if before.Enough >= 0 && (g.Enough < 0 || before.Enough < g.Enough) {
		g.Enough = before.Enough
	}
	g.NotEnough = max(g.NotEnough, before.NotEnough)
	g.Undecided = slices.DeleteFunc(g.Undecided, func(n int) bool { return n <= g.NotEnough || (g.Enough >= 0 && n >= g.Enough) })
}

// around returns the numbers that a further look runs, of those from one to below another: the
// undecided ones and a neighbour on each side.
func around(g Proof, from, to int) (int, int) {
	first, last := g.Undecided[0]-1, g.Undecided[len(g.Undecided)-1]+1
	return max(from, first), min(to, last+1)
}
