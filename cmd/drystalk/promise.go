package main

import (
	"fmt"

	"drystalk/report"
	"drystalk/scenarios"
	"drystalk/sim/decide"
)

// promiseCmd finds the largest contract that the plan as written meets.
type promiseCmd struct {
	runFlags
	withFlag
	Search  int    `default:"100" help:"Seasons that find about where the limit lies."`
	StockAt string `help:"Date at whose month's end the stock is asked for, such as 31-may; by default the last month before the rains; 'none' asks for none."`
}

// Run prints the largest contract, month by month, and the stock before the rains.
func (c *promiseCmd) Run(t terminal) error {
	if err := c.check(t); err != nil {
		return err
	}
	if c.Search < fewest {
		return usagef("--search: found %d, allowed: %d or more", c.Search, fewest)
	}
	s, err := c.loadWith(t, c.withFlag)
	if err != nil {
		return err
	}
	after, err := c.stockMonth(s)
	if err != nil {
		return err
	}
	set, err := setup(s, c.Seed, c.Workers)
	if err != nil {
		return err
	}
	tell, end := stages(t.err)
	p, err := decide.FindPromise(t.ctx, decide.PromiseQuestion{
		Setup: set, Target: s.TargetOdds, SearchSeasons: c.Search, Seasons: c.Seasons, StockAfter: after, Progress: tell,
	})
	end()
	if err != nil {
		return err
	}
	r := report.ForPromise(s.Region.Name, p)
	out := struct {
		behind
		Promise decide.Promise `json:"promise"`
	}{behindOf(s, c.Seed, r), p}
	return finish(t, &c.runFlags, s, r, out, "promise"+c.words())
}

// stockMonth returns the month of the season at whose end the stock is asked for.
func (c *promiseCmd) stockMonth(s *scenarios.Scenario) (int, error) {
	spans := s.Region.Calendar.Months()
	switch c.StockAt {
	case "none":
		return decide.NoStock, nil
	case "":
		return decide.BeforeTheRains, nil
	}
	day, err := s.DayOf(c.StockAt)
	if err != nil {
		return 0, usagef("--stock-at: %v", err)
	}
	for k, span := range spans {
		if day <= span.LastDay {
			if k == len(spans)-1 {
				break
			}
			return k, nil
		}
	}
	return 0, usagef("--stock-at: found %s, allowed: a day before the last month of the season", fmt.Sprint(c.StockAt))
}
