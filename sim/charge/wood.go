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
	WaterKg       float64 // evaporated
	LoadedWaterKg float64 // in the stalks when loaded
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

// Heat returns the heat balance of a charge: evaporation with its exhaust air,
// warming of the stalks, loss through the walls, warming of the cabinet.
func (f *Fire) Heat(b WoodBill) Heat {
	rise := f.c.SetC - f.ambient.TempC
	return Heat{
		ExhaustMJ: f.c.ExhaustFactor * b.WaterKg * air.LatentHeatMJPerKg(f.c.SetC),
		StalksMJ:  (b.DryKg*dryKJPerKgK + b.LoadedWaterKg*waterKJPerKgK) * rise / 1000,
		WallsMJ:   3.6 * f.c.WallLossWPerK / 1000 * rise * b.DryingH,
		CabinetMJ: (1 - b.Warm) * f.c.MassKg * cabinetKJPerKgK * rise / 1000,
	}
}

// WoodKg returns the wood that a charge burns, kg as fired.
func (f *Fire) WoodKg(b WoodBill) float64 {
	return f.Heat(b).Total() / (f.c.FurnaceEfficiency * f.c.HeatingValueMJPerKg(f.c.WoodMoisture))
}
