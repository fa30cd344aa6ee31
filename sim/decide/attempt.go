package decide

import (
	"context"

	"drystalk/sim"
	"drystalk/sim/trials"
)

// attempt is a contract or a stock that is tried: the plan of a region on its way through some
// seasons. It is lived through only as far as it takes to tell what is asked of it.
type attempt struct {
	q      *PromiseQuestion
	region *sim.Region
	stalks int // a month, where a contract is proven
	n      int // seasons of all of them
	study  *trials.Study
	judged *PlanResult // once all are lived through
}

// rest frees the memory of the workers of an attempt that may not go on.
func (t *attempt) rest() {
	if t.study != nil {
		t.study.Rest()
	}
}

// try begins an attempt in n seasons from the first on.
func (q *PromiseQuestion) try(r *sim.Region, first, n int) (*attempt, error) {
	t := &attempt{q: q, region: r, n: n}
	if q.live != nil {
		result, err := q.live(r, first, n)
		t.judged = &result
		return t, err
	}
	set := q.Setup
	set.Region = r
	var err error
	t.study, err = set.Study(first, n, []trials.Variant{{Region: r, Levels: trials.Only(PlanOf(r))}})
	return t, err
}

// upto lives through the first so many seasons and returns their odds.
func (t *attempt) upto(ctx context.Context, seasons int) (trials.Odds, error) {
	if t.judged != nil {
		return t.judged.Odds, nil
	}
	if err := t.study.Run(ctx, seasons, nil); err != nil {
		return trials.Odds{}, err
	}
	table := t.study.Tables[0].Before(seasons)
	p := playFor(t.q.Goal, lived{t.region, table, PlanOf(t.region)})
	if len(p.asked) == 0 {
		return trials.Odds{}, ErrNoContract
	}
	return trials.NewOdds(count(p.least()), table.Seasons), nil
}

// all lives through all seasons.
func (t *attempt) all(ctx context.Context) (PlanResult, error) {
	defer t.rest()
	if t.judged == nil {
		if err := t.study.Run(ctx, t.n, nil); err != nil {
			return PlanResult{}, err
		}
		r, err := JudgeFor(t.q.Goal, t.region, t.study.Tables[0], PlanOf(t.region))
		if err != nil {
			return r, err
		}
		t.judged = &r
	}
	return *t.judged, nil
}

// A search asks after every soonStep seasons whether it is clear already which side of the target
// the odds lie on: when that is certain, or after soonFewest seasons one bound of soonLevel by
// itself tells. A search proves nothing, so it may err now and then.
const (
	soonStep   = 20
	soonFewest = 50
	soonLevel  = 0.995
)

// reaches tells whether the share of all seasons reaches the target, as soon as that is clear.
func (t *attempt) reaches(ctx context.Context, target float64) (bool, error) {
	defer t.rest()
	for n := min(soonStep, t.n); ; n = min(n+soonStep, t.n) {
		o, err := t.upto(ctx, n)
		if err != nil {
			return false, err
		}
		missed := o.Seasons - o.Met
		switch {
		case o.Seasons >= t.n:
			return o.Share >= target, nil
		case float64(t.n-missed)/float64(t.n) < target: // whatever comes
			return false, nil
		case o.Seasons < soonFewest:
		case trials.LowerBound(o.Met, o.Seasons, soonLevel) >= target:
			return true, nil
		case 1-trials.LowerBound(missed, o.Seasons, soonLevel) < target:
			return false, nil
		}
	}
}

// proven tells whether the target is proven, with an error of half of 5 % shared out among looks
// at more and more of the seasons. It ends with the look that proves it.
func (t *attempt) proven(ctx context.Context, target float64) (bool, error) {
	defer t.rest()
	for _, l := range looksAt(t.n, t.n) {
		o, err := t.upto(ctx, l.after)
		if err != nil {
			return false, err
		}
		if o.Seasons == min(l.after, t.n) && trials.LowerBound(o.Met, o.Seasons, 1-l.err/2) >= target {
			return true, nil
		}
	}
	return false, nil
}
