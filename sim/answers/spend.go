package answers

import (
	"context"

	"drystalk/sim/decide"
	"drystalk/sim/money"
	"drystalk/sim/spend"
)

// SpendOptions are the options of [Spend].
type SpendOptions struct {
	Numbers
	Anyway
	Budget float64 `required:"" above:"0" most:"1000000000000" help:"What may be spent, in the currency of the scenario."`
	Search int     `default:"60" least:"30" most:"1000000" help:"Seasons that choose what is bought, apart from those behind the figures."`
}

// DefaultSpend returns the options of [Spend] for a budget, in the currency of the scenario.
func DefaultSpend(budget float64) SpendOptions {
	q := defaults[SpendOptions]()
	q.Budget = budget
	return q
}

// Validate tells what is wrong with the options, as a [Fault].
func (q SpendOptions) Validate() error { return validate(&q) }

// Command returns the command line that gives the same numbers.
func (q SpendOptions) Command(c Case) string { return commandOf("spend", &c, &q) }

// SpendAnswer is what a budget buys.
type SpendAnswer struct {
	Asked    Asked        `json:"-"`
	Spending spend.Answer `json:"spending"`
}

// Spend finds what to buy with a budget, in order of what it brings for its money. A plan
// without prices is a [Fault]. An interrupted run answers with what it knows; Spending.Stopped
// says so.
func Spend(ctx context.Context, c Case, q SpendOptions, tell Progress) (SpendAnswer, error) {
	a := SpendAnswer{Asked: Asked{c, q.Command(c)}}
	err := q.Validate()
	if err != nil {
		return a, err
	}
	if err := q.Anyway.check(&c); err != nil {
		return a, err
	}
	if c.Prices == nil {
		return a, Fault{What: c.Name + ": found no prices, allowed: a group of keys money with the prices of what may be bought (drystalk check --explain names them)"}
	}
	a.Spending, err = spend.Buy(ctx, spend.Question{
		Setup: trialsOf(&c, &q.Numbers), MaxDryers: c.MaxDryers, Prices: c.Prices, Budget: money.Of(q.Budget), Target: c.Target, Goal: c.Goal, SearchSeasons: q.Search, Seasons: q.Seasons,
		Progress: func(stage decide.Stage, done, of int) { tell.tell(Doing{Stage: stage}, done, of) },
	})
	return a, err
}
