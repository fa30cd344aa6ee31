package page

import (
	"drystalk/sim/weather"
	"drystalk/tongue"
)

// weatherText is what the page says of the weather to choose.
type weatherText struct {
	Label, Chosen, OfStation, OfRecord, Both, Own, Now, StatedIs, TakeStated, Another tongue.Text
	Station, TakeStation, Record, RecordWhy, Rest, RestStated, Read, Of, Is           tongue.Text
	TakeRecord, InUse, NotOffered, NotYet, NoRecord, NoFile, TooLarge, Years, Found   tongue.Text
}

// englishWeather is that in English.
var englishWeather = weatherText{
	Label: "Weather of today and the plan", Chosen: "another weather", OfStation: "monthly normals of %s", OfRecord: "uploaded record %s (%s)",
	Both: "Today and the plan live through the same weather.", Own: "Sites that state a weather of their own keep it.",
	Now: "Chosen here:", StatedIs: "The scenario states", TakeStated: "Back to what the scenario states", Another: "Take another weather",
	Station: "Monthly normals of the station", TakeStation: "Take this station",
	Record: "Or a daily record of your own station", RecordWhy: "a CSV file with the columns date and rain_mm, and tmax_c, tmin_c where there are any, or a GHCN-Daily file; at most 5 MB. It is judged before it is used.",
	Rest: "What a record of rain does not hold (warmth, sunshine, humidity) comes from", RestStated: "the weather that the scenario states", Read: "Read the record and judge it",
	Of: "The weather of", Is: "is", TakeRecord: "Use the weather of this record", InUse: "It is the weather of today and the plan now.",
	NotOffered: "It is not offered for use: what speaks against it stands above and in its report. Repair the record and read it again.",
	NotYet:     "Nothing has been changed yet.", NoRecord: "found no record that can be used, allowed: one that was read here and is not found useless",
	NoFile: "found no file, allowed: a daily record (CSV or GHCN-Daily)", TooLarge: "found a file of more than 5 MB, allowed: a daily record of at most 5 MB; leave out columns or early years",
	Years: "The record runs from %d to %d: %d years are used, of which %d are complete, and %d are not used.", Found: "What was found in the record",
}

// years says which years a record has.
func (t *weatherText) years(f *weather.FitReport) string {
	s := &f.Summary
	return tongue.Sayf(string(t.Years), s.FirstYear, s.LastYear, s.Used, s.Complete, len(s.Refused))
}

// besideText is what the page says of a second plan beside the plan.
type besideText struct {
	Aside, Label, SetAside, TakeAway, Kept, TakeKept, Why, Also, Report, JSON tongue.Text
}

// englishBeside is that in English.
var englishBeside = besideText{
	Aside: "the plan that was set aside", Label: "Compared as well", SetAside: "Set this plan aside, to compare another with it", TakeAway: "Leave it out",
	Kept: "Compare as well with a plan of the folder", TakeKept: "Set it beside",
	Why:  "Compare with today then sets today, the plan and the one set aside side by side. It stays until the program ends; keep it by name to find it again.",
	Also: "The plan set aside:", Report: "Report of the plan set aside", JSON: "All numbers of the plan set aside as JSON",
}
