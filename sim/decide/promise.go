package decide

import (
	"context"
	"math"
	"time"

	"drystalk/sim"
	"drystalk/sim/goal"
	"drystalk/sim/trials"
)

func monthName(m int) string { return time.Month(m).String() }

// Promise is the largest contract that a plan meets.
type Promise struct {
	Target       float64     `json:"target_share"`
	Goal         goal.Goal   `json:"target"`
	Seasons      int         `json:"seasons"`
	Flat         int         `json:"stalks_a_month"`    // the same in every contract month; 0 if none can be promised
	Part         float64     `json:"share_of_contract"` // Flat over the largest month of the contract as written
	Worst        MonthResult `json:"worst_month"`       // with Flat
	Odds         trials.Odds `json:"target_odds"`       // of the goal with Flat
	Next         int         `json:"next_tried_stalks"` // the step above Flat, which is not proven
	NextOdds     trials.Odds `json:"next_odds"`
	Months       []Promised  `json:"months"` // each month alone raised, the others at Flat
	MonthSeasons int         `json:"month_seasons"`
	Stock        *StockNeed  `json:"stock,omitempty"`
	Hub          HubAir      `json:"hub"` // with Flat promised; as written where nothing can be
}

// Promised is what one month could take if the others stay at the flat number.
type Promised struct {
	Name   string      `json:"month"`
	Stalks int         `json:"stalks"`
	Odds   trials.Odds `json:"odds"` // of the goal then
}

// StockNeed is the stock that must lie at the hub on a date so that every month after it is
// met.
type StockNeed struct {
	After   string      `json:"after_month"`
	Stalks  int         `json:"stalks"`      // -1: no stock tried is enough
	Odds    trials.Odds `json:"odds"`        // of the goal in what is left of the season then
	Less    int         `json:"less_stalks"` // the step below, which is not enough
	LessIn  trials.Odds `json:"less_odds"`
	Seasons int         `json:"seasons"`
}

// PromiseQuestion is "which contract can the plan safely promise?".
type PromiseQuestion struct {
	Setup         trials.Setup
	Target        float64
	Goal          goal.Goal // of what; of the worst contract month unless stated. Income is none that can be promised by
	SearchSeasons int       // choose where the proof begins
	Seasons       int       // fresh ones, of the proof
	StockAfter    int       // month of the season, from 0, after which the stock is asked for; or one of the two below
	Progress      func(at Doing)

	// live runs a region's plan through so many seasons from the first on; nil: tables of the setup.
	live func(r *sim.Region, first, n int) (PlanResult, error)
}

// When a stock is asked for, instead of after a month.
const (
	NoStock        = -1
	BeforeTheRains = -2 // after the last month before one with more than rainsMM on average
)

// rainsMM is the mean rain of a month from which on it is one of the rains, mm. Assumption.
const rainsMM = 100

// beforeTheRains returns the last month of the season before the rains, NoStock if there is
// none.
func (q *PromiseQuestion) beforeTheRains(ctx context.Context) (int, error) {
	t, err := q.Setup.Table(ctx, FirstSearchSeason, q.SearchSeasons, trials.Only(PlanOf(q.Setup.Region)), nil)
	if err != nil {
		return 0, err
	}
	for k := range t.Months() {
		var sum float64
		for i := range t.Seasons {
			sum += t.RainMM[i][k]
		}
		if sum/float64(t.Seasons) > rainsMM {
			return k - 1, nil
		}
	}
	return NoStock, nil
}

// promiseStep is the grid of contracts, as a part of the largest month written.
const promiseStep = 0.01

// FindPromise finds the largest number of stalks that can be promised in every contract month.
// The contract also tells the sites when to stop cutting, so every number is run whole. Search
// seasons find about where the limit lies; then fresh seasons prove one step after another
// upward from safely below it, and the first that fails ends it: such a fixed order of tests
// keeps the error at 5 % without a correction (fixed-sequence testing, Maurer, Hothorn &
// Lehmacher 1995; from memory), and that every month must pass needs none either.
func FindPromise(ctx context.Context, q PromiseQuestion) (Promise, error) {
	p := Promise{Target: q.Target, Goal: q.Goal, Seasons: q.Seasons}
	most := 0
	for _, span := range q.Setup.Region.Calendar.Months() {
		most = max(most, q.Setup.Region.Contract.StalksByMonth[span.Month])
	}
	if most == 0 {
		return p, ErrNoContract
	}
	f, err := q.about(ctx, most)
	if err != nil {
		return p, err
	}
	if err := q.prove(ctx, &p, most, f); err != nil {
		return p, err
	}
	if err := q.monthByMonth(ctx, &p); err != nil {
		return p, err
	}
	if q.StockAfter == BeforeTheRains {
		if q.StockAfter, err = q.beforeTheRains(ctx); err != nil {
			return p, err
		}
	}
	if q.StockAfter >= 0 {
		if p.Stock, err = q.stock(ctx); err != nil {
			return p, err
		}
	}
	p.Hub, err = q.hub(ctx, p.Flat)
	return p, err
}

// hub says in which air the promised stalks lie, and what an open shed would do to the promise.
func (q *PromiseQuestion) hub(ctx context.Context, stalks int) (HubAir, error) {
	set := q.Setup
	if stalks > 0 {
		set.Region = q.flat(stalks)
	}
	if q.live != nil {
		return AirOfHub(set.Region), nil
	}
	plan := PlanOf(set.Region)
	t, err := set.Table(ctx, 0, min(q.Seasons, mostInTheShed), trials.Only(plan), nil)
	if err != nil {
		return HubAir{}, err
	}
	return HubOf(ctx, set, set.Region, t, plan)
}

func (q *PromiseQuestion) tell(stage Stage, about time.Month) {
	if q.Progress != nil {
		q.Progress(Doing{stage, about})
	}
}

// flat returns the region with the same contract in every month that asks for stalks, and the
// stock ahead in proportion.
func (q *PromiseQuestion) flat(stalks int) *sim.Region {
	region := q.Setup.Region.Clone()
	c := region.Contract
	region.Contract.StalksByMonth, region.Contract.TargetStock = map[time.Month]int{}, map[time.Month]int{}
	for m, n := range c.StalksByMonth {
		if n > 0 {
			region.Contract.StalksByMonth[m] = stalks
		}
	}
	most := 0
	for _, n := range c.StalksByMonth {
		most = max(most, n)
	}
	for m, n := range c.TargetStock {
		region.Contract.TargetStock[m] = int(float64(n) * float64(stalks) / float64(most))
	}
	return region
}

// judged runs a region's plan and returns its result.
func (q *PromiseQuestion) judged(ctx context.Context, r *sim.Region, first, n int) (PlanResult, error) {
	if q.live != nil {
		return q.live(r, first, n)
	}
	set := q.Setup
	set.Region = r
	plan := PlanOf(r)
	t, err := set.Table(ctx, first, n, trials.Only(plan), nil)
	if err != nil {
		return PlanResult{}, err
	}
	return JudgeFor(q.Goal, r, t, plan)
}

// about returns the largest part of the contract that reaches the target on the search
// seasons, by bisection; a larger contract is taken to be met less often.
func (q *PromiseQuestion) about(ctx context.Context, most int) (float64, error) {
	low, high := 0.0, 4.0
	for high-low > 0.015 {
		mid := (low + high) / 2
		if high == 4 && low < 1 {
			mid = low + 0.5 // most limits lie near the contract as written
		}
		q.tell(Searching, 0)
		r, err := q.judged(ctx, q.flat(max(1, int(mid*float64(most)))), FirstSearchSeason, q.SearchSeasons)
		if err != nil {
			return 0, err
		}
		if r.Odds.Share >= q.Target {
			low = mid
		} else {
			high = mid
		}
	}
	return low, nil
}

// prove goes up from safely below the limit until a step is not proven, or down where the
// first already fails: then each step below is tested at half the error, because the order is
// no longer fixed.
func (q *PromiseQuestion) prove(ctx context.Context, p *Promise, most int, about float64) error {
	alpha := (1 - trials.Level) / 2
	at := max(1, math.Floor((0.93*about)/promiseStep)) * promiseStep // a contract of nothing is none
	test := func(f float64) (PlanResult, bool, error) {
		q.tell(Proving, 0)
		r, err := q.judged(ctx, q.flat(max(1, int(math.Round(f*float64(most))))), 0, q.Seasons)
		if err != nil {
			return r, false, err
		}
		o := r.Odds
		return r, trials.LowerBound(o.Met, o.Seasons, 1-alpha) >= q.Target, nil
	}
	keep := func(f float64, r PlanResult) {
		p.Flat, p.Part, p.Worst, p.Odds = max(1, int(math.Round(f*float64(most)))), f, r.WorstMonth(), r.Odds
	}
	r, ok, err := test(at)
	if err != nil {
		return err
	}
	if !ok {
		p.Next, p.NextOdds = int(math.Round(at*float64(most))), r.Odds
		for f := at - 2*promiseStep; f > 0; f -= 2 * promiseStep {
			if r, ok, err = test(f); err != nil {
				return err
			} else if ok {
				keep(f, r)
				return nil
			}
			p.Next, p.NextOdds = int(math.Round(f*float64(most))), r.Odds
			if f < at/3 {
				f /= 2
			}
		}
		return nil
	}
	for ok {
		keep(at, r)
		at += promiseStep
		if r, ok, err = test(at); err != nil {
			return err
		}
	}
	p.Next, p.NextOdds = int(math.Round(at*float64(most))), r.Odds
	return nil
}

// monthByMonth raises each contract month alone as far as the share of fresh seasons reaches
// the target. That is not proven: it shows where there is room.
func (q *PromiseQuestion) monthByMonth(ctx context.Context, p *Promise) error {
	if p.Flat == 0 {
		return nil
	}
	n := min(q.Seasons, 2*q.SearchSeasons)
	p.MonthSeasons = n
	for _, span := range q.Setup.Region.Calendar.Months() {
		if q.Setup.Region.Contract.StalksByMonth[span.Month] == 0 {
			continue
		}
		q.tell(Raising, span.Month)
		at := func(f float64) (trials.Odds, error) {
			r := q.flat(p.Flat)
			r.Contract.StalksByMonth[span.Month] = int(f * float64(p.Flat))
			result, err := q.judged(ctx, r, 0, n)
			if err != nil {
				return trials.Odds{}, err
			}
			return result.Odds, nil
		}
		low, high := 1.0, 3.0
		best, err := at(low)
		if err != nil {
			return err
		}
		for range 5 { // to a sixteenth of the flat number
			mid := (low + high) / 2
			o, err := at(mid)
			if err != nil {
				return err
			}
			if o.Share >= q.Target {
				low, best = mid, o
			} else {
				high = mid
			}
		}
		p.Months = append(p.Months, Promised{span.Month.String(), int(low * float64(p.Flat)), best})
	}
	return nil
}

// stock finds the stock at the hub after a month with which every contract month that follows
// is met: the rest of the season is run by itself, with empty yards and that stock.
func (q *PromiseQuestion) stock(ctx context.Context) (*StockNeed, error) {
	spans := q.Setup.Region.Calendar.Months()
	if q.StockAfter+1 >= len(spans) {
		return nil, nil
	}
	from := spans[q.StockAfter+1].FirstDay
	most := 0
	for _, span := range spans[q.StockAfter+1:] {
		most += q.Setup.Region.Contract.StalksByMonth[span.Month]
	}
	need := &StockNeed{After: spans[q.StockAfter].Month.String(), Stalks: -1, Seasons: q.Seasons}
	if most == 0 {
		return nil, nil
	}
	with := func(stalks, first, n int) (trials.Odds, error) {
		q.tell(Stocking, spans[q.StockAfter].Month)
		region := q.Setup.Region.From(from)
		region.Hub.OpeningStock = stalks
		for i := range region.Sites {
			region.Sites[i].OpeningStock = 0
		}
		r, err := q.judged(ctx, region, first, n)
		if err != nil {
			return trials.Odds{}, err
		}
		return r.Odds, nil
	}
	step := max(1, most/200)
	low, high := 0, 200 // in steps; the whole rest of the contract in store is always enough
	for high-low > 1 {
		mid := (low + high) / 2
		o, err := with(mid*step, FirstSearchSeason, q.SearchSeasons)
		if err != nil {
			return nil, err
		}
		if o.Share >= q.Target {
			high = mid
		} else {
			low = mid
		}
	}
	for k := high; k <= 201; k++ { // on fresh seasons: what the search found may look better than it is
		o, err := with(k*step, 0, q.Seasons)
		if err != nil {
			return nil, err
		}
		if o.Share >= q.Target {
			need.Stalks, need.Odds = k*step, o
			break
		}
		need.Less, need.LessIn = k*step, o
	}
	return need, nil
}
