package decide

import (
	"math"

	"gonum.org/v1/gonum/stat/distuv"

	"drystalk/sim/trials"
)

// Proof says which numbers of dryers are proven to be enough or not, whatever the
// distribution of seasons, at 95 % in all.
//
// The needed number of a season is the smallest that meets its month, and stays enough with
// every further dryer that was tried; the smallest number that reaches the target odds p is
// the p-quantile of the needed numbers, and order statistics hold it at a stated confidence
// (Conover, Practical Nonparametric Statistics; from memory). The upper end must hold for
// every contract month, which costs no correction (intersection-union test, Berger 1982,
// Technometrics 24, 295; from memory); that some month fails below the lower end is corrected
// for the number of months (Bonferroni, weighted by what the search seasons miss, which are apart); the error is shared out among the planned looks. No number need
// be better than a smaller one for this to hold: the upper end counts a season as met only
// where all larger numbers tried meet it too, the lower end where any smaller one does.
type Proof struct {
	Level     float64 `json:"confidence_level"`
	Enough    int     `json:"enough_dryers"`     // dryers proven to reach the target; -1 if none
	NotEnough int     `json:"not_enough_dryers"` // dryers proven to miss it, with all smaller numbers; -1 if none
	Undecided []int   `json:"undecided_dryers"`  // numbers in between
	Seasons   int     `json:"seasons"`
	Looks     int     `json:"looks"`         // at the seasons so far
	Planned   int     `json:"planned_looks"` // for which the confidence is shared out
	Fewer     int     `json:"fewer_met_with_more"`
	Pairs     int     `json:"pairs_looked_at"` // season, month and one dryer more
	MoreNeed  int     `json:"seasons_to_decide"`
}

// Decided tells whether the answer is a single number: one is enough and one fewer is not, or was
// not asked for because it stands already.
func (g *Proof) Decided() bool { return g.Enough >= 0 && len(g.Undecided) == 0 }

// proofOf proves what it can from plans of consecutive numbers of dryers, the first of
// which has fewest: met tells by plan, contract month and season whether the month was met. What
// it calls is wrong with probability err at most. The part of it that calls a number too few is
// shared out among the months by weights that add up to 1, equally unless they are given.
func proofOf(met [][][]bool, fewest int, target, err float64, weights ...float64) Proof {
	g := Proof{Level: trials.Level, Enough: -1, NotEnough: fewest - 1}
	months := len(met[0])
	if months == 0 || len(met[0][0]) == 0 {
		return g
	}
	n := len(met[0][0])
	g.Seasons = n
	// The number of the s-th of n ordered needs is an upper bound of their p-quantile; the number of
	// the r-th a lower bound.
	s := upperRank(n, target, 1-err/2)
	k := len(met)
	for month := range months {
		stays, first := make([]int, k+1), make([]int, k+1) // seasons by needed number; k: none
		for i := range n {
			stays[needStays(met, month, i)]++
			first[needFirst(met, month, i)]++
		}
		if u := nth(stays, s); u > g.Enough {
			g.Enough = u
		}
		r := lowerRank(n, target, err/2*weightOf(month, months, weights))
		if l := nth(first, r); fewest+l-1 > g.NotEnough {
			g.NotEnough = fewest + l - 1
		}
	}
	g.fewerWithMore(met)
	if g.Enough >= k {
		g.Enough = -1
	} else {
		g.Enough += fewest
	}
	last := fewest + k - 1
	g.NotEnough = min(g.NotEnough, last)
	for d := g.NotEnough + 1; d <= last && (g.Enough < 0 || d < g.Enough); d++ {
		g.Undecided = append(g.Undecided, d)
	}
	g.MoreNeed = seasonsToDecide(met, fewest, g.Undecided, target, err)
	return g
}

// weightOf returns the weight of a month, all equal unless they are given.
func weightOf(month, months int, weights []float64) float64 {
	if len(weights) == 0 {
		return 1 / float64(months)
	}
	return weights[month]
}

// needStays returns the smallest plan from which on all plans meet the month of a season.
func needStays(met [][][]bool, month, i int) int {
	k := len(met)
	for k > 0 && met[k-1][month][i] {
		k--
	}
	return k
}

// needFirst returns the smallest plan that meets the month of a season.
func needFirst(met [][][]bool, month, i int) int {
	for k := range met {
		if met[k][month][i] {
			return k
		}
	}
	return len(met)
}

// nth returns the value of the rank-th smallest of values counted by value; the largest for
// a rank beyond them, the smallest for rank 0 or less.
func nth(counts []int, rank int) int {
	if rank <= 0 {
		return 0
	}
	for v, c := range counts {
		if rank -= c; rank <= 0 {
			return v
		}
	}
	return len(counts) - 1
}

// upperRank returns the smallest rank s from 1 with P(Bin(n, p) ≤ s−1) ≥ level: the s-th of
// n ordered values is at least the p-quantile with that confidence. n+1 if there is none. The
// level is at least one half, so the rank lies above the mean.
func upperRank(n int, p, level float64) int {
	b := distuv.Binomial{N: float64(n), P: p}
	s := max(1, int(float64(n)*p))
	for s <= n && b.CDF(float64(s-1)) < level {
		s++
	}
	return s
}

// lowerRank returns the largest rank r with P(Bin(n, p) ≤ r−1) ≤ alpha; 0 if there is none.
func lowerRank(n int, p, alpha float64) int {
	b := distuv.Binomial{N: float64(n), P: p}
	r := int(float64(n)*p) + 1
	for r > 0 && b.CDF(float64(r-1)) > alpha {
		r--
	}
	return r
}

// fewerWithMore counts how often one dryer more missed a month that was met, in the seasons that
// both numbers have lived through.
func (g *Proof) fewerWithMore(met [][][]bool) {
	g.Pairs, g.Fewer = 0, 0
	for k := 1; k < len(met); k++ {
		for month := range met[k] {
			for i := range min(len(met[k][month]), len(met[k-1][month])) {
				g.Pairs++
				if met[k-1][month][i] && !met[k][month][i] {
					g.Fewer++
				}
			}
		}
	}
}

// seasonsToDecide estimates how many seasons in all would settle the undecided numbers: those
// after which the interval of the one closest to the target, at an error, no longer holds it. 0 if
// nothing is undecided.
func seasonsToDecide(met [][][]bool, fewest int, undecided []int, target, err float64) int {
	need := 0.0
	z := distuv.UnitNormal.Quantile(1 - err/2/float64(len(met[0])))
	for _, d := range undecided {
		lowest := 1.0
		for _, month := range met[d-fewest] {
			lowest = min(lowest, float64(count(month))/float64(len(month)))
		}
		gap := math.Abs(lowest - target)
		if gap < 1e-4 {
			gap = 1e-4
		}
		need = max(need, z*z*target*(1-target)/(gap*gap))
	}
	return int(math.Ceil(need/100) * 100)
}

// eachBound is the proof where plans cannot be put together from sites, such as where
// stalks are hauled: each number is tested by itself, and the confidence is shared out among
// them (Bonferroni). It needs no order between the numbers.
func eachBound(met [][][]bool, fewest int, target, err float64, weights ...float64) Proof {
	g := Proof{Level: trials.Level, Enough: -1, NotEnough: fewest - 1}
	alpha := err / float64(len(met))
	allBelow := true
	for k := range met {
		enough, fails := true, false
		for m, month := range met[k] {
			n := len(month)
			g.Seasons = n
			c := count(month)
			enough = enough && trials.LowerBound(c, n, 1-alpha/2) >= target
			fails = fails || 1-trials.LowerBound(n-c, n, 1-alpha/2*weightOf(m, len(met[k]), weights)) < target
		}
		d := fewest + k
		switch {
		case enough && g.Enough < 0:
			g.Enough = d
		case fails && allBelow:
			g.NotEnough = d
		case g.Enough < 0:
			g.Undecided = append(g.Undecided, d)
		}
		allBelow = allBelow && fails
	}
	g.fewerWithMore(met)
	g.MoreNeed = seasonsToDecide(met, fewest, g.Undecided, target, err)
	return g
}
