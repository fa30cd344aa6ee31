package main

import (
	"fmt"
	"path/filepath"
	"strings"

	"drystalk/report"
	"drystalk/report/document"
	"drystalk/scenarios"
	"drystalk/sim/answers"
	"drystalk/sim/weather"
	"drystalk/tongue"
)

// fitCmd fits parts of the model to a user's own records.
type fitCmd struct {
	Charges fitChargesCmd `cmd:"" help:"Drying rate, what the dryer evaporates, spread and furnace from a log of loads."`
	Output  fitOutputCmd  `cmd:"" help:"Stalks a cutter brings in an hour, with their spread, from a tally of cutting."`
	Racks   fitRacksCmd   `cmd:"" help:"What a rack evaporates, from weighings of marked stalks and the weather of their days."`
	Weather fitWeatherCmd `cmd:"" help:"A generator of weather from a station's daily record, with a report of how well it does."`
}

// fitWeatherCmd fits a climate.
type fitWeatherCmd struct {
	Record     string `arg:"" help:"Daily record: CSV with columns date, rain_mm (and tmax_c, tmin_c ...), or a GHCN-Daily file."`
	WMOStation string `name:"wmo-station" help:"Station of the WMO normals table for temperatures, sunshine and humidity; or give --scenario."`
	Scenario   string `help:"Scenario whose normals give temperatures, sunshine and humidity."`
	Out        string `default:"out" help:"Folder for the climate file and the fit report."`
	JSON       bool   `name:"json" help:"Print the fit report as JSON and nothing else."`
	answers.FitOptions

	fromHash string // content of the scenario
}

// Run fits a climate to a record and says how well it reproduces it.
func (c *fitWeatherCmd) Run(t terminal) error {
	if err := c.Validate(); err != nil {
		return err
	}
	if err := ready(c.JSON, c.Out); err != nil {
		return err
	}
	rest, err := c.rest()
	if err != nil {
		return err
	}
	rec, content, err := readRecord(c.Record)
	if err != nil {
		return err
	}
	rec.Station = strings.TrimSuffix(filepath.Base(c.Record), filepath.Ext(c.Record))
	f, err := within(t.ctx, func() (fitting, error) { return c.fit(t, rec, rest) })
	if err != nil {
		return err
	}
	d, err := writer.Fit(answers.FitAnswer{Command: c.Command(c.Record, c.WMOStation, c.Scenario), Files: c.files(content), Seed: c.Seed, Fit: f.report})
	if err != nil {
		return err
	}
	if c.JSON {
		_, err = t.out.Write(d.JSON)
		return err
	}
	return c.write(t, d, f.climate)
}

// fitting is a climate as its file says it, and how well it gives back its record.
type fitting struct {
	climate []byte
	report  weather.FitReport
}

// fit fits a climate to a record and judges it, in the rains and in months of a contract.
func (c *fitWeatherCmd) fit(t terminal, rec *weather.Record, rest answers.Rest) (fitting, error) {
	climate, err := answers.FitWeather(rec, rest.Normals, c.FitOptions)
	if err != nil {
		s := rec.Summary()
		for _, q := range s.Refused {
			_, _ = tongue.Fprintf(t.err, "year %d is not used: %s\n", q.Year, q.Refused)
		}
		for _, s := range rec.Suspicions {
			_, _ = fmt.Fprintln(t.err, s)
		}
		return fitting{}, usagef("%s: %v", c.Record, err)
	}
	climate, fit, err := answers.JudgeAsWritten(rec, climate, rest, c.FitOptions, scenarios.AsWritten)
	return fitting{scenarios.WriteClimate(climate), fit}, err
}

// files are the files that the numbers of the fit come from: the record, and a scenario.
func (c *fitWeatherCmd) files(record string) []answers.File {
	list := []answers.File{{Name: c.Record, Content: record}}
	if c.fromHash != "" {
		list = append(list, answers.File{Name: c.Scenario, Content: c.fromHash})
	}
	return list
}

// rest returns the normals for what the record does not hold, and the months in which the
// contract of a scenario asks for stalks.
func (c *fitWeatherCmd) rest() (answers.Rest, error) {
	switch {
	case (c.WMOStation == "") == (c.Scenario == ""):
		return answers.Rest{}, usagef("give one of --wmo-station and --scenario: rain alone does not tell temperatures, sunshine and humidity")
	case c.WMOStation != "":
		n, err := scenarios.StationNormals(c.WMOStation)
		if err != nil {
			return answers.Rest{}, usagef("--wmo-station: found %q, allowed: one of %s", c.WMOStation, strings.Join(scenarios.Stations(), ", "))
		}
		return answers.Rest{Normals: n}, nil
	}
	s, err := (&scenarioFlags{Scenario: c.Scenario}).read()
	if err != nil {
		return answers.Rest{}, err
	}
	c.fromHash = s.Hash
	return answers.Rest{Normals: s.Normals, Months: s.ContractMonths()}, nil
}

// write prints the report and writes its files.
func (c *fitWeatherCmd) write(t terminal, d document.Document, climate []byte) error {
	r := d.Report
	files, err := r.Files("svg", "png")
	if err != nil {
		return err
	}
	for i := range files {
		if files[i].Name == "report.html" {
			files[i].Name = "fit-report.html"
		}
	}
	files = append(files, report.File{Name: "climate.yaml", Data: climate}, report.File{Name: "fit.json", Data: d.JSON})
	paths, failed := report.WriteFiles(c.Out, files)
	for _, w := range r.Warnings {
		_, _ = fmt.Fprintln(t.err, tongue.Sayf("warning: %s", w))
	}
	_, _ = fmt.Fprint(t.out, r.Text())
	if failed != nil {
		return notWritten(failed)
	}
	_, _ = fmt.Fprintln(t.out, r.CautionText())
	_, _ = fmt.Fprintln(t.out, tongue.Say("A scenario uses it with  weather: {climate_file: climate.yaml}  beside it. Written:"))
	for _, p := range paths {
		_, _ = fmt.Fprintln(t.out, "  "+p)
	}
	return nil
}
