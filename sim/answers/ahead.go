package answers

import (
	"context"
	"errors"
	"runtime"
	"slices"

	"drystalk/sim"
	"drystalk/sim/ahead"
	"drystalk/sim/plans"
	"drystalk/sim/trials"
	"drystalk/tongue"
)

// AheadOptions are the options of [Ahead].
type AheadOptions struct {
	Stock      string  `help:"What lies where today: a file as stock.yaml or stock.csv of the README."`
	Cut        string  `help:"Tally of what was cut this season (CSV: date, site, stalks, person_hours)."`
	Rain       string  `help:"Rain of the season so far (CSV: date, rain_mm)."`
	Seasons    int     `default:"200" least:"30" most:"1000000" help:"Seasons lived through from today on."`
	Workers    int     `default:"0" least:"0" most:"256" silent:"" help:"Seasons run side by side; 0 for one on each processor. The numbers do not depend on it."`
	NightWork  bool    `help:"Those who tend the fire have agreed to work between 22 and 6 h: try such shifts too."`
	RentReady  int     `default:"3" least:"0" most:"365" help:"Days until a rented dryer works."`
	Truckload  int     `default:"0" least:"0" most:"100000000" help:"Dry good stalks that could be bought once, delivered to the hub; 0 for none."`
	TruckPrice float64 `default:"0" least:"0" most:"1000000" with:"truckload" help:"Price of a stalk of the truckload, in the currency of the scenario."`
	TruckOn    string  `with:"truckload" help:"Day on which the truckload would come, such as 20-jul; by default today."`

	Lies  Lies   `kong:"-"` // what the files hold; read by whoever asks
	Files []File `kong:"-"` // of the options, with hashes, for the answer to name
}

// Lies is what lies where on a day of the season, and what the season has shown so far.
type Lies struct {
	Start    sim.Start
	Known    trials.Known
	Warnings []string
}

// DefaultAhead returns the options of [Ahead] as they are unless stated.
func DefaultAhead() AheadOptions { return defaults[AheadOptions]() }

// Validate tells what is wrong with the options, as a [Fault].
func (q AheadOptions) Validate() error { return validate(&q) }

// Command returns the command line that gives the same numbers.
func (q AheadOptions) Command(c Case) string { return commandOf("ahead", &c, &q) }

// AheadAnswer is what lies ahead from today's stock.
type AheadAnswer struct {
	Asked Asked        `json:"-"`
	Ahead ahead.Answer `json:"ahead"`
}

// Ahead says from what lies where today with what odds the months ahead are met, in each way of working,
// and what to have in store by when.
func Ahead(ctx context.Context, c Case, q AheadOptions, tell Progress) (AheadAnswer, error) {
	c.Files = append(slices.Clone(c.Files), q.Files...)
	c.Warnings = append(slices.Clone(c.Warnings), q.Lies.Warnings...)
	a := AheadAnswer{Asked: Asked{c, q.Command(c)}}
	if err := q.Validate(); err != nil {
		return a, err
	}
	if !q.Lies.Start.Stated() {
		return a, Fault{"stock", tongue.Say("found nothing, allowed: a file that says what lies where today")}
	}
	set := c.Setup
	set.Workers = q.Workers
	if set.Workers == 0 {
		set.Workers = runtime.GOMAXPROCS(0)
	}
	known := q.Lies.Known
	set.Region, set.Known = c.Setup.Region.Clone(), &known
	set.Region.Start = q.Lies.Start
	if err := oneWeather(&c, &known, q.Rain); err != nil {
		return a, err
	}
	truck, err := q.truck(&c)
	if err != nil {
		return a, err
	}
	a.Ahead, err = ahead.Ask(ctx, ahead.Question{
		Setup: set, Prices: c.Prices, Target: c.Target, Seasons: q.Seasons, Night: q.NightWork, RentReadyDays: q.RentReady, Truck: truck,
		Progress: tell.seasons(q.Seasons),
	})
	if errors.Is(err, ahead.ErrNothingAhead) {
		return a, Fault{"stock", tongue.Plainf("found a day after which %s, allowed: a day on which stalks are still asked for", err.Error())}
	}
	return a, err
}

// oneWeather refuses the rain of one place where sites have several weathers.
func oneWeather(c *Case, known *trials.Known, rain string) error {
	switch {
	case c.Weathers <= 1 && c.Setup.Field == nil:
		return nil
	case known.RainMM != nil:
		return Fault{"rain", tongue.Plainf("found %s, the rain of one place for sites with weathers of their own, allowed: none, or a scenario with one weather", rain)}
	case known.OutlookMM != nil:
		return Fault{"stock", tongue.Say("found outlook_rain_mm, the rain of one place for sites with weathers of their own, allowed: none, or a scenario with one weather")}
	}
	return nil
}

// truck returns the truckload that is asked about; nil for none.
func (q *AheadOptions) truck(c *Case) (*ahead.Truckload, error) {
	if q.Truckload == 0 {
		return nil, nil
	}
	t := &ahead.Truckload{Stalks: q.Truckload, Day: q.Lies.Start.Day, Price: q.TruckPrice}
	if q.TruckPrice == 0 {
		return nil, Fault{"truck-price", tongue.Say("found nothing, allowed: the price of a stalk of the truckload")}
	}
	if q.TruckOn == "" {
		return t, nil
	}
	day, err := c.DayOf(q.TruckOn)
	if err != nil {
		return nil, Fault{"truck-on", err.Error()}
	}
	if t.Day = day; day < q.Lies.Start.Day {
		return nil, Fault{"truck-on", tongue.Plainf("found %s, allowed: a day from today on", q.TruckOn)}
	}
	return t, nil
}

// FileOf names a file of an option with its hash.
func FileOf(name, content string) File { return plans.File{Name: name, Content: content} }
