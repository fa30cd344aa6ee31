package main

import (
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"

	"github.com/schollz/progressbar/v3"
	"golang.org/x/term"

	"drystalk/report"
	"drystalk/scenarios"
	"drystalk/sim"
	"drystalk/sim/money"
	"drystalk/sim/trials"
)

// setup returns the trials of a scenario.
func setup(s *scenarios.Scenario, seed uint64, workers int) (trials.Setup, error) {
	set := trials.Setup{Region: &s.Region, Base: s.Base, Knowledge: s.Knowledge, Seed: seed, Workers: workers, Group: s.Groups()}
	var err error
	if set.Source, err = s.Source(); err != nil {
		return set, err
	}
	field, err := s.Field()
	if field != nil {
		set.Field = field
	}
	return set, err
}

// progress returns a bar on a terminal, nothing in a pipe, and how to end it.
func progress(w io.Writer, of int) (tell func(done int), end func()) {
	f, ok := w.(*os.File)
	if !ok || !term.IsTerminal(int(f.Fd())) {
		return func(int) {}, func() {}
	}
	bar := progressbar.NewOptions(of,
		progressbar.OptionSetWriter(f), progressbar.OptionSetDescription("seasons"),
		progressbar.OptionShowCount(), progressbar.OptionSetWidth(30), progressbar.OptionClearOnFinish(),
	)
	return func(done int) { _ = bar.Set(done) }, func() { _ = bar.Finish() }
}

// stages returns how to show on a terminal what is being done, and how to end that.
func stages(w io.Writer) (tell func(stage string), end func()) {
	f, ok := w.(*os.File)
	if !ok || !term.IsTerminal(int(f.Fd())) {
		return func(string) {}, func() {}
	}
	return func(stage string) { _, _ = fmt.Fprintf(f, "\r\x1b[K%s", stage) }, func() { _, _ = fmt.Fprint(f, "\r\x1b[K") }
}

// behind is what every JSON answer carries.
type behind struct {
	Sentence    string           `json:"sentence"`
	Paragraph   string           `json:"paragraph"`
	Version     string           `json:"version"`
	Scenario    string           `json:"scenario"`
	Hash        string           `json:"scenario_hash"`
	Seed        uint64           `json:"seed"`
	Warnings    []string         `json:"warnings"`
	Assumptions []sim.Assumption `json:"assumptions"`
}

func behindOf(s *scenarios.Scenario, seed uint64, r report.Report) behind {
	return behind{r.Sentence, r.Words(), version, s.Name, s.Hash, seed, s.Warnings, s.Assumptions()}
}

// pricesOf returns the prices of a scenario, nil where it states none.
func pricesOf(s *scenarios.Scenario) *money.Prices {
	if !s.HasMoney {
		return nil
	}
	return &s.Money
}

// errStopped is returned after an interrupted run has said what it knows.
var errStopped = errors.New("stopped early; what is above is what was known by then")

func stoppedEarly(err error, stopped bool) error {
	if err == nil && stopped {
		return errStopped
	}
	return err
}

// printJSON writes one JSON document.
func printJSON(w io.Writer, v any) error {
	e := json.NewEncoder(w)
	e.SetIndent("", "  ")
	e.SetEscapeHTML(false)
	return e.Encode(v)
}

// finish completes a report, writes it with the answer as JSON, and prints it: the
// sentence, tables, and the paths of the files.
func finish(t terminal, f *runFlags, s *scenarios.Scenario, r report.Report, answer any, command string) error {
	if f.JSON {
		return printJSON(t.out, answer)
	}
	r.Assumptions, r.Warnings, r.Weather = s.Assumptions(), append(r.Warnings, s.Warnings...), s.WeatherWords()
	r.Reproduce = []string{
		fmt.Sprintf("drystalk %s %s --seed %d --seasons %d", command, s.Name, f.Seed, f.Seasons),
		"scenario " + s.Name + ", content " + s.Hash,
		"drystalk " + version,
	}
	files, err := r.Files()
	if err != nil {
		return err
	}
	data, err := json.MarshalIndent(answer, "", "  ")
	if err != nil {
		return err
	}
	sheet, err := r.Spreadsheet()
	if err != nil {
		return err
	}
	tidy, err := r.Tidy()
	if err != nil {
		return err
	}
	paths, err := report.WriteFiles(f.Out, append(
		files, report.File{Name: "report.xlsx", Data: sheet}, report.File{Name: "figures.csv", Data: tidy}, report.File{Name: "answer.json", Data: append(data, '\n')},
	))
	if err != nil {
		return err
	}
	_, _ = fmt.Fprint(t.out, r.Text())
	_, _ = fmt.Fprintln(t.out, "Planning estimates, not guarantees. Assumptions and cautions are in the report:")
	for _, p := range paths {
		_, _ = fmt.Fprintln(t.out, "  "+p)
	}
	return nil
}
