package main

import (
	"fmt"
	"slices"
	"strings"

	"drystalk/report/columns"
	"drystalk/report/document"
	"drystalk/sim/answers"
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

// write writes the seasons behind an answer, and prints where they are.
func (f *tableFlag) write(t terminal, asJSON bool, behind document.Seasons) error {
	if f.Table == "" || len(behind.Plans) == 0 {
		return nil
	}
	cols := behind.Columns(f.by())
	to, err := columns.Create(f.Table, cols, nil)
	if err != nil {
		return notWritten(err)
	}
	if err := behind.Each(f.by(), to.Write); err != nil {
		to.Drop()
		return notWritten(err)
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
