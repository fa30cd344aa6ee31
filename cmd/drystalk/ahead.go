package main

import (
	"fmt"
	"io"

	"drystalk/scenarios"
	"drystalk/sim/answers"
	"drystalk/tongue"
)

// aheadCmd says what lies ahead from today's stock.
type aheadCmd struct {
	plan
	outFlag
	answers.AheadOptions
}

// largestTally is the largest table of a clerk that is read, bytes.
const largestTally = 4 << 20

// Run prints what lies ahead.
func (c *aheadCmd) Run(t terminal) error {
	if err := ready(c.JSON, c.Out); err != nil {
		return err
	}
	few(t, c.Seasons)
	if err := c.read(t); err != nil {
		return err
	}
	a, err := ask(t, &c.plan, func(of answers.Case, tell answers.Progress) (answers.AheadAnswer, error) {
		return answers.Ahead(t.ctx, of, c.AheadOptions, tell)
	})
	if err != nil {
		return err
	}
	d, err := writer.Ahead(a)
	if err != nil {
		return err
	}
	return c.print(t, d, c.Out)
}

// read reads what lies where, and what the season has shown, from the files of the options.
func (c *aheadCmd) read(t terminal) error {
	if c.Stock == "" {
		return usagef("--stock: found nothing, allowed: a file that says what lies where today, such as stock.yaml or stock.csv of the README")
	}
	s, err := c.loaded(terminal{t.ctx, t.out, io.Discard})
	if err != nil {
		return err
	}
	data, err := c.open(c.Stock, tongue.Say("file of stock"))
	if err != nil {
		return err
	}
	st, err := s.ReadStock(c.Stock, data)
	if err != nil {
		return err
	}
	lies := answers.Lies{Start: st.Start, Known: st.Known, Warnings: st.Warnings}
	if c.Cut != "" {
		if data, err = c.open(c.Cut, tongue.Say("file of what was cut")); err != nil {
			return err
		}
		var warnings []string
		if lies.Known.Output, warnings, err = s.ReadCut(c.Cut, data, st.Start.Day); err != nil {
			return err
		}
		lies.Warnings = append(lies.Warnings, warnings...)
	}
	if c.Rain != "" {
		if data, err = c.open(c.Rain, tongue.Say("file of the rain")); err != nil {
			return err
		}
		var warnings []string
		if lies.Known.RainMM, warnings, err = s.ReadRain(c.Rain, data, st.Start.Day); err != nil {
			return err
		}
		lies.Warnings = append(lies.Warnings, warnings...)
	}
	c.Lies = lies
	for _, w := range lies.Warnings {
		_, _ = fmt.Fprintln(t.err, tongue.Sayf("warning: %s", w))
	}
	return nil
}

// open reads a file of an option and names it for the answer.
func (c *aheadCmd) open(name, kind string) ([]byte, error) {
	data, err := readRegular(name, kind, largestTally)
	if err == nil {
		c.Files = append(c.Files, answers.FileOf(name, scenarios.ContentOf(data)))
	}
	return data, err
}
