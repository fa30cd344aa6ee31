package main

import (
	"fmt"
	"slices"
	"strings"

	"drystalk/report/columns"
	"drystalk/sim/answers"
	"drystalk/sim/goal"
	"drystalk/sim/tidy"
)

// tableFlag writes the seasons behind an answer into a file for other programs.
type tableFlag struct {
	Table string `placeholder:"FILE" help:"Write every season behind the answer into one file besides, .parquet or .csv: what was drawn, delivered, met, every figure of the ledger, money."`
	Rows  string `name:"table-rows" default:"season" placeholder:"season" help:"What the table has a row for: season, site, month or site-month."`
}

// by returns what the table has a row for.
func (f *tableFlag) by() tidy.By { return tidy.By(f.Rows) }

// check tells before a run what is wrong with the flags of the table.
func (f *tableFlag) check() error {
	if !slices.Contains(tidy.Rows(), f.by()) {
		return usagef("--table-rows: found %q, allowed: season, site, month or site-month", f.Rows)
	}
	if f.Table == "" && f.by() != tidy.Season {
		return usagef("--table-rows: found it without --table, allowed: beside a file such as --table seasons.parquet")
	}
	return checkTable(f.Table)
}

// monthly has the seasons of a case keep what rows of months need.
func (f *tableFlag) monthly(c *answers.Case) {
	c.Setup.EveryMonth = f.Table != "" && f.by().Months()
}

// livedPlan is a plan of a table, with what stands in the columns before those of its seasons.
type livedPlan struct {
	before []tidy.Cell
	tidy.Plan
}

// planOf returns a plan of a case.
func planOf(c *answers.Case, before []tidy.Cell) livedPlan {
	return livedPlan{before, tidy.Plan{Region: c.Setup.Region, Dryers: c.Plan(), Ranges: c.Setup.Knowledge.Ranges, Goal: c.Goal, Prices: c.Prices, Currency: c.Currency}}
}

// write writes the rows of plans, first those of the first, and prints where they are.
func (f *tableFlag) write(t terminal, asJSON bool, before []tidy.Column, plans ...livedPlan) error {
	if f.Table == "" || len(plans) == 0 {
		return nil
	}
	cols := append(slices.Clone(before), plans[0].Columns(f.by())...)
	to, err := columns.Create(f.Table, cols, nil)
	if err != nil {
		return notWritten(err)
	}
	for _, p := range plans {
		err := p.Each(f.by(), func(_ int, row []tidy.Cell) error { return to.Write(slices.Concat(p.before, row)) })
		if err != nil {
			to.Drop()
			return notWritten(err)
		}
	}
	if err := to.Close(); err != nil {
		return notWritten(err)
	}
	names := []string{f.Table}
	if csv, ok := strings.CutSuffix(f.Table, ".csv"); ok {
		names = append(names, csv+".columns.csv")
		if err := columns.WriteFile(names[1], columns.Dictionary(cols), nil); err != nil {
			return notWritten(err)
		}
	}
	for _, name := range names {
		if !asJSON {
			_, _ = fmt.Fprintln(t.out, "  "+name)
		}
	}
	return nil
}

// ofOdds returns the plan behind the odds of a plan as written.
func ofOdds(a *answers.OddsAnswer) livedPlan {
	p := planOf(&a.Asked.Case, nil)
	p.Table = a.Table
	return p
}

// dryersColumns come before the seasons of the plans of dryers.
var dryersColumns = []tidy.Column{
	{Name: "dryers_in_all", Kind: tidy.Whole, Meaning: "dryers of the plan"},
	{Name: "placement", Kind: tidy.Word, Meaning: "dryers of the plan by site"},
}

// ofDryers returns the plans behind an answer to how many dryers.
func ofDryers(a *answers.DryersAnswer) (out []livedPlan) {
	for k, table := range a.Tables {
		r := &a.Answer.Plans[k]
		var at []string
		for site, n := range r.PerSite {
			at = append(at, fmt.Sprintf("%s %d", a.Answer.Sites[site], n))
		}
		p := planOf(&a.Asked.Case, []tidy.Cell{tidy.Count(r.Dryers), tidy.Text(strings.Join(at, ", "))})
		p.Table, p.Dryers = table, r.PerSite
		out = append(out, p)
	}
	return out
}

// compareColumns come before the seasons of two plans.
var compareColumns = []tidy.Column{{Name: "plan", Kind: tidy.Word, Meaning: "first or second"}}

// ofCompare returns the two plans of a comparison, both at the prices of the second.
func ofCompare(a *answers.CompareAnswer) (out []livedPlan) {
	both := []*answers.Case{&a.Asked.Case, &a.Second}
	for k, table := range a.Tables {
		p := planOf(both[k], []tidy.Cell{tidy.Text([]string{"first", "second"}[k])})
		p.Table, p.Prices, p.Currency = table, a.Second.Prices, a.Second.Currency
		if both[0].Goal.ByMonth() != both[1].Goal.ByMonth() {
			p.Goal = goal.Goal{} // a target that one of them has no column for
		}
		out = append(out, p)
	}
	return out
}
