package main

import (
	"errors"
	"fmt"
	"strings"

	"drystalk/report"
	"drystalk/report/document"
	"drystalk/scenarios"
	"drystalk/scenarios/logs"
	"drystalk/scenarios/tally"
	"drystalk/sim/answers"
	"drystalk/tongue"
)

// logFlags are shared by the commands that read a group's own log.
type logFlags struct {
	Log      string `arg:"" help:"The log: CSV with a header; its columns are listed in the README."`
	Scenario string `required:"" help:"Scenario of the group, or the name of a demo: its dryer, its stalks, and what is held of them so far."`
	Out      string `default:"out" help:"Folder for the ranges that a scenario takes up, the report and its chart."`
	JSON     bool   `name:"json" help:"Print the answer as JSON and nothing else."`
}

// largestLog is the largest log that is read, bytes.
const largestLog = 8 << 20

// read reads the log and the scenario.
func (f *logFlags) read(t terminal) (data []byte, log answers.Log, c answers.Case, err error) {
	if err := ready(f.JSON, f.Out); err != nil {
		return nil, log, c, err
	}
	s, err := (&scenarioFlags{Scenario: f.Scenario}).load(t)
	if err != nil {
		return nil, log, c, err
	}
	if data, err = readRegular(f.Log, "log", largestLog); err != nil {
		return nil, log, c, err
	}
	return data, answers.Log{Name: f.Log, Content: scenarios.ContentOf(data)}, s.WithoutWeather(1), nil
}

// faulty returns faults of a log, or of what is asked of it, as those of a command line.
func faulty(log string, err error) error {
	var faults tally.Faults
	var fault answers.Fault
	switch {
	case err == nil:
		return nil
	case errors.As(err, &faults):
		return usageError{err}
	case errors.As(err, &fault) && fault.Option == "":
		return usagef("%s: %v", log, err)
	}
	return err
}

// write prints the answer and writes its files.
func (f *logFlags) write(t terminal, what string, d document.Document, m answers.Measured) error {
	if f.JSON {
		_, err := t.out.Write(d.JSON)
		return err
	}
	files, err := d.Report.Files("svg", "png")
	if err != nil {
		return err
	}
	files[0].Name = what + "-report.html"
	name, carried := document.MeasuredFile(what), m.Carried()
	uses := tongue.Say("No range for a scenario is written: the documented ones stand.")
	if len(carried) > 0 {
		uses = tongue.Sayf("A scenario uses it with  knowledge: {measured_files: %s}  beside it.", name)
		about := []string{d.Report.Sentence, tongue.Sayf("From %s. A scenario beside this file takes it up with  knowledge: {measured_files: %s}", f.Log, name)}
		files = append(files, report.File{Name: name, Data: scenarios.WriteMeasured(about, carried)})
	}
	files = append(files, report.File{Name: what + ".json", Data: d.JSON})
	paths, failed := report.WriteFiles(f.Out, files)
	for _, w := range m.Warnings {
		_, _ = fmt.Fprintln(t.err, tongue.Sayf("warning: %s", w))
	}
	_, _ = fmt.Fprint(t.out, d.Report.Text())
	if failed != nil {
		return notWritten(failed)
	}
	_, _ = fmt.Fprintln(t.out, d.Report.CautionText())
	_, _ = fmt.Fprintln(t.out, uses+tongue.Say(" Written:"))
	for _, p := range paths {
		_, _ = fmt.Fprintln(t.out, "  "+p)
	}
	return nil
}

// columnsOf lists the columns of a log for its help.
func columnsOf(f tally.Form) string {
	var list []string
	for _, c := range f.Columns {
		name := c.Name
		if c.Optional {
			name = "[" + name + "]"
		}
		list = append(list, name)
	}
	return tongue.Sayf("Columns, in any order, those in brackets may be left out: %s. A column remark is passed over.", strings.Join(list, ", "))
}

// fitChargesCmd fits a log of loads.
type fitChargesCmd struct {
	logFlags
	answers.FitChargesOptions
}

// Help lists the columns.
func (c *fitChargesCmd) Help() string {
	return columnsOf(logs.Loads) + tongue.Say(" A load needs weight_in_kg and weight_out_kg with moisture_out_percent (best), or both moistures with a weight or the stalks.")
}

// Run fits a log of loads and says what it tells.
func (c *fitChargesCmd) Run(t terminal) error {
	if err := c.Validate(); err != nil {
		return err
	}
	data, log, of, err := c.read(t)
	if err != nil {
		return err
	}
	base, d := &of.Setup.Base, &of.Setup.Region.Dryer
	loads, warnings, err := logs.ReadLoads(c.Log, data, c.Exact(), logs.Unsaid{
		OutsideC: c.OutsideC, Humidity: c.Humidity, WoodWet: float64(base.Cabinet.WoodMoisture),
		StalkDryKg: base.Stalk.DryG() / 1000, HoldsDryKg: float64(max(d.HoldsFresh, d.HoldsPredried)) * base.Stalk.DryG() / 1000,
	})
	if err != nil {
		return faulty(c.Log, err)
	}
	a, err := answers.FitCharges(of, log, loads, c.FitChargesOptions)
	if err != nil {
		return faulty(c.Log, err)
	}
	a.Warnings = append(a.Warnings, warnings...)
	doc, err := writer.Charges(a)
	if err != nil {
		return err
	}
	return c.write(t, "charges", doc, a.Measured)
}
