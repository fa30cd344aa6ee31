package answers

import (
	"errors"
	"slices"
	"strconv"
	"strings"

	"drystalk/sim/knowledge"
	"drystalk/sim/measured"
	"drystalk/sim/plans"
	"drystalk/sim/weather"
	"drystalk/tongue"
)

// FitRacksOptions are the options of [FitRacks].
type FitRacksOptions struct {
	ScaleG         float64 `default:"1" least:"0.01" most:"100" help:"What the scale is read to, g."`
	ClockH         float64 `default:"0.25" least:"0.01" most:"2" help:"What the clock is read to, h."`
	MoisturePoints float64 `default:"1" least:"0.1" most:"5" help:"What moisture is read to, points of per cent wet basis."`
	LoadKgPerM2    float64 `default:"0" least:"1" most:"60" unset:"0" help:"Fresh stalks on a square metre of the rack, kg; 0 for the loading of the site."`
	Site           string  `help:"Site where the rack stands, for its loading and its normals; may be left out where all sites load alike."`
}

// DefaultFitRacks returns the options as they are unless stated.
func DefaultFitRacks() FitRacksOptions { return defaults[FitRacksOptions]() }

// Validate tells what is wrong with the options, as a [Fault].
func (q FitRacksOptions) Validate() error { return validate(&q) }

// RackLog is a log of weighings with the weather of its days.
type RackLog struct {
	Weighings []measured.Weighing
	Record    *weather.Record
	File      plans.File // of the record
}

// RacksAnswer is what a log of weighings tells.
type RacksAnswer struct {
	Measured
	Fit measured.RackFit
}

// loading returns the fresh stalks on a square metre of rack, kg. An unknown site, or none where sites
// differ and no loading is stated, is a [Fault].
func (q FitRacksOptions) loading(c *Case) (float64, error) {
	load, names := 0.0, c.Sites()
	known := q.Site == "" || slices.Contains(names, q.Site)
	if known && q.LoadKgPerM2 > 0 {
		return q.LoadKgPerM2, nil
	}
	for _, s := range c.Setup.Region.Sites {
		switch {
		case q.Site == s.Name:
			return s.LoadingKgPerM2, nil
		case q.Site == "" && load != 0 && load != s.LoadingKgPerM2:
			return 0, Fault{"site", tongue.Plainf("found none, and sites that load their racks differently, allowed: one of %s; or --load-kg-per-m2", strings.Join(names, ", "))}
		}
		load = s.LoadingKgPerM2
	}
	if !known {
		return 0, Fault{"site", tongue.Plainf("found %s, allowed: one of %s", strconv.Quote(q.Site), strings.Join(names, ", "))}
	}
	return load, nil
}

// FitRacks says what weighings of marked stalks on a rack tell of how much of the reference a rack
// evaporates. A log that does not carry it is a [Fault].
func FitRacks(c Case, log Log, racks RackLog, q FitRacksOptions) (RacksAnswer, error) {
	a := RacksAnswer{Measured: measuredOf(&c, "racks", log, &q)}
	a.Command += " " + line(flag("record", racks.File.Name))
	a.Files = append(a.Files, racks.File)
	if err := q.Validate(); err != nil {
		return a, err
	}
	load, err := q.loading(&c)
	if err != nil {
		return a, err
	}
	a.Fit, err = measured.FitRacks(measured.RackLog{
		Weighings: racks.Weighings, ScaleG: q.ScaleG, ClockH: q.ClockH, MoisturePoints: q.MoisturePoints, LoadKgPerM2: load,
		Record: racks.Record, Rest: c.Normals, Stalk: c.Setup.Base.Stalk,
		Ranges: func(key knowledge.Key) knowledge.Range { return believed(&c, key) },
	})
	var lacks measured.RecordError
	switch {
	case errors.As(err, &lacks):
		return a, Fault{"record", lacks.Says}
	case err != nil:
		return a, Fault{What: err.Error()}
	}
	a.Tells = a.Fit.Estimates
	return a, nil
}
