package main

import (
	"drystalk/report/document"
	"drystalk/sim/answers"
)

// dryersCmd answers the main question.
type dryersCmd struct {
	plan
	outFlag
	briefFlag
	tableFlag
	answers.DryersOptions
}

// Run answers how many dryers, and where.
func (c *dryersCmd) Run(t terminal) error {
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
	if err := c.through(&c.Through); err != nil {
		return err
	}
	a, err := ask(t, &c.plan, func(of answers.Case, tell answers.Progress) (answers.DryersAnswer, error) {
		c.monthly(&of)
		return answers.Dryers(t.ctx, of, c.DryersOptions, tell)
	})
	if err != nil {
		return err
	}
	d, err := writer.Dryers(a)
	if err != nil {
		return err
	}
	brief, err := c.briefFlag.files(&d)
	if err != nil {
		return err
	}
	if err := c.print(t, d, c.Out, brief...); err != nil || a.Answer.Stopped != "" {
		return stoppedEarly(err, a.Answer.Stopped != "")
	}
	return c.write(t, c.JSON, document.DryersSeasons(&a))
}
