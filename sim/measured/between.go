package measured

import (
	"math"

	"gonum.org/v1/gonum/stat/distuv"

	"drystalk/sim/charge"
	"drystalk/sim/knowledge"
	"drystalk/sim/stalk"
	"drystalk/tongue"
)

// leastSampled is the smallest number of stalks whose wettest tells a spread.
const leastSampled = 5

// spread estimates the spread of drying between stalks from the wettest of the stalks that were read
// one by one at the end of loads: how much slower than the mean of its load it was, as the fitted
// course has it. That over the expectation of the largest of as many normal numbers is the standard
// deviation; over loads it is pooled by its precision, and its interval is that of a chi-square with
// as many degrees of freedom as give the same precision (after Patnaik 1950, from memory). The driest
// stalks tell less: they end at what the air leaves in all.
func (log *ChargeLog) spread(theta []float64) Estimate {
	of := log.Ranges(knowledge.RateSpread)
	e := estimate(of, math.Log(of.Mode), math.Inf(1), 0, 0)
	var read []sample
	for i := range log.Loads {
		if x, ok := log.slower(&log.Loads[i], theta); ok {
			read = append(read, x)
		}
	}
	if e.Lines = len(read); e.Lines == 0 {
		e.Why = tongue.Plainf("no load has the wettest of %d or more stalks, read one by one at its end", leastSampled)
		return e
	}
	var precision float64
	e.Value = of.Mode
	for range rounds {
		if e.Value, precision = pool(read, e.Value); !(e.Value > 0) {
			e.Value = 0
			e.Why = tongue.Say("the wettest stalks were read no wetter than the mean of their loads")
			return e
		}
	}
	return e.pooled(of, precision)
}

// sample is what the stalks of a load that were read one by one tell.
type sample struct {
	stalks int
	by     float64 // how much slower than the mean of the load the wettest was, in the logarithm
	sd     float64 // of that, by how exactly moisture is read
}

// pool returns the standard deviation of the logarithm of rates that samples tell, and how precisely,
// relative to itself, where it is about what was thought.
func pool(read []sample, thought float64) (value, precision float64) {
	sum, weights := 0.0, 0.0
	for _, x := range read {
		largest, differs := largestOfNormals(x.stalks)
		weight := 1 / (square(thought*differs/largest) + square(x.sd/largest))
		sum += weight * x.by / largest
		weights += weight
	}
	return sum / weights, math.Sqrt(weights) / sum
}

// pooled works out interval and verdict of a standard deviation that is known as precisely as said,
// relative to itself.
func (e Estimate) pooled(of knowledge.Range, precision float64) Estimate {
	freedom := max(1, 0.5/square(precision))
	chi := distuv.ChiSquared{K: freedom}
	e.Low, e.High = e.Value*math.Sqrt(freedom/chi.Quantile(0.975)), e.Value*math.Sqrt(freedom/chi.Quantile(0.025))
	e.Freedom = int(freedom)
	e.Carried = e.High/e.Low < of.High/of.Low
	if !e.Carried {
		e.Why = tongue.Plainf("%d lines leave it between %.2g and %.2g, no narrower than what is documented", e.Lines, e.Low, e.High)
		return e
	}
	ends := math.Sqrt(6) / normal * math.Log(e.High/e.Low) / 2
	e.Range = Triangle{e.Value * math.Exp(-ends), e.Value, e.Value * math.Exp(ends)}
	return e
}

// slower returns how much slower than the mean of its load the wettest stalk was; ok is false where
// too few stalks were read, or their moisture tells no rate.
func (log *ChargeLog) slower(l *Load, theta []float64) (x sample, ok bool) {
	if l.Sampled < leastSampled || !has(l.Wettest) {
		return x, false
	}
	course, s := l.course(log.Cabinet, math.Exp(theta[0]), math.Exp(theta[1]))
	point := dry(l.Wettest+pointsSD(log.Exact)) - dry(l.Wettest)
	w, ok1 := faster(&course, s.in, dry(l.Wettest))
	w2, ok2 := faster(&course, s.in, dry(l.Wettest)+point)
	m, ok3 := faster(&course, s.in, s.out)
	m2, ok4 := faster(&course, s.in, s.out+point)
	return sample{l.Sampled, m - w, math.Hypot(m2-m, w2-w)}, ok1 && ok2 && ok3 && ok4
}

// faster returns the logarithm of the rate, over that of the mean stalk, of a stalk that comes out
// with a moisture; ok is false where none does.
func faster(course *charge.Course, in, out float64) (by float64, ok bool) {
	low, high := -2.0, 2.0
	came := func(x float64) float64 { return float64(course.Stalk(stalk.DryBasis(in), math.Exp(x))) }
	if !(came(low) > out && out > came(high)) {
		return 0, false
	}
	for range 40 {
		if mid := (low + high) / 2; came(mid) > out {
			low = mid
		} else {
			high = mid
		}
	}
	return low, true
}

// largestOfNormals returns expectation and standard deviation of the largest of n standard normal
// numbers.
func largestOfNormals(n int) (mean, sd float64) {
	const step, far = 0.01, 8.0
	squares := 0.0
	for x := -far; x <= far; x += step {
		density := step * float64(n) * distuv.UnitNormal.Prob(x) * math.Pow(distuv.UnitNormal.CDF(x), float64(n-1))
		mean += x * density
		squares += x * x * density
	}
	return mean, math.Sqrt(squares - mean*mean)
}
