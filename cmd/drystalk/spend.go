package main

import (
	"io"

	"drystalk/report"
	"drystalk/sim/answers"
)

// spendCmd says what a budget buys.
type spendCmd struct {
	plan
	outFlag
	answers.SpendOptions
}

// Run prints the list of what to buy, in order.
func (c *spendCmd) Run(t terminal) error {
	if err := ready(c.JSON, c.Out); err != nil {
		return err
	}
	few(t, c.Seasons)
	a, err := ask(t, &c.plan, func(of answers.Case, tell answers.Progress) (answers.SpendAnswer, error) {
		return answers.Spend(t.ctx, of, c.SpendOptions, tell)
	})
	if err != nil {
		return err
	}
	d, err := writer.Spend(a)
	if err != nil {
		return err
	}
	if c.JSON {
		return stoppedEarly(c.print(t, d, c.Out), a.Spending.Stopped)
	}
	s, err := c.loaded(terminal{t.ctx, t.out, io.Discard})
	if err != nil {
		return err
	}
	s.Region = *a.Spending.Best
	return stoppedEarly(c.print(t, d, c.Out, report.File{Name: boughtFile, Data: s.Write()}), a.Spending.Stopped)
}

// boughtFile is the plan with all of the list bought.
const boughtFile = "bought.yaml"
