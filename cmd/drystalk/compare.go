package main

import (
	"drystalk/report/document"
	"drystalk/scenarios"
	"drystalk/sim/answers"
)

// compareCmd compares two plans in the same seasons.
type compareCmd struct {
	scenarioFlags
	Second string   `arg:"" optional:"" help:"Second scenario file; or give --with."`
	With   []string `sep:"none" help:"What the second plan changes, such as 'Heron Point: dryers=2'; may be repeated."`
	Ways   string   `help:"File of better ways of working, as drystalk ways writes it: both plans work so; with nothing else stated, only the second does."`
	outFlag
	briefFlag
	tableFlag
	answers.CompareOptions
}

// Run prints what the second plan does that the first does not.
func (c *compareCmd) Run(t terminal) error {
	if err := c.briefFlag.check(c.JSON); err != nil {
		return err
	}
	if err := c.tableFlag.check(); err != nil {
		return err
	}
	if err := ready(c.JSON, c.Out); err != nil {
		return err
	}
	few(t, c.Seasons)
	first, second, err := c.both(t)
	if err != nil {
		return err
	}
	pair, err := scenarios.Pair(first, second, c.Seed)
	if err != nil {
		return usageError{err}
	}
	c.monthly(&pair.First)
	c.monthly(&pair.Second)
	tell, end := progress(t.err)
	a, err := answers.Compare(t.ctx, pair, c.CompareOptions, tell)
	end()
	if err != nil {
		return err
	}
	d, err := writer.Compare(a)
	if err != nil {
		return err
	}
	brief, err := c.briefFlag.files(&d)
	if err != nil {
		return err
	}
	if err := c.print(t, d, c.Out, brief...); err != nil {
		return err
	}
	return c.write(t, c.JSON, document.CompareSeasons(&a))
}

// both reads the two plans.
func (c *compareCmd) both(t terminal) (a, b *scenarios.Scenario, err error) {
	if c.Second != "" && len(c.With) > 0 || c.Second == "" && len(c.With) == 0 && c.Ways == "" {
		return nil, nil, usagef("compare: give a second scenario file or --with, and not both; or --ways alone")
	}
	if a, err = c.load(t); err != nil {
		return nil, nil, err
	}
	ways := waysFlag{c.Ways}
	if c.Second == "" && len(c.With) == 0 {
		b, err = ways.working(a)
		return a, b, err
	}
	if a, err = ways.working(a); err != nil {
		return nil, nil, err
	}
	if c.Second == "" {
		if b, err = a.With(c.With); err != nil {
			return nil, nil, usageError{err}
		}
		return a, b, nil
	}
	second := scenarioFlags{Scenario: c.Second}
	if b, err = second.load(t); err == nil {
		b, err = ways.working(b)
	}
	return a, b, err
}
