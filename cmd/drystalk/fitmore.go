package main

import (
	"drystalk/scenarios/logs"
	"drystalk/sim/answers"
	"drystalk/tongue"
)

// fitOutputCmd fits a tally of cutting.
type fitOutputCmd struct {
	logFlags
	answers.FitOutputOptions
}

// Help lists the columns.
func (c *fitOutputCmd) Help() string {
	return columnsOf(logs.Output) + tongue.Say(" A line is what one cutter, or people together, brought on a day, and the hours that each of them cut.")
}

// Run fits a tally of cutting and says what it tells.
func (c *fitOutputCmd) Run(t terminal) error {
	data, log, of, err := c.read(t)
	if err != nil {
		return err
	}
	stated, err := c.Stated(of)
	if err != nil {
		return err
	}
	tallies, missing, warnings, err := logs.ReadOutput(c.Log, data, stated)
	if err != nil {
		return faulty(c.Log, err)
	}
	a, err := answers.FitOutput(of, log, tallies, missing, c.FitOutputOptions)
	if err != nil {
		return faulty(c.Log, err)
	}
	a.Warnings = append(a.Warnings, warnings...)
	doc, err := writer.Output(a)
	if err != nil {
		return err
	}
	return c.write(t, "output", doc, a.Measured)
}

// fitRacksCmd fits a log of weighings.
type fitRacksCmd struct {
	logFlags
	Record string `required:"" help:"Weather of the days of the log: CSV with columns date, rain_mm, tmax_c, tmin_c (and sunshine_fraction, vapour_pressure_kpa), best of the yard itself."`
	answers.FitRacksOptions
}

// Help lists the columns.
func (c *fitRacksCmd) Help() string {
	return columnsOf(logs.Racks) + tongue.Say(" Weigh marked stalks that lie under the open sky morning and evening until they are nearly dry, and read their moisture once then.")
}

// Run fits a log of weighings and says what it tells.
func (c *fitRacksCmd) Run(t terminal) error {
	if err := c.Validate(); err != nil {
		return err
	}
	data, log, of, err := c.read(t)
	if err != nil {
		return err
	}
	racks := answers.RackLog{}
	racks.File.Name = c.Record
	if racks.Record, racks.File.Content, err = readYard(c.Record); err != nil {
		return err
	}
	var warnings []string
	if racks.Weighings, warnings, err = logs.ReadRacks(c.Log, data); err != nil {
		return faulty(c.Log, err)
	}
	a, err := answers.FitRacks(of, log, racks, c.FitRacksOptions)
	if err != nil {
		return faulty(c.Log, err)
	}
	a.Warnings = append(a.Warnings, warnings...)
	doc, err := writer.Racks(a)
	if err != nil {
		return err
	}
	return c.write(t, "racks", doc, a.Measured)
}
