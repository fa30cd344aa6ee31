package decide

import (
	"context"
	"math"
	"time"

	"gonum.org/v1/gonum/stat/distuv"

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
	Next         int         `json:"next_tried_stalks"` // the smallest above Flat that was tried and is not proven
	NextOdds     trials.Odds `json:"next_odds"`         // of fewer seasons where it was given up
	Months       []Promised  `json:"months"`            // each month alone raised, the others at Flat
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
	LessIn  trials.Odds `json:"less_odds"`   // of fewer seasons where that was clear
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

	// made makes the odds of a region's plan in so many seasons from the first on up; nil: they are
	// lived through.
	made func(r *sim.Region, first, n int) (trials.Odds, error)

	searched *attempt // the one that lived through most search seasons
	held     *attempt // at what is promised
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
	t, err := q.rain(ctx)
	if err != nil {
		return 0, err
	}
	for k := range t.Months() {
		var sum float64
		for i := range t.Seasons {
			sum += t.RainMM(i)[k]
		}
		if sum/float64(t.Seasons) > rainsMM {
			return k - 1, nil
		}
	}
	return NoStock, nil
}

// rain returns a table of the search seasons, whose rain is that of any contract.
func (q *PromiseQuestion) rain(ctx context.Context) (*trials.Table, error) {
	if t := q.searched; t != nil {
		err := q.bring(ctx, []*attempt{t}, q.SearchSeasons)
		return t.table, err
	}
	return q.Setup.Table(ctx, FirstSearchSeason, q.SearchSeasons, trials.Only(PlanOf(q.Setup.Region)), nil)
}

// promiseStep is the grid of contracts, as a part of the largest month written.
const promiseStep = 0.01

// FindPromise finds the largest number of stalks that can be promised in every contract month.
// The contract also tells the sites when to stop cutting, so every number is run whole. Search
// seasons find about where the limit lies; then fresh seasons prove one step after another upward
// from below it.
func FindPromise(ctx context.Context, q PromiseQuestion) (Promise, error) {
	p := Promise{Target: q.Target, Goal: q.Goal, Seasons: q.Seasons}
	most := 0
	for _, span := range q.Setup.Region.Calendar.Months() {
		most = max(most, q.Setup.Region.Contract.StalksByMonth[span.Month])
	}
	if most == 0 {
		return p, ErrNoContract
	}
	about, err := q.about(ctx, most)
	if err != nil {
		return p, err
	}
	start, stride, err := q.safely(ctx, most, about)
	if err != nil {
		return p, err
	}
	if err := q.prove(ctx, &p, ascentFrom(&q, most, climbsFrom(start, stride, about))); err != nil {
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
	if q.made != nil {
		return AirOfHub(set.Region), nil
	}
	plan := PlanOf(set.Region)
	if q.held != nil {
		return HubOf(ctx, set, set.Region, q.held.table, plan)
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
// stock wanted ahead as it is written: a plan that keeps so much can promise more for it.
func (q *PromiseQuestion) flat(stalks int) *sim.Region {
	region := q.Setup.Region.Clone()
	c := region.Contract
	region.Contract.StalksByMonth = map[time.Month]int{}
	for m, n := range c.StalksByMonth {
		if n > 0 {
			region.Contract.StalksByMonth[m] = stalks
		}
	}
	return region
}

// about returns about the step that fresh seasons will just prove, as the search seasons have it, and
// how it does there. The search cuts what lies between two steps again and again, its tries side by
// side; a larger contract is taken to be met less often.
func (q *PromiseQuestion) about(ctx context.Context, most int) (int, error) {
	low, high := 0, 4*100
	for tries := []int{50, 100, 200}; ; { // most limits lie near the contract as written
		reached, err := q.tryAll(ctx, most, tries, q.share(0))
		if err != nil {
			return 0, err
		}
		low, high = narrowed(tries, reached, low, high)
		if high-low < sections {
			return max(1, low), nil
		}
		tries = tries[:0]
		for k := 1; k < sections; k++ {
			tries = append(tries, low+k*(high-low)/sections)
		}
	}
}

// sections is into how many parts a search cuts what lies between two tries.
const sections = 4

// narrowed returns the largest step below the first that did not reach a share, and that one.
func narrowed(tries []int, reached []bool, low, high int) (int, int) {
	for k, step := range tries {
		if !reached[k] {
			return low, step
		}
		low = step
	}
	return low, high
}

// share returns the share of search seasons with which a step is as likely proven as not on fresh
// ones, and so many times the spread of the difference between the two on top.
func (q *PromiseQuestion) share(spreads float64) float64 {
	fresh, search := float64(q.Seasons), float64(q.SearchSeasons)
	sd := math.Sqrt(q.Target * max(0, 1-q.Target))
	z := distuv.UnitNormal.Quantile(1 - (1-trials.Level)/2)
	return min(1, q.Target+sd*(z/math.Sqrt(fresh)+spreads*math.Sqrt(1/fresh+1/search)))
}

// safely returns the step from which the proof goes up, and by how many steps at a time. Where the
// odds hardly fall with the contract nobody can tell from few seasons where the limit lies, so the
// strides are long there.
func (q *PromiseQuestion) safely(ctx context.Context, most, about int) (start, stride int, err error) {
	var tries []int
	for _, part := range []float64{0.5, 0.7, 0.85, 0.95} {
		if step := int(part * float64(about)); step >= 1 && (len(tries) == 0 || step > tries[len(tries)-1]) {
			tries = append(tries, step)
		}
	}
	if len(tries) == 0 {
		return 1, 1, nil
	}
	reached, err := q.tryAll(ctx, most, tries, q.share(1))
	if err != nil {
		return 0, 0, err
	}
	start, _ = narrowed(tries, reached, tries[0], about)
	return start, max(1, (about-start+sections-1)/sections), nil
}

// tryAll tells which steps reach a share of the search seasons.
func (q *PromiseQuestion) tryAll(ctx context.Context, most int, steps []int, share float64) ([]bool, error) {
	q.tell(Searching, 0)
	list := make([]*attempt, len(steps))
	for k, step := range steps {
		list[k] = q.try(q.flat(stalksAt(step, most)), FirstSearchSeason, q.SearchSeasons)
	}
	reached, err := q.reach(ctx, list, share)
	for _, t := range list {
		if q.searched == nil || t.lived > q.searched.lived {
			q.searched = t
		}
	}
	return reached, err
}

// stalksAt returns the stalks a month of a step of the largest month.
func stalksAt(step, most int) int {
	return max(1, int(math.Round(float64(step)*promiseStep*float64(most))))
}
