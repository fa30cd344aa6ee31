package main

import (
	"fmt"
	"os"

	"drystalk/report"
	"drystalk/scenarios"
	"drystalk/sim/decide"
	"drystalk/sim/trials"
	"drystalk/sim/weather"
)

// recordFlag lets a plan be run through real years.
type recordFlag struct {
	Record string `help:"Daily record of a station: run the plan through each of its real years too."`
}

// throughYears runs a plan through the real years of a record and compares them with the
// generator's result. Without a record it returns nil.
func (f *recordFlag) throughYears(t terminal, s *scenarios.Scenario, set trials.Setup, plan []int, generator decide.PlanResult) (*decide.YearsResult, error) {
	if f.Record == "" {
		return nil, nil
	}
	rec, err := readRecord(f.Record)
	if err != nil {
		return nil, err
	}
	c := s.Region.Calendar
	years, err := weather.NewRealYears(rec, set.Source, s.Normals, c.StartDOY(), c.Days)
	if err != nil {
		return nil, usageError{err}
	}
	set.Source = years
	table, err := set.Table(t.ctx, 0, years.Seasons(), trials.Only(plan), nil)
	if err != nil {
		return nil, err
	}
	real, err := decide.Judge(table, plan)
	if err != nil {
		return nil, err
	}
	r := &decide.YearsResult{Station: rec.Station, Filled: years.Filled, Years: decide.Years(table, plan, years.Years)}
	r.Months, r.Agree = decide.Agree(real, generator)
	return r, nil
}

// readRecord reads a station record.
func readRecord(name string) (*weather.Record, error) {
	f, err := os.Open(name)
	if err != nil {
		return nil, usagef("%s: no such station record", name)
	}
	defer func() { _ = f.Close() }()
	rec, err := weather.ReadRecord(name, f)
	if err != nil {
		return nil, usageError{err}
	}
	return rec, nil
}

// withYears adds the real years to a report.
func withYears(r report.Report, y *decide.YearsResult) report.Report {
	if y == nil {
		return r
	}
	r.Paragraph = append(r.Paragraph, report.YearsSentence(*y))
	r.Sections = append(r.Sections, report.YearsSection(*y))
	return r
}

// readBeside returns a reader of files in a folder and below it.
func readBeside(dir string) func(string) ([]byte, error) {
	root, err := os.OpenRoot(dir)
	return func(name string) ([]byte, error) {
		if err != nil {
			return nil, fmt.Errorf("the folder cannot be opened")
		}
		data, err := root.ReadFile(name)
		if err != nil {
			return nil, fmt.Errorf("it cannot be read there")
		}
		return data, nil
	}
}
