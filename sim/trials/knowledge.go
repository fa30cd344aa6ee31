package trials

import (
	"fmt"
	"math/rand/v2"
	"slices"

	"drystalk/sim"
	"drystalk/sim/knowledge"
	"drystalk/sim/stalk"
	"drystalk/tongue"
)

// Knowledge is what is known of the parameters.
type Knowledge struct {
	Ranges []knowledge.Range
	Fixed  bool // take every parameter as written
}

// DefaultKnowledge returns the documented ranges.
func DefaultKnowledge() Knowledge { return Knowledge{Ranges: knowledge.Table()} }

// Of returns the range of a parameter as it is known here; ok is false where it is not drawn.
func (k Knowledge) Of(key knowledge.Key) (r knowledge.Range, ok bool) {
	for _, r := range k.Ranges {
		if r.Key == key {
			return r, true
		}
	}
	return knowledge.Range{}, false
}

// check tells what is wrong with the ranges.
func (k Knowledge) check() error {
	seen := map[knowledge.Key]bool{}
	for _, r := range k.Ranges {
		if setters[r.Key] == nil || seen[r.Key] {
			return tongue.Errorf("knowledge: found %q, allowed: each parameter of the table once", r.Key)
		}
		seen[r.Key] = true
		if err := r.Check(); err != nil {
			return tongue.Errorf("knowledge: %w", err)
		}
	}
	return nil
}

// Draw returns base with every range drawn once, and the values drawn in the order
// of the ranges. Each range takes exactly one draw, whatever the others are. Fixed
// knowledge takes the modes. The ranks of store and solid roof are uniform and are
// mapped through the ranges of what they stand for.
func (k Knowledge) Draw(base sim.Parameters, rng *rand.Rand) (sim.Parameters, []float64) {
	return k.At(base, k.Ranks(rng))
}

// KnowledgeStream returns the stream from which a season draws the knowledge.
func KnowledgeStream(seed, season uint64) *rand.Rand {
	return Stream(seed, season, RegionWide, "knowledge")
}

// Ranks draws where the values of the ranges stand, each from 0 to 1.
func (k Knowledge) Ranks(rng *rand.Rand) []float64 {
	ranks := make([]float64, len(k.Ranges))
	for i := range ranks {
		ranks[i] = rng.Float64()
	}
	return ranks
}

// At returns base with every range at its rank, a number from 0 to 1 that the value does not pass
// with this probability, and the values in the order of the ranges; see Draw.
func (k Knowledge) At(base sim.Parameters, ranks []float64) (sim.Parameters, []float64) {
	values := make([]float64, len(k.Ranges))
	for i, r := range k.Ranges {
		if k.Fixed {
			values[i] = r.Mode
			if r.IsRank() { // base holds the modes of what a rank stands for
				continue
			}
		} else {
			values[i] = r.Quantile(ranks[i])
		}
		setters[r.Key](&base, values[i])
	}
	return base, values
}

// Pinned returns k with some parameters at given values, in every season. The others stay as k has
// them; of fixed knowledge they stay at their modes, and ranks that are not pinned are left out, as
// base holds the modes of what they stand for. A parameter that k does not have, one named twice
// and a value that is not finite are errors.
func (k Knowledge) Pinned(keys []knowledge.Key, values []float64) (Knowledge, error) {
	if len(keys) != len(values) {
		return Knowledge{}, tongue.Errorf("%d values for %d parameters", len(values), len(keys))
	}
	at := map[knowledge.Key]float64{}
	for i, key := range keys {
		_, twice := at[key]
		if _, ok := k.Of(key); !ok || twice {
			return Knowledge{}, tongue.Errorf("knowledge: found %q, allowed: each parameter that is drawn, once", key)
		}
		at[key] = values[i]
	}
	var pinned Knowledge
	for _, r := range k.Ranges {
		value, ok := at[r.Key]
		switch {
		case ok:
			r.Low, r.Mode, r.High = value, value, value
		case k.Fixed && r.IsRank():
			continue
		case k.Fixed:
			r.Low, r.High = r.Mode, r.Mode
		}
		pinned.Ranges = append(pinned.Ranges, r)
	}
	return pinned, pinned.check()
}

// setters write one drawn value of a parameter to all that go by it.
var setters = map[knowledge.Key]func(p *sim.Parameters, v float64){
	knowledge.OutputFactor:      func(p *sim.Parameters, v float64) { p.OutputFactor = v },
	knowledge.MouldFactor:       func(p *sim.Parameters, v float64) { p.Stalk.MouldFactor = v },
	knowledge.SkinFactor:        func(p *sim.Parameters, v float64) { p.Stalk.SkinFactor = v },
	knowledge.RateAt80CPerH:     func(p *sim.Parameters, v float64) { p.Stalk.RateAt80CPerH, p.Cabinet.RateAt80CPerH = v, v },
	knowledge.EvaporatesKgPerH:  func(p *sim.Parameters, v float64) { p.Cabinet.EvaporatesKgPerH = v },
	knowledge.LivingH:           func(p *sim.Parameters, v float64) { p.Stalk.LivingH = v },
	knowledge.MouldSpread:       func(p *sim.Parameters, v float64) { p.Stalk.MouldSpread = v },
	knowledge.RateSpread:        func(p *sim.Parameters, v float64) { p.Stalk.RateSpread, p.Cabinet.RateSpread = v, v },
	knowledge.AcceptedShare:     func(p *sim.Parameters, v float64) { p.AcceptedShare = v },
	knowledge.EMCFactor:         func(p *sim.Parameters, v float64) { p.Stalk.EMCFactor, p.Cabinet.EMCFactor = v, v },
	knowledge.FreshMoisture:     func(p *sim.Parameters, v float64) { p.Stalk.FreshMoisture = stalk.WetBasis(v) },
	knowledge.FurnaceEfficiency: func(p *sim.Parameters, v float64) { p.Cabinet.FurnaceEfficiency = v },
	knowledge.ExhaustFactor:     func(p *sim.Parameters, v float64) { p.Cabinet.ExhaustFactor = v },
	knowledge.CabinetKg:         func(p *sim.Parameters, v float64) { p.Cabinet.MassKg = v },
	knowledge.ClearRoofSun:      func(p *sim.Parameters, v float64) { p.ClearRoofSunFactor = v },
	knowledge.FreshStalkG:       func(p *sim.Parameters, v float64) { p.Stalk.FreshG = v },
	knowledge.RainsHumidity:     func(p *sim.Parameters, v float64) { p.RainsHumidityPoints = v },
	knowledge.StoreRank: func(p *sim.Parameters, v float64) {
		p.StoreExchangeOpenPerH = knowledge.Of(knowledge.StoreOpenPerH).Quantile(v)
		p.StoreExchangeSealedPerH = knowledge.Of(knowledge.StoreSealedPerH).Quantile(v)
	},
	knowledge.SolidRoofRank: func(p *sim.Parameters, v float64) {
		p.SolidRoofSunFactor = knowledge.Of(knowledge.SolidRoofSun).Quantile(v)
		p.SolidRoofAirFactor = knowledge.Of(knowledge.SolidRoofAir).Quantile(v)
	},
}

// Measured tells whether a log of the group stands behind any range.
func (k Knowledge) Measured() bool { return slices.ContainsFunc(k.Ranges, knowledge.Range.Measured) }

// Assumptions lists the ranges for the reader of an answer.
func (k Knowledge) Assumptions() []sim.Assumption {
	var out []sim.Assumption
	for _, r := range k.Ranges {
		value := fmt.Sprintf("%g, %g, %g %s", r.Low, r.Mode, r.High, r.Unit)
		if r.Shape == knowledge.Even && !r.IsRank() {
			value = tongue.Plainf("%g to %g %s, as likely anywhere between", r.Low, r.High, r.Unit)
		}
		if k.Fixed {
			value = fmt.Sprintf("%g %s", r.Mode, r.Unit)
		}
		out = append(out, sim.Assumption{Name: r.Name.String(), Value: value, Source: r.Origin(), VariedInTrials: !k.Fixed})
	}
	return out
}
