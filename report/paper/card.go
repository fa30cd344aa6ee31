package paper

import (
	"bytes"
	_ "embed" // the card
	"fmt"
	"html/template"
)

//go:embed card.gohtml
var cardText string

// cardPage is the parsed card; it is part of the program, so a fault in it is a bug.
var cardPage = template.Must(template.New("card").Funcs(said).Parse(cardText))

// Card is the page for the door of a dryer: what a full load takes, in letters that are read from
// two steps away, and what to beware of. It prints on one side of A4.
type Card struct {
	Place    string
	Invented string // says that the place is a demo's; "" where it is not
	Holds    string // what the hours hold for: temperature, wood, air outside
	Dry      string // moisture at which slow stalks are dry, per cent
	Measured bool   // a log of the group narrows the ranges
	Lines    []CardLine
	Cautions []string
	Made     []string // how to get the same numbers
}

// CardLine is a full load of one moisture, in words.
type CardLine struct {
	Moisture, Load, Weight string
	Hours, HoursRange      string // the range is that of 90 of 100 trials; "" where knowledge is fixed
	Wood, WoodRange        string
}

// Ranged tells whether the lines have ranges.
func (c Card) Ranged() bool { return len(c.Lines) > 0 && c.Lines[0].HoursRange != "" }

// HTML returns the card as one self-contained file.
func (c Card) HTML() ([]byte, error) {
	var b bytes.Buffer
	if err := cardPage.Execute(&b, c); err != nil {
		return nil, fmt.Errorf("card of the dryer: %w", err)
	}
	return b.Bytes(), nil
}
