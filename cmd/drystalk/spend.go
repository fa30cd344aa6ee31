package main

import (
	"io"
	"strconv"

	"drystalk/report"
	"drystalk/scenarios"
	"drystalk/sim"
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
	return stoppedEarly(c.print(t, d, c.Out, append(brief, boughtFiles(s, a)...)...), a.Spending.Stopped)
}

// boughtFile is the plan with all of the list bought.
const boughtFile = "bought.yaml"

// boughtFiles are the plans with all of their lists bought: one, or one for each of several
// budgets, named by it.
func boughtFiles(s *scenarios.Scenario, a answers.SpendAnswer) []report.File {
	written := func(name string, r *sim.Region) report.File {
		bought := *s
		bought.Region = *r
		return report.File{Name: name, Data: bought.Write()}
	}
	if len(a.Each) < 2 {
		return []report.File{written(boughtFile, a.Spending.Best)}
	}
	var files []report.File
	for _, one := range a.Each {
		files = append(files, written("bought-"+strconv.FormatFloat(one.Budget.Units(), 'f', -1, 64)+".yaml", one.Best))
	}
	return files
}
