// Package logs reads a group's own logs, as a clerk keeps them: loads of a dryer, weighings on racks,
// tallies of what was cut. How tables are read is told by package tally; this package knows their
// columns, and which readings cannot be together.
package logs

import (
	"fmt"

	"drystalk/scenarios/tally"
	"drystalk/sim/measured"
	"drystalk/tongue"
)

// Loads is the log of loads of a dryer: a line a load.
var Loads = tally.Form{
	What: "a log of loads of a dryer",
	Columns: []tally.Column{
		{Name: "date", Kind: tally.Date},
		{Name: "load", Kind: tally.Text, Optional: true, MayBeEmpty: true, Hint: "a name or number that tells loads of a day apart"},
		{Name: "stalks", Kind: tally.Whole, Least: 10, Most: 100_000, Optional: true, MayBeEmpty: true, Hint: "stalks are counted; weights belong into weight_in_kg and weight_out_kg"},
		kg("weight_in_kg", 2, 20_000), kg("weight_out_kg", 0.2, 20_000),
		percent("moisture_in_percent", 15, 97), percent("moisture_out_percent", 2, 95),
		{Name: "chamber_c", Kind: tally.Number, Least: 35, Most: 120, Hint: "the mean temperature while the chamber is hot, in °C"},
		{Name: "fire_hours", Kind: tally.Hours, Least: 0.25, Most: 72, Hint: "from lighting until the fire is out"},
		kg("wood_kg", 0.5, 5000), percent("wood_moisture_percent", 5, 60),
		{Name: "outside_c", Kind: tally.Number, Least: -5, Most: 48, Optional: true, MayBeEmpty: true, Hint: "°C"},
		{Name: "outside_humidity_percent", Kind: tally.Number, Least: 5, Most: 100, Optional: true, MayBeEmpty: true},
		{Name: "stalks_read", Kind: tally.Whole, Least: 1, Most: 1000, Optional: true, MayBeEmpty: true, Hint: "how many stalks were read one by one at the end"},
		percent("wettest_out_percent", 2, 95),
	},
	Once: []string{"date", "load"},
}

// kg is a column of weights that may be missing.
func kg(name string, least, most float64) tally.Column {
	return tally.Column{Name: name, Kind: tally.Number, Least: least, Most: most, Optional: true, MayBeEmpty: true, Hint: "in kg"}
}

// percent is a column of moistures that may be missing.
func percent(name string, least, most float64) tally.Column {
	return tally.Column{Name: name, Kind: tally.Number, Least: least, Most: most, Optional: true, MayBeEmpty: true, Hint: "per cent wet basis, as 91, not 0.91"}
}

// Unsaid is what stands in for what a log of loads does not say.
type Unsaid struct {
	OutsideC   float64 // of the air around the dryer, °C
	Humidity   float64 // of that air, fraction
	WoodWet    float64 // moisture of the wood, wet basis
	StalkDryKg float64 // dry matter of a stalk
	HoldsDryKg float64 // dry matter that the dryer holds at most
}

// mostOver is how much more than it holds may have been in a dryer: its size in a scenario is rough.
const mostOver = 1.5

// ReadLoads reads a log of loads. What is wrong with it comes as [tally.Faults]; warnings are what is
// allowed and probably not meant.
func ReadLoads(file string, data []byte, exact measured.Exact, unsaid Unsaid) (loads []measured.Load, warnings []string, err error) {
	t, err := Loads.Read(file, data)
	if err != nil {
		return nil, nil, err
	}
	for _, r := range t.Rows {
		l := loadOf(r, unsaid)
		if found, allowed := l.Contrary(exact); found != "" {
			t.Refuse(r, "", found, allowed)
		}
		if s := l.DryKg(); s > mostOver*unsaid.HoldsDryKg {
			t.Refuse(r, "", tongue.Plainf("%.1f kg of dry matter", s), tongue.Plainf("up to %.1f kg, %g times what the dryer of the scenario holds: look whether a decimal mark is missing", mostOver*unsaid.HoldsDryKg, mostOver))
		}
		switch {
		case l.ChamberC < airC(r, unsaid)+5:
			t.Refuse(r, "chamber_c", fmt.Sprintf("%g", l.ChamberC), tongue.Plainf("at least 5 °C more than outside, %g", airC(r, unsaid)))
		case r.Has("wettest_out_percent") && !r.Has("stalks_read"):
			t.Refuse(r, "stalks_read", tongue.Say("nothing"), tongue.Say("how many stalks were read one by one, of which wettest_out_percent is the wettest"))
		case r.Has("stalks_read") && !r.Has("wettest_out_percent"):
			t.Refuse(r, "wettest_out_percent", tongue.Say("nothing"), tongue.Say("the moisture of the wettest of the stalks that were read one by one"))
		case r.Number("wettest_out_percent") < r.Number("moisture_out_percent")-1:
			t.Refuse(r, "wettest_out_percent", fmt.Sprintf("%g", r.Number("wettest_out_percent")), tongue.Say("no less than moisture_out_percent, the mean"))
		}
		loads = append(loads, l)
	}
	return loads, t.Warnings, t.Err()
}

// loadOf returns the load of a line.
func loadOf(r tally.Row, unsaid Unsaid) measured.Load {
	l := measured.Load{
		Line: r.Line, Name: r.Date("date").Format("2006-01-02"), Stalks: r.Number("stalks"), InKg: r.Number("weight_in_kg"), OutKg: r.Number("weight_out_kg"),
		In: r.Number("moisture_in_percent") / 100, Out: r.Number("moisture_out_percent") / 100, ChamberC: r.Number("chamber_c"), Hours: r.Number("fire_hours"),
		WoodKg: r.Number("wood_kg"), WoodWet: unsaid.WoodWet, Wettest: r.Number("wettest_out_percent") / 100, StalkDryKg: unsaid.StalkDryKg,
	}
	if r.Has("load") {
		l.Name += " " + r.Text("load")
	}
	if r.Has("wood_moisture_percent") {
		l.WoodWet = r.Number("wood_moisture_percent") / 100
	}
	if r.Has("stalks_read") {
		l.Sampled = int(r.Number("stalks_read"))
	}
	humidity := unsaid.Humidity
	if r.Has("outside_humidity_percent") {
		humidity = r.Number("outside_humidity_percent") / 100
	}
	l.Outside = measured.Outside(airC(r, unsaid), humidity)
	return l
}

// airC returns the temperature outside, °C.
func airC(r tally.Row, unsaid Unsaid) float64 {
	if r.Has("outside_c") {
		return r.Number("outside_c")
	}
	return unsaid.OutsideC
}
