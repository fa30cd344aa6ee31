package main

import (
	"fmt"

	"drystalk/report"
	"drystalk/report/document"
	"drystalk/sim/answers"
	"drystalk/tongue"
)

// chargeCmd works out one load.
type chargeCmd struct {
	plan
	Out string `help:"Folder for the report, the chart of the load and a card for the dryer's door that prints on one page."`
	answers.LoadOptions
}

// Run prints hours, wood and the course of one load.
func (c *chargeCmd) Run(t terminal) error {
	if err := ready(c.JSON, c.Out); err != nil {
		return err
	}
	s, err := c.loaded(t)
	if err != nil {
		return err
	}
	a, err := answers.Load(s.WithoutWeather(c.Seed), c.LoadOptions)
	if err != nil {
		return err
	}
	d, err := writer.Load(a)
	if err != nil {
		return err
	}
	if c.JSON {
		_, err := t.out.Write(d.JSON)
		return err
	}
	_, _ = fmt.Fprint(t.out, d.Report.Text())
	_, _ = tongue.Fprintf(t.out, "Someone tends the fire; wait for 45 °C or less before you unload.\n%s\n", d.Report.CautionText())
	return c.write(t, a, d)
}

// write writes the report, the chart and the card, if a folder was named.
func (c *chargeCmd) write(t terminal, a answers.LoadAnswer, d document.Document) error {
	if c.Out == "" {
		return nil
	}
	files, err := d.Files("svg", "png")
	if err != nil {
		return err
	}
	card, err := writer.DoorCard(a)
	if err != nil {
		return err
	}
	paths, err := report.WriteFiles(c.Out, append(files, card))
	if err != nil {
		return notWritten(err)
	}
	_, _ = fmt.Fprintln(t.out, tongue.Say("Written:"))
	for _, p := range paths {
		_, _ = fmt.Fprintln(t.out, "  "+p)
	}
	return nil
}
