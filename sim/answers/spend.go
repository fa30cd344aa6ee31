package answers

import (
	"context"
	"math"
	"strconv"

	"drystalk/sim/decide"
	"drystalk/sim/money"
	"drystalk/sim/spend"
	"drystalk/sim/trials"
	"drystalk/sim/ways"
	"drystalk/tongue"
)

// SpendOptions are the options of [Spend].
type SpendOptions struct {
	Numbers
	Anyway
	Budget   []float64 `above:"0" most:"1000000000000" atmost:"8" help:"What may be spent, in the currency of the scenario; several, such as 20000,40000, are answered side by side."`
	Cheapest bool      `help:"The list that reaches the target for least, within the budget if one is stated."`
	Search   int       `default:"60" least:"30" most:"1000000" help:"Seasons that choose what is bought, apart from those behind the figures."`
}

// DefaultSpend returns the options of [Spend] for a budget or several, in the currency of the
// scenario.
func DefaultSpend(budgets ...float64) SpendOptions {
	q := defaults[SpendOptions]()
	q.Budget = budgets
	return q
}

// Validate tells what is wrong with the options, as a [Fault].
func (q SpendOptions) Validate() error {
	switch n := len(q.Budget); {
	case n == 0 && !q.Cheapest:
		return Fault{"budget", tongue.Say("found none, allowed: what may be spent, or --cheapest")}
	case n > 1 && q.Cheapest:
		return Fault{"cheapest", tongue.Plainf("found %d budgets beside it, allowed: one or none", n)}
	}
	return validate(&q)
}

// Command returns the command line that gives the same numbers.
func (q SpendOptions) Command(c Case) string { return commandOf("spend", &c, &q) }

// SpendLine returns the command line that asks what so much money would buy for a plan, in whole units of its
// currency and with options as they are unless stated; without a file of the plan for the demo that needs no
// name. It returns "" for no money.
func SpendLine(c Case, budget money.Amount) string {
	units := math.Round(budget.Units())
	if units < 1 {
		return ""
	}
	words := planWords(&c)
	if c.File == "" {
		words = words[1:]
	}
	words = append([]string{"drystalk", "spend"}, words...)
	return line(append(words, flag("budget", strconv.FormatFloat(units, 'f', -1, 64))...))
}

// SpendAnswer is what a budget buys. Each are the answers of several budgets, of which Spending
// is that of the largest; nil for one.
type SpendAnswer struct {
	Asked    Asked          `json:"-"`
	Spending spend.Answer   `json:"spending"`
	Each     []spend.Answer `json:"each_budget"`
	Rival    *ways.Rival    `json:"free_rival,omitempty"` // of Spending; nil where nothing is bought, or no better way of working was found
}

// Spend finds what to buy with a budget or with several, in order of what it brings for its money,
// or the cheapest list that reaches the target. A plan without prices is a [Fault]. An interrupted
// run answers with what it knows; Spending.Stopped says so.
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
		return a, Fault{What: tongue.Plainf("%s: found no prices, allowed: a group of keys money with the prices of what may be bought (drystalk check --explain names them)", c.Name)}
	}
	of := spend.Question{
		Setup: trialsOf(&c, &q.Numbers), MaxDryers: c.MaxDryers, Prices: c.Prices, Cheapest: q.Cheapest, Target: c.Target, Goal: c.Goal, SearchSeasons: q.Search, Seasons: q.Seasons,
		Progress: func(stage decide.Stage, done, of int) { tell.tell(Doing{Stage: stage}, done, of) },
	}
	if len(q.Budget) < 2 {
		for _, budget := range q.Budget {
			of.Budget = money.Of(budget)
		}
		if a.Spending, err = spend.Buy(ctx, of); err != nil {
			return a, err
		}
		return a, a.rival(ctx, &c, &q, of.Setup)
	}
	var budgets []money.Amount
	for _, budget := range q.Budget {
		budgets = append(budgets, money.Of(budget))
	}
	if a.Each, err = spend.BuyEach(ctx, of, budgets); err == nil {
		a.Spending = a.Each[len(a.Each)-1]
		err = a.rival(ctx, &c, &q, of.Setup)
	}
	return a, err
}

// rival finds the best free rival of what is bought, unless the run was stopped.
func (a *SpendAnswer) rival(ctx context.Context, c *Case, q *SpendOptions, set trials.Setup) (err error) {
	if a.Spending.Stopped || len(a.Spending.Steps) == 0 {
		return nil
	}
	a.Rival, err = rivalOf(ctx, c, &q.Numbers, beside{set: set, offered: withRegion(set, a.Spending.Best), tried: [][]int{c.Plan()}})
	return err
}
