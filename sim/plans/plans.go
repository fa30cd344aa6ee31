// Package plans holds what questions are asked of: a plan as a scenario states it, ready to live
// through seasons, and two plans that live through the same ones. Package scenarios makes them
// of files; a program of your own may make one of a region, parameters and a source of weather.
package plans

import (
	"drystalk/sim"
	"drystalk/sim/goal"
	"drystalk/sim/money"
	"drystalk/sim/trials"
	"drystalk/sim/weather"
)

// Case is a plan that questions are asked of: what a scenario says, ready to live through
// seasons.
type Case struct {
	Name     string   // of the scenario, for readers
	Invented bool     // a demo, or made from one: the place and its numbers are nobody's
	File     string   // its file or demo, as a command line names it
	Hash     string   // of what the scenario says, changes included
	Ways     string   // file of the ways of working that it was changed by first; "" for none
	WaysSaid []string // changes of that file, as --with says them
	Changes  []string // made since the file was read, as --with says them
	Files    []File   // that its numbers come from besides: a climate, a station record

	Setup           trials.Setup    // with the seed of all chance; workers come with the question
	Normals         weather.Normals // of the first site's weather
	Weathers        int             // that sites live in; 0 or 1: all have one climate
	HumidityGuessed []string        // stations of the weather whose humidity nobody recorded; none where no season is asked about
	MaxDryers       []int           // by site
	Coordinates     [][2]float64    // by site: latitude and longitude, degrees; nil where they are not given for all
	Target          float64         // odds wanted, fraction
	Goal            goal.Goal       // of what
	Currency        string
	Prices          *money.Prices // nil where none are stated: nothing is said of money

	DayOf       func(date string) (int, error)   // day of the season, from 0, of a date such as 1-aug
	Elsewhere   func(n int) ([]Elsewhere, error) // the region in the climates of so many stations of the same kind; nil where none are known
	Weather     string                           // how it is made, in a sentence
	Fits        []Fitted                         // climates fitted to records, of the weathers of sites
	Drawn       []weather.Normals                // normals that the other weathers are drawn from
	Changed     []string                         // keys by which the climate differs from that of records and normals
	Warnings    []string                         // about the scenario
	Assumptions []sim.Assumption                 // behind every answer
}

// Elsewhere is a region in the climate of another station.
type Elsewhere struct {
	Station     string
	OtherMonths int     // of the year that are wet in one of the two climates and not in the other
	RainMM      float64 // of a year
	Setup       trials.Setup
}

// Fitted is a climate that was fitted to a station's record, and how good the fit is.
type Fitted struct {
	Station string `json:"station"`
	weather.Judgement
}

// File is a file that the numbers of an answer come from.
type File struct {
	Name    string // as the command line or the scenario names it
	Content string // hash of its bytes, to tell whether another is the same; "" where not known
}

// Plan returns the dryers of each site as written.
func (c *Case) Plan() []int {
	plan := make([]int, len(c.Setup.Region.Sites))
	for i := range plan {
		plan[i] = c.Setup.Region.Sites[i].Dryers
	}
	return plan
}

// Sites returns the names of the sites.
func (c *Case) Sites() []string {
	names := make([]string, len(c.Setup.Region.Sites))
	for i := range names {
		names[i] = c.Setup.Region.Sites[i].Name
	}
	return names
}

// Pair is two plans that live through the same seasons.
type Pair struct {
	First, Second Case
	Differences   []Difference // of the second from the first, by key
}

// Difference is a key in which two scenarios differ.
type Difference struct {
	Key  string `json:"key"`
	A    string `json:"first"`  // "" where it is not stated
	B    string `json:"second"` // "" where it is not stated
	Plan bool   `json:"plan"`   // a lever of the plan; else it lies outside
}
