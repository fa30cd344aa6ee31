package weather

import (
	"math"

	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/mathext"
	"gonum.org/v1/gonum/stat"
)

// classOf returns the class of amounts of a clock day.
func (c *Climate) classOf(d int) int {
	switch x := float64(d); {
	case x < c.OnsetDay || x >= c.WithdrawalDay:
		return 2
	case x >= (c.OnsetDay+c.WithdrawalDay)/2:
		return 1
	}
	return 0
}

// fitAmounts fits the mixed exponentials of the three classes, pooled where wet days are
// few.
func (f *fitter) fitAmounts() {
	var byClass [3][]float64
	var pooled []float64
	for _, o := range f.observations() {
		if o.rain >= 1 {
			y := (o.rain - 0.95) / f.c.ExcessMM[o.clockDay]
			k := f.c.classOf(o.clockDay)
			byClass[k] = append(byClass[k], y)
			pooled = append(pooled, y)
		}
	}
	for k := range byClass {
		if len(byClass[k]) < fewestForClass {
			byClass[k] = pooled
		}
		f.c.Classes[k] = FitMixedExponential(byClass[k])
	}
}

// FitMixedExponential fits amounts over their mean by expectation-maximisation: 300 rounds
// from P 0.4, B1 0.3, B2 1.6, the means scaled to 1 at the end. With w(y) = (P/B1) e^(−y/B1)
// over the density of y, a round sets P to the mean of w, B1 to Σwy/Σw, and B2 to
// Σ(1−w)y/Σ(1−w).
func FitMixedExponential(y []float64) MixedExponential {
	m := MixedExponential{0.4, 0.3, 1.6}
	for range 300 {
		var w, wy, ry float64
		for _, v := range y {
			a, b := m.P/m.B1*math.Exp(-v/m.B1), (1-m.P)/m.B2*math.Exp(-v/m.B2)
			share := a / (a + b)
			w += share
			wy += share * v
			ry += (1 - share) * v
		}
		n := float64(len(y))
		m = MixedExponential{w / n, wy / w, ry / (n - w)}
	}
	scale := m.P*m.B1 + (1-m.P)*m.B2
	m.B1, m.B2 = m.B1/scale, m.B2/scale
	return m
}

// FitGamma returns shape and scale of a gamma law by maximum likelihood: Newton's method
// from Thom's approximation (Thom 1958, Monthly Weather Review 86, 117).
func FitGamma(y []float64) (shape, scale float64) {
	logs := 0.0
	for _, v := range y {
		logs += math.Log(v)
	}
	a := math.Log(stat.Mean(y, nil)) - logs/float64(len(y))
	shape = (1 + math.Sqrt(1+4*a/3)) / (4 * a)
	for range 20 {
		miss := math.Log(shape) - mathext.Digamma(shape) - a
		shape -= miss / (1/shape - mathext.Zeta(2, shape))
	}
	return shape, stat.Mean(y, nil) / shape
}

// gammaClasses stands the textbook gamma in the mixed form that matches its variance: used
// by the plain mode alone, whose amounts do not persist.
func (f *fitter) gammaClasses() [3]MixedExponential {
	var y []float64
	for _, o := range f.observations() {
		if o.rain >= 1 {
			y = append(y, (o.rain-0.95)/f.c.ExcessMM[o.clockDay])
		}
	}
	shape, _ := FitGamma(y)
	// Variance 1/shape: P B1² + (1−P) B2² = (1/shape + 1)/2 with mean 1 and P = 0.7.
	const p = 0.7
	second := (1/shape + 1) / 2
	gap := math.Sqrt(max(0, second-1) / (p * (1 - p)))
	mix := MixedExponential{p, 1 - (1-p)*gap, 1 + p*gap}
	if mix.B1 < 0.05 {
		mix.B1 = 0.05
		mix.B2 = (1 - p*mix.B1) / (1 - p)
	}
	return [3]MixedExponential{mix, mix, mix}
}

// lags is by how many days wet days may lie apart for the persistence of amounts.
const lags = 6

// fitPersistence fits how amounts persist: the rank correlation of wet days k days apart,
// as a share that decays by a factor a day. The factor is sought in steps of a hundredth, the
// share for each by least squares.
func (f *fitter) fitPersistence() {
	r, weight := f.rankCorrelations()
	best := math.Inf(1)
	for phi := 0.0; phi < 0.96; phi += 0.01 {
		top, bottom := 0.0, 1e-12
		for k := 1; k <= lags; k++ {
			top += weight[k] * r[k] * math.Pow(phi, float64(k))
			bottom += weight[k] * math.Pow(phi, float64(2*k))
		}
		a := max(0, min(0.95, top/bottom))
		miss := 0.0
		for k := 1; k <= lags; k++ {
			e := r[k] - a*math.Pow(phi, float64(k))
			miss += weight[k] * e * e
		}
		if miss < best {
			best, f.c.SlowShare, f.c.SlowPersistence = miss, a, phi
		}
	}
}

// rankCorrelations returns the correlation of the scores of amounts of wet days 1 to lags days
// apart, from that of their ranks (2 sin(πr/6), Pearson 1907), and the number of pairs. With 30
// pairs or fewer both are 0.
func (f *fitter) rankCorrelations() (r, pairs [lags + 1]float64) {
	obs := f.observations()
	rank := ranksOfAmounts(obs, &f.c.ExcessMM)
	at := map[[2]int]int{}
	for i, o := range obs {
		if o.rain >= 1 {
			at[[2]int{o.year, o.day}] = i
		}
	}
	for k := 1; k <= lags; k++ {
		var x, y []float64
		for i, o := range obs {
			if o.rain < 1 {
				continue
			}
			if j, ok := at[[2]int{o.year, o.day + k}]; ok {
				x, y = append(x, rank[i]), append(y, rank[j])
			}
		}
		if len(x) > 30 {
			r[k], pairs[k] = 2*math.Sin(math.Pi*stat.Correlation(x, y, nil)/6), float64(len(x))
		}
	}
	return r, pairs
}

// ranksOfAmounts returns the rank, 0 to 1, of each wet day's amount over its mean. Equal
// amounts keep the order of their days.
func ranksOfAmounts(obs []observation, excess *[365]float64) []float64 {
	var wet []int
	var amount []float64
	for i, o := range obs {
		if o.rain >= 1 {
			wet = append(wet, i)
			amount = append(amount, (o.rain-0.95)/excess[o.clockDay])
		}
	}
	order := make([]int, len(wet))
	floats.ArgsortStable(amount, order)
	rank := make([]float64, len(obs))
	for k, i := range order {
		rank[wet[i]] = float64(k) / float64(len(wet))
	}
	return rank
}
