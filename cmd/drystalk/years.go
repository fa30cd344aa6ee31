package main

import (
	"fmt"
	"os"

	"drystalk/sim/answers"
	"drystalk/sim/weather"
)

// through reads the record of real years that an option names, if it names one.
func (f *scenarioFlags) through(o *answers.Through) (err error) {
	if o.Record != "" {
		o.Days, err = readRecord(o.Record)
	}
	return err
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
