package main

import (
	"bytes"
	"errors"
	"io"
	"io/fs"
	"os"

	"drystalk/scenarios"
	"drystalk/sim/answers"
	"drystalk/sim/weather"
	"drystalk/tongue"
)

// through reads the record of real years that an option names, if it names one.
func (f *scenarioFlags) through(o *answers.Through) (err error) {
	if o.Record != "" {
		o.Days, o.Content, err = readRecord(o.Record)
	}
	return err
}

// largestRecord is the largest station record that is read, bytes: two hundred years of days in
// the widest form are some 10 MB.
const largestRecord = 64 << 20

// readRecord reads a station record, and returns the hash of its file with it.
func readRecord(name string) (rec *weather.Record, content string, err error) {
	return readRecordBy(weather.ReadRecord, name)
}

// readYard reads the weather of the days of a log.
func readYard(name string) (rec *weather.Record, content string, err error) {
	return readRecordBy(weather.ReadYard, name)
}

// readRecordBy reads a file of daily weather by one of the ways to read it.
func readRecordBy(read func(name string, in io.Reader) (*weather.Record, error), name string) (rec *weather.Record, content string, err error) {
	data, err := readRegular(name, tongue.Say("station record"), largestRecord)
	if err != nil {
		return nil, "", err
	}
	if rec, err = read(name, bytes.NewReader(data)); err != nil {
		return nil, "", usageError{err}
	}
	return rec, scenarios.ContentOf(data), nil
}

// readRegular reads a file of the user's. What is no file with an end, such as a folder, a pipe or
// a device, is refused at once, and so is one that is larger than its kind can be.
func readRegular(name, kind string, largest int64) ([]byte, error) {
	info, err := os.Stat(name)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil, usagef("%s: no such %s", name, kind)
	case err != nil:
		return nil, usagef("%s: the %s cannot be opened: %v", name, kind, plainError(err))
	case info.IsDir():
		return nil, usagef("%s: is a folder, not a %s", name, kind)
	case !info.Mode().IsRegular():
		return nil, usagef("%s: is a pipe or a device, not a file with a %s; save it as a file first", name, kind)
	case info.Size() > largest:
		return nil, usagef("%s: is larger than a %s can be (%d MB)", name, kind, largest>>20)
	}
	data, err := os.ReadFile(name)
	if err != nil {
		return nil, usagef("%s: the %s cannot be read: %v", name, kind, plainError(err))
	}
	return data, nil
}

// plainError returns what is wrong with a file without its path and the system call, which the
// user did not ask for.
func plainError(err error) error {
	var path *fs.PathError
	if errors.As(err, &path) {
		return path.Err
	}
	return err
}

// readBeside returns a reader of files in a folder and below it.
func readBeside(dir string) func(string) ([]byte, error) {
	root, err := os.OpenRoot(dir)
	return func(name string) ([]byte, error) {
		if err != nil {
			return nil, tongue.Errorf("the folder cannot be opened")
		}
		info, err := root.Stat(name)
		switch {
		case err != nil:
			return nil, tongue.Errorf("it cannot be read there")
		case !info.Mode().IsRegular():
			return nil, tongue.Errorf("it is a folder, a pipe or a device")
		case info.Size() > largestScenario:
			return nil, tongue.Errorf("it is larger than a climate can be, %d MB", largestScenario>>20)
		}
		data, err := root.ReadFile(name)
		if err != nil {
			return nil, tongue.Errorf("it cannot be read there")
		}
		return data, nil
	}
}
