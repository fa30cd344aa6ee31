package trials

import (
	"math"

	"gonum.org/v1/gonum/stat"
	"gonum.org/v1/gonum/stat/distuv"
)

// NewFieller returns the ratio of two means over the same seasons or futures with its 95 %
// interval by Fieller's theorem: all ratios r at which the mean of num − r·den cannot be told from
// nothing. Unlike the linearized interval of NewRatio it holds where den is not far from nothing,
// and it need not lie evenly about the ratio. Where den itself cannot be told from nothing the
// ratios have no bounds, and the interval is open on both sides. Source: Fieller 1954, J. Royal
// Statistical Society B 16, 175 (from memory).
func NewFieller(num, den []float64) Mean {
	n := len(den)
	x, y := stat.Mean(num, nil), stat.Mean(den, nil)
	open := Mean{x / y, math.Inf(-1), math.Inf(1), n}
	if n < 2 {
		return open
	}
	t := distuv.StudentsT{Mu: 0, Sigma: 1, Nu: float64(n - 1)}.Quantile(1 - (1-Level)/2)
	k := t * t / float64(n)
	// x² − 2rxy + r²y² ≤ k(sxx − 2r sxy + r² syy), a quadratic in r
	a := y*y - k*stat.Variance(den, nil)
	b := x*y - k*stat.Covariance(num, den, nil)
	c := x*x - k*stat.Variance(num, nil)
	if !(a > 0) {
		return open
	}
	half := math.Sqrt(max(0, b*b-a*c))
	return Mean{x / y, (b - half) / a, (b + half) / a, n}
}
