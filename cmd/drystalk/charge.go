package main

import (
	"fmt"

	"drystalk/sim/answers"
)

// chargeCmd works out one load.
type chargeCmd struct {
	plan
	answers.LoadOptions
}

// Run prints hours, wood and the course of one load.
func (c *chargeCmd) Run(t terminal) error {
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
	_, _ = fmt.Fprintf(t.out, "%s\n%s\n", d.Report.Sentence, d.Report.Words())
	for _, table := range d.Report.Sections[0].Tables {
		_, _ = fmt.Fprintf(t.out, "\n%s", table.Text())
	}
	_, _ = fmt.Fprintln(t.out, "\nA planning estimate: time your own loads. Someone tends the fire; wait for 45 °C or less before you unload.")
	return nil
}
