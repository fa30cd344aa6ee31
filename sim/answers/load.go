package answers

import (
	"math"
	"strconv"

	"drystalk/sim"
	"drystalk/sim/air"
	"drystalk/sim/charge"
	"drystalk/sim/knowledge"
	"drystalk/sim/stalk"
	"drystalk/tongue"
)

// LoadOptions are the options of [Load].
type LoadOptions struct {
	Moisture float64 `default:"0.91" least:"0.15" most:"0.97" help:"Moisture of the stalks when loaded, wet basis as a fraction (fresh 0.91, pre-dried about 0.41)."`
	Stalks   int     `default:"0" least:"0" most:"100000" help:"Stalks loaded; 0 for as many as the cabinet holds."`
	SetC     float64 `default:"0" least:"45" most:"95" unset:"0" help:"Temperature of the chamber, degrees C; 0 for the scenario's."`
	AmbientC float64 `default:"28" least:"0" most:"45" help:"Temperature outside, degrees C."`
	Humidity float64 `default:"0.80" least:"0.05" most:"1" help:"Relative humidity outside, fraction."`
	WoodWet  float64 `default:"0" least:"0.05" most:"0.6" unset:"0" help:"Moisture of the wood, wet basis as a fraction; 0 for the scenario's."`
	Trials   int     `default:"1000" least:"100" most:"100000" help:"Draws of what nobody has measured behind the spread of hours and wood."`
}

// DefaultLoad returns the options of [Load] as they are unless stated.
func DefaultLoad() LoadOptions { return defaults[LoadOptions]() }

// Validate tells what is wrong with the options, as a [Fault].
func (q LoadOptions) Validate() error { return validate(&q) }

// Command returns the command line that gives the same numbers.
func (q LoadOptions) Command(c Case) string { return commandOf("charge", &c, &q) }

// LoadAnswer is one load of a dryer, worked out: hours, kg, fractions, °C.
type LoadAnswer struct {
	Asked           Asked          `json:"-"`
	Stalks          int            `json:"stalks"`
	MoistureWet     float64        `json:"moisture_wet_basis"`
	SetC            float64        `json:"set_c"`
	DryingH         float64        `json:"drying_h"`
	CoolingH        float64        `json:"cooling_h"`
	WaterKg         float64        `json:"water_kg"`
	WoodKg          float64        `json:"wood_kg"`
	EndMoistureWet  float64        `json:"mean_end_moisture_wet_basis"`
	OverdriedShare  float64        `json:"overdried_share"`
	LowRateDryingH  float64        `json:"drying_h_low_rate"`  // at the low end of the documented drying rate
	HighRateDryingH float64        `json:"drying_h_high_rate"` // at its high end
	WoodWet         float64        `json:"wood_moisture_wet_basis"`
	AmbientC        float64        `json:"ambient_c"`
	Humidity        float64        `json:"ambient_humidity"`
	Hours           Spread         `json:"drying_h_spread"` // over what nobody has measured
	Wood            Spread         `json:"wood_kg_spread"`
	Full            []FullLoad     `json:"full_loads"` // by moisture, from the wettest: the lines of the card for the dryer's door
	Costs           []LoadCosts    `json:"costs"`      // of this load, and of full loads of fresh and of pre-dried stalks
	Curve           []charge.Point `json:"curve"`
	Loaded          bool           `json:"-"` // as many stalks as the cabinet holds of their moisture
}

// Load works out one load of a dryer of the scenario. A chamber whose air never dries stalks to
// the target is a [Fault].
func Load(c Case, q LoadOptions) (LoadAnswer, error) {
	a := LoadAnswer{Asked: Asked{c, q.Command(c)}}
	if err := q.Validate(); err != nil {
		return a, err
	}
	base, d := &c.Setup.Base, &c.Setup.Region.Dryer
	cabinet := q.cabinet(&c, base)
	if q.AmbientC >= cabinet.SetC {
		return a, Fault{"ambient-c", tongue.Plainf("found %s, allowed: less than the chamber's %s °C", plain(q.AmbientC), plain(cabinet.SetC))}
	}
	wet := stalk.WetBasis(q.Moisture).DryBasis()
	holds := charge.Capacity(d.HoldsFresh, d.HoldsPredried, wet, base.Stalk.FreshMoisture.DryBasis())
	if q.Stalks > holds {
		return a, Fault{"stalks", tongue.Plainf("found %s, allowed: 1 to %s, what the cabinet holds of such stalks; 0 for as many", strconv.Itoa(q.Stalks), strconv.Itoa(holds))}
	}
	if q.Stalks == 0 {
		q.Stalks = holds
	}
	a.Loaded = q.Stalks == holds
	load := charge.Load{Lots: []charge.Lot{{DryKg: float64(q.Stalks) * base.Stalk.DryG() / 1000, Moisture: wet}}}
	ambient := q.ambient()
	a.work(cabinet, ambient, q.Stalks, load)
	rate, ok := c.Setup.Knowledge.Of(knowledge.RateAt80CPerH)
	if !ok {
		return a, Fault{What: tongue.Plainf("%s: found no range of %s, allowed: low, mode and high of it", c.Name, string(knowledge.RateAt80CPerH))}
	}
	at := func(ratePerH float64) float64 {
		cabinet.RateAt80CPerH = ratePerH
		f := cabinet.Light(ambient)
		var course charge.Course
		course.Begin(&f, load)
		return course.DryingH
	}
	if math.IsInf(a.DryingH, 1) {
		return a, Fault{What: tongue.Plainf("the chamber at %s °C never dries stalks to %s %% in air of %s °C and %s %%", plain(cabinet.SetC), strconv.Itoa(int(math.Round(100*float64(cabinet.Target)))), plain(q.AmbientC), strconv.Itoa(int(math.Round(100*q.Humidity))))}
	}
	fire := cabinet.Light(ambient)
	a.Costs = compared(&c, &fire, q.Stalks, wet)
	a.LowRateDryingH, a.HighRateDryingH = at(rate.Low), at(rate.High)
	a.spread(&c, q, wet)
	return a, nil
}

// cabinet returns the dryer of a plan as the question sets it.
func (q *LoadOptions) cabinet(c *Case, p *sim.Parameters) charge.Cabinet {
	cabinet := c.Setup.Region.Dryer.Cabinet(p.Cabinet)
	if q.SetC != 0 {
		cabinet.SetC = q.SetC
	}
	if q.WoodWet != 0 {
		cabinet.WoodMoisture = stalk.WetBasis(q.WoodWet)
	}
	return cabinet
}

// ambient returns the air outside.
func (q *LoadOptions) ambient() charge.Ambient {
	return charge.Ambient{TempC: q.AmbientC, VapourKPa: q.Humidity * air.SaturationKPa(q.AmbientC)}
}

// plain writes a number without needless digits.
func plain(x float64) string { return strconv.FormatFloat(x, 'g', -1, 64) }

// work works out a load of one moisture.
func (a *LoadAnswer) work(cabinet charge.Cabinet, ambient charge.Ambient, stalks int, load charge.Load) {
	f, lot := cabinet.Light(ambient), load.Lots[0]
	var course charge.Course
	course.Begin(&f, load)
	after := course.After(lot.Moisture)
	a.Stalks, a.MoistureWet, a.SetC, a.DryingH = stalks, float64(lot.Moisture.WetBasis()), cabinet.SetC, course.DryingH
	a.CoolingH = f.CoolingH()
	a.WaterKg = lot.DryKg * float64(lot.Moisture-after)
	a.WoodKg = f.WoodKg(charge.WoodBill{WaterKg: a.WaterKg, LoadedWaterKg: lot.DryKg * float64(lot.Moisture), DryKg: lot.DryKg, DryingH: course.DryingH})
	a.EndMoistureWet, a.OverdriedShare = float64(after.WetBasis()), course.OverdriedShare(lot.Moisture, after)
	a.Curve = cabinet.Curve(ambient, load, 1.0/60)
}
