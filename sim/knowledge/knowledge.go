// Package knowledge is the one table of what nobody has measured here: each parameter with its
// documented low, mode and high, where they come from and how a group measures it. The defaults
// of the model are the modes of this table.
package knowledge

import (
	"cmp"
	"math"
	"strings"

	"gonum.org/v1/gonum/stat/distuv"

	"drystalk/tongue"
)

// Key names a parameter as a scenario file does.
type Key string

// The keys of the parameters.
const (
	OutputFactor      Key = "output_factor"
	MouldFactor       Key = "mould_factor"
	SkinFactor        Key = "skin_factor"
	RateAt80CPerH     Key = "drying_rate_80c_per_h"
	EvaporatesKgPerH  Key = "evaporates_kg_per_h"
	LivingH           Key = "living_h"
	MouldSpread       Key = "mould_spread"
	RateSpread        Key = "rate_spread"
	AcceptedShare     Key = "accepted_share"
	EMCFactor         Key = "emc_factor"
	FreshMoisture     Key = "fresh_moisture_wet_basis"
	StoreRank         Key = "store_exchange_rank"
	FurnaceEfficiency Key = "furnace_efficiency"
	ExhaustFactor     Key = "exhaust_factor"
	CabinetKg         Key = "cabinet_mass_kg"
	ClearRoofSun      Key = "clear_roof_sun_factor"
	SolidRoofRank     Key = "solid_roof_rank"
	FreshStalkG       Key = "fresh_stalk_g"
	RainsHumidity     Key = "rains_humidity_points"
)

// The keys of what a rank stands for. A scenario file does not state them: how leaky the
// stores are, open and sealed, goes together, and so do sun and air under a solid roof.
const (
	StoreOpenPerH   Key = "store_exchange_open_per_h"
	StoreSealedPerH Key = "store_exchange_sealed_per_h"
	SolidRoofSun    Key = "solid_roof_sun_factor"
	SolidRoofAir    Key = "solid_roof_air_factor"
)

// Range is a parameter with its documented low, mode and high.
type Range struct {
	Key             Key
	Name            tongue.Text // in words
	Unit            tongue.Text // "" for a bare number
	Low, Mode, High float64
	Source          tongue.Text
	Measure         tongue.Text // how a group measures it
	Shape           Shape       // of its distribution
}

// Shape is how a parameter is distributed between low and high.
type Shape string

// The shapes. Ranks are even whatever their shape.
const (
	Triangle Shape = ""     // most likely at its mode, less and less towards low and high
	Even     Shape = "even" // as likely anywhere between low and high; the mode is what fixed knowledge takes
)

const assumption = "assumption"

// What is documented for a dryer of 1,000 fresh stalks and grows with its size is called so, unless a
// scenario states it for its own.
const (
	evaporation     tongue.Text = "evaporation of a dryer"
	evaporation1000 tongue.Text = "evaporation of a dryer for a thousand fresh stalks"
	heated          tongue.Text = "heated mass of a cabinet"
	heated1000      tongue.Text = "heated mass of a cabinet for a thousand fresh stalks"
)

// ofItsOwn are the names of what grows with the dryer, where a scenario states it for its own.
var ofItsOwn = map[tongue.Text]tongue.Text{evaporation1000: evaporation, heated1000: heated}

// table lists the parameters in the order in which they are drawn. Output is counted in usable
// stalks, so the usable share of what is cut has no range of its own.
var table = []Range{
	{OutputFactor, "output of a cutter", "times the stated", 0.6, 1, 1.5, "assumption; good days reported, no statistics", "count stalks and hours of every cutter for one week", Triangle},
	{MouldFactor, "mould growth", "times pine", 1, 1.5, 2.5, "low: Hukka & Viitanen 1999 for pine; mode and high: assumption, set without stalk data", "lay out marked stalks in three wet weeks and count the spotted ones each day", Triangle},
	{SkinFactor, "evaporation of a rack", "of the reference", 0.4, 0.6, 0.9, assumption, "weigh ten marked stalks on a rack morning and evening for a week", Triangle},
	{RateAt80CPerH, "drying rate of a stalk at 80 °C", "1/h", 0.65, 1.0, 1.45, "bracketed by one cabinet run whose temperature is not given (Purbono, Ainuri & Suryandono, Agritech 30(2), 2010); within that, assumption", "time three loads of a dryer and weigh ten stalks before and after each", Triangle},
	{EvaporatesKgPerH, evaporation1000, "kg/h", 8, 13, 20, "bracketed together with the drying rate by one cabinet run (Purbono, Ainuri & Suryandono, Agritech 30(2), 2010); within that, assumption", "weigh a full fresh load before and after its first three hours", Triangle},
	{LivingH, "time after cutting without mould", "h", 0, 24, 48, "common practice, no source", "keep fresh stalks damp and note when the first spots show", Triangle},
	{MouldSpread, "spread of mould between stalks", "sd of ln index", 0.2, 0.4, 0.6, assumption, "count the spotted stalks of one batch every day", Triangle},
	{RateSpread, "spread of drying between stalks", "sd of ln rate", 0.05, 0.15, 0.30, assumption, "weigh thirty stalks of one load one by one at its end", Triangle},
	{AcceptedShare, "share accepted at the gate", "", 0.80, 0.92, 0.98, assumption, "count what the buyer refuses of three deliveries", Triangle},
	{EMCFactor, "moisture taken up from the air", "times wood", 0.95, 1.10, 1.40, "assumption; wood: Wood Handbook", "weigh dry stalks after a week in the store, with its humidity", Triangle},
	{FreshMoisture, "moisture of fresh stalks", "wet basis", 0.89, 0.91, 0.94, "mode: Akendo, Gumbe & Gitau, CIGR Ejournal; range from memory", "weigh thirty fresh stalks, dry them in an oven, weigh them again", Triangle},
	{StoreRank, "leakiness of stores", "(rank 0 to 1)", 0, 0.5, 1, "assumption; open 0.02 to 0.10, sealed 0.001 to 0.02 per h", "hang a hygrometer in the store for a month and weigh a bag every week", Triangle},
	{FurnaceEfficiency, "furnace efficiency", "", 0.20, 0.40, 0.60, assumption, "weigh the wood of three loads", Triangle},
	{ExhaustFactor, "exhaust heat over latent heat", "", 1.35, 1.7, 2.5, assumption, "measure the temperature of the air that leaves the dryer in three loads", Triangle},
	{CabinetKg, heated1000, "kg", 150, 250, 400, assumption, "weigh the wood of a cold start and of a load right after it", Triangle},
	{ClearRoofSun, "sun under a clear roof", "of open", 0.9, 1.1, 1.3, assumption, "dry the same stalks under the clear roof and beside it", Triangle},
	{SolidRoofRank, "sun and air under a solid roof", "(rank 0 to 1)", 0, 0.5, 1, "assumption; sun 0.1 to 0.3, air 0.8 to 1.0", "dry the same stalks under the solid roof and beside it", Triangle},
	{FreshStalkG, "fresh mass of a stalk", "g", 50, 65, 85, "assumption: 60 cm by 15 mm at 0.61 g/cm3", "weigh a hundred fresh stalks together", Triangle},
	{RainsHumidity, "humidity of the rains", "points from the stated", -4, 0, 4, "assumption: a station is not the yard, and its readings not those of day and night", "hang a hygrometer that keeps its readings, or whirl one, in the shade at the yard through the rains", Triangle},
}

// behind lists what the ranks stand for; source and measurement are those of the rank.
var behind = []Range{
	{Key: StoreOpenPerH, Name: "air exchange of an open store", Unit: "1/h", Low: 0.02, Mode: 0.05, High: 0.10},
	{Key: StoreSealedPerH, Name: "air exchange of sealed bags", Unit: "1/h", Low: 0.001, Mode: 0.005, High: 0.02},
	{Key: SolidRoofSun, Name: "sun under a solid roof", Unit: "of open", Low: 0.1, Mode: 0.2, High: 0.3},
	{Key: SolidRoofAir, Name: "wind and dry air under a solid roof", Unit: "of open", Low: 0.8, Mode: 0.9, High: 1.0},
}

// Table returns the documented ranges in the order in which they are drawn.
func Table() []Range { return append([]Range(nil), table...) }

// Of returns the documented range of a key, what ranks stand for included. A key that is in
// neither table is a bug of the program.
func Of(key Key) Range {
	for _, list := range [][]Range{table, behind} {
		for _, r := range list {
			if r.Key == key {
				return r
			}
		}
	}
	panic("knowledge: no parameter " + string(key))
}

// Mode returns the documented mode of a key.
func Mode(key Key) float64 { return Of(key).Mode }

// GrowsWithDryer tells whether the documented numbers are those of a dryer for 1,000 fresh stalks.
func (r Range) GrowsWithDryer() bool { return ofItsOwn[r.Name] != "" }

// Stated returns the range with what a scenario says of its own dryers and stalks. Who writes the
// documented numbers down has not measured a dryer: they still grow with it.
func (r Range) Stated(low, mode, high float64) Range {
	if (Range{Low: low, Mode: mode, High: high}) != (Range{Low: r.Low, Mode: r.Mode, High: r.High}) {
		r.Name = cmp.Or(ofItsOwn[r.Name], r.Name)
	}
	r.Low, r.Mode, r.High, r.Source = low, mode, high, "stated in the scenario"
	return r
}

// measuredIn begins the source of what a group measured.
const measuredIn = "measured by the group ("

// MeasuredIn returns the range with the file of a group's own measurements as its source.
func (r Range) MeasuredIn(file string) Range {
	r.Source = tongue.Text(measuredIn + file + ")")
	return r
}

// Measured tells whether a log of the group stands behind the range.
func (r Range) Measured() bool { return strings.HasPrefix(string(r.Source), measuredIn) }

// Origin says where the range comes from.
func (r Range) Origin() string {
	if file, ok := strings.CutPrefix(string(r.Source), measuredIn); ok {
		return tongue.Plainf("measured by the group (%s)", strings.TrimSuffix(file, ")"))
	}
	return r.Source.String()
}

// IsRank tells whether the parameter is a rank from 0 to 1, drawn evenly, that stands for
// others.
func (r Range) IsRank() bool { return r.Key == StoreRank || r.Key == SolidRoofRank }

// Quantile returns the value that the parameter does not pass with probability u: triangular
// between low, mode and high, even for a rank or where its shape says so. A range without width gives its value.
func (r Range) Quantile(u float64) float64 {
	switch {
	case !(r.High > r.Low):
		return r.Low
	case r.IsRank() || r.Shape == Even:
		return r.Low + u*(r.High-r.Low)
	}
	return distuv.NewTriangle(r.Low, r.High, r.Mode, nil).Quantile(u)
}

// Check tells what is wrong with the numbers of a range.
func (r Range) Check() error {
	if r.Shape != Triangle && r.Shape != Even {
		return tongue.Errorf("%s: found the shape %q, allowed: none or even", r.Key, r.Shape)
	}
	if !(r.Low <= r.Mode && r.Mode <= r.High) || math.IsInf(r.Low, 0) || math.IsInf(r.High, 0) {
		return tongue.Errorf("%s: low %g, mode %g, high %g, allowed: finite, low at most mode, mode at most high", r.Key, r.Low, r.Mode, r.High)
	}
	return nil
}
