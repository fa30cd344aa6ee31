package measured

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/diff/fd"
	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/optimize"
	"gonum.org/v1/gonum/stat/distuv"
)

// term is one line of a log at some parameters.
type term struct {
	off      float64 // what was read less what is expected
	variance float64 // of off, by how exactly things are read
	slope    float64 // what off does when the rate of the line rises by its logarithm
}

// problem is a log to be fitted.
type problem struct {
	lines int
	// off returns what is read in a line less what is expected at θ.
	off func(theta []float64, line int) float64
	// term returns off with its variance and its slope.
	term func(theta []float64, line int) term
}

// belief is what is held of a parameter before: a reading more. No deviation: nothing.
type belief struct{ middle, deviation float64 }

// solution is a fitted log.
type solution struct {
	theta  []float64
	se     []float64 // standard errors; infinite where the log says nothing
	dof    int
	excess float64   // τ
	scaled []float64 // off by line over its standard deviation, excess included
	sd     []float64 // that standard deviation
}

// farOff is how far parameters may go from where they start, in the logarithm: a factor of 20.
var farOff = math.Log(20)

// rounds is how often variances and excess are worked out anew at what was fitted; they settle in two
// or three.
const rounds = 4

// solve fits a log from a start, with beliefs by parameter.
func (p *problem) solve(start []float64, beliefs []belief) solution {
	s := solution{theta: append([]float64(nil), start...), dof: p.lines}
	for _, b := range beliefs {
		if b.deviation == 0 {
			s.dof--
		}
	}
	terms := make([]term, p.lines)
	s.sd = make([]float64, p.lines)
	for round := range rounds {
		for i := range terms {
			terms[i] = p.term(s.theta, i)
		}
		if round > 1 { // what a start is off by is no excess
			s.excess = excess(terms, s.dof)
		}
		for i, t := range terms {
			s.sd[i] = t.sd(s.excess)
		}
		p.descend(&s, start, beliefs, square)
	}
	s.scaled = make([]float64, p.lines)
	for i := range s.scaled {
		s.scaled[i] = p.off(s.theta, i) / s.sd[i]
	}
	p.errors(&s, beliefs)
	return s
}

// descend moves the parameters to the least sum of losses: of squares, or of what is kinder to lines
// far off.
func (p *problem) descend(s *solution, start []float64, beliefs []belief, loss func(z float64) float64) {
	sum := func(theta []float64) float64 {
		total := 0.0
		for j := range theta {
			if d := math.Abs(theta[j]-start[j]) - farOff; d > 0 {
				total += 1e6 * d * d
			}
			if b := beliefs[j]; b.deviation > 0 {
				total += square((theta[j] - b.middle) / b.deviation)
			}
		}
		for i := range p.lines {
			total += loss(p.off(theta, i) / s.sd[i])
		}
		return total
	}
	grad := func(grad, theta []float64) {
		fd.Gradient(grad, sum, theta, &fd.Settings{Formula: fd.Central, Step: 1e-4})
	}
	task := optimize.Problem{Func: sum, Grad: grad}
	best, err := optimize.Minimize(task, s.theta, &optimize.Settings{GradientThreshold: 1e-4, MajorIterations: 60}, &optimize.BFGS{})
	if err != nil || best.Status == optimize.IterationLimit { // where the sum has a bend: by values alone
		best, _ = optimize.Minimize(task, s.theta, &optimize.Settings{
			Converger: &optimize.FunctionConverge{Absolute: 1e-6, Iterations: 20}, MajorIterations: 400,
		}, &optimize.NelderMead{SimplexSize: 0.1})
	}
	if best != nil && best.F <= sum(s.theta) {
		copy(s.theta, best.X)
	}
}

func square(x float64) float64 { return x * x }

// excess returns the spread of rates beyond what readings explain: such that the sum of squares is
// its degrees of freedom.
func excess(terms []term, dof int) float64 {
	left := func(tau float64) float64 {
		sum := -float64(dof)
		for _, t := range terms {
			sum += t.off * t.off / (t.variance + tau*tau*t.slope*t.slope)
		}
		return sum
	}
	low, high := 0.0, 1.0
	if dof <= 0 || !(left(low) > 0) {
		return 0
	}
	for range 40 {
		if mid := (low + high) / 2; left(mid) > 0 {
			low = mid
		} else {
			high = mid
		}
	}
	return high
}

// oddAt is how many deviations a line may be off before it is called odd: chance does so about once in
// fifteen thousand lines.
const oddAt = 4

// oddFrom is how much, in the logarithm of its rate, a line is off at least before it is called odd.
const oddFrom = 0.25

// mostExcess is the spread from line to line beyond which no log is believed.
const mostExcess = 0.5

// odd tells which lines lie further off than chance has it beside the others. It fits with a loss
// that grows with the logarithm far off (Cauchy's), and takes the spread from line to line from the
// median, so that a slip moves neither.
func (p *problem) odd(start []float64, beliefs []belief) []bool {
	s := solution{theta: append([]float64(nil), start...), sd: make([]float64, p.lines)}
	terms := make([]term, p.lines)
	for range rounds {
		for i := range terms {
			terms[i] = p.term(s.theta, i)
		}
		s.excess = excessOfMedian(terms)
		for i, t := range terms {
			s.sd[i] = t.sd(s.excess)
		}
		p.descend(&s, start, beliefs, func(z float64) float64 { return 9 * math.Log1p(z*z/9) })
	}
	out := make([]bool, p.lines)
	for i := range out {
		t := p.term(s.theta, i)
		out[i] = math.Abs(t.off) > oddAt*t.sd(s.excess) && math.Abs(t.off) > oddFrom*math.Abs(t.slope)
	}
	return out
}

// sd returns the standard deviation of a line with a spread of rates.
func (t *term) sd(excess float64) float64 {
	return math.Sqrt(t.variance + excess*excess*t.slope*t.slope)
}

// excessOfMedian returns the spread of rates with which half of the lines are as far off as half of
// normal numbers are.
func excessOfMedian(terms []term) float64 {
	const ofNormals = 0.6745
	median := func(tau float64) float64 {
		list := make([]float64, len(terms))
		for i, t := range terms {
			list[i] = math.Abs(t.off) / t.sd(tau)
		}
		slices.Sort(list)
		return list[len(list)/2]
	}
	low, high := 0.0, mostExcess
	if median(0) <= ofNormals {
		return 0
	}
	for range 30 {
		if mid := (low + high) / 2; median(mid) > ofNormals {
			low = mid
		} else {
			high = mid
		}
	}
	return high
}

// errors works out the standard errors.
func (p *problem) errors(s *solution, beliefs []belief) {
	n := len(s.theta)
	jac := mat.NewDense(p.lines, n, nil)
	fd.Jacobian(jac, func(y, theta []float64) {
		for i := range y {
			y[i] = p.off(theta, i) / s.sd[i]
		}
	}, s.theta, &fd.JacobianSettings{Formula: fd.Central})
	sum := 0.0
	for _, z := range s.scaled {
		sum += z * z
	}
	perDOF := 1.0 // of what is held of it by beliefs alone
	if s.dof > 0 {
		perDOF = sum / float64(s.dof)
	}
	var info mat.Dense
	info.Mul(jac.T(), jac)
	info.Scale(1/perDOF, &info)
	for j, b := range beliefs {
		if b.deviation > 0 {
			info.Set(j, j, info.At(j, j)+1/square(b.deviation))
		}
	}
	s.se = deviations(&info, s.dof)
}

// nothing is the information on a logarithm below which there is none: a standard error of 100.
const nothing = 1e-4

// deviations returns the standard errors that information gives; infinite where there is none.
func deviations(info *mat.Dense, dof int) []float64 {
	n, _ := info.Dims()
	se := make([]float64, n)
	var told []int // parameters that something is known of
	for j := range se {
		if se[j] = math.Inf(1); info.At(j, j) > nothing && dof > 0 {
			told = append(told, j)
		}
	}
	if len(told) == 0 {
		return se
	}
	part := mat.NewDense(len(told), len(told), nil)
	for a, i := range told {
		for b, j := range told {
			part.Set(a, b, info.At(i, j))
		}
	}
	var cov mat.Dense
	if err := cov.Inverse(part); err != nil {
		return se
	}
	for a, j := range told {
		if v := cov.At(a, a); v > 0 {
			se[j] = math.Sqrt(v)
		}
	}
	return se
}

// studentT returns the 97.5 % quantile of Student's distribution.
func studentT(dof int) float64 {
	if dof <= 0 {
		return math.Inf(1)
	}
	return distuv.StudentsT{Mu: 0, Sigma: 1, Nu: float64(dof)}.Quantile(0.975)
}
