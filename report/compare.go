package report

import (
	"drystalk/report/chart"
	"drystalk/report/table"
	"drystalk/report/words"
)

// ForCompare lays out the comparison of two plans.
func ForCompare(c Compared) (Report, error) {
	r := Report{
		Title: "Two plans in the same seasons: " + c.Region, Sentence: words.CompareSentence(c), Paragraph: words.CompareParagraph(c), Warnings: words.CompareWarnings(c),
		Last: []string{words.HubInShort(c.Result.Hub)}, Notes: words.CompareNotes(c),
	}
	r.Sections = append(r.Sections, Section{Title: "What differs", Tables: []Table{table.Changes(c), table.Differences("In an average season", c.Result.Totals, c.Result.Seasons)}})
	if p := c.Result.Purchase; p != nil {
		drawn, err := chart.Payback(*p, c.Currency)
		if err != nil {
			return Report{}, err
		}
		r.Sections = append(r.Sections, Section{Title: "Does it pay?", Charts: []Chart{drawn}, Tables: []Table{table.Purchase(*p, c.Currency), table.WhatIf(*p, c.Currency), table.Items(*p, c.Currency)}})
		r.Sections = append(r.Sections, Section{Title: "Is there cash for it?", Tables: []Table{table.CashOverYears(*p, c.Currency), table.CashByYear(*p, c.Currency)}})
	}
	r.Sections = append(r.Sections, Section{Title: "Month by month", Tables: []Table{table.MonthDifferences(c.Result)}})
	if len(c.Result.Dryers) > 0 {
		r.Sections = append(r.Sections, Section{Title: "What each dryer does", Tables: []Table{table.DryerHours(c.Result)}})
	}
	if len(c.Result.Money) > 0 {
		r.Sections = append(r.Sections, Section{Title: "Money", Tables: []Table{table.Differences("Money a year, "+c.Currency, c.Result.Money, c.Result.Seasons), table.Accounts(c), table.Cash(c)}})
	}
	return r, nil
}
