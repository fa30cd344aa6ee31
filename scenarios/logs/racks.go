package logs

import (
	"drystalk/scenarios/tally"
	"drystalk/sim/measured"
)

// Racks is a log of weighings of marked stalks on racks under the open sky.
var Racks = tally.Form{
	What: "a log of weighings of marked stalks on a rack",
	Columns: []tally.Column{
		{Name: "date", Kind: tally.Date, AnyOrder: true}, // rack by rack
		{Name: "clock", Kind: tally.Clock},
		{Name: "rack", Kind: tally.Text, Optional: true, Hint: "a name for each lot of marked stalks: fresh ones on the same rack have another"},
		{Name: "weight_g", Kind: tally.Number, Least: 20, Most: 100_000, Hint: "in g, of the marked stalks together"},
		{Name: "moisture_percent", Kind: tally.Number, Least: 2, Most: 97, MayBeEmpty: true, Hint: "per cent wet basis, as 41, not 0.41; of each lot at least once, when it is nearly dry"},
	},
	Once: []string{"date", "clock", "rack"},
}

// ReadRacks reads a log of weighings. What is wrong with it comes as [tally.Faults].
func ReadRacks(file string, data []byte) (list []measured.Weighing, warnings []string, err error) {
	t, err := Racks.Read(file, data)
	if err != nil {
		return nil, nil, err
	}
	for _, r := range t.Rows {
		list = append(list, measured.Weighing{
			Line: r.Line, Rack: r.Text("rack"), Day: r.Date("date"), AtH: r.Number("clock"), Grams: r.Number("weight_g"), Wet: r.Number("moisture_percent") / 100,
		})
	}
	return list, t.Warnings, nil
}
