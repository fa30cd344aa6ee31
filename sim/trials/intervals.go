package trials

import (
	"math"
	"sort"

	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/stat"
	"gonum.org/v1/gonum/stat/distuv"
)

// Level is the confidence of every interval shown to users.
const Level = 0.95

// NewOdds returns how often something held in seasons, with its 95 % Clopper-
// Pearson interval, which covers at least that often whatever the truth. Without
// seasons nothing is known: the interval is 0 to 1.
func NewOdds(met, seasons int) Odds {
	o := Odds{Met: met, Seasons: seasons, Low: 0, High: 1}
	if seasons > 0 {
		o.Share = float64(met) / float64(seasons)
		o.Low, o.High = ClopperPearson(met, seasons, Level)
	}
	return o
}

// ClopperPearson returns the exact two-sided interval of a probability from met of
// n trials. Source: Clopper & Pearson 1934, Biometrika 26, 404.
func ClopperPearson(met, n int, level float64) (low, high float64) {
	a := (1 - level) / 2
	return LowerBound(met, n, 1-a), 1 - LowerBound(n-met, n, 1-a)
}

// LowerBound returns the exact one-sided lower bound of a probability from met of n
// trials.
func LowerBound(met, n int, level float64) float64 {
	if met == 0 {
		return 0
	}
	return distuv.Beta{Alpha: float64(met), Beta: float64(n - met + 1)}.Quantile(1 - level)
}

// NewMean returns the average of one value a season with its 95 % Student t
// interval. One value alone has no interval: both ends are infinite. Values are
// added in the order given, so the same seasons give the same bits.
func NewMean(values []float64) Mean {
	return meanAt(values, Level)
}

func meanAt(values []float64, level float64) Mean {
	n := len(values)
	if n == 0 {
		return Mean{}
	}
	m, sd := stat.MeanStdDev(values, nil)
	if n == 1 {
		return Mean{values[0], math.Inf(-1), math.Inf(1), 1}
	}
	t := distuv.StudentsT{Mu: 0, Sigma: 1, Nu: float64(n - 1)}.Quantile(1 - (1-level)/2)
	half := t * sd / math.Sqrt(float64(n))
	return Mean{m, m - half, m + half, n}
}

// NewAmount returns the average of amounts that by their nature never are below nothing, such as stalks,
// hours or money that comes in, or never above it, such as money paid out, with its 95 % interval.
// That is Student's as of NewMean, but where Student's passes nothing, because few seasons have much of
// it and most have none: there it is Student's on the scale of logarithms, mean · exp(±t · standard
// error / mean), which stays on its side and reaches further away from nothing, as the amounts do. It
// is the interval of a rate after Rothman & Greenland, Modern Epidemiology (from memory); in
// simulations it covers such means more often than Student's and the percentile bootstrap do.
func NewAmount(values []float64) Mean { return onItsSide(NewMean(values), values) }

// onItsSide is the interval of NewAmount from Student's.
func onItsSide(m Mean, values []float64) Mean {
	if m.Mean == 0 || m.Seasons < 2 || m.Low*m.High >= 0 || bothSides(values) {
		return m
	}
	factor := math.Exp((m.High - m.Mean) / math.Abs(m.Mean))
	m.Low, m.High = m.Mean/factor, m.Mean*factor
	if m.Mean < 0 {
		m.Low, m.High = m.High, m.Low
	}
	return m
}

// OfShares returns the mean of a difference of two shares with its interval, Student's, ended where all seasons
// are: two shares cannot differ by more.
func (m Mean) OfShares() Mean {
	m.Low, m.High = max(-1, m.Low), min(1, m.High)
	return m
}

// bothSides tells whether some values are below nothing and others above.
func bothSides(values []float64) bool { return floats.Min(values) < 0 && floats.Max(values) > 0 }

// NewRatio returns the ratio of two means over the same seasons with its 95 % interval by
// linearization: the spread of num − ratio·den over the mean of den. Source: Cochran,
// Sampling Techniques, ratio estimates (from memory). Where the mean of den cannot be told
// from nothing, so cannot the ratio: its interval is open on both sides.
func NewRatio(num, den []float64) Mean {
	n, d := NewMean(num), NewMean(den)
	if d.Seasons < 2 || (d.Low <= 0 && d.High >= 0) {
		return Mean{n.Mean / d.Mean, math.Inf(-1), math.Inf(1), d.Seasons}
	}
	ratio := n.Mean / d.Mean
	rest := make([]float64, len(num))
	for i := range rest {
		rest[i] = (num[i] - ratio*den[i]) / d.Mean
	}
	r := NewMean(rest)
	return Mean{ratio, ratio + (r.Low - r.Mean), ratio + (r.High - r.Mean), d.Seasons}
}

// NewBand returns median and 5 and 95 % quantiles of one value a season: the
// smallest value that at least that share of seasons does not pass.
func NewBand(values []float64) Band {
	f := NewFan(values)
	return Band{f.P5, f.Median, f.P95, f.Seasons}
}

// NewFan returns the quantiles of values from 5 to 95 %: the smallest value that so many do not pass.
func NewFan(values []float64) Fan {
	if len(values) == 0 {
		return Fan{}
	}
	sorted := append([]float64(nil), values...)
	sort.Float64s(sorted)
	q := func(p float64) float64 { return stat.Quantile(p, stat.Empirical, sorted, nil) }
	return Fan{q(0.05), q(0.25), q(0.5), q(0.75), q(0.95), len(values)}
}

// PairedTest returns the two-sided p-value of the exact test that gains and losses
// are equally likely: seasons in which one plan met the month and the other did
// not (McNemar).
func PairedTest(gains, losses int) float64 {
	n := gains + losses
	if n == 0 {
		return 1
	}
	tail := distuv.Binomial{N: float64(n), P: 0.5}.CDF(float64(min(gains, losses)))
	return min(1, 2*tail)
}
