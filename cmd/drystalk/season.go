package main

import (
	"fmt"
	"strings"

	"drystalk/report"
	"drystalk/sim"
	"drystalk/sim/answers"
)

// seasonCmd shows one season.
type seasonCmd struct {
	plan
	Site string `help:"Site whose days are listed."`
	From string `help:"First day to list, such as 1-aug; with --site."`
	To   string `help:"Last day to list, such as 31-aug; with --site."`
	Out  string `help:"Folder for the ledger as a spreadsheet and for charts by day: one season on one page, the stock of the site, and what the dryers did."`
	answers.SeasonOptions
}

// Run prints one season of the plan as written, month by month.
func (c *seasonCmd) Run(t terminal) error {
	if err := ready(c.JSON, c.Out); err != nil {
		return err
	}
	if c.Site == "" && (c.From != "" || c.To != "") {
		return usagef("--from and --to: give --site too")
	}
	a, err := ask(t, &c.plan, func(of answers.Case, _ answers.Progress) (answers.SeasonAnswer, error) {
		return answers.Season(t.ctx, of, c.SeasonOptions)
	})
	if err != nil {
		return err
	}
	s := &a.Asked.Case
	days, err := c.listDays(s, a.Ledger)
	if err != nil {
		return err
	}
	d, err := writer.Season(a)
	if err != nil {
		return err
	}
	if c.JSON {
		_, err := t.out.Write(d.JSON)
		return err
	}
	c.printText(t, a, d.Report, days)
	return c.drawDays(t, s, a.Ledger, d.Report)
}

// printText prints the season: its sentence and why months were missed, then the days asked for or
// the story and the tables, and the cautions.
func (c *seasonCmd) printText(t terminal, a answers.SeasonAnswer, r report.Report, days string) {
	if c.Site != "" {
		r.Notes = nil
	}
	_, _ = fmt.Fprint(t.out, strings.TrimSuffix(r.Text(), "\n"))
	if c.Site != "" {
		_, _ = fmt.Fprint(t.out, "\n"+days)
	} else {
		_, _ = fmt.Fprint(t.out, "\n"+report.HubTable(a.Ledger.Hub).Text())
		for _, site := range a.Ledger.Sites {
			_, _ = fmt.Fprint(t.out, "\n"+report.SiteTable(site, a.Ledger.Hub).Text())
		}
	}
	_, _ = fmt.Fprintln(t.out, "\n"+r.CautionText())
}

// listDays returns the days of the site asked for as text; nothing where none is.
func (c *seasonCmd) listDays(s *answers.Case, l sim.RegionLedger) (string, error) {
	if c.Site == "" {
		return "", nil
	}
	cal := s.Setup.Region.Calendar
	from, to, err := c.span(s)
	if err != nil {
		return "", err
	}
	var names []string
	for _, site := range l.Sites {
		names = append(names, site.Site)
		if site.Site == c.Site {
			return report.DaysTable(site.Site, site.Days, report.Days{From: from, To: to, Date: cal.Date}).Text(), nil
		}
	}
	return "", usagef("--site: found %q, allowed: %s", c.Site, strings.Join(names, ", "))
}

// span returns the first and last day asked for.
func (c *seasonCmd) span(s *answers.Case) (from, to int, err error) {
	to = s.Setup.Region.Calendar.Days - 1
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

// drawDays writes the charts by day, if a folder was named: what the dryers did, and the
// stock of the site.
func (c *seasonCmd) drawDays(t terminal, s *answers.Case, l sim.RegionLedger, r report.Report) error {
	if c.Out == "" {
		return nil
	}
	from, to, err := c.span(s)
	if err != nil {
		return err
	}
	days := report.Days{From: from, To: to, Date: s.Setup.Region.Calendar.Date}
	title, sites := s.Setup.Region.Name, l.Sites
	var charts []report.Chart
	for i, site := range l.Sites {
		if site.Site != c.Site {
			continue
		}
		title, sites = site.Site, l.Sites[i:i+1]
		chart, err := report.StockChart(site.Site, site.Days, days)
		if err != nil {
			return err
		}
		charts = append(charts, chart)
	}
	use, err := report.UseChart(title, sites, days)
	if err != nil {
		return err
	}
	glance, err := c.glance(s.Setup.Region, title, sites, days)
	if err != nil {
		return err
	}
	files, err := drawn(append(charts, use, glance)...)
	if err != nil {
		return err
	}
	book, err := report.LedgerBook(l, r)
	if err != nil {
		return err
	}
	paths, err := report.WriteFiles(c.Out, append(files, report.File{Name: "season.xlsx", Data: book}))
	if err != nil {
		return notWritten(err)
	}
	for _, p := range paths {
		_, _ = fmt.Fprintln(t.out, "  "+p)
	}
	return nil
}
