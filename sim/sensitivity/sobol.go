package sensitivity

import (
	"math"

	"gonum.org/v1/gonum/stat"

	"drystalk/tongue"
)

// Sobol is a design for Sobol' indices: two samples A and B of base rows, and for each input the
// rows of A with that input taken from B.
type Sobol struct {
	Inputs   int
	Rows     int // base rows; the model is worked out at Rows times Inputs+2 points
	Sampling Sampling
	Seed     uint64
}

// Index is the share of a result's variance, over all that is drawn in the design, that goes back
// to one input.
type Index struct {
	First Estimate `json:"first"` // to the input alone: what knowing it would take away
	Total Estimate `json:"total"` // with all it does together with others: what would remain if it alone were unknown
}

// ErrConstant is returned where a result is the same in all base rows: there is no variance to
// share.
var ErrConstant = tongue.Fault("the result is the same in every row of the design: it has no variance to be shared among inputs")

// check tells what is wrong with a design.
func (s Sobol) check() error {
	switch {
	case s.Inputs < 1 || s.Inputs > MostColumns/2:
		return tongue.Errorf("%d inputs, allowed: 1 to %d", s.Inputs, MostColumns/2)
	case s.Rows < 2 || s.Rows > MostRows/(s.Inputs+2):
		return tongue.Errorf("%d rows, allowed: 2 to %d", s.Rows, MostRows/(s.Inputs+2))
	}
	return nil
}

// Points returns the points at which to work the model out, Inputs+2 a row, one row after
// another: that of A, that of B, then that of A with each input in turn taken from B (radial
// sampling; Saltelli et al. 2010, table 2).
func (s Sobol) Points() ([][]float64, error) {
	if err := s.check(); err != nil {
		return nil, err
	}
	both, err := Points(s.Sampling, s.Rows, 2*s.Inputs, s.Seed)
	if err != nil {
		return nil, err
	}
	var points [][]float64
	for _, row := range both {
		a, b := row[:s.Inputs:s.Inputs], row[s.Inputs:]
		points = append(points, a, b)
		for i := range s.Inputs {
			mixed := append([]float64(nil), a...)
			mixed[i] = b[i]
			points = append(points, mixed)
		}
	}
	return points, nil
}

// Indices reads the results at the points, in their order. With f centred on its mean,
//
//	first_i = mean of f(B)·(f(AB_i) − f(A)) / V      (Saltelli et al. 2010, table 2, b)
//	total_i = mean of (f(A) − f(AB_i))² / 2V         (Jansen 1999; the same table, f)
//
// where V is the variance of f over A and B together. Estimates near 0 or 1 may pass it by chance.
// Intervals are by bootstrap over rows; with Halton or Latin hypercube rows they are wider than
// they need be, as such rows vary less from draw to draw than rows drawn again.
func (s Sobol) Indices(results []float64) ([]Index, error) {
	if err := s.check(); err != nil {
		return nil, err
	}
	if err := checkResults(results, s.Rows*(s.Inputs+2)); err != nil {
		return nil, err
	}
	t := s.terms(results)
	if !t.vary() {
		return nil, ErrConstant
	}
	estimates := bootstrap(s.Rows, s.Seed, t.indices)
	indices := make([]Index, s.Inputs)
	for i := range indices {
		indices[i] = Index{First: estimates[2*i], Total: estimates[2*i+1]}
	}
	return indices, nil
}

// terms are what the sums of the estimators are made of, by row: a and b are f(A) and f(B),
// centred, and of is f(AB_i), centred, by input.
type terms struct {
	inputs int
	rows   [][]float64 // a, b, then by input
}

// terms centres the results on the mean over A and B; the estimators do not depend on where, but
// sums of numbers far from 0 lose digits.
func (s Sobol) terms(results []float64) terms {
	width := s.Inputs + 2
	var base []float64
	for r := range s.Rows {
		base = append(base, results[r*width], results[r*width+1])
	}
	centre := stat.Mean(base, nil)
	t := terms{inputs: s.Inputs}
	for r := range s.Rows {
		row := make([]float64, width)
		for k := range row {
			row[k] = results[r*width+k] - centre
		}
		t.rows = append(t.rows, row)
	}
	return t
}

// vary tells whether f varies over A and B.
func (t terms) vary() bool {
	for _, row := range t.rows {
		if row[0] != t.rows[0][0] || row[1] != t.rows[0][0] {
			return true
		}
	}
	return false
}

// indices returns first and total index of each input over some rows, one input after another;
// NaN where f does not vary over them.
func (t terms) indices(rows []int) []float64 {
	n := float64(len(rows))
	sum, squares := 0.0, 0.0
	first, total, moved := make([]float64, t.inputs), make([]float64, t.inputs), make([]float64, t.inputs)
	for _, r := range rows {
		a, b, mixed := t.rows[r][0], t.rows[r][1], t.rows[r][2:]
		sum += a + b
		squares += a*a + b*b
		for i, ab := range mixed {
			d := ab - a
			first[i] += b * d
			total[i] += d * d
			moved[i] += d
		}
	}
	mean := sum / (2 * n)
	v := squares/(2*n) - mean*mean
	constant := v <= 1e-12*squares/(2*n) // what rounding leaves of equal numbers
	out := make([]float64, 0, 2*t.inputs)
	for i := range first {
		if constant {
			out = append(out, math.NaN(), math.NaN())
			continue
		}
		out = append(out, (first[i]-mean*moved[i])/(n*v), total[i]/(2*n*v))
	}
	return out
}
