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
	withFlag
	Site   string `help:"Site whose days are listed."`
	From   string `help:"First day to list, such as 1-aug; with --site."`
	To     string `help:"Last day to list, such as 31-aug; with --site."`
	Out    string `help:"Folder for the ledger as a spreadsheet and for charts by day: the stock of the site, and what the dryers did."`
	Number int    `default:"0" help:"Season of an answer with the same seed, from 0."`
}

// Run prints one season of the plan as written, month by month.
func (c *seasonCmd) Run(t terminal) error {
	if c.Number < 0 {
		return usagef("--number: found %d, allowed: 0 or more", c.Number)
	}
	s, err := c.loadWith(t, c.withFlag)
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
	days, err := c.listDays(s, l)
	if err != nil {
		return err
	}
	why, err := decide.Why(set, c.Number)
	if err != nil {
		return err
	}
	sentence := report.SeasonSentence(s.Region.Name, l)
	story := report.Story(l, s.Region.Calendar.Months())
	if c.JSON {
		return printJSON(t.out, struct {
			behind
			Why    []decide.MonthWhy `json:"why"`
			Story  []string          `json:"story"`
			Ledger sim.RegionLedger  `json:"ledger"`
		}{behindOf(s, c.Seed, report.Report{Sentence: sentence, Paragraph: story}), why, story, l})
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
	_, _ = fmt.Fprintln(t.out)
	for _, month := range story {
		_, _ = fmt.Fprintln(t.out, month)
	}
	_, _ = fmt.Fprint(t.out, "\n"+report.HubTable(l.Hub).Text())
	for _, site := range l.Sites {
		_, _ = fmt.Fprint(t.out, "\n"+report.SiteTable(site, l.Hub).Text())
	}
	return c.drawDays(t, s, l)
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

// drawDays writes the charts by day, if a folder was named: what the dryers did, and the
// stock of the site.
func (c *seasonCmd) drawDays(t terminal, s *scenarios.Scenario, l sim.RegionLedger) error {
	if c.Out == "" {
		return nil
	}
	from, to, err := c.span(s)
	if err != nil {
		return err
	}
	date := dateIn(s.Region.Calendar)
	title, sites := s.Region.Name, l.Sites
	var charts []report.Chart
	for i, site := range l.Sites {
		if site.Site != c.Site {
			continue
		}
		title, sites = site.Site, l.Sites[i:i+1]
		chart, err := report.StockChart(site.Site, site.Days, from, to, date)
		if err != nil {
			return err
		}
		charts = append(charts, chart)
	}
	use, err := report.UseChart(title, sites, from, to, date)
	if err != nil {
		return err
	}
	var files []report.File
	for _, chart := range append(charts, use) {
		for _, format := range []string{"svg", "png"} {
			data, err := chart.Encode(format)
			if err != nil {
				return err
			}
			files = append(files, report.File{Name: chart.Name + "." + format, Data: data})
		}
	}
	book, err := report.LedgerBook(l)
	if err != nil {
		return err
	}
	paths, err := report.WriteFiles(c.Out, append(files, report.File{Name: "season.xlsx", Data: book}))
	if err != nil {
		return err
	}
	for _, p := range paths {
		_, _ = fmt.Fprintln(t.out, "  "+p)
	}
	return nil
}
