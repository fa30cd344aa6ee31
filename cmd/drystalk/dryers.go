package main

import (
	"errors"

	"drystalk/report"
	"drystalk/sim/decide"
	"drystalk/sim/trials"
)

// dryersCmd answers the main question.
type dryersCmd struct {
	runFlags
	withFlag
	recordFlag
	Search int `default:"100" help:"Seasons that choose the placements, apart from those behind the figures."`
	Limit  int `default:"2000" help:"Seasons up to which the number is sought to be proven, in steps of --seasons."`
	Short  int `default:"60" help:"Seasons with a missed month that are lived through again to see what was short."`
}

// Run answers how many dryers, and where.
func (c *dryersCmd) Run(t terminal) error {
	if err := c.check(t); err != nil {
		return err
	}
	if c.Search < fewest {
		return usagef("--search: found %d, allowed: %d or more", c.Search, fewest)
	}
	if c.Limit < c.Seasons {
		c.Limit = c.Seasons
	}
	if c.Limit > most {
		return usagef("--limit: found %d, allowed: at most %d", c.Limit, most)
	}
	if c.Short < 0 {
		return usagef("--short: found %d, allowed: 0 or more", c.Short)
	}
	s, err := c.loadWith(t, c.withFlag)
	if err != nil {
		return err
	}
	set, err := setup(s, c.Seed, c.Workers)
	if err != nil {
		return err
	}
	tell, end := progress(t.err, c.Search+c.Seasons)
	a, err := decide.Dryers(t.ctx, decide.Question{
		Setup: set, MaxDryers: s.MaxDryers, Target: s.TargetOdds,
		SearchSeasons: c.Search, Seasons: c.Seasons, Limit: c.Limit, ShortSeasons: c.Short, Prices: pricesOf(s),
		Progress: func(done, _ int) { tell(done) },
	})
	end()
	if errors.Is(err, trials.ErrHauling) || errors.Is(err, trials.ErrMoving) {
		return usageError{err}
	}
	if err != nil {
		return err
	}
	at := a.Needed
	if at < 0 {
		at = a.Best()
	}
	years, err := c.throughYears(t, s, set, a.Plans[at].PerSite, a.Plans[at])
	if err != nil {
		return err
	}
	r, err := report.ForDryers(a, s.Currency)
	if err != nil {
		return err
	}
	out := struct {
		behind
		Answer decide.Answer       `json:"answer"`
		Years  *decide.YearsResult `json:"real_years,omitempty"`
	}{behindOf(s, c.Seed, r), a, years}
	return stoppedEarly(finish(t, &c.runFlags, s, withYears(r, years), out, "dryers"+c.words()), a.Stopped != "")
}
