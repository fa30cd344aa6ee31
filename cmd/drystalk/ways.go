package main

import (
	"io"

	"drystalk/report/document"
	"drystalk/scenarios"
	"drystalk/sim/answers"
	"drystalk/tongue"
)

// waysCmd finds better ways of working.
type waysCmd struct {
	plan
	outFlag
	answers.WaysOptions
}

// Run prints which better ways of working there are, and writes them as a file that other commands
// take.
func (c *waysCmd) Run(t terminal) error {
	if err := ready(c.JSON, c.Out); err != nil {
		return err
	}
	few(t, c.Seasons)
	a, err := ask(t, &c.plan, func(of answers.Case, tell answers.Progress) (answers.WaysAnswer, error) {
		return answers.Ways(t.ctx, of, c.WaysOptions, tell)
	})
	if err != nil {
		return err
	}
	d, err := writer.Ways(a)
	if err != nil {
		return err
	}
	if c.JSON {
		return c.print(t, d, c.Out)
	}
	s, err := c.loaded(terminal{t.ctx, t.out, io.Discard})
	if err != nil {
		return err
	}
	return c.print(t, d, c.Out, document.Ways(s, a)...)
}

// working lets a scenario work in the ways of the file, if one is named.
func (f *waysFlag) working(s *scenarios.Scenario) (*scenarios.Scenario, error) {
	if f.Ways == "" {
		return s, nil
	}
	data, err := readRegular(f.Ways, tongue.Say("file of ways of working"), largestScenario)
	if err != nil {
		return nil, err
	}
	return s.WithWays(f.Ways, data)
}
