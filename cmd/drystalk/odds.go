package main

import (
	"drystalk/report/document"
	"drystalk/sim/answers"
)

// oddsCmd judges the plan as written.
type oddsCmd struct {
	plan
	outFlag
	tableFlag
	answers.OddsOptions
}

// Run prints the odds of the plan as written.
func (c *oddsCmd) Run(t terminal) error {
	if err := ready(c.JSON, c.Out); err != nil {
		return err
	}
	if err := c.tableFlag.check(); err != nil {
		return err
	}
	few(t, c.Seasons)
	if err := c.through(&c.Through); err != nil {
		return err
	}
	a, err := ask(t, &c.plan, func(of answers.Case, tell answers.Progress) (answers.OddsAnswer, error) {
		c.monthly(&of)
		of.Setup.Together = c.Table == ""
		return answers.Odds(t.ctx, of, c.OddsOptions, tell)
	})
	if err != nil {
		return err
	}
	d, err := writer.Odds(a)
	if err != nil {
		return err
	}
	if err := c.print(t, d, c.Out); err != nil {
		return err
	}
	return c.write(t, c.JSON, document.OddsSeasons(&a))
}
