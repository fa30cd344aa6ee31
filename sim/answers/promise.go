package answers

import (
	"context"

	"drystalk/sim/decide"
	"drystalk/sim/goal"
	"drystalk/sim/ways"
	"drystalk/tongue"
)

// PromiseOptions are the options of [Promise].
type PromiseOptions struct {
	Numbers
	Anyway
	Search  int    `default:"100" least:"30" most:"1000000" help:"Seasons that find about where the limit lies."`
	StockAt string `help:"Date at whose month's end the stock is asked for, such as 31-may; by default the last month before the rains; 'none' asks for none."`
}

// DefaultPromise returns the options of [Promise] as they are unless stated.
func DefaultPromise() PromiseOptions { return defaults[PromiseOptions]() }

// Validate tells what is wrong with the options, as a [Fault].
func (q PromiseOptions) Validate() error { return validate(&q) }

// Command returns the command line that gives the same numbers.
func (q PromiseOptions) Command(c Case) string { return commandOf("promise", &c, &q) }

// PromiseAnswer is the contract that a plan can promise.
type PromiseAnswer struct {
	Asked   Asked          `json:"-"`
	Promise decide.Promise `json:"promise"`
	Rival   *ways.Rival    `json:"free_rival,omitempty"` // of the promise worked as now; nil where no better way of working was found
}

// Promise finds the largest contract that the plan as written meets, by month, and the stock
// that must lie at the hub before the rains.
func Promise(ctx context.Context, c Case, q PromiseOptions, tell Progress) (PromiseAnswer, error) {
	a := PromiseAnswer{Asked: Asked{c, q.Command(c)}}
	err := q.Validate()
	if err != nil {
		return a, err
	}
	if err := q.Anyway.check(&c); err != nil {
		return a, err
	}
	if c.Goal.Kind == goal.IncomeAtLeast {
		return a, Fault{What: tongue.Plainf("%s: contract.target: found income_at_least, allowed for a promise: a target of stalks or penalties, for a larger contract may earn more and be met less", c.Name)}
	}
	after, err := q.stockAfter(&c)
	if err != nil {
		return a, err
	}
	of := decide.PromiseQuestion{
		Setup: trialsOf(&c, &q.Numbers), Target: c.Target, Goal: c.Goal, SearchSeasons: q.Search, Seasons: q.Seasons, StockAfter: after,
		Progress: func(at Doing) { tell.tell(at, 0, 0) },
	}
	if a.Promise, err = decide.FindPromise(ctx, of); err != nil {
		return a, err
	}
	stalks := a.Promise.Flat
	if stalks == 0 {
		stalks = a.Promise.Next
	}
	promised := withRegion(of.Setup, of.Contract(stalks))
	a.Rival, err = rivalOf(ctx, &c, &q.Numbers, beside{set: promised, offered: promised, tried: [][]int{c.Plan()}})
	return a, err
}

// stockAfter returns the month of the season at whose end the stock is asked for.
func (q *PromiseOptions) stockAfter(c *Case) (int, error) {
	switch q.StockAt {
	case "none":
		return decide.NoStock, nil
	case "":
		return decide.BeforeTheRains, nil
	}
	day, err := c.DayOf(q.StockAt)
	if err != nil {
		return 0, Fault{"stock-at", err.Error()}
	}
	spans := c.Setup.Region.Calendar.Months()
	for k, span := range spans[:len(spans)-1] {
		if day <= span.LastDay {
			return k, nil
		}
	}
	return 0, Fault{"stock-at", tongue.Plainf("found %s, allowed: a day before the last month of the season", q.StockAt)}
}
