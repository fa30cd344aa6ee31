package report

import (
	"drystalk/report/chart"
	"drystalk/report/table"
	"drystalk/report/words"
	"drystalk/sim/decide"
	"drystalk/sim/weather"
	"drystalk/tongue"
)

// ForFit lays out how well a fitted climate reproduces its record.
func ForFit(f weather.FitReport) (Report, error) {
	s := f.Summary
	r := Report{Title: tongue.Sayf("The weather of %s", s.Station), Sentence: words.FitSentence(f), Paragraph: words.FitParagraph(f), Notes: words.FitNotes(f), Warnings: words.RefusedYears(s)}
	months, err := chart.Rain(f)
	if err != nil {
		return Report{}, err
	}
	spells, err := chart.Spells(f)
	if err != nil {
		return Report{}, err
	}
	r.Sections = []Section{
		{Title: tongue.Say("Observed and simulated"), Charts: []Chart{months, spells}, Tables: []Table{table.Fit(f)}},
		{Title: tongue.Say("The record"), Tables: []Table{table.Record(s)}},
	}
	return r, nil
}

// YearsSection lists the real years and compares the months.
func YearsSection(y decide.YearsResult) Section {
	return Section{Title: tongue.Say("Through the real years"), Tables: []Table{table.YearMonths(y), table.Years(y)}}
}
