package main

import (
	"io"

	"drystalk/report"
	"drystalk/scenarios"
	"drystalk/sim/answers"
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
	return c.print(t, d, c.Out, waysFiles(s, a)...)
}

// waysFile holds the ways of working that were found.
const waysFile = "ways.yaml"

// waysFiles are the ways that were found as a file that --ways takes; none where none help. Ways that
// the plan was changed by already are in it.
func waysFiles(s *scenarios.Scenario, a answers.WaysAnswer) []report.File {
	n := len(a.Ways.Together)
	if n == 0 {
		return nil
	}
	about := []string{
		"Ways of working for " + a.Ways.Region + ": the contract is met more often, at no price or nearly none.",
		"drystalk odds and most other commands take this file by --ways.",
	}
	return []report.File{{Name: waysFile, Data: scenarios.WriteWays(about, append(s.WaysChanges(), a.Ways.Together[n-1].Edits...))}}
}

// working lets a scenario work in the ways of the file, if one is named.
func (f *waysFlag) working(s *scenarios.Scenario) (*scenarios.Scenario, error) {
	if f.Ways == "" {
		return s, nil
	}
	data, err := readRegular(f.Ways, "file of ways of working", largestScenario)
	if err != nil {
		return nil, err
	}
	return s.WithWays(f.Ways, data)
}
