package sensitivity

import (
	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/stat/distmv"
	"gonum.org/v1/gonum/stat/samplemv"

	"drystalk/sim/trials"
	"drystalk/tongue"
)

// Sampling is a way of laying points out in the unit cube, named as a file of a study does.
type Sampling string

// The ways of sampling. In ranges of up to about twelve columns Halton points converge fastest;
// with more its later columns go together, and a Latin hypercube is better. A Sobol' design has
// two columns an input.
const (
	LatinHypercube Sampling = "latin-hypercube" // every column has one point in each n-th of its range
	Halton         Sampling = "halton"          // scrambled; the first points of more are the same points
	Independent    Sampling = "independent"     // every point by itself
)

// Samplings lists the ways of sampling.
func Samplings() []Sampling { return []Sampling{LatinHypercube, Halton, Independent} }

// MostRows and MostColumns bound a design: points in all, and columns of the unit cube.
const (
	MostRows    = 1_000_000
	MostColumns = 100
)

// Points returns n points of the unit cube of d columns.
func Points(how Sampling, n, d int, seed uint64) ([][]float64, error) {
	switch {
	case n < 1 || n > MostRows:
		return nil, tongue.Errorf("%d points, allowed: 1 to %d", n, MostRows)
	case d < 1 || d > MostColumns:
		return nil, tongue.Errorf("%d columns, allowed: 1 to %d", d, MostColumns)
	}
	cube, chance := distmv.NewUnitUniform(d, nil), trials.Stream(seed, 0, trials.RegionWide, "points "+string(how))
	batch := mat.NewDense(n, d, nil)
	switch how {
	case LatinHypercube:
		samplemv.LatinHypercube{Q: cube, Src: chance}.Sample(batch)
	case Halton:
		samplemv.Halton{Kind: samplemv.Owen, Q: cube, Src: chance}.Sample(batch)
	case Independent:
		samplemv.IID{Dist: distmv.NewUnitUniform(d, chance)}.Sample(batch)
	default:
		return nil, tongue.Errorf("sampling: found %q, allowed: one of %v", how, Samplings())
	}
	points := make([][]float64, n)
	for i := range points {
		points[i] = batch.RawRowView(i)
	}
	return points, nil
}

// Quantiler is the distribution of an input: Quantile returns the value that it does not pass
// with probability u, from 0 to 1. A knowledge.Range is one, and so is what gonum's distuv has.
type Quantiler interface{ Quantile(u float64) float64 }

// Values returns what a point of the unit cube stands for, by input.
func Values[Q Quantiler](point []float64, inputs []Q) []float64 {
	values := make([]float64, len(inputs))
	for i := range inputs {
		values[i] = inputs[i].Quantile(point[i])
	}
	return values
}
