package sensitivity

import (
	"math"

	"gonum.org/v1/gonum/stat"

	"drystalk/sim/trials"
	"drystalk/tongue"
)

// Morris is a screening: from random starts on a grid of ranks, one input after another takes
// one large step, and what that does to the result is an elementary effect of the input. Source:
// Morris 1991.
type Morris struct {
	Inputs       int
	Trajectories int // random starts; 10 to 20 are usual
	Seed         uint64
}

// Levels is the number of ranks of the grid: 0, 1/3, 2/3 and 1. A step is two thirds of the range,
// so that all ranks come up equally often (Morris 1991, four levels).
const Levels = 4

// stride is how many ranks of the grid an input is moved by.
const stride = Levels / 2

// Effect is what one input does: elementary effects, each the change of the result by one step
// times 1/step, so that of a linear function it is the change over the whole range.
type Effect struct {
	Mean    float64  `json:"mean"`     // mu: where effects of both signs cancel, near 0
	MeanAbs Estimate `json:"mean_abs"` // mu*, of absolute effects: how much the input matters
	SD      float64  `json:"sd"`       // sigma: large where the effect depends on where the inputs stand
}

// check tells what is wrong with a screening.
func (m Morris) check() error {
	switch {
	case m.Inputs < 1 || m.Inputs > MostColumns:
		return tongue.Errorf("%d inputs, allowed: 1 to %d", m.Inputs, MostColumns)
	case m.Trajectories < 2 || m.Trajectories > MostRows/(m.Inputs+1):
		return tongue.Errorf("%d trajectories, allowed: 2 to %d", m.Trajectories, MostRows/(m.Inputs+1))
	}
	return nil
}

// Points returns the points at which to work the model out, Inputs+1 a trajectory, one trajectory
// after another.
func (m Morris) Points() ([][]float64, error) {
	if err := m.check(); err != nil {
		return nil, err
	}
	var points [][]float64
	for r := range m.Trajectories {
		at, order := m.start(r)
		points = append(points, ranks(at))
		for _, input := range order {
			at[input] += across(at[input])
			points = append(points, ranks(at))
		}
	}
	return points, nil
}

// start draws where on the grid a trajectory starts and in which order its inputs take their step.
func (m Morris) start(trajectory int) (at, order []int) {
	chance := trials.Stream(m.Seed, uint64(trajectory), trials.RegionWide, "screening")
	at = make([]int, m.Inputs)
	for i := range at {
		at[i] = chance.IntN(Levels)
	}
	return at, chance.Perm(m.Inputs)
}

// ranks returns a place of the grid as a point of the unit cube.
func ranks(at []int) []float64 {
	point := make([]float64, len(at))
	for i, k := range at {
		point[i] = float64(k) / (Levels - 1)
	}
	return point
}

// across returns the step from a place of the grid: up from the lower half, down from the upper.
func across(k int) int {
	if k < stride {
		return stride
	}
	return -stride
}

// Effects reads the results at the points, in their order, and tells what each input does. The
// interval of MeanAbs is by bootstrap over trajectories.
func (m Morris) Effects(results []float64) ([]Effect, error) {
	if err := m.check(); err != nil {
		return nil, err
	}
	if err := checkResults(results, m.Trajectories*(m.Inputs+1)); err != nil {
		return nil, err
	}
	elementary := m.elementary(results)
	effects := make([]Effect, m.Inputs)
	for i, list := range elementary {
		mean, sd := stat.MeanStdDev(list, nil)
		effects[i] = Effect{Mean: mean, SD: sd}
	}
	m.bootstrap(effects, elementary)
	return effects, nil
}

// elementary returns the elementary effects by input and trajectory.
func (m Morris) elementary(results []float64) [][]float64 {
	out := make([][]float64, m.Inputs)
	for i := range out {
		out[i] = make([]float64, m.Trajectories)
	}
	for r := range m.Trajectories {
		at, order := m.start(r)
		for k, input := range order {
			before, after := results[r*(m.Inputs+1)+k], results[r*(m.Inputs+1)+k+1]
			out[input][r] = (after - before) * (Levels - 1) / float64(across(at[input]))
		}
	}
	return out
}

// bootstrap fills in the means of absolute effects with their intervals.
func (m Morris) bootstrap(effects []Effect, elementary [][]float64) {
	means := func(rows []int) []float64 {
		out := make([]float64, m.Inputs)
		for i := range out {
			for _, r := range rows {
				out[i] += math.Abs(elementary[i][r]) / float64(len(rows))
			}
		}
		return out
	}
	for i, e := range bootstrap(m.Trajectories, m.Seed, means) {
		effects[i].MeanAbs = e
	}
}

// checkResults tells what is wrong with the results of a design.
func checkResults(results []float64, points int) error {
	if len(results) != points {
		return tongue.Errorf("%d results, allowed: %d, one a point of the design", len(results), points)
	}
	for i, f := range results {
		if math.IsNaN(f) || math.IsInf(f, 0) {
			return tongue.Errorf("result %d is %g, allowed: finite", i+1, f)
		}
	}
	return nil
}
