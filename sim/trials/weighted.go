package trials

import (
	"math"
	"sort"

	"gonum.org/v1/gonum/stat"
	"gonum.org/v1/gonum/stat/distuv"
)

// Effective returns how many seasons of equal weight tell as much as seasons with these weights:
// (Σw)²/Σw². Source: Kish, Survey Sampling, 1965 (from memory).
func Effective(weights []float64) float64 {
	sum, squares := 0.0, 0.0
	for _, w := range weights {
		sum += w
		squares += w * w
	}
	if squares == 0 {
		return 0
	}
	return sum * sum / squares
}

// equalWeights tells whether all weights are the same.
func equalWeights(weights []float64) bool {
	for _, w := range weights {
		if w != weights[0] {
			return false
		}
	}
	return true
}

// NewWeightedOdds returns how often something held in seasons that count by their weights, with the
// interval of Clopper and Pearson for as many seasons as they are worth (Effective), of which the
// same share held; Met and Seasons are those numbers, rounded. With weights that are all the same it is
// NewOdds.
func NewWeightedOdds(met []bool, weights []float64) Odds {
	held, sum, count := 0.0, 0.0, 0
	for i, w := range weights {
		sum += w
		if met[i] {
			held += w
			count++
		}
	}
	if equalWeights(weights) || sum == 0 {
		return NewOdds(count, len(weights))
	}
	n, share := Effective(weights), held/sum
	o := Odds{Seasons: int(math.Round(n)), Share: share, Low: lowerBound(share*n, n), High: 1 - lowerBound((1-share)*n, n)}
	o.Met = int(math.Round(share * float64(o.Seasons)))
	switch {
	case count < len(weights) && share < 1:
		o.Met = min(o.Met, o.Seasons-1)
	case count > 0 && share > 0:
		o.Met = max(o.Met, 1)
	}
	return o
}

// lowerBound is LowerBound at the lower end of a two-sided interval, for numbers that need not be whole.
func lowerBound(met, n float64) float64 {
	if !(met > 1e-9) {
		return 0
	}
	return distuv.Beta{Alpha: met, Beta: math.Max(1, n-met+1)}.Quantile((1 - Level) / 2)
}

// NewWeightedBand is NewBand of seasons that count by their weights; Seasons is what they are worth.
func NewWeightedBand(values, weights []float64) Band {
	if len(values) == 0 || equalWeights(weights) {
		return NewBand(values)
	}
	x, w := sorted(values, weights)
	q := func(p float64) float64 { return stat.Quantile(p, stat.Empirical, x, w) }
	return Band{q(0.05), q(0.5), q(0.95), int(math.Round(Effective(weights)))}
}

// WeightedQuantile returns the smallest value that at least a share of the seasons does not pass.
func WeightedQuantile(share float64, values, weights []float64) float64 {
	x, w := sorted(values, weights)
	return stat.Quantile(share, stat.Empirical, x, w)
}

// sorted returns values in order, each with its weight.
func sorted(values, weights []float64) (x, w []float64) {
	x, w = append([]float64(nil), values...), append([]float64(nil), weights...)
	sort.Stable(byValue{x, w})
	return x, w
}

type byValue struct{ x, w []float64 }

func (b byValue) Len() int           { return len(b.x) }
func (b byValue) Less(i, j int) bool { return b.x[i] < b.x[j] }
func (b byValue) Swap(i, j int) {
	b.x[i], b.x[j] = b.x[j], b.x[i]
	b.w[i], b.w[j] = b.w[j], b.w[i]
}

// NewWeightedAmount is NewAmount of seasons that count by their weights, from the interval of NewWeightedMean.
func NewWeightedAmount(values, weights []float64) Mean {
	return onItsSide(NewWeightedMean(values, weights), values)
}

// NewWeightedMean is NewMean of seasons that count by their weights: the interval is that of as many
// seasons as they are worth.
func NewWeightedMean(values, weights []float64) Mean {
	if len(values) == 0 || equalWeights(weights) {
		return NewMean(values)
	}
	n := Effective(weights)
	m, variance := stat.MeanVariance(values, weights)
	if n < 2 {
		return Mean{m, math.Inf(-1), math.Inf(1), int(n)}
	}
	t := distuv.StudentsT{Mu: 0, Sigma: 1, Nu: n - 1}.Quantile(1 - (1-Level)/2)
	half := t * math.Sqrt(variance/n)
	return Mean{m, m - half, m + half, int(math.Round(n))}
}
