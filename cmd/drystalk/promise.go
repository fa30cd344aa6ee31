package main

import "drystalk/sim/answers"

// promiseCmd finds the largest contract that the plan as written meets.
type promiseCmd struct {
	plan
	outFlag
	briefFlag
	answers.PromiseOptions
}

// Run prints the largest contract, month by month, and the stock before the rains.
func (c *promiseCmd) Run(t terminal) error {
	if err := c.briefFlag.check(c.JSON); err != nil {
		return err
	}
	if err := ready(c.JSON, c.Out); err != nil {
		return err
	}
	few(t, c.Seasons)
	a, err := ask(t, &c.plan, func(of answers.Case, tell answers.Progress) (answers.PromiseAnswer, error) {
		return answers.Promise(t.ctx, of, c.PromiseOptions, tell)
	})
	if err != nil {
		return err
	}
	d, err := writer.Promise(a)
	if err != nil {
		return err
	}
	brief, err := c.briefFlag.files(&d)
	if err != nil {
		return err
	}
	return c.print(t, d, c.Out, brief...)
}
