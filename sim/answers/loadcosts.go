package answers

import (
	"drystalk/sim"
	"drystalk/sim/charge"
	"drystalk/sim/money"
	"drystalk/sim/stalk"
)

// The loads that are compared.
const (
	ThisLoad     = "this_load"
	FullFresh    = "full_load_of_fresh_stalks"
	FullPredried = "full_load_of_predried_stalks"
)

// LoadCosts is what a load takes and costs from the rack into the store: wood, hours of people, and money
// where the scenario states prices. What the stalks cost before, and
// the dryer itself, are not in it.
type LoadCosts struct {
	Load        string  `json:"load"`
	Stalks      int     `json:"stalks"`
	MoistureWet float64 `json:"moisture_wet_basis"`
	GoodStalks  float64 `json:"good_stalks"` // that neither break nor brown
	DryingH     float64 `json:"drying_h"`
	WoodKg      float64 `json:"wood_kg"`
	TendingH    float64 `json:"tending_person_h"`
	HandlingH   float64 `json:"handling_person_h"` // loading and unloading
	GradingH    float64 `json:"grading_person_h"`  // at loading and at unloading

	Money *LoadMoney `json:"money,omitempty"` // nil without prices
}

// LoadMoney is what a load costs, in units of the currency, with wood at its price of dry months and, where that
// is said, at its price in months of rain, when dryers fire most.
type LoadMoney struct {
	Wood         float64 `json:"wood_cost"`
	Tending      float64 `json:"tending_cost"`
	Handling     float64 `json:"handling_cost"`
	Grading      float64 `json:"grading_cost"`
	Upkeep       float64 `json:"upkeep_cost"` // of the dryer by the hour of firing
	Total        float64 `json:"total_cost"`
	PerGoodStalk float64 `json:"cost_per_good_stalk"`
	WoodRains    float64 `json:"wood_cost_in_rains"`
	PerGoodRains float64 `json:"cost_per_good_stalk_in_rains"`
}

// costsOf works out what a load of one moisture takes and costs.
func costsOf(c *Case, f *charge.Fire, name string, stalks int, wet stalk.DryBasis) LoadCosts {
	r := c.Setup.Region
	lot := charge.Lot{DryKg: float64(stalks) * c.Setup.Base.Stalk.DryG() / 1000, Moisture: wet}
	var course charge.Course
	course.Begin(f, charge.Load{Lots: []charge.Lot{lot}})
	after := course.After(wet)
	broken := course.OverdriedShare(wet, after) * r.Dryer.BreakFraction
	browned := f.BrownedShare(course.DryingH, r.Dryer.BrownsPerH)
	out := LoadCosts{
		Load: name, Stalks: stalks, MoistureWet: float64(wet.WetBasis()), DryingH: course.DryingH,
		GoodStalks: float64(stalks) * (1 - broken) * (1 - browned),
		WoodKg: f.WoodKg(charge.WoodBill{
			WaterKg: lot.DryKg * float64(wet-after), LoadedWaterKg: lot.DryKg * float64(wet), DryKg: lot.DryKg, DryingH: course.DryingH,
		}),
	}
	out.hours(&r.People)
	if c.Prices != nil {
		out.Money = out.at(c.Prices)
	}
	return out
}

// hours works out the hours of people, as a season books them.
func (l *LoadCosts) hours(p *sim.People) {
	thousands := float64(l.Stalks) / 1000
	l.TendingH = l.DryingH / max(1, p.TendsDryers)
	l.HandlingH = 2 * thousands * p.HandlingHPer1000
	l.GradingH = thousands * (p.LookingHPer1000 + p.GradingHPer1000)
}

// at returns what the load costs at prices.
func (l *LoadCosts) at(p *money.Prices) *LoadMoney {
	m := &LoadMoney{
		Wood: l.WoodKg * p.WoodPerKg, Tending: l.TendingH * p.WagePerH, Handling: l.HandlingH * p.WagePerH,
		Grading: l.GradingH * p.WagePerH, Upkeep: l.DryingH * p.UpkeepPerH,
	}
	m.Total = m.Wood + m.Tending + m.Handling + m.Grading + m.Upkeep
	m.WoodRains = l.WoodKg * p.WoodRainsPerKg
	if l.GoodStalks > 0 {
		m.PerGoodStalk = m.Total / l.GoodStalks
		m.PerGoodRains = (m.Total - m.Wood + m.WoodRains) / l.GoodStalks
	}
	return m
}

// compared returns the costs of a load beside those of a full load of fresh and of pre-dried
// stalks under the same fire.
func compared(c *Case, f *charge.Fire, stalks int, wet stalk.DryBasis) []LoadCosts {
	p, d := &c.Setup.Base.Stalk, &c.Setup.Region.Dryer
	fresh := p.FreshMoisture.DryBasis()
	holds := func(m stalk.DryBasis) int { return charge.Capacity(d.HoldsFresh, d.HoldsPredried, m, fresh) }
	return []LoadCosts{
		costsOf(c, f, ThisLoad, stalks, wet),
		costsOf(c, f, FullFresh, holds(fresh), fresh),
		costsOf(c, f, FullPredried, holds(p.PredriedMoisture), p.PredriedMoisture),
	}
}
