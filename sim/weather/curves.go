package weather

import (
	"math"

	"drystalk/sim/air"

	"gonum.org/v1/gonum/stat/distuv"
)

// unclipped returns the mean of a normal that, clipped to 0 to 1, has the mean
// wanted.
func unclipped(wanted, sd float64) float64 {
	wanted = max(0.02, min(0.98, wanted))
	return bisect(-2, 3, 50, func(mean float64) bool { return clippedMean(mean, sd) < wanted })
}

// bisect returns where a rising condition turns: tooLow holds below it and not above, and it
// lies between low and high. Each halving adds one binary digit. The numerical library finds
// minima, not roots of one variable.
func bisect(low, high float64, halvings int, tooLow func(x float64) bool) float64 {
	for range halvings {
		if mid := (low + high) / 2; tooLow(mid) {
			low = mid
		} else {
			high = mid
		}
	}
	return (low + high) / 2
}

func clippedMean(mean, sd float64) float64 {
	a, b := -mean/sd, (1-mean)/sd
	n := distuv.UnitNormal
	return mean*(n.CDF(b)-n.CDF(a)) - sd*(n.Prob(b)-n.Prob(a)) + 1 - n.CDF(b)
}

// lowestVapour is the correlation of lowest temperature and vapour pressure that the residuals keep.
const lowestVapour = 0.436

// undewed returns the mean of a normal vapour pressure, kPa, of deviation sd that, held below
// saturation a degree above the lowest temperature of its day, has the mean wanted. Where nights are
// cool against the vapour that spreads it, holding it would make a month drier than was stated.
func undewed(wanted, sd, tminC, tminSD float64) float64 {
	const steps = 32
	var cap, weight, shift [steps + 1]float64
	sum := 0.0
	for i := range cap {
		z := -4 + 8*float64(i)/steps
		cap[i], shift[i], weight[i] = air.SaturationKPa(tminC+tminSD*z+1), lowestVapour*sd*z, distuv.UnitNormal.Prob(z)
		sum += weight[i]
	}
	rest := sd * math.Sqrt(1-lowestVapour*lowestVapour)
	return bisect(wanted, wanted+3*sd, 30, func(mean float64) bool {
		held := 0.0
		for i := range cap {
			held += weight[i] / sum * meanBelow(mean+shift[i], rest, cap[i])
		}
		return held < wanted
	})
}

// meanBelow returns the mean of a normal that is held below a limit.
func meanBelow(mean, sd, limit float64) float64 {
	a := (limit - mean) / sd
	n := distuv.UnitNormal
	return mean*n.CDF(a) - sd*n.Prob(a) + limit*(1-n.CDF(a))
}

// daily draws a curve through the months whose mean over each month is the month's
// value: straight lines between mid-months, the knots moved until the means fit.
func daily(months [12]float64) [365]float64 {
	knots := months
	var curve [365]float64
	for range 60 {
		curve = between(knots)
		means := monthMeans(curve)
		for m := range knots {
			knots[m] += 0.8 * (months[m] - means[m])
		}
	}
	return curve
}

func between(knots [12]float64) [365]float64 {
	var curve [365]float64
	start := 0.0
	var mids [12]float64
	for m := range mids {
		mids[m] = start + monthLength[m]/2
		start += monthLength[m]
	}
	for d := range curve {
		x := float64(d) + 0.5
		m := 11
		for m >= 0 && mids[m] > x {
			m--
		}
		from, to := mids[11]-365, mids[0]
		a, b := knots[11], knots[0]
		switch {
		case m == 11:
			from, to, a, b = mids[11], mids[0]+365, knots[11], knots[0]
		case m >= 0:
			from, to, a, b = mids[m], mids[m+1], knots[m], knots[m+1]
		}
		curve[d] = a + (b-a)*(x-from)/(to-from)
	}
	return curve
}

func monthMeans(curve [365]float64) [12]float64 {
	var means [12]float64
	for d, v := range curve {
		m := monthOf(d)
		means[m] += v / monthLength[m]
	}
	return means
}

// monthOf returns the month, 0 to 11, of a day of the year counted from 0.
func monthOf(d int) int {
	m := 0
	for d >= int(monthLength[m]) {
		d -= int(monthLength[m])
		m++
	}
	return m
}
