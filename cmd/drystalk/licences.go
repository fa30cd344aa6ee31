package main

import (
	_ "embed" // the notices
	"fmt"

	"github.com/alecthomas/kong"
)

// licences are the notices of all that the program is made of besides its own code: written by
// `go test ./cmd/drystalk -run Licences -update` from the modules that are linked into it.
//
//go:embed licences.txt
var licences string

// licencesFlag prints the notices and ends the program.
type licencesFlag bool

// BeforeReset prints the notices.
func (licencesFlag) BeforeReset(app *kong.Kong) error {
	_, err := fmt.Fprint(app.Stdout, licences)
	app.Exit(exitDone)
	return err
}
