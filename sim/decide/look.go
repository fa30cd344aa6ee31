package decide

import (
	"context"
	"slices"

	"drystalk/sim/goal"
	"drystalk/sim/trials"
)

// fewestFresh is the smallest number of fresh seasons of which anything is said.
const fewestFresh = 50

// look judges the plans on fresh seasons: each until it is proven, the plan to fund through all
// that are stated, those beside it through a part of them.
func (d *dryers) look(ctx context.Context, a *Answer) error {
	for _, plan := range d.plans {
		d.judged = append(d.judged, candidate{plan: plan})
	}
	d.weights = d.weighed()
	s := sequence{
		looks: looksAt(d.Seasons, max(d.Limit, d.Raised)), limit: max(d.Limit, d.Seasons),
		fewest: total(d.plans[0]), numbers: len(d.plans), prove: d.prove,
	}
	g, err := s.run(func(open Proof, upto int) ([][][]bool, error) { return d.lookAt(ctx, open, upto) })
	if err == nil {
		err = d.fill(ctx, g)
	}
	if err != nil {
		if ctx.Err() == nil || d.judged[0].seasons() == 0 {
			return err
		}
		a.Stopped = WhileProving
	}
	for _, c := range d.judged {
		d.played = append(d.played, playFor(d.Goal, lived(c)))
	}
	a.Proof = g.above(s.fewest)
	a.Proof.fewerWithMore(d.events())
	for _, c := range d.judged {
		r, err := JudgeFor(d.Goal, c.region, c.table, c.plan)
		if err != nil {
			return err
		}
		a.Plans = append(a.Plans, r)
	}
	a.decide()
	a.Seasons = d.judged[a.funded()].table.Seasons
	return nil
}

// weighed returns the weights of the events on the search seasons; nil where there is no event.
func (d *dryers) weighed() []float64 {
	last := max(0, len(d.plans)-1-beyond)
	var events [][][]bool
	for k := max(0, last-1); k <= last; k++ {
		p := playFor(d.Goal, lived{d.Setup.Region, d.scorer.table, d.plans[k]})
		if len(p.asked) == 0 {
			return nil
		}
		events = append(events, p.events())
	}
	return weightsOf(events...)
}

// lookAt lives with the open numbers up to so many seasons and returns the events of those that
// are undecided.
func (d *dryers) lookAt(ctx context.Context, open Proof, upto int) ([][][]bool, error) {
	stopped := d.live(ctx, d.undecided(open), upto)
	if stopped != nil && (ctx.Err() == nil || d.judged[0].seasons() == 0) {
		return nil, stopped
	}
	var met [][][]bool
	for _, k := range d.undecided(open) {
		p := playFor(d.Goal, lived(d.judged[k]))
		if len(p.asked) == 0 {
			return nil, ErrNoContract
		}
		met = append(met, p.events())
	}
	return met, stopped
}

// undecided returns the indexes of the plans that a look is about.
func (d *dryers) undecided(g Proof) []int {
	return indexes(g.Undecided[0]-total(d.plans[0]), g.Undecided[len(g.Undecided)-1]-total(d.plans[0]))
}

// fill lives with what the looks have left behind: the plan to fund through all seasons that are
// stated, its neighbours through half of them (beside), and what may earn most through a fifth
// (earners), so that something can be said of the choice between them.
func (d *dryers) fill(ctx context.Context, g Proof) error {
	at := d.chosen(g)
	if err := d.live(ctx, []int{at}, d.Seasons); err != nil {
		return err
	}
	if err := d.live(ctx, d.beside(at), (d.Seasons+1)/2); err != nil {
		return err
	}
	return d.live(ctx, d.earners(), d.toKnow())
}

// chosen returns the index of the plan to fund: what is proven enough, or the smallest undecided
// one whose share reaches the target, or the best of those with most seasons.
func (d *dryers) chosen(g Proof) int {
	base := total(d.plans[0])
	if g.Enough >= 0 {
		return g.Enough - base
	}
	for _, n := range g.Undecided {
		c := d.judged[n-base]
		if p := playFor(d.Goal, lived(c)); float64(count(p.least())) >= d.Target*float64(c.seasons()) {
			return n - base
		}
	}
	return d.best()
}

// beside returns the indexes of the plans that the one to fund is seen beside: that of one dryer
// fewer, and up to what would reach the target if nothing of a month might be missing.
func (d *dryers) beside(at int) []int {
	list := indexes(at+1, d.strictlyFrom(at))
	if at > 0 {
		list = append(list, at-1)
	}
	return list
}

// strictlyFrom returns the index of the smallest plan from one on whose share reaches the target
// without the tolerance of the contract; the first where there is no tolerance or no season yet,
// the last where none does.
func (d *dryers) strictlyFrom(first int) int {
	for k := first; k < len(d.judged); k++ {
		c := d.judged[k]
		if c.table == nil {
			return first
		}
		r, err := JudgeFor(d.Goal, c.region, c.table, c.plan)
		if err != nil || r.Strict == nil {
			return first
		}
		if r.Strict.Odds.Share >= d.Target {
			return k
		}
	}
	return len(d.judged) - 1
}

// best returns the index of the plan with the best odds, of those with most seasons; the smallest
// of equals.
func (d *dryers) best() int {
	best, met := 0, -1
	for k, c := range d.judged {
		if n, most := c.seasons(), d.judged[best].seasons(); n < most {
			continue
		} else if n > most {
			met = -1
		}
		p := playFor(d.Goal, lived(c))
		if m := count(p.least()); m > met {
			best, met = k, m
		}
	}
	return best
}

// indexes lists the numbers from one to another.
func indexes(from, to int) []int {
	var out []int
	for k := from; k <= to; k++ {
		out = append(out, k)
	}
	return out
}

// live lives with some plans up to so many seasons, each from where it has come to.
func (d *dryers) live(ctx context.Context, list []int, upto int) error {
	for {
		from, to := upto, upto
		for _, k := range list {
			from = min(from, d.judged[k].seasons())
		}
		if from == upto {
			return nil
		}
		var plans [][]int
		var group []int
		for _, k := range list {
			if n := d.judged[k].seasons(); n > from {
				to = min(to, n)
			} else {
				plans, group = append(plans, d.plans[k]), append(group, k)
			}
		}
		more, err := d.run(ctx, plans, from, to-from)
		if more != nil {
			d.join(group, more)
		}
		if err != nil {
			return err
		}
	}
}

// join adds the seasons of a run to the tables of its plans, and to those of other plans that have
// come as far and whose rows are there too.
func (d *dryers) join(group []int, more []candidate) {
	from := d.judged[group[0]].seasons()
	joined := map[*trials.Table]*trials.Table{} // plans that shared a table go on sharing one
	for k := range d.judged {
		c, at := &d.judged[k], slices.Index(group, k)
		if at < 0 && d.whole || c.seasons() != from {
			continue
		}
		add := more[max(0, at)]
		switch before := c.table; {
		case !add.table.Has(c.plan) || add.table.Seasons == 0:
		case d.whole || before == nil:
			c.region, c.table = add.region, joinedTo(before, add.table)
		default:
			if joined[before] == nil {
				joined[before] = trials.Join(before, add.table)
			}
			c.table = joined[before]
		}
	}
}

// joinedTo returns the seasons of a table followed by others; nil is a table of none.
func joinedTo(before, more *trials.Table) *trials.Table {
	if before == nil {
		return more
	}
	return trials.Join(before, more)
}

// events returns the events of all plans in the seasons that each has lived through.
func (d *dryers) events() [][][]bool {
	var out [][][]bool
	for k := range d.played {
		out = append(out, d.played[k].events())
	}
	return out
}

// prove returns the proof of plans of so many dryers and more at a look's error.
func (d *dryers) prove(met [][][]bool, fewest int, err float64) Proof {
	if d.uneven || d.Goal.Kind == goal.IncomeAtLeast { // a dryer more may earn less
		return eachBound(met, fewest, d.Target, err*float64(len(met))/float64(len(d.plans)), d.weights...)
	}
	return proofOf(met, fewest, d.Target, err, d.weights...)
}

// evenly is the part of the error that all events of a goal share equally.
const evenly = 0.1

// weightsOf returns by event the part of the error with which it may call a number too few. Most
// goes to the events that are missed most often on the search seasons, by the square, with the
// numbers around the one that reaches the target there: on them it hangs.
func weightsOf(events ...[][]bool) []float64 {
	out := make([]float64, len(events[0]))
	sum := 0.0
	for _, plan := range events {
		for k, event := range plan {
			out[k] += float64(len(event) - count(event))
		}
	}
	for k := range out {
		out[k] *= out[k]
		sum += out[k]
	}
	for k := range out {
		even := 1 / float64(len(out))
		if out[k] /= max(sum, 1); sum == 0 {
			out[k] = even
		}
		out[k] = (1-evenly)*out[k] + evenly*even
	}
	return out
}
