package answers

import (
	"drystalk/sim/charge"
	"drystalk/sim/knowledge"
	"drystalk/sim/measured"
	"drystalk/sim/plans"
	"drystalk/tongue"
)

// FitChargesOptions are the options of [FitCharges].
type FitChargesOptions struct {
	ScaleKg        float64 `default:"0.1" least:"0.001" most:"5" help:"What the scale for loads is read to, kg."`
	ClockH         float64 `default:"0.25" least:"0.01" most:"2" help:"What hours of fire are written to, h."`
	MoisturePoints float64 `default:"1" least:"0.1" most:"5" help:"What moisture is read to, points of per cent wet basis."`
	ThermometerC   float64 `default:"2" least:"0.1" most:"10" help:"What the temperature of the chamber is known to, degrees C."`
	OutsideC       float64 `default:"28" least:"0" most:"45" help:"Air outside where the log does not say, degrees C."`
	Humidity       float64 `default:"0.80" least:"0.05" most:"1" help:"Relative humidity outside where the log does not say, fraction."`
}

// DefaultFitCharges returns the options as they are unless stated.
func DefaultFitCharges() FitChargesOptions { return defaults[FitChargesOptions]() }

// Validate tells what is wrong with the options, as a [Fault].
func (q FitChargesOptions) Validate() error { return validate(&q) }

// Exact returns how exactly the log is read.
func (q FitChargesOptions) Exact() measured.Exact {
	return measured.Exact{ScaleKg: q.ScaleKg, ClockH: q.ClockH, MoisturePoints: q.MoisturePoints, ThermometerC: q.ThermometerC}
}

// Log is a log of the group's own, as a command line names it.
type Log struct {
	Name    string // of its file
	Content string // hash of its bytes
}

// Measured is what stands behind the answer to a log.
type Measured struct {
	Command  string              // that gives the same numbers
	Files    []plans.File        // that they come from: the log, the scenario and what it names
	Seed     uint64              // of all chance; 0 where there is none
	Tells    []measured.Estimate // of the log
	Warnings []string            // about the log
	Invented bool                // the scenario is a demo's
}

// ChargesAnswer is what a log of loads tells.
type ChargesAnswer struct {
	Measured
	Fit   measured.ChargeFit
	Means []Meant // hours of full loads as the scenario stands, and with what the log tells
}

// Meant is a full load as a scenario stands and with what a log tells.
type Meant struct {
	Load        string  `json:"load"`
	MoistureWet float64 `json:"moisture_wet_basis"`
	AsIsH       float64 `json:"drying_h_as_is"`
	MeasuredH   float64 `json:"drying_h_measured"`
}

// measuredOf returns what stands behind an answer to a log.
func measuredOf(c *Case, what string, log Log, options any) Measured {
	words := append([]string{"drystalk", "fit", what, fileWord(log.Name)}, flag("scenario", c.File)...)
	return Measured{
		Command: line(append(words, flags(options)...)), Invented: c.Invented,
		Files: append([]plans.File{{Name: log.Name, Content: log.Content}, {Name: c.Name, Content: c.Hash}}, c.Files...),
	}
}

// Carried returns the ranges that the log carries, for a scenario.
func (m *Measured) Carried() []knowledge.Range {
	var out []knowledge.Range
	for _, e := range m.Tells {
		if e.Carried {
			r := knowledge.Of(e.Key)
			r.Low, r.Mode, r.High = e.Range.Low, e.Range.Mode, e.Range.High
			out = append(out, r)
		}
	}
	return out
}

// believed returns what is held of a parameter before a log is read: what the scenario states, of its
// own dryer, but not what was measured before, which may be the same log.
func believed(c *Case, key knowledge.Key) knowledge.Range {
	r, ok := c.Setup.Knowledge.Of(key)
	if !ok || r.Measured() {
		r = knowledge.Of(key)
	}
	if size := c.Setup.Region.Dryer.HoldsFresh; key == knowledge.EvaporatesKgPerH && r.GrowsWithDryer() {
		times := float64(size) / 1000
		r.Name = tongue.Text(tongue.Plainf("evaporation of a dryer for %d fresh stalks", size))
		r.Low, r.Mode, r.High = times*r.Low, times*r.Mode, times*r.High
	}
	return r
}

// FitCharges says what a log of loads of the dryer of a scenario tells of the drying rate, of what the
// dryer evaporates, of the spread between stalks and of the furnace. A log that carries neither of
// the first two is a [Fault].
func FitCharges(c Case, log Log, loads []measured.Load, q FitChargesOptions) (ChargesAnswer, error) {
	a := ChargesAnswer{Measured: measuredOf(&c, "charges", log, &q)}
	if err := q.Validate(); err != nil {
		return a, err
	}
	fit, err := measured.FitCharges(measured.ChargeLog{
		Loads: loads, Exact: q.Exact(), Cabinet: c.Setup.Region.Dryer.Cabinet(c.Setup.Base.Cabinet),
		Ranges: func(key knowledge.Key) knowledge.Range { return believed(&c, key) },
	})
	if err != nil {
		return a, Fault{What: err.Error()}
	}
	a.Fit, a.Tells = fit, fit.Estimates
	a.means(&c, q)
	return a, nil
}

// means works out what the log means for full loads.
func (a *ChargesAnswer) means(c *Case, q FitChargesOptions) {
	base, d := c.Setup.Base, &c.Setup.Region.Dryer
	as := d.Cabinet(base.Cabinet)
	with := as
	for _, e := range a.Tells {
		if !e.Carried {
			continue
		}
		switch e.Key {
		case knowledge.RateAt80CPerH:
			with.RateAt80CPerH = e.Value
		case knowledge.EvaporatesKgPerH:
			with.EvaporatesKgPerH = e.Value
		case knowledge.RateSpread:
			with.RateSpread = e.Value
		}
	}
	fresh := base.Stalk.FreshMoisture.DryBasis()
	for _, full := range []Meant{{Load: FullFresh, MoistureWet: float64(base.Stalk.FreshMoisture)}, {Load: FullPredried, MoistureWet: float64(base.Stalk.PredriedMoisture.WetBasis())}} {
		wet := base.Stalk.PredriedMoisture
		if full.Load == FullFresh {
			wet = fresh
		}
		dryKg := float64(charge.Capacity(d.HoldsFresh, d.HoldsPredried, wet, fresh)) * base.Stalk.DryG() / 1000
		air := measured.Outside(q.OutsideC, q.Humidity)
		full.AsIsH, _ = takes(&as, air, dryKg, wet)
		full.MeasuredH, _ = takes(&with, air, dryKg, wet)
		a.Means = append(a.Means, full)
	}
}
