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
	Out    string `help:"Folder for a chart of the stock of the site by day; with --site."`
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
		if _, err := fmt.Fprint(t.out, "\n"+days); err != nil {
			return err
		}
		return c.drawDays(t, s, l)
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
	from, to, err := c.span(s)
	if err != nil {
		return "", err
	}
	var names []string
	for _, site := range l.Sites {
		names = append(names, site.Site)
		if site.Site == c.Site {
			return report.DaysTable(site.Site, site.Days, from, to, dateIn(cal)).Text(), nil
		}
	}
	return "", usagef("--site: found %q, allowed: %s", c.Site, strings.Join(names, ", "))
}

// span returns the first and last day asked for.
func (c *seasonCmd) span(s *scenarios.Scenario) (from, to int, err error) {
	to = s.Region.Calendar.Days - 1
	if c.From != "" {
		if from, err = s.DayOf(c.From); err != nil {
			return 0, 0, usagef("--from: %v", err)
		}
	}
	if c.To != "" {
		if to, err = s.DayOf(c.To); err != nil {
			return 0, 0, usagef("--to: %v", err)
		}
	}
	if to < from {
		return 0, 0, usagef("--to: found %s, allowed: a day not before --from", c.To)
	}
	return from, to, nil
}

// dateIn writes days of a season as dates.
func dateIn(cal sim.Calendar) func(d int) string {
	return func(d int) string {
		month, day := cal.Date(d)
		return fmt.Sprintf("%d %s", day, month.String()[:3])
	}
}

// drawDays writes the chart of the site's stock, if a folder was named.
func (c *seasonCmd) drawDays(t terminal, s *scenarios.Scenario, l sim.RegionLedger) error {
	if c.Out == "" {
		return nil
	}
	from, to, err := c.span(s)
	if err != nil {
		return err
	}
	for _, site := range l.Sites {
		if site.Site != c.Site {
			continue
		}
		chart, err := report.StockChart(site.Site, site.Days, from, to, dateIn(s.Region.Calendar))
		if err != nil {
			return err
		}
		var files []report.File
		for _, format := range []string{"svg", "png"} {
			data, err := chart.Encode(format)
			if err != nil {
				return err
			}
			files = append(files, report.File{Name: chart.Name + "." + format, Data: data})
		}
		paths, err := report.WriteFiles(c.Out, files)
		if err != nil {
			return err
		}
		for _, p := range paths {
			_, _ = fmt.Fprintln(t.out, "  "+p)
		}
	}
	return nil
}
