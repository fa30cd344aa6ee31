package document

import (
	"fmt"
	"slices"
	"strings"

	"drystalk/sim/answers"
	"drystalk/sim/goal"
	"drystalk/sim/tidy"
)

// LivedPlan is a plan of a table of seasons, with what stands in the columns before those of its
// seasons.
type LivedPlan struct {
	Before []tidy.Cell
	tidy.Plan
}

// Seasons are the seasons behind an answer, as a table for other programs.
type Seasons struct {
	Before []tidy.Column // that come before those of a season
	Plans  []LivedPlan   // in the order of their rows
}

// Columns returns the columns of the table.
func (s *Seasons) Columns(by tidy.By) []tidy.Column {
	return append(slices.Clone(s.Before), s.Plans[0].Columns(by)...)
}

// Each calls a function with one row after another, first those of the first plan.
func (s *Seasons) Each(by tidy.By, write func(row []tidy.Cell) error) error {
	for _, p := range s.Plans {
		err := p.Each(by, func(_ int, row []tidy.Cell) error { return write(slices.Concat(p.Before, row)) })
		if err != nil {
			return err
		}
	}
	return nil
}

// livedOf returns a plan of a case.
func livedOf(c *answers.Case, before []tidy.Cell) LivedPlan {
	return LivedPlan{before, tidy.Plan{Region: c.Setup.Region, Dryers: c.Plan(), Ranges: c.Setup.Knowledge.Ranges, Goal: c.Goal, Prices: c.Prices, Currency: c.Currency}}
}

// OddsSeasons returns the seasons behind the odds of a plan as written; none where they were not kept.
func OddsSeasons(a *answers.OddsAnswer) Seasons {
	if a.Table == nil {
		return Seasons{}
	}
	p := livedOf(&a.Asked.Case, nil)
	p.Table = a.Table
	return Seasons{Plans: []LivedPlan{p}}
}

// DryersSeasons returns the seasons behind an answer to how many dryers.
func DryersSeasons(a *answers.DryersAnswer) Seasons {
	out := Seasons{Before: []tidy.Column{
		{Name: "dryers_in_all", Kind: tidy.Whole, Meaning: "dryers of the plan"},
		{Name: "placement", Kind: tidy.Word, Meaning: "dryers of the plan by site"},
	}}
	for k, table := range a.Tables {
		r := &a.Answer.Plans[k]
		var at []string
		for site, n := range r.PerSite {
			at = append(at, fmt.Sprintf("%s %d", a.Answer.Sites[site], n))
		}
		p := livedOf(&a.Asked.Case, []tidy.Cell{tidy.Count(r.Dryers), tidy.Text(strings.Join(at, ", "))})
		p.Table, p.Dryers = table, r.PerSite
		out.Plans = append(out.Plans, p)
	}
	return out
}

// CompareSeasons returns the seasons of the two plans of a comparison, both at the prices of the
// second.
func CompareSeasons(a *answers.CompareAnswer) Seasons {
	out := Seasons{Before: []tidy.Column{{Name: "plan", Kind: tidy.Word, Meaning: "first or second"}}}
	both := []*answers.Case{&a.Asked.Case, &a.Second}
	for k, table := range a.Tables {
		p := livedOf(both[k], []tidy.Cell{tidy.Text([]string{"first", "second"}[k])})
		p.Table, p.Prices, p.Currency = table, a.Second.Prices, a.Second.Currency
		if both[0].Goal.ByMonth() != both[1].Goal.ByMonth() {
			p.Goal = goal.Goal{} // a target that one of them has no column for
		}
		out.Plans = append(out.Plans, p)
	}
	return out
}
