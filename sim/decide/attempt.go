package decide

import (
	"context"

	"drystalk/sim"
	"drystalk/sim/trials"
)

// attempt is a contract or a stock that is tried: the plan of a region on its way through some
// seasons. It is lived through only as far as it takes to tell what is asked of it.
type attempt struct {
	region   *sim.Region
	stalks   int // a month, where a contract is proven
	first, n int // number of its first season, and how many there are in all
	lived    int // of them so far
	odds     trials.Odds
	table    *trials.Table // of the seasons lived through; nil: none
}

// try begins an attempt in n seasons from the first on.
func (q *PromiseQuestion) try(r *sim.Region, first, n int) *attempt {
	return &attempt{region: r, first: first, n: n}
}

// bring lives through attempts up to so many of their seasons, each from where it has come to.
// Those that have come as far live side by side, so that their seasons are drawn once. All begin
// with the same season.
func (q *PromiseQuestion) bring(ctx context.Context, list []*attempt, upto int) error {
	for {
		from := upto
		for _, t := range list {
			if t.lived < t.n {
				from = min(from, t.lived)
			}
		}
		if from >= upto {
			return nil
		}
		to := upto
		var group []*attempt
		for _, t := range list {
			if t.lived > from {
				to = min(to, t.lived)
			} else if t.lived < t.n {
				group, to = append(group, t), min(to, t.n)
			}
		}
		if err := q.together(ctx, group, to); err != nil {
			return err
		}
	}
}

// together lives through attempts that have come as far up to so many seasons.
func (q *PromiseQuestion) together(ctx context.Context, group []*attempt, to int) error {
	if q.made != nil {
		return q.makeUp(group, to)
	}
	from, set := group[0].lived, q.Setup
	set.Region = group[0].region
	variants := make([]trials.Variant, len(group))
	for k, t := range group {
		variants[k] = trials.Variant{Region: t.region, Levels: trials.Only(PlanOf(t.region))}
	}
	tables, err := set.Tables(ctx, group[0].first+from, to-from, variants, nil)
	if err != nil {
		return err
	}
	for k, t := range group {
		t.table, t.lived = joinedTo(t.table, tables[k]), to
		p := playFor(q.Goal, lived{t.region, t.table, PlanOf(t.region)})
		if len(p.asked) == 0 {
			return ErrNoContract
		}
		t.odds = trials.NewOdds(count(p.least()), to)
	}
	return nil
}

// makeUp takes the odds of made-up seasons.
func (q *PromiseQuestion) makeUp(group []*attempt, to int) (err error) {
	for _, t := range group {
		if t.odds, err = q.made(t.region, t.first, to); err != nil {
			return err
		}
		t.lived = to
	}
	return nil
}

// result lives through all seasons of an attempt and returns what they say.
func (q *PromiseQuestion) result(ctx context.Context, t *attempt) (PlanResult, error) {
	if err := q.bring(ctx, []*attempt{t}, t.n); err != nil {
		return PlanResult{}, err
	}
	if q.made != nil {
		return PlanResult{Odds: t.odds, Months: []MonthResult{{Odds: t.odds}}}, nil
	}
	return JudgeFor(q.Goal, t.region, t.table, PlanOf(t.region))
}

// A search asks after soonStep seasons, and after a quarter more each time, whether it is clear
// already on which side of a share the odds lie: when that is certain, or one bound of soonLevel by
// itself tells. A search proves nothing, so it may err now and then.
const (
	soonStep  = 20
	soonLevel = 0.98
)

// reach tells of attempts whether the share of all their seasons reaches one, each as soon as that
// is clear.
func (q *PromiseQuestion) reach(ctx context.Context, list []*attempt, share float64) ([]bool, error) {
	out, open := make([]bool, len(list)), indexes(0, len(list)-1)
	for n := soonStep; len(open) > 0; n += max(soonStep, n/4) {
		var next []*attempt
		for _, k := range open {
			next = append(next, list[k])
		}
		if err := q.bring(ctx, next, n); err != nil {
			return nil, err
		}
		var still []int
		for _, k := range open {
			reached, clear := list[k].reaches(share)
			if out[k] = reached; !clear {
				still = append(still, k)
			}
		}
		open = still
	}
	return out, nil
}

// reaches tells whether an attempt reaches a share, and whether that is clear.
func (t *attempt) reaches(share float64) (reached, clear bool) {
	o := t.odds
	missed := o.Seasons - o.Met
	switch {
	case o.Seasons >= t.n:
		return o.Share >= share, true
	case float64(t.n-missed)/float64(t.n) < share: // whatever comes
		return false, true
	case trials.LowerBound(o.Met, o.Seasons, soonLevel) >= share:
		return true, true
	}
	return false, 1-trials.LowerBound(missed, o.Seasons, soonLevel) < share
}
