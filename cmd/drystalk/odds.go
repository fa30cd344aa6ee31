package main

import (
	"drystalk/report"
	"drystalk/sim/decide"
	"drystalk/sim/trials"
)

// oddsCmd judges the plan as written.
type oddsCmd struct {
	runFlags
	withFlag
	recordFlag
	Short int `default:"60" help:"Seasons with a missed month that are lived through again to see what was short."`
}

// Run prints the odds of the plan as written.
func (c *oddsCmd) Run(t terminal) error {
	if err := c.check(t); err != nil {
		return err
	}
	s, err := c.loadWith(t, c.withFlag)
	if err != nil {
		return err
	}
	plan := make([]int, len(s.Region.Sites))
	sites := make([]string, len(plan))
	for i := range plan {
		plan[i], sites[i] = s.Region.Sites[i].Dryers, s.Region.Sites[i].Name
	}
	set, err := setup(s, c.Seed, c.Workers)
	if err != nil {
		return err
	}
	tell, end := progress(t.err, c.Seasons)
	table, err := set.Table(t.ctx, 0, c.Seasons, trials.Only(plan), tell)
	end()
	if err != nil {
		return err
	}
	p, err := decide.Judge(table, plan)
	if err != nil {
		return err
	}
	years, err := c.throughYears(t, s, set, plan, p)
	if err != nil {
		return err
	}
	short, err := decide.WhatIsShort(t.ctx, set, &s.Region, table, plan, c.Short)
	if err != nil {
		return err
	}
	var earns *decide.Earns
	if p := pricesOf(s); p != nil {
		e, _, err := decide.EarnsOf(p, &s.Region, table, plan)
		if err != nil {
			return err
		}
		earns = &e
	}
	r, err := report.ForOdds(report.Odds{Region: s.Region.Name, Target: s.TargetOdds, Sites: sites, Plan: p, Short: short, Money: earns, Currency: s.Currency})
	if err != nil {
		return err
	}
	out := struct {
		behind
		Sites  []string            `json:"sites"`
		Target float64             `json:"target"`
		Plan   decide.PlanResult   `json:"plan"`
		Short  decide.Shortage     `json:"short"`
		Money  *decide.Earns       `json:"money,omitempty"`
		Years  *decide.YearsResult `json:"real_years,omitempty"`
	}{behindOf(s, c.Seed, r), sites, s.TargetOdds, p, short, earns, years}
	return finish(t, &c.runFlags, s, withYears(r, years), out, "odds"+c.words())
}
