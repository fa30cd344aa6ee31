package decide

import (
	"math"
	"sort"

	"gonum.org/v1/gonum/mat"

	"drystalk/sim/knowledge"
	"drystalk/sim/trials"
)

// Worth is what knowing the unmeasured parameters before choosing among plans would be worth,
// in units of the currency a year: the expected value of perfect information of one decision.
// It is 0 where no knowledge would change the choice.
type Worth struct {
	All    trials.Mean  `json:"all"` // of knowing everything
	Each   []WorthOfOne `json:"each"`
	Chosen int          `json:"chosen"` // plan that earns most on average, without knowing more
}

// WorthOfOne is the value of knowing one parameter.
type WorthOfOne struct {
	Parameter string      `json:"parameter"`
	Measure   string      `json:"how_to_measure"`
	Value     trials.Mean `json:"value"`
}

// folds is into how many parts the seasons are dealt: what is learned on all parts but one is
// judged on that one, so that noise is not taken for knowledge.
const folds = 5

// fewestToKnow is the smallest number of seasons from which the value of knowing more is told.
const fewestToKnow = 30 * folds

// ValueOfKnowing estimates the value of perfect information from the seasons themselves: the
// net of each plan is regressed on the parameters (Strong, Oakley & Brennan 2014, Medical
// Decision Making 34, 311; from memory), the plan with the highest fitted net is chosen in
// each season of the part left out, and what is earned there more than with the plan chosen
// without knowing is the value. draws holds the parameters by season, nets the money by plan
// and season.
func ValueOfKnowing(ranges []knowledge.Range, draws, nets [][]float64) *Worth {
	n := len(draws)
	if len(nets) < 2 || n < fewestToKnow {
		return nil
	}
	w := &Worth{Chosen: bestOf(nets, func(int) bool { return true })}
	all := make([]int, len(ranges))
	for k, r := range ranges {
		all[k] = k
		v := gains(draws, nets, []int{k})
		w.Each = append(w.Each, WorthOfOne{r.Name.String(), r.Measure.String(), atLeastNothing(v)})
	}
	w.All = atLeastNothing(gains(draws, nets, all))
	for _, one := range w.Each { // knowing all is worth no less than knowing one
		if one.Value.Mean > w.All.Mean {
			w.All = one.Value
		}
	}
	sort.SliceStable(w.Each, func(i, j int) bool { return w.Each[i].Value.Mean > w.Each[j].Value.Mean })
	return w
}

// atLeastNothing is the mean of gains; knowing more cannot be worth less than nothing.
func atLeastNothing(v []float64) trials.Mean {
	m := trials.NewMean(v)
	m.Mean, m.Low, m.High = max(0, m.Mean), max(0, m.Low), max(0, m.High)
	return m
}

// bestOf returns the plan with the highest mean net over the seasons that count.
func bestOf(nets [][]float64, counts func(i int) bool) int {
	best, most := 0, math.Inf(-1)
	for k := range nets {
		sum := 0.0
		for i, x := range nets[k] {
			if counts(i) {
				sum += x
			}
		}
		if sum > most {
			best, most = k, sum
		}
	}
	return best
}

// gains returns, by season, what choosing with the given parameters known earns more than
// choosing without, each season judged by what the others taught.
func gains(draws, nets [][]float64, known []int) []float64 {
	n := len(draws)
	rows := features(draws, known)
	out := make([]float64, n)
	for fold := range folds {
		learns := func(i int) bool { return i%folds != fold }
		without := bestOf(nets, learns)
		fits := make([][]float64, len(nets))
		for k := range nets {
			diff := make([]float64, n)
			for i := range diff {
				diff[i] = nets[k][i] - nets[without][i]
			}
			fits[k] = fitted(rows, diff, learns)
		}
		for i := fold; i < n; i += folds {
			best := without
			for k := range nets {
				if fits[k][i] > fits[best][i] {
					best = k
				}
			}
			out[i] = nets[best][i] - nets[without][i]
		}
	}
	return out
}

// features returns 1, each known parameter and its square, scaled to about one.
func features(draws [][]float64, known []int) *mat.Dense {
	x := mat.NewDense(len(draws), 1+2*len(known), nil)
	for c, k := range known {
		low, high := draws[0][k], draws[0][k]
		for _, d := range draws {
			low, high = min(low, d[k]), max(high, d[k])
		}
		for i, d := range draws {
			z := 0.0
			if high > low {
				z = 2*(d[k]-low)/(high-low) - 1
			}
			x.Set(i, 1+2*c, z)
			x.Set(i, 2+2*c, z*z)
		}
	}
	for i := range draws {
		x.Set(i, 0, 1)
	}
	return x
}

// fitted returns the least-squares fit of y on the rows that are learned from, for all rows.
// A touch of ridge keeps parameters that do not vary from breaking it.
func fitted(x *mat.Dense, y []float64, learns func(i int) bool) []float64 {
	n, p := x.Dims()
	a, b := mat.NewSymDense(p, nil), mat.NewVecDense(p, nil)
	for i := range n {
		if !learns(i) {
			continue
		}
		row := x.RawRowView(i)
		for r := range p {
			b.SetVec(r, b.AtVec(r)+row[r]*y[i])
			for c := r; c < p; c++ {
				a.SetSym(r, c, a.At(r, c)+row[r]*row[c])
			}
		}
	}
	for r := range p {
		a.SetSym(r, r, a.At(r, r)+1e-6*float64(n))
	}
	var chol mat.Cholesky
	var beta mat.VecDense
	out := make([]float64, n)
	if !chol.Factorize(a) || chol.SolveVecTo(&beta, b) != nil {
		return out // nothing was learned
	}
	for i := range n {
		out[i] = mat.Dot(x.RowView(i), &beta)
	}
	return out
}
