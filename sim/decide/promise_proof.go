package decide

import (
	"context"
	"math"

	"gonum.org/v1/gonum/stat/distuv"

	"drystalk/sim/trials"
)

// The proof of a promise goes up stride by stride from where the search seasons say that it is
// likely to hold, until a step is not proven: such a fixed order of tests keeps its error without a
// correction (fixed-sequence testing, Maurer, Hothorn & Lehmacher 1995; from memory), and that
// every month must pass needs none either. That may err in half of 5 %.
//
// Where the first step fails there are other places to begin, further down, and from each up to
// where the one before began. Which places these are is settled beforehand, and each has its part of
// the error (fallback procedure, Wiens 2003; from memory). Where a stride was too long the proof goes
// up once more in between, in shorter ones, each time with its part of the error: a larger contract is
// not met more often, so only in one such place can anything be wrong, wherever the proof comes to.
// All parts add up to 5 % at most.
//
// Steps that come next are lived through side by side, so that their seasons are drawn once. What
// is clearly too much is given up: that can only make the proof miss what it might have proven.

// What each way up may spend, of half of 5 %: the first; those further down, each half of the one
// before; and those in between, each a quarter of the one before.
const (
	firstSpends   = 1.0
	backSpends    = 0.16
	betweenSpends = 0.5
)

// firstBack is how many strides below the first step the proof begins again; then twice as many
// further each time.
const firstBack = 4

// climb is one way up: steps from one on and below another.
type climb struct {
	from, below int
	stride      int // up to the step known as about
	about       int
	short       int     // stride from there on
	spends      float64 // part of half of 5 %
}

// after returns the step after another.
func (c *climb) after(step int) int {
	if step >= c.about {
		return step + c.short
	}
	return min(step+c.stride, c.about)
}

// mostShort is the longest stride from where the limit is thought to lie.
const mostShort = 3

// climbsFrom returns the ways up, from a step to the lowest.
func climbsFrom(start, stride, about int) []climb {
	out := []climb{{start, math.MaxInt, stride, about, min(stride, mostShort), firstSpends}}
	spends := backSpends
	for at, back := start, firstBack*stride; at > 1; back *= 2 {
		below := at
		at = max(1, at-back)
		out = append(out, climb{at, below, stride, below, stride, spends})
		spends /= 2
	}
	return out
}

// abreast is how many steps are lived through side by side up to the looks of looksAt, the first for
// the last of them: the more seasons it takes the more is lost where the lowest of them fails.
var abreast = []int{2, 3, 4, 4}

// ascent is the steps of a proof on their way.
type ascent struct {
	q      *PromiseQuestion
	most   int // stalks of the largest month
	climbs []climb
	looks  []aLook
	tried  map[int]*rung // by stalks
}

// rung is a contract that is to be proven.
type rung struct {
	*attempt
	looks  int  // at it so far
	proven bool // by one of them
	given  bool // up
}

func ascentFrom(q *PromiseQuestion, most int, climbs []climb) *ascent {
	return &ascent{q, most, climbs, looksAt(q.Seasons, q.Seasons), map[int]*rung{}}
}

// prove finds the step up to which the contract is proven and writes it down with the one that is
// not.
func (q *PromiseQuestion) prove(ctx context.Context, p *Promise, a *ascent) error {
	for k, c := range a.climbs {
		if k > 0 && !a.can(c) {
			break
		}
		top, next, err := a.climb(ctx, c)
		if err == nil && top > 0 {
			top, next, err = a.between(ctx, top, next)
		}
		if err != nil {
			return err
		}
		p.Next, p.NextOdds = a.at(next).stalks, a.at(next).odds
		if top > 0 {
			return q.keep(ctx, p, float64(top)*promiseStep, a.at(top).attempt)
		}
	}
	return nil
}

// can tells whether a climb could prove anything, were all seasons met.
func (a *ascent) can(c climb) bool {
	l := a.looks[len(a.looks)-1]
	return trials.LowerBound(l.after, l.after, 1-c.spends*l.err/2) >= a.q.Target
}

// at returns a step.
func (a *ascent) at(step int) *rung {
	stalks := stalksAt(step, a.most)
	if a.tried[stalks] == nil {
		a.tried[stalks] = &rung{attempt: a.q.try(a.q.flat(stalks), 0, a.q.Seasons)}
		a.tried[stalks].stalks = stalks
	}
	return a.tried[stalks]
}

// climb returns the highest step of a way up to which all are proven, 0 where none is, and the first
// that is not.
func (a *ascent) climb(ctx context.Context, c climb) (top, next int, err error) {
	at := c.from
	for at < c.below {
		switch t := a.at(at); {
		case t.proven:
			if top > 0 && a.at(top) != t {
				a.at(top).table = nil // its odds are all that is asked of it
			}
			top, at = at, c.after(at)
		case t.given || t.looks == len(a.looks):
			return top, at, nil
		default:
			if err := a.look(ctx, c, at); err != nil {
				return 0, 0, err
			}
		}
	}
	return top, c.below, nil
}

// look lives through a step and those that come next up to its next look.
func (a *ascent) look(ctx context.Context, c climb, at int) error {
	a.q.tell(Proving, 0)
	k := a.at(at).looks
	var rungs []*rung
	var list []*attempt
	for range abreast[min(len(a.looks)-1-k, len(abreast)-1)] {
		t := a.at(at)
		if at >= c.below || t.given || t.looks > k && !t.proven {
			break
		}
		if n := len(rungs); !t.proven && (n == 0 || rungs[n-1] != t) {
			rungs, list = append(rungs, t), append(list, t.attempt)
		}
		at = c.after(at)
	}
	l := a.looks[k]
	if err := a.q.bring(ctx, list, l.after); err != nil {
		return err
	}
	for _, t := range rungs {
		o := t.odds
		t.looks = k + 1
		t.proven = trials.LowerBound(o.Met, o.Seasons, 1-c.spends*l.err/2) >= a.q.Target
		t.given = !t.proven && a.hopeless(o, c.spends)
	}
	return nil
}

// hopelessSpreads is by how many standard deviations of their difference the seasons that are left
// must do better than those so far, to prove a step, before it is given up: one chance in twenty.
const hopelessSpreads = 1.645

// hopeless tells whether the seasons that are left will hardly prove a step.
func (a *ascent) hopeless(o trials.Odds, spends float64) bool {
	l := a.looks[len(a.looks)-1]
	left := float64(l.after - o.Seasons)
	if left <= 0 {
		return false
	}
	p := a.q.Target
	asked := p + distuv.UnitNormal.Quantile(1-spends*l.err/2)*math.Sqrt(p*(1-p)/float64(l.after))
	rest := (asked*float64(l.after) - float64(o.Met)) / left
	return rest-o.Share > hopelessSpreads*math.Sqrt(p*(1-p)*(1/left+1/float64(o.Seasons)))
}

// between looks for more between a step that is proven and the next that is not.
func (a *ascent) between(ctx context.Context, top, next int) (int, int, error) {
	for spends := betweenSpends; next-top > 1; spends /= 4 {
		stride := max(1, (next-top)/mostShort)
		c := climb{top + stride, next, stride, next, stride, spends}
		if !a.can(c) {
			break
		}
		more, fails, err := a.climb(ctx, c)
		if err != nil {
			return 0, 0, err
		}
		if next = fails; more > 0 {
			top = more
		}
	}
	return top, next, nil
}

// keep writes down the part that is promised.
func (q *PromiseQuestion) keep(ctx context.Context, p *Promise, part float64, t *attempt) error {
	r, err := q.result(ctx, t)
	if err != nil {
		return err
	}
	p.Flat, p.Part, p.Worst, p.Odds, q.held = t.stalks, part, r.WorstMonth(), r.Odds, t
	return nil
}
