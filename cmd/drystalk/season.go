package main

import (
	"fmt"

	"drystalk/report"
	"drystalk/sim"
	"drystalk/sim/decide"
)

// seasonCmd shows one season.
type seasonCmd struct {
	scenarioFlags
	Number int `default:"0" help:"Season of an answer with the same seed, from 0."`
}

// Run prints one season of the plan as written, month by month.
func (c *seasonCmd) Run(t terminal) error {
	if c.Number < 0 {
		return usagef("--number: found %d, allowed: 0 or more", c.Number)
	}
	s, err := c.load(t)
	if err != nil {
		return err
	}
	set, err := setup(s, c.Seed, 1)
	if err != nil {
		return err
	}
	l, err := set.Ledger(c.Number)
	if err != nil {
		return err
	}
	why, err := decide.Why(set, c.Number)
	if err != nil {
		return err
	}
	sentence := report.SeasonSentence(s.Region.Name, l)
	if c.JSON {
		return printJSON(t.out, struct {
			behind
			Why    []decide.MonthWhy `json:"why"`
			Ledger sim.RegionLedger  `json:"ledger"`
		}{behindOf(s, c.Seed, sentence), why, l})
	}
	_, _ = fmt.Fprintln(t.out, sentence)
	for _, w := range why {
		_, _ = fmt.Fprintln(t.out, report.WhySentence(w))
	}
	_, _ = fmt.Fprint(t.out, "\n"+report.HubTable(l.Hub).Text())
	for _, site := range l.Sites {
		_, _ = fmt.Fprint(t.out, "\n"+report.SiteTable(site, l.Hub).Text())
	}
	return nil
}
