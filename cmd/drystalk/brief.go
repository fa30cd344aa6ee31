package main

import (
	"fmt"
	"time"

	"drystalk/report"
	"drystalk/report/document"
)

// briefFlag asks for the paper of two pages.
type briefFlag struct {
	Brief bool   `help:"Write brief.html too: the answer on two pages to print and hand on."`
	Date  string `help:"Date on those two pages, such as 2026-11-26; today unless stated."`
}

// dayForm is how a date is stated.
const dayForm = "2006-01-02"

// check tells before a run whether the paper can be written.
func (f *briefFlag) check(json bool) error {
	switch {
	case f.Date != "" && !f.Brief:
		return usagef("--date: found %q without --brief, allowed: beside --brief, whose pages bear the date", f.Date)
	case f.Brief && json:
		return usagef("--brief: found beside --json, allowed: one of the two, for --json writes no files")
	}
	_, err := f.dated()
	return err
}

// dated returns the date of the paper: the one stated, or today.
func (f *briefFlag) dated() (time.Time, error) {
	if f.Date == "" {
		return time.Now(), nil //nolint:forbidigo // the date of a paper, not of a season
	}
	day, err := time.Parse(dayForm, f.Date)
	if err != nil {
		return time.Time{}, usagef("--date: found %q, allowed: year, month and day of a date that there is, such as 2026-11-26", f.Date)
	}
	return day, nil
}

// files returns the paper of an answer, if it is asked for, and dates the spreadsheet as it is.
func (f *briefFlag) files(d *document.Document) ([]report.File, error) {
	if !f.Brief {
		return nil, nil
	}
	day, err := f.dated()
	if err != nil {
		return nil, err
	}
	d.Report.Dated = day
	html, err := d.Report.BriefHTML(day)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", report.BriefFile, err)
	}
	return []report.File{{Name: report.BriefFile, Data: html}}, nil
}
