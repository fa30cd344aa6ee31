package main

import (
	"strings"

	"drystalk/report"
	"drystalk/scenarios"
	"drystalk/sim/decide"
)

// compareCmd compares two plans in the same seasons.
type compareCmd struct {
	runFlags
	Second  string   `arg:"" optional:"" help:"Second scenario file; or give --with."`
	With    []string `sep:"none" help:"What the second plan changes, such as 'Heron Point: dryers=2'; may be repeated."`
	Futures int      `default:"200" help:"Sequences of years behind a payback."`
}

// Run prints what the second plan does that the first does not.
func (c *compareCmd) Run(t terminal) error {
	if err := c.check(t); err != nil {
		return err
	}
	if c.Futures < fewest || c.Futures > 100_000 {
		return usagef("--futures: found %d, allowed: %d to 100000", c.Futures, fewest)
	}
	a, b, err := c.both(t)
	if err != nil {
		return err
	}
	diff, err := scenarios.Differences(a, b)
	if err != nil {
		return usageError{err}
	}
	if len(diff) == 0 {
		return usagef("%s and %s: the plans do not differ", a.Name, b.Name)
	}
	first, err := setup(a, c.Seed, c.Workers)
	if err != nil {
		return err
	}
	second, err := setup(b, c.Seed, c.Workers)
	if err != nil {
		return err
	}
	q := decide.ComparisonQuestion{
		A: decide.Side{Name: a.Name, Setup: first}, B: decide.Side{Name: b.Name, Setup: second}, Seasons: c.Seasons, Prices: pricesOf(b), Futures: c.Futures,
	}
	tell, end := progress(t.err, 100)
	q.Progress = func(done, of int) { tell(100 * done / max(1, of)) }
	result, err := decide.Compare(t.ctx, q)
	end()
	if err != nil {
		return err
	}
	said := report.Compared{Region: a.Region.Name, Result: result, Currency: b.Currency}
	if b.HasMoney && b.Money.LoanShare > 0 {
		said.LoanEnds = b.Money.LoanMonths
	}
	for _, d := range diff {
		change := report.Change{Key: strings.TrimPrefix(d.Key, "sites."), A: d.A, B: d.B}
		if d.Plan {
			said.Changes = append(said.Changes, change)
		} else {
			said.Outside = append(said.Outside, change)
		}
	}
	r, err := report.ForCompare(said)
	if err != nil {
		return err
	}
	out := struct {
		behind
		Second      string                 `json:"second_scenario_hash"`
		Differences []scenarios.Difference `json:"differences"`
		Comparison  decide.Comparison      `json:"comparison"`
	}{behindOf(a, c.Seed, r), b.Hash, diff, result}
	return finish(t, &c.runFlags, a, r, out, c.words())
}

// words are the command as it was given, for whoever repeats it.
func (c *compareCmd) words() string {
	words := "compare"
	for _, w := range c.With {
		words += " --with '" + w + "'"
	}
	if c.Second != "" {
		words += " --second " + c.Second
	}
	return words
}

// both reads the two plans.
func (c *compareCmd) both(t terminal) (a, b *scenarios.Scenario, err error) {
	if (c.Second == "") == (len(c.With) == 0) {
		return nil, nil, usagef("compare: give a second scenario file or --with, and not both")
	}
	if a, err = c.load(t); err != nil {
		return nil, nil, err
	}
	if c.Second != "" {
		second := scenarioFlags{Scenario: c.Second}
		b, err = second.load(t)
		return a, b, err
	}
	if b, err = a.With(c.With); err != nil {
		return nil, nil, usageError{err}
	}
	return a, b, nil
}
