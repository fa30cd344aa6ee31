package report

import (
	"drystalk/report/chart"
	"drystalk/report/table"
	"drystalk/report/words"
	"drystalk/tongue"
)

// ForCompare lays out the comparison of two plans.
func ForCompare(c Compared) (Report, error) {
	r := Report{
		Title: tongue.Sayf("Today and %s: %s", c.With(), c.Region), Sentence: words.CompareSentence(c), First: []string{words.CompareVerdict(c)}, Paragraph: words.CompareParagraph(c),
		Last:  []string{words.HubBriefly(c.Result.Hub)},
		Notes: words.CompareNotes(c), Warnings: words.CompareWarnings(c),
	}
	r.Sections = append(r.Sections, Section{Title: tongue.Say("What differs"), Tables: []Table{table.Changes(c), table.Differences(c, tongue.Say("In an average season"), c.Result.Totals)}})
	if c.Result.Members != nil {
		r.Sections = append(r.Sections, membersSection(c))
	}
	if p := c.Result.Purchase; p != nil {
		byYear, err := chart.SoFar(*p, c.Currency)
		if err != nil {
			return Report{}, err
		}
		drawn, err := chart.Payback(*p, c.Currency)
		if err != nil {
			return Report{}, err
		}
		r.Sections = append(r.Sections, Section{Title: tongue.Say("Does it pay?"), Charts: []Chart{byYear, drawn}, Tables: []Table{
			table.Purchase(*p, c.Currency), table.Gains(*p, c.Currency), table.WhatIf(*p, c.Currency), table.Items(*p, c.Currency),
		}})
		r.Sections = append(r.Sections, Section{Title: tongue.Say("Is there cash for it?"), Tables: []Table{table.CashOverYears(*p, c.Currency), table.CashByYear(*p, c.Currency)}})
	}
	months, err := chart.Differs(c)
	if err != nil {
		return Report{}, err
	}
	stock, err := chart.HubStock(chart.StockOf{Name: words.Today(), Plan: c.Result.A}, chart.StockOf{Name: c.With(), Plan: c.Result.B})
	if err != nil {
		return Report{}, err
	}
	r.Brief = &Brief{Words: words.CompareBrief(c), Chart: months, Reading: readDiffers.String(), Table: table.CompareBrief(c)}
	if p := c.Result.Purchase; p != nil && len(c.Result.Unpriced) == 0 {
		if r.Brief.Chart, err = chart.SoFar(*p, c.Currency); err != nil {
			return Report{}, err
		}
		r.Brief.Reading = words.Passage([]string{readSoFar.String(), words.HourCounts(c)})
	}
	r.Sections = append(r.Sections, Section{Title: tongue.Say("Month by month"), Charts: []Chart{months, stock}, Tables: []Table{table.MonthDifferences(c)}})
	if len(c.Result.Dryers) > 0 {
		r.Sections = append(r.Sections, Section{Title: tongue.Say("What each dryer does"), Tables: []Table{table.DryerHours(c)}})
	}
	if len(c.Result.Money) > 0 {
		r.Sections = append(r.Sections, Section{Title: tongue.Say("Money"), Tables: []Table{table.Differences(c, tongue.Sayf("Money a year, %s", c.Currency), c.Result.Money), table.Accounts(c), table.Cash(c)}})
	}
	return r, nil
}

// membersSection tells what the members have of both plans.
func membersSection(c Compared) Section {
	s := Section{Title: tongue.Say("What members have of it"), Tables: []Table{table.Members(c), table.AtWorths(c)}}
	if len(c.Result.Members.Sites) > 0 {
		s.Tables = append(s.Tables, table.MembersBySite(c))
	}
	return s
}
