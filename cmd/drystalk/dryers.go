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
	recordFlag
	Search int `default:"100" help:"Seasons that choose the placements, apart from those behind the figures."`
}

// Run answers how many dryers, and where.
func (c *dryersCmd) Run(t terminal) error {
	if err := c.check(t); err != nil {
		return err
	}
	if c.Search < fewest {
		return usagef("--search: found %d, allowed: %d or more", c.Search, fewest)
	}
	s, err := c.load(t)
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
		SearchSeasons: c.Search, Seasons: c.Seasons,
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
	r, err := report.ForDryers(a)
	if err != nil {
		return err
	}
	out := struct {
		behind
		Certainty string              `json:"certainty"`
		Answer    decide.Answer       `json:"answer"`
		Years     *decide.YearsResult `json:"real_years,omitempty"`
	}{behindOf(s, c.Seed, r.Sentence), r.Certainty, a, years}
	return finish(t, &c.runFlags, s, withYears(r, years), out, "dryers")
}
