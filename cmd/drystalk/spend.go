package main

import (
	"fmt"
	"io"

	"drystalk/report"
	"drystalk/scenarios"
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
	if err := c.print(t, d, c.Out); err != nil || c.JSON {
		return stoppedEarly(err, a.Spending.Stopped)
	}
	s, err := c.loaded(terminal{t.ctx, t.out, io.Discard})
	if err != nil {
		return err
	}
	return stoppedEarly(c.writeBought(t, *s, a), a.Spending.Stopped)
}

// writeBought writes the plan with all of the list bought as a scenario.
func (c *spendCmd) writeBought(t terminal, s scenarios.Scenario, a answers.SpendAnswer) error {
	s.Region = *a.Spending.Best
	paths, err := report.WriteFiles(c.Out, []report.File{{Name: "bought.yaml", Data: s.Write()}})
	for _, p := range paths {
		_, _ = fmt.Fprintf(t.out, "  %s (the plan with all of this bought)\n", p)
	}
	return err
}
