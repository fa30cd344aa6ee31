package trials

import (
	"fmt"
	"math"
	"math/rand/v2"

	"drystalk/sim"
	"drystalk/sim/stalk"
)

// Range is a parameter that nobody has measured here, with its documented low,
// mode and high.
type Range struct {
	Key             string // in a scenario file
	Name            string // in words
	Unit            string // "" for a bare number
	Low, Mode, High float64
	Source          string
	Measure         string // how a group measures it
}

// Knowledge is what is known of the parameters.
type Knowledge struct {
	Ranges []Range
	Fixed  bool // take every parameter as written
}

// The keys of the ranges.
const (
	KeyOutput      = "output_factor"
	KeyMould       = "mould_factor"
	KeySkin        = "skin_factor"
	KeyRate        = "drying_rate_80c_per_h"
	KeyEvaporates  = "evaporates_kg_per_h"
	KeyLiving      = "living_h"
	KeyMouldSpread = "mould_spread"
	KeyRateSpread  = "rate_spread"
	KeyAccepted    = "accepted_share"
	KeyEMC         = "emc_factor"
	KeyFresh       = "fresh_moisture_wet_basis"
	KeyStore       = "store_exchange_rank"
	KeyFurnace     = "furnace_efficiency"
	KeyExhaust     = "exhaust_factor"
	KeyCabinet     = "cabinet_mass_kg"
	KeyClearRoof   = "clear_roof_sun_factor"
	KeySolidRoof   = "solid_roof_rank"
)

// DefaultKnowledge returns the ranges of the trade. Output is counted in usable
// stalks, so the usable share of what is cut has no range of its own.
func DefaultKnowledge() Knowledge {
	const assumption = "assumption"
	return Knowledge{Ranges: []Range{
		{KeyOutput, "output of a cutter", "times the stated", 0.6, 1, 1.5, "assumption; good days reported, no statistics", "count stalks and hours of every cutter for one week"},
		{KeyMould, "mould growth", "times pine", 1, 1.5, 2.5, "low: Hukka & Viitanen 1999 for pine; mode and high: assumption, set without stalk data", "lay out marked stalks in three wet weeks and count the spotted ones each day"},
		{KeySkin, "evaporation of a rack", "of the reference", 0.4, 0.6, 0.9, assumption, "weigh ten marked stalks on a rack morning and evening for a week"},
		{KeyRate, "drying rate of a stalk at 80 °C", "1/h", 0.60, 0.90, 1.30, "calibrated on one published cabinet run (Agritech 30(2), 2010)", "time three loads of a dryer and weigh ten stalks before and after each"},
		{KeyEvaporates, "evaporation of a dryer", "kg/h", 7, 12, 20, assumption, "weigh a full fresh load before and after its first three hours"},
		{KeyLiving, "time after cutting without mould", "h", 0, 24, 48, "common practice, no source", "keep fresh stalks damp and note when the first spots show"},
		{KeyMouldSpread, "spread of mould between stalks", "sd of ln index", 0.2, 0.4, 0.6, assumption, "count the spotted stalks of one batch every day"},
		{KeyRateSpread, "spread of drying between stalks", "sd of ln rate", 0.05, 0.15, 0.30, assumption, "weigh thirty stalks of one load one by one at its end"},
		{KeyAccepted, "share accepted at the gate", "", 0.80, 0.92, 0.98, assumption, "count what the buyer refuses of three deliveries"},
		{KeyEMC, "moisture taken up from the air", "times wood", 0.95, 1.10, 1.40, "assumption; wood: Wood Handbook", "weigh dry stalks after a week in the store, with its humidity"},
		{KeyFresh, "moisture of fresh stalks", "wet basis", 0.89, 0.91, 0.94, "mode: Akendo, Gumbe & Gitau, CIGR Ejournal; range from memory", "weigh thirty fresh stalks, dry them in an oven, weigh them again"},
		{KeyStore, "leakiness of stores", "(rank 0 to 1)", 0, 0.5, 1, "assumption; open 0.02 to 0.10, sealed 0.001 to 0.02 per h", "hang a hygrometer in the store for a month and weigh a bag every week"},
		{KeyFurnace, "furnace efficiency", "", 0.20, 0.40, 0.60, assumption, "weigh the wood of three loads"},
		{KeyExhaust, "exhaust heat over latent heat", "", 1.35, 1.7, 2.5, assumption, "measure the temperature of the air that leaves the dryer in three loads"},
		{KeyCabinet, "heated mass of a cabinet", "kg", 150, 250, 400, assumption, "weigh the wood of a cold start and of a load right after it"},
		{KeyClearRoof, "sun under a clear roof", "of open", 0.9, 1.1, 1.3, assumption, "dry the same stalks under the clear roof and beside it"},
		{KeySolidRoof, "sun and air under a solid roof", "(rank 0 to 1)", 0, 0.5, 1, "assumption; sun 0.1 to 0.3, air 0.8 to 1.0", "dry the same stalks under the solid roof and beside it"},
	}}
}

// TriangularQuantile returns the value that a triangular distribution does not pass
// with probability u. low = high gives that value.
func TriangularQuantile(low, mode, high, u float64) float64 {
	if !(high > low) {
		return low
	}
	c := (mode - low) / (high - low)
	if u < c {
		return low + math.Sqrt(u*(high-low)*(mode-low))
	}
	return high - math.Sqrt((1-u)*(high-low)*(high-mode))
}

// Draw returns base with every range drawn once, and the values drawn in the order
// of the ranges. Each range takes exactly one draw, whatever the others are. Fixed
// knowledge takes the modes. The ranks of store and solid roof are uniform and are
// mapped through the ranges of what they stand for.
func (k Knowledge) Draw(base sim.Parameters, rng *rand.Rand) (sim.Parameters, []float64) {
	values := make([]float64, len(k.Ranges))
	for i, r := range k.Ranges {
		u := rng.Float64()
		isRank := r.Key == KeyStore || r.Key == KeySolidRoof
		switch {
		case k.Fixed && isRank: // base holds the modes of what a rank stands for
			values[i] = r.Mode
			continue
		case k.Fixed:
			values[i] = r.Mode
		case isRank:
			values[i] = r.Low + u*(r.High-r.Low)
		default:
			values[i] = TriangularQuantile(r.Low, r.Mode, r.High, u)
		}
		set(&base, r.Key, values[i])
	}
	return base, values
}

// set writes one drawn value. An unknown key is a bug of the program.
func set(p *sim.Parameters, key string, v float64) {
	switch key {
	case KeyOutput:
		p.OutputFactor = v
	case KeyMould:
		p.Stalk.MouldFactor = v
	case KeySkin:
		p.Stalk.SkinFactor = v
	case KeyRate:
		p.Stalk.RateAt80CPerH, p.Cabinet.RateAt80CPerH = v, v
	case KeyEvaporates:
		p.Cabinet.EvaporatesKgPerH = v
	case KeyLiving:
		p.Stalk.LivingH = v
	case KeyMouldSpread:
		p.Stalk.MouldSpread = v
	case KeyRateSpread:
		p.Stalk.RateSpread, p.Cabinet.RateSpread = v, v
	case KeyAccepted:
		p.AcceptedShare = v
	case KeyEMC:
		p.Stalk.EMCFactor, p.Cabinet.EMCFactor = v, v
	case KeyFresh:
		p.Stalk.FreshMoisture = stalk.WetBasis(v)
	case KeyStore:
		p.StoreExchangeOpenPerH = TriangularQuantile(0.02, 0.05, 0.10, v)
		p.StoreExchangeSealedPerH = TriangularQuantile(0.001, 0.005, 0.02, v)
	case KeyFurnace:
		p.Cabinet.FurnaceEfficiency = v
	case KeyExhaust:
		p.Cabinet.ExhaustFactor = v
	case KeyCabinet:
		p.Cabinet.MassKg = v
	case KeyClearRoof:
		p.ClearRoofSunFactor = v
	case KeySolidRoof:
		p.SolidRoofSunFactor = TriangularQuantile(0.1, 0.2, 0.3, v)
		p.SolidRoofAirFactor = TriangularQuantile(0.8, 0.9, 1.0, v)
	default:
		panic("trials: no parameter " + key)
	}
}

// Assumptions lists the ranges for the reader of an answer.
func (k Knowledge) Assumptions() []sim.Assumption {
	var out []sim.Assumption
	for _, r := range k.Ranges {
		value := fmt.Sprintf("%g, %g, %g %s", r.Low, r.Mode, r.High, r.Unit)
		if k.Fixed {
			value = fmt.Sprintf("%g %s", r.Mode, r.Unit)
		}
		out = append(out, sim.Assumption{Name: r.Name, Value: value, Source: r.Source, VariedInTrials: !k.Fixed})
	}
	return out
}
