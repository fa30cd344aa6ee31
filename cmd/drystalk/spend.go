package main

import (
	"fmt"

	"drystalk/report"
	"drystalk/sim/spend"
)

// spendCmd says what a budget buys.
type spendCmd struct {
	runFlags
	withFlag
	Budget float64 `required:"" help:"What may be spent, in the currency of the scenario."`
	Search int     `default:"60" help:"Seasons that choose what is bought, apart from those behind the figures."`
}

// Run prints the list of what to buy, in order.
func (c *spendCmd) Run(t terminal) error {
	if err := c.check(t); err != nil {
		return err
	}
	if c.Search < fewest {
		return usagef("--search: found %d, allowed: %d or more", c.Search, fewest)
	}
	if !(c.Budget > 0) || c.Budget > 1e12 {
		return usagef("--budget: found %g, allowed: more than 0", c.Budget)
	}
	s, err := c.loadWith(t, c.withFlag)
	if err != nil {
		return err
	}
	if !s.HasMoney {
		return usagef("%s: found no prices, allowed: a group of keys money with the prices of what may be bought (drystalk check --explain names them)", s.Name)
	}
	set, err := setup(s, c.Seed, c.Workers)
	if err != nil {
		return err
	}
	tell, end := stages(t.err)
	a, err := spend.Buy(t.ctx, spend.Question{
		Setup: set, MaxDryers: s.MaxDryers, Prices: &s.Money, Budget: c.Budget, Target: s.TargetOdds, SearchSeasons: c.Search, Seasons: c.Seasons,
		Progress: func(stage spend.Stage, done, of int) {
			tell(fmt.Sprintf("%s, %d of %d", report.SpendStage(stage), done, of))
		},
	})
	end()
	if err != nil {
		return err
	}
	r, err := report.ForSpend(s.Region.Name, s.TargetOdds, a, s.Currency)
	if err != nil {
		return err
	}
	out := struct {
		behind
		Spending spend.Answer `json:"spending"`
	}{behindOf(s, c.Seed, r), a}
	if err := finish(t, &c.runFlags, s, r, out, fmt.Sprintf("spend --budget %g", c.Budget)+c.words()); err != nil || c.JSON {
		return stoppedEarly(err, a.Stopped)
	}
	bought := *s
	bought.Region = *a.Best
	paths, err := report.WriteFiles(c.Out, []report.File{{Name: "bought.yaml", Data: bought.Write()}})
	if err != nil {
		return err
	}
	for _, p := range paths {
		_, _ = fmt.Fprintf(t.out, "  %s (the plan with all of this bought)\n", p)
	}
	return stoppedEarly(nil, a.Stopped)
}
