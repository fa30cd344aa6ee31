package charge

import (
	"drystalk/sim/air"
	"drystalk/sim/stalk"
)

// HeatingValueMJPerKg returns the lower heating value of wood of the given
// moisture, MJ/kg wet wood: LHV0(1−w) − 2.443 w. Source: ISO 18125.
func (c *Cabinet) HeatingValueMJPerKg(w stalk.WetBasis) float64 {
	return c.WoodHeatMJPerKg*(1-float64(w)) - 2.443*float64(w)
}

// WoodBill is what a charge has to heat.
type WoodBill struct {
	WaterKg       float64 // evaporated, the film on the stalks included
	LoadedWaterKg float64 // in and on the stalks when loaded
	DryKg         float64 // dry matter
	DryingH       float64 // from lighting to the end of the fire
	Warm          float64 // of the rise that the cabinet still holds from the last charge, fraction
}

// Specific heats, kJ/kg/K. Water: standard. Dry stalk: as wood at about 60 °C,
// Wood Handbook (from memory). Cabinet: steel and brick, assumption.
const (
	waterKJPerKgK   = 4.19
	dryKJPerKgK     = 1.4
	cabinetKJPerKgK = 0.8
)

// Heat is where the heat of a charge goes, MJ.
type Heat struct {
	ExhaustMJ, StalksMJ, WallsMJ, CabinetMJ float64
}

// Total returns the heat of the charge, MJ.
func (h Heat) Total() float64 { return h.ExhaustMJ + h.StalksMJ + h.WallsMJ + h.CabinetMJ }

// EvaporatesKgPerH and ExhaustFactor are stated for a chamber of ratedC in air of ratedOutsideC, °C.
const (
	ratedC        = 80
	ratedOutsideC = 28
)

// perKgMJ returns the heat that a kg of water takes from the fire in a chamber of tempC, °C: its
// latent heat and what the exhaust air carries off, which is in proportion to how much warmer
// the chamber is than the air outside. Assumption.
func (c *Cabinet) perKgMJ(outsideC, tempC float64) float64 {
	exhaust := (c.ExhaustFactor - 1) * air.LatentHeatMJPerKg(ratedC) / (ratedC - ratedOutsideC)
	return air.LatentHeatMJPerKg(tempC) + exhaust*(tempC-outsideC)
}

// powerMJPerH returns what the fire gives to water and exhaust, MJ/h: less with wet wood, by
// heating value. What the walls lose comes on top.
func (c *Cabinet) powerMJPerH() float64 {
	return c.EvaporatesKgPerH * c.perKgMJ(ratedOutsideC, ratedC) * c.HeatingValueMJPerKg(c.WoodMoisture) / c.HeatingValueMJPerKg(0.20)
}

// fullYoungH is how long, at most, a fire that heats up gives its full power: one that takes
// longer is weaker while young. Assumption.
const fullYoungH = 0.75

// bill returns what of a load is to be heated.
func (l *Load) bill() WoodBill {
	bill := WoodBill{LoadedWaterKg: l.FilmKg}
	for i := range l.Lots {
		bill.DryKg += l.Lots[i].DryKg
		bill.LoadedWaterKg += l.Lots[i].DryKg * float64(l.Lots[i].Moisture)
	}
	return bill
}

// youngMJ returns what the fire has left for water while it heats up steel and stalks, MJ/h, and
// what it still owes them then, MJ, where that is more than it gave.
func (f *Fire) youngMJ(b WoodBill) (perH, owed float64) {
	left := f.powerMJ*min(f.c.HeatUpH, fullYoungH) - f.stalksMJ(b) - f.cabinetMJ()
	if left <= 0 {
		return 0, -left
	}
	return left / f.c.HeatUpH, 0
}

// stalksMJ returns the heat of warming what is loaded, MJ.
func (f *Fire) stalksMJ(b WoodBill) float64 {
	return (b.DryKg*dryKJPerKgK + b.LoadedWaterKg*waterKJPerKgK) * (f.c.SetC - f.ambient.TempC) / 1000
}

// cabinetMJ returns the heat of warming the cold cabinet, MJ.
func (f *Fire) cabinetMJ() float64 {
	return f.c.MassKg * cabinetKJPerKgK * (f.c.SetC - f.ambient.TempC) / 1000
}

// Heat returns the heat balance of a charge: evaporation with its exhaust air,
// warming of the stalks, loss through the walls, warming of the cabinet.
func (f *Fire) Heat(b WoodBill) Heat {
	rise := f.c.SetC - f.ambient.TempC
	return Heat{
		ExhaustMJ: f.c.perKgMJ(f.ambient.TempC, f.c.SetC) * b.WaterKg,
		StalksMJ:  f.stalksMJ(b),
		WallsMJ:   3.6 * f.c.WallLossWPerK / 1000 * rise * b.DryingH,
		CabinetMJ: (1 - b.Warm) * f.cabinetMJ(),
	}
}

// WoodKg returns the wood that a charge burns, kg as fired.
func (f *Fire) WoodKg(b WoodBill) float64 {
	return f.Heat(b).Total() / (f.c.FurnaceEfficiency * f.c.HeatingValueMJPerKg(f.c.WoodMoisture))
}
