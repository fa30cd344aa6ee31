package charge

import (
	"math"

	"gonum.org/v1/gonum/stat/distuv"

	"drystalk/sim/stalk"
)

// overdried is the moisture below which stalks break, 8 % wet basis. Assumption.
const overdried = 0.0870

// BrittleBelow is that moisture, of stalks that dried anywhere.
const BrittleBelow stalk.DryBasis = overdried

// farthestScore is the normal score beyond which a lot has no stalks: 3 in 100,000.
const farthestScore = 4

// OverdriedShare returns the share of the stalks of a lot, loaded at m, that come out below 8 %
// wet basis: those whose rate is above the one that comes out just there. after is the mean
// moisture at which the lot comes out.
func (c *Course) OverdriedShare(m, after stalk.DryBasis) float64 {
	f := c.fire
	if f.emc >= overdried || !(f.c.RateSpread > 0) || c.DryingH == 0 {
		if after < overdried {
			return 1
		}
		return 0
	}
	score := math.Log(c.factorTo(float64(m), float64(after))) / f.c.RateSpread
	switch {
	case score >= farthestScore-1e-9:
		return 0
	case score <= -farthestScore+1e-9:
		return 1
	}
	return distuv.UnitNormal.CDF(-score)
}

// factorTo returns the factor on the rate with which a stalk comes out at overdried, within what
// a lot has; the mean stalk, of factor 1, comes out at after. The logarithm of what is left above
// the equilibrium is close to a line in the factor, so the secant takes two or three steps; a
// bracket holds it.
func (c *Course) factorTo(m, after float64) float64 {
	f := c.fire
	high := f.fastest
	low := 1 / high
	off := func(moisture float64) float64 { return math.Log(max(1e-12, moisture-f.emc) / (overdried - f.emc)) }
	x0, y0 := 1.0, off(after)
	x1 := x0 + y0/(f.rate*max(0.5, c.DryingH-c.freeH))
	for range solverSteps {
		if y0 > 0 { // comes out too wet: the factor is above
			low = max(low, x0)
		} else {
			high = min(high, x0)
		}
		x1 = max(low, min(high, x1))
		y1 := off(c.at(c.DryingH, m, x1))
		if math.Abs(y1) < 1e-3 || math.Abs(x1-x0) < 1e-5 || (x1 == high && y1 > 0) || (x1 == low && y1 < 0) {
			return x1
		}
		next := x1 - y1*(x1-x0)/(y1-y0)
		x0, y0, x1 = x1, y1, next
	}
	return x1
}
