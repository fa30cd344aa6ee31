package logs

import (
	"math"
	"strconv"

	"drystalk/scenarios/tally"
	"drystalk/sim/measured"
	"drystalk/tongue"
)

// Output is a tally of cutting: a line for each cutter, or for some together, and day.
var Output = tally.Form{
	What: "a tally of cutting",
	Columns: []tally.Column{
		{Name: "date", Kind: tally.Date},
		{Name: "cutter", Kind: tally.Text, Optional: true, Hint: "a name or number that tells lines of a day apart"},
		{Name: "people", Kind: tally.Whole, Least: 1, Most: 500, Optional: true, Hint: "who cut together; one if there is no such column"},
		{Name: "hours", Kind: tally.Hours, Least: 0.25, Most: 16, Hint: "hours that each of them cut"},
		{Name: "stalks", Kind: tally.Whole, Least: 1, Most: 500_000, Hint: "usable stalks, counted; leave lines of days without cutting out"},
	},
	Once: []string{"date", "cutter"},
}

// mostOff is how many times more or less than stated a line may say: beyond, something else than
// stalks was written.
const mostOff = 8

// ReadOutput reads a tally of cutting where a scenario states so many stalks per person-hour, and the
// days between its first and last that have no line. What is wrong comes as [tally.Faults].
func ReadOutput(file string, data []byte, statedPerH float64) (list []measured.Tally, missing, warnings []string, err error) {
	t, err := Output.Read(file, data)
	if err != nil {
		return nil, nil, nil, err
	}
	for _, r := range t.Rows {
		people := 1.0
		if r.Has("people") {
			people = r.Number("people")
		}
		one := measured.Tally{Line: r.Line, Day: r.Date("date"), PersonH: people * r.Number("hours"), Stalks: r.Number("stalks")}
		if perH := one.Stalks / one.PersonH; perH < statedPerH/mostOff || perH > statedPerH*mostOff {
			t.Refuse(r, "stalks", tongue.Plainf("%s stalks in %g person-hours, %s an hour", grouped(one.Stalks), one.PersonH, grouped(perH)),
				tongue.Plainf("%s to %s an hour, %d times less or more than the %g that the scenario states: look whether kg stand for stalks, or hours of all for hours of each", grouped(statedPerH/mostOff), grouped(statedPerH*mostOff), mostOff, statedPerH))
		}
		list = append(list, one)
	}
	for _, d := range t.MissingDays("date") {
		missing = append(missing, d.Format("2006-01-02"))
	}
	return list, missing, t.Warnings, t.Err()
}

// grouped writes a count or a rate as people read it: 6,820, or 3.4 where that is less than ten.
func grouped(x float64) string {
	if x < 10 {
		return strconv.FormatFloat(math.Round(10*x)/10, 'f', -1, 64)
	}
	text := strconv.FormatFloat(x, 'f', 0, 64)
	for at := len(text) - 3; at > 0; at -= 3 {
		text = text[:at] + "," + text[at:]
	}
	return text
}
