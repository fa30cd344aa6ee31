package decide

import (
	"context"
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
	held *attempt // at what is promised
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
	p.Hub, err = q.hub(ctx, &p)
	return p, err
}

// hub says in which air the promised stalks lie, and what an open shed would do to the promise.
func (q *PromiseQuestion) hub(ctx context.Context, p *Promise) (HubAir, error) {
	set := q.Setup
	if p.Flat > 0 {
		set.Region = q.flat(p.Flat)
	}
	if q.live != nil {
		return AirOfHub(set.Region), nil
	}
	plan := PlanOf(set.Region)
	if q.held != nil {
		return HubOf(ctx, set, set.Region, q.held.study.Tables[0], plan)
	}
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
	t, err := q.try(r, first, n)
	if err != nil {
		return PlanResult{}, err
	}
	return t.all(ctx)
}

// reaches tells whether a region's plan reaches the target in n seasons from the first on, as soon
// as that is clear.
func (q *PromiseQuestion) reaches(ctx context.Context, r *sim.Region, first, n int) (bool, *attempt, error) {
	t, err := q.try(r, first, n)
	if err != nil {
		return false, nil, err
	}
	ok, err := t.reaches(ctx, q.Target)
	return ok, t, err
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
		ok, _, err := q.reaches(ctx, q.flat(max(1, int(mid*float64(most)))), FirstSearchSeason, q.SearchSeasons)
		if err != nil {
			return 0, err
		}
		if ok {
			low = mid
		} else {
			high = mid
		}
	}
	return low, nil
}

// monthByMonth raises each contract month alone as far as the share of fresh seasons reaches
// the target. That is not proven: it shows where there is room.
func (q *PromiseQuestion) monthByMonth(ctx context.Context, p *Promise) error {
	if p.Flat == 0 {
		return nil
	}
	n := min(q.Seasons, 2*q.SearchSeasons)
	p.MonthSeasons = n
	flat, err := q.flatOdds(ctx, p.Flat, n)
	if err != nil {
		return err
	}
	for _, span := range q.Setup.Region.Calendar.Months() {
		if q.Setup.Region.Contract.StalksByMonth[span.Month] == 0 {
			continue
		}
		q.tell(Raising, span.Month)
		part, odds, err := q.raise(ctx, p.Flat, span.Month, n)
		if err != nil {
			return err
		}
		if part == 1 {
			odds = flat
		}
		p.Months = append(p.Months, Promised{span.Month.String(), int(part * float64(p.Flat)), odds})
	}
	return nil
}

// flatOdds returns the odds of what is promised in the first n seasons, which are known from its
// proof.
func (q *PromiseQuestion) flatOdds(ctx context.Context, flat, n int) (trials.Odds, error) {
	if q.held == nil || q.held.study == nil {
		r, err := q.judged(ctx, q.flat(flat), 0, n)
		return r.Odds, err
	}
	table := q.held.study.Tables[0].Before(n)
	r, err := JudgeFor(q.Goal, q.held.region, table, PlanOf(q.held.region))
	return r.Odds, err
}

// raise returns how many times the flat number a month alone takes, up to three, to a sixteenth
// of it, and the odds with that in all n seasons; 1 and none where it takes no more.
func (q *PromiseQuestion) raise(ctx context.Context, flat int, month time.Month, n int) (float64, trials.Odds, error) {
	low, high := 1.0, 3.0
	type held struct {
		part float64
		t    *attempt
	}
	var reached []held
	for range 5 {
		mid := (low + high) / 2
		r := q.flat(flat)
		r.Contract.StalksByMonth[month] = int(mid * float64(flat))
		ok, t, err := q.reaches(ctx, r, 0, n)
		if err != nil {
			return 0, trials.Odds{}, err
		}
		if ok {
			low, reached = mid, append(reached, held{mid, t})
		} else {
			high = mid
		}
	}
	for k := len(reached) - 1; k >= 0; k-- { // what looked so early may not hold in all seasons
		r, err := reached[k].t.all(ctx)
		if err != nil {
			return 0, trials.Odds{}, err
		}
		if r.Odds.Share >= q.Target {
			return reached[k].part, r.Odds, nil
		}
	}
	return 1, trials.Odds{}, nil
}
