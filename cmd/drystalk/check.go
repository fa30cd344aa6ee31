package main

import (
	"fmt"
	"strings"

	"drystalk/report"
	"drystalk/report/document"
	"drystalk/scenarios"
	"drystalk/tongue"
)

// checkCmd checks a scenario.
type checkCmd struct {
	Scenario string `arg:"" optional:"" help:"Scenario file, or the name of a demo."`
	JSON     bool   `name:"json" help:"Print what was found as JSON."`
	Explain  bool   `help:"Show every key: value, unit, allowed values, default and its source."`
	Schema   bool   `help:"Print the JSON Schema of scenario files, for editors."`
	Answers  bool   `name:"answer-schema" help:"Print the JSON Schema of JSON answers, for programs that read them."`
	Stations string `placeholder:"WORDS" help:"List the weather stations that a scenario can name: a name, a country, all, or \"near 10.2,77.5\" (latitude, longitude, and if wanted height in m)."`
	Whole    bool   `name:"all-keys" help:"Print the scenario with every key stated, as a file to start from."`
}

// Run checks a scenario and shows what stands behind it.
func (c *checkCmd) Run(t terminal) error {
	if c.Schema {
		text, err := scenarios.Schema()
		if err != nil {
			return err
		}
		_, err = fmt.Fprintln(t.out, string(text))
		return err
	}
	if c.Answers {
		text, err := document.Schema()
		if err == nil {
			_, err = t.out.Write(text)
		}
		return err
	}
	if c.Stations != "" {
		return c.stations(t)
	}
	s, err := (&scenarioFlags{Scenario: c.Scenario}).load(t)
	if err != nil {
		return err
	}
	if c.Whole {
		_, err := t.out.Write(s.WriteAll())
		return err
	}
	asked := 0
	for _, span := range s.Region.Calendar.Months() {
		asked += s.Region.Contract.StalksByMonth[span.Month]
	}
	sentence := tongue.Sayf("%s is in order: %s, %d days from %d %s, %s stalks asked for in all, content %s.",
		s.Name, sites(len(s.Region.Sites)), s.Region.Calendar.Days, s.Region.Calendar.StartDay, s.Region.Calendar.StartMonth, report.Number(float64(asked)), s.Hash)
	d, err := writer.Check(sentence, s.WithoutWeather(0))
	if err != nil {
		return err
	}
	if c.JSON {
		_, err = t.out.Write(d.JSON)
		return err
	}
	_, _ = fmt.Fprint(t.out, d.Report.Text()+d.Report.CautionText()+"\n")
	if c.Explain {
		_, _ = fmt.Fprint(t.out, tongue.Sayf("\n%s\nAssumptions behind every answer\n", s.Explain()))
		for _, a := range s.Assumptions() {
			_, _ = fmt.Fprintf(t.out, "  %s: %s [%s]\n", a.Name, strings.TrimSpace(a.Value), a.Source)
		}
		_, _ = fmt.Fprintln(t.out, tongue.Say("\nCautions"))
		for _, line := range report.Cautions() {
			_, _ = fmt.Fprintln(t.out, "  - "+line)
		}
	}
	return nil
}

// stations lists stations of the table of normals.
func (c *checkCmd) stations(t terminal) error {
	if c.JSON {
		return usagef("--stations: found --json beside it, allowed: either")
	}
	list, err := scenarios.FindStations(c.Stations)
	if err != nil {
		return usagef("--stations: %v", err)
	}
	for _, line := range list.Lines {
		if _, err := fmt.Fprintln(t.out, line); err != nil {
			return err
		}
	}
	for _, w := range list.Warnings {
		_, _ = fmt.Fprintln(t.err, tongue.Sayf("warning: %s", w))
	}
	return nil
}

func sites(n int) string {
	if n == 1 {
		return tongue.Say("1 site")
	}
	return tongue.Sayf("%d sites", n)
}
