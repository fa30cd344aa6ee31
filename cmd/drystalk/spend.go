package main

import (
	"io"

	"drystalk/report/document"
	"drystalk/sim/answers"
)

// spendCmd says what a budget buys.
type spendCmd struct {
	plan
	outFlag
	briefFlag
	answers.SpendOptions
}

// Run prints the list of what to buy, in order, or those of several budgets side by side.
func (c *spendCmd) Run(t terminal) error {
	if err := c.briefFlag.check(c.JSON); err != nil {
		return err
	}
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
	brief, err := c.briefFlag.files(&d)
	if err != nil {
		return err
	}
	return stoppedEarly(c.print(t, d, c.Out, append(brief, document.Bought(s, a)...)...), a.Spending.Stopped)
}
