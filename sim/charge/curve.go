package charge

import (
	"math"

	"drystalk/sim/stalk"
)

// Lot is one batch's part of a charge.
type Lot struct {
	DryKg    float64
	Moisture stalk.DryBasis
}

// Point is the state of a charge at one instant.
type Point struct {
	H            float64        `json:"h"`      // hours since lighting
	TempC        float64        `json:"temp_c"` // of the chamber
	MeanMoisture stalk.DryBasis `json:"mean_moisture_dry_basis"`
	SlowMoisture stalk.DryBasis `json:"slow_moisture_dry_basis"` // of the slow 5 % stalk of the wettest lot
}

// longest is where a charge that never gets dry is given up, h.
const longest = 100

// Curve steps a charge from lighting until the slow 5 % stalk of the wettest lot
// is dry, in steps of stepH hours, and returns every point. This is the model
// itself; DryingH and After are its closed form.
func (c *Cabinet) Curve(a Ambient, lots []Lot, stepH float64) []Point {
	f := c.Light(a)
	lots = append([]Lot(nil), lots...)
	wet := 0
	for i := range lots {
		if lots[i].Moisture > lots[wet].Moisture {
			wet = i
		}
	}
	slow := float64(lots[wet].Moisture)
	slowFactor := math.Exp(-slowQuantile * c.RateSpread)
	points := []Point{{0, a.TempC, meanOf(lots), stalk.DryBasis(slow)}}
	for n := 1; slow > f.target && float64(n)*stepH < longest; n++ {
		mid := (float64(n) - 0.5) * stepH
		tempC := a.TempC + (c.SetC-a.TempC)*min(1, mid/c.HeatUpH)
		rate := stalk.DryingRatePerH(tempC, c.RateAt80CPerH, c.ActivationKJPerMol)
		emc := c.equilibrium(a, tempC)
		demand := 0.0
		for _, l := range lots {
			demand += l.DryKg * rate * max(0, float64(l.Moisture)-emc)
		}
		share := 1.0
		if demand > f.capKgPH {
			share = f.capKgPH / demand
		}
		wettestLoss := share * rate * max(0, float64(lots[wet].Moisture)-emc)
		allowed := math.Inf(1)
		if share < 1 {
			allowed = wettestLoss
		}
		slow -= stepH * min(slowFactor*rate*max(0, slow-emc), allowed)
		for i := range lots {
			lots[i].Moisture -= stalk.DryBasis(stepH * share * rate * max(0, float64(lots[i].Moisture)-emc))
		}
		points = append(points, Point{float64(n) * stepH, tempC, meanOf(lots), stalk.DryBasis(slow)})
	}
	return points
}

// meanOf returns the moisture of all lots by dry mass.
func meanOf(lots []Lot) stalk.DryBasis {
	var water, dry float64
	for _, l := range lots {
		water += l.DryKg * float64(l.Moisture)
		dry += l.DryKg
	}
	return stalk.DryBasis(water / dry)
}
