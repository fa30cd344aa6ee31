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
	_, _ = fmt.Fprint(t.out, d.Report.Text())
	_, _ = fmt.Fprintf(t.out, "Someone tends the fire; wait for 45 °C or less before you unload.\n%s\n", d.Report.CautionText())
	return nil
}
