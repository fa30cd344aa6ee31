package main

import (
	"fmt"
	"strings"

	"drystalk/report"
	"drystalk/scenarios"
	"drystalk/sim"
	"drystalk/sim/decide"
)

// seasonCmd shows one season.
type seasonCmd struct {
	scenarioFlags
	Site   string `help:"Site whose days are listed."`
	From   string `help:"First day to list, such as 1-aug; with --site."`
	To     string `help:"Last day to list, such as 31-aug; with --site."`
	Number int    `default:"0" help:"Season of an answer with the same seed, from 0."`
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
	l, err := set.DailyLedger(c.Number)
	if err != nil {
		return err
	}
	if c.Site == "" && (c.From != "" || c.To != "") {
		return usagef("--from and --to: give --site too")
	}
	if !c.JSON && c.Site == "" {
		for i := range l.Sites {
			l.Sites[i].Days = nil
		}
	}
	days, err := c.listDays(s, l)
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
	if c.Site != "" {
		_, err := fmt.Fprint(t.out, "\n"+days)
		return err
	}
	_, _ = fmt.Fprint(t.out, "\n"+report.HubTable(l.Hub).Text())
	for _, site := range l.Sites {
		_, _ = fmt.Fprint(t.out, "\n"+report.SiteTable(site, l.Hub).Text())
	}
	return nil
}

// listDays returns the days of the site asked for as text; nothing where none is.
func (c *seasonCmd) listDays(s *scenarios.Scenario, l sim.RegionLedger) (string, error) {
	if c.Site == "" {
		return "", nil
	}
	cal := s.Region.Calendar
	from, to := 0, cal.Days-1
	var err error
	if c.From != "" {
		if from, err = s.DayOf(c.From); err != nil {
			return "", usagef("--from: %v", err)
		}
	}
	if c.To != "" {
		if to, err = s.DayOf(c.To); err != nil {
			return "", usagef("--to: %v", err)
		}
	}
	if to < from {
		return "", usagef("--to: found %s, allowed: a day not before --from", c.To)
	}
	var names []string
	for _, site := range l.Sites {
		names = append(names, site.Site)
		if site.Site == c.Site {
			date := func(d int) string {
				month, day := cal.Date(d)
				return fmt.Sprintf("%d %s", day, month.String()[:3])
			}
			return report.DaysTable(site.Site, site.Days, from, to, date).Text(), nil
		}
	}
	return "", usagef("--site: found %q, allowed: %s", c.Site, strings.Join(names, ", "))
}
