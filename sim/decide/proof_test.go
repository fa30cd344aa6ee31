package decide

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/stat/distuv"
)

// metOf makes seasons of one month from needed numbers: plan k meets what needs at most k.
func metOf(plans int, needs []float64) [][][]bool {
	met := make([][][]bool, plans)
	for k := range met {
		month := make([]bool, len(needs))
		for i, x := range needs {
			month[i] = x <= float64(k)
		}
		met[k] = [][]bool{month}
	}
	return met
}

// toys are models whose needed number is known: demand over what one dryer dries, rounded up.
// Probabilities recomputed from the distributions: at the needed number and one fewer.
func toys() []struct {
	name   string
	draw   func(rng *rand.Rand) float64
	target float64
	needed int
	with   float64
	fewer  float64
} {
	type toy = struct {
		name   string
		draw   func(rng *rand.Rand) float64
		target float64
		needed int
		with   float64
		fewer  float64
	}
	exp := func(mean float64) func(*rand.Rand) float64 {
		return func(rng *rand.Rand) float64 { return math.Ceil(mean * rng.ExpFloat64()) }
	}
	gamma := func(shape, mean float64) func(*rand.Rand) float64 {
		return func(rng *rand.Rand) float64 {
			return math.Ceil(distuv.Gamma{Alpha: shape, Beta: shape / mean, Src: rng}.Rand())
		}
	}
	return []toy{
		{"exponential, mean 3.2", exp(3.2), 0.90, 8, 0.9179, 0.8878},
		{"exponential, mean 3.2", exp(3.2), 0.95, 10, 0.9561, 0.9399},
		{"exponential, mean 3.0", exp(3.0), 0.95, 9, 0.9502, 0.9305},
		{"gamma 4, mean 6", gamma(4, 6), 0.90, 11, 0.9340, 0.8991},
		{"gamma 9, mean 20", gamma(9, 20), 0.95, 33, 0.9595, 0.9491},
	}
}

// experiments is how often each proof is tried.
const experiments = 1000

// atLeast95 is what a share of experiments must reach to be consistent with 95 %.
var atLeast95 = 0.95 - 3*math.Sqrt(0.05*0.95/experiments)

// inLooks looks at a model as the question of dryers does, with 1,000 seasons stated, a limit of
// 2,000 and up to 4,000 for one open number. It returns what is proven and how many seasons of
// single numbers were lived through.
func inLooks(numbers int, target float64, draw func() float64) (g Proof, lived int) {
	var needs []float64
	s := sequence{
		looks: looksAt(1000, 4000), limit: 2000, numbers: numbers,
		prove: func(met [][][]bool, fewest int, err float64) Proof { return proofOf(met, fewest, target, err) },
	}
	g, _ = s.run(func(open Proof, upto int) ([][][]bool, error) {
		lived += (upto - len(needs)) * len(open.Undecided)
		for len(needs) < upto {
			needs = append(needs, draw())
		}
		var met [][][]bool
		for _, n := range open.Undecided {
			month := make([]bool, len(needs))
			for i, x := range needs {
				month[i] = x <= float64(n)
			}
			met = append(met, [][]bool{month})
		}
		return met, nil
	})
	return g, lived
}

// The proof holds on models with known truth where hopeless numbers and those beyond doubt are
// left out look by look: in at least 95 % of repeated experiments what it calls enough is enough
// and what it calls too few is too few. The naive answer, the smallest number whose share reaches
// the target, is right far less often.
func TestProofHolds(t *testing.T) {
	models := toys()
	require.Len(t, models, 5)
	for _, toy := range models {
		rng := rand.New(rand.NewPCG(11, uint64(toy.needed)))
		draw := func() float64 { return toy.draw(rng) }
		right, naiveRight, decided, seasons, lived := 0, 0, 0, 0, 0
		for range experiments {
			g, n := inLooks(toy.needed+12, toy.target, draw)
			seasons, lived = seasons+g.Seasons, lived+n
			if (g.Enough < 0 || g.Enough >= toy.needed) && g.NotEnough < toy.needed {
				right++
			}
			if g.Decided() {
				decided++
				assert.LessOrEqual(t, g.Seasons, 4000)
			}
			needs := make([]float64, 200)
			for i := range needs {
				needs[i] = draw()
			}
			if naive(needs, toy.target) == toy.needed {
				naiveRight++
			}
		}
		t.Logf("%s, target %.2f: right %.3f, naive with 200 seasons %.3f; decided %.3f after %.0f seasons on average, %.0f of single numbers",
			toy.name, toy.target, float64(right)/experiments, float64(naiveRight)/experiments, float64(decided)/experiments, float64(seasons)/experiments, float64(lived)/experiments)
		assert.GreaterOrEqual(t, float64(right)/experiments, 0.95, toy.name)
		assert.Less(t, float64(naiveRight)/experiments, atLeast95, "the naive answer of %s", toy.name)
	}
}

// Looks at numbers without an order between them: the largest that is not enough, 3, is met in
// nearly as many seasons as asked, a smaller one in more. No experiment too many calls it, or one
// below, enough.
func TestProofHoldsInLooksWithoutOrder(t *testing.T) {
	rng := rand.New(rand.NewPCG(8, 9))
	p := []float64{0.5, 0.93, 0.80, 0.895, 0.96}
	wrong, decided := 0, 0
	for range experiments {
		var rows [][]bool
		s := sequence{
			looks: looksAt(1000, 2000), limit: 2000, numbers: len(p),
			prove: func(met [][][]bool, fewest int, err float64) Proof { return proofOf(met, fewest, 0.9, err) },
		}
		g, _ := s.run(func(open Proof, upto int) ([][][]bool, error) {
			for len(rows) < upto {
				row := make([]bool, len(p))
				for k := range p {
					row[k] = rng.Float64() < p[k]
				}
				rows = append(rows, row)
			}
			var met [][][]bool
			for _, n := range open.Undecided {
				month := make([]bool, len(rows))
				for i := range rows {
					month[i] = rows[i][n]
				}
				met = append(met, [][]bool{month})
			}
			return met, nil
		})
		if g.Enough >= 0 && p[g.Enough] < 0.9 || g.NotEnough >= 1 {
			wrong++
		}
		if g.Enough >= 0 {
			decided++
		}
	}
	assert.LessOrEqual(t, float64(wrong)/experiments, 0.05)
	assert.Positive(t, decided)
}

// naive is the smallest number whose share of seasons reaches the target.
func naive(needs []float64, target float64) int {
	for k := 0; ; k++ {
		n := 0
		for _, x := range needs {
			if x <= float64(k) {
				n++
			}
		}
		if float64(n) >= target*float64(len(needs)) {
			return k
		}
	}
}

// Two months at their targets at once: the answer is right as often as promised, though no
// correction is made for the upper end.
func TestProofOverMonths(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 5))
	right, weighted := 0, 0
	for range experiments {
		met := make([][][]bool, 16)
		for k := range met {
			met[k] = [][]bool{make([]bool, 800), make([]bool, 800), make([]bool, 800)}
		}
		for i := range 800 {
			shared := rng.ExpFloat64()
			for month := range 3 {
				x := math.Ceil(3.2 * (0.5*shared + 0.5*rng.ExpFloat64()) * 1.3)
				for k := range met {
					met[k][month][i] = x <= float64(k)
				}
			}
		}
		g, w := proofOf(met, 0, 0.9, 0.05), proofOf(met, 0, 0.9, 0.05, 0.9, 0.06, 0.04)
		// The mean of two exponentials of rate 1: P(≤ x) = 1−e^(−2x)(1+2x); ×4.16.
		needed := 0
		for 1-math.Exp(-2*float64(needed)/4.16)*(1+2*float64(needed)/4.16) < 0.9 {
			needed++
		}
		if g.Enough >= needed && g.NotEnough < needed {
			right++
		}
		if w.Enough >= needed && w.NotEnough < needed {
			weighted++
		}
	}
	assert.GreaterOrEqual(t, float64(right)/experiments, atLeast95)
	assert.GreaterOrEqual(t, float64(weighted)/experiments, atLeast95, "whatever the weights")
}

// A number that is worse than a smaller one does not break the promise: it is not called
// enough where it is not.
func TestProofWithoutOrder(t *testing.T) {
	rng := rand.New(rand.NewPCG(8, 8))
	p := []float64{0.5, 0.93, 0.80, 0.96} // two dryers are worse than one
	wrong := 0
	for range experiments {
		met := make([][][]bool, len(p))
		for k := range met {
			met[k] = [][]bool{make([]bool, 600)}
			for i := range 600 {
				met[k][0][i] = rng.Float64() < p[k]
			}
		}
		for _, g := range []Proof{proofOf(met, 0, 0.9, 0.05), eachBound(met, 0, 0.9, 0.05)} {
			if g.Enough >= 0 && p[g.Enough] < 0.9 || g.NotEnough >= 1 {
				wrong++
			}
		}
		require.Positive(t, proofOf(met, 0, 0.9, 0.05).Fewer)
	}
	assert.LessOrEqual(t, float64(wrong)/(2*experiments), 0.05)
}

// Ranks of the order-statistic interval of a quantile at 95 % (Conover, Practical Nonparametric
// Statistics, from memory), computed with a general statistics library.
func TestRanksOfQuantiles(t *testing.T) {
	for _, tt := range []struct {
		n    int
		p    float64
		r, s int
	}{
		{20, 0.5, 6, 15},
		{50, 0.5, 18, 33},
		{100, 0.5, 40, 61},
		{100, 0.9, 84, 96},
		{200, 0.95, 184, 197},
		{500, 0.95, 465, 485},
		{1000, 0.95, 936, 964},
		{1000, 0.99, 983, 997},
		{2000, 0.9, 1773, 1827},
		// Of two values both lie above the 90 % quantile once in a hundred, so the smaller bounds it
		// from below, and nothing does from above.
		{2, 0.9, 1, 3},
	} {
		assert.Equal(t, []int{tt.r, tt.s}, []int{lowerRank(tt.n, tt.p, 0.025), upperRank(tt.n, tt.p, 0.975)}, "n %d p %g", tt.n, tt.p)
	}
	// The median of two values lies between them with probability 1/2 exactly.
	assert.Equal(t, []int{1, 2}, []int{lowerRank(2, 0.5, 0.25), upperRank(2, 0.5, 0.75)})
}

// By hand: of 29 seasons without a failure 0.9 is proven at one-sided 95 % (acceptance tables
// of reliability demonstration: 29, 46, 61 for 0, 1 and 2 failures), so with one look and both
// sides at 97.5 % it takes 36; the ranks are those of the order statistics.
func TestProofByHand(t *testing.T) {
	assert.Equal(t, 29, upperRank(29, 0.9, 0.95))
	assert.Equal(t, 29, upperRank(28, 0.9, 0.95), "28 are not enough: no rank")
	assert.Equal(t, 45, upperRank(46, 0.9, 0.95))
	assert.Equal(t, 59, upperRank(61, 0.9, 0.95))

	needs := make([]float64, 36)
	for i := range needs {
		needs[i] = 2
	}
	g := proofOf(metOf(4, needs), 0, 0.9, 0.05)
	assert.Equal(t, 2, g.Enough)
	assert.Equal(t, 1, g.NotEnough)
	assert.True(t, g.Decided())
	g = proofOf(metOf(4, needs[:35]), 0, 0.9, 0.05)
	assert.Equal(t, -1, g.Enough, "35 prove nothing")
	assert.Equal(t, []int{2, 3}, g.Undecided)
	assert.Positive(t, g.MoreNeed)
	for i := range needs {
		needs[i] = 99
	}
	g = proofOf(metOf(4, needs), 0, 0.9, 0.05)
	assert.Equal(t, -1, g.Enough)
	assert.Equal(t, 3, g.NotEnough, "no number tried is enough")
	assert.Empty(t, g.Undecided)
}

// Wrong ways to decide fail the test that the proof passes: a share instead of a bound,
// the Wald interval, and looking again and again without sharing out the confidence.
func TestWrongWaysFail(t *testing.T) {
	toy := toys()[2] // 9 dryers reach 0.9502 against a target of 0.95; 8 reach 0.9305
	rng := rand.New(rand.NewPCG(3, 3))
	share, wald := 0, 0
	for range experiments {
		needs := make([]float64, 60)
		for i := range needs {
			needs[i] = toy.draw(rng)
		}
		if naive(needs, toy.target) < toy.needed {
			share++
		}
		n := 0
		for _, x := range needs[:20] {
			if x <= 8 {
				n++
			}
		}
		p := float64(n) / 20
		if p-1.96*math.Sqrt(p*(1-p)/20) >= toy.target { // no failure in 20: an interval without width
			wald++
		}
	}
	assert.Greater(t, float64(share)/experiments, 0.05)
	assert.Greater(t, float64(wald)/experiments, 0.05)
}

// Numbers that do not begin at none, by hand: of 36 seasons that each need the third of four
// numbers from 5 on, 7 are enough and 6 are not; all below 5 are taken to be too few.
func TestProofFromANumberOn(t *testing.T) {
	needs := make([]float64, 36)
	for i := range needs {
		needs[i] = 2
	}
	g := proofOf(metOf(4, needs), 5, 0.9, 0.05)
	assert.Equal(t, Proof{Level: 0.95, Enough: 7, NotEnough: 6, Seasons: 36, Pairs: 3 * 36}, g)
	g = proofOf(metOf(4, needs[:20]), 5, 0.9, 0.05)
	assert.Equal(t, -1, g.Enough)
	assert.Equal(t, 6, g.NotEnough)
	assert.Equal(t, []int{7, 8}, g.Undecided)
	g = proofOf(metOf(2, needs), 5, 0.9, 0.05)
	assert.Equal(t, -1, g.Enough)
	assert.Equal(t, 6, g.NotEnough, "the last that was tried")
	assert.Empty(t, g.Undecided)
	g = proofOf(metOf(1, make([]float64, 36)), 5, 0.9, 0.05)
	assert.Equal(t, 5, g.Enough)
	assert.Equal(t, 4, g.NotEnough)
	assert.True(t, g.Decided())
}

// Two planned looks share the confidence: 43 seasons without a failure prove 0.9 (0.9^42 =
// 0.0120 is below 0.0125, 0.9^41 = 0.0133 is not), where one look takes 36.
func TestPlannedLooksShareTheConfidence(t *testing.T) {
	for _, tt := range []struct{ seasons, planned, enough int }{{36, 1, 0}, {35, 1, -1}, {42, 2, 0}, {41, 2, -1}} {
		err := 0.05 / float64(tt.planned)
		met := metOf(2, make([]float64, tt.seasons))
		assert.Equal(t, tt.enough, proofOf(met, 0, 0.9, err).Enough, "%+v", tt)
		one := met[:1] // by itself: the same bound
		assert.Equal(t, tt.enough, eachBound(one, 0, 0.9, err).Enough, "%+v", tt)
	}
}

// Without months or seasons nothing is proven.
func TestProofOfNothing(t *testing.T) {
	want := Proof{Level: 0.95, Enough: -1, NotEnough: 2}
	assert.Equal(t, want, proofOf([][][]bool{{}}, 3, 0.9, 0.05))
	assert.Equal(t, want, proofOf([][][]bool{{{}}}, 3, 0.9, 0.05))
}

// Needed numbers of a season and ranks, by hand.
func TestNeedsByHand(t *testing.T) {
	met := [][][]bool{{{false, true, false}}, {{true, false, false}}, {{true, true, false}}}
	for i, want := range [][2]int{{1, 1}, {2, 0}, {3, 3}} {
		assert.Equal(t, want, [2]int{needStays(met, 0, i), needFirst(met, 0, i)}, "season %d", i)
	}
	counts := []int{2, 0, 3, 1}
	for rank, want := range []int{0, 0, 0, 2, 2, 2, 3, 3, 3} {
		assert.Equal(t, want, nth(counts, rank), "rank %d", rank)
	}
	assert.Equal(t, 0, nth(counts, -1))
	g := Proof{}
	g.fewerWithMore(met)
	assert.Equal(t, []int{6, 1}, []int{g.Pairs, g.Fewer})
	for _, g := range []Proof{{Enough: -1, NotEnough: -2}, {Enough: 3, NotEnough: 1, Undecided: []int{2}}} {
		assert.False(t, g.Decided())
	}
}

// Ranks against their definition, over sizes and levels: the smallest and the largest for which
// the binomial law says so (distribution summed up term by term).
func TestRanksByDefinition(t *testing.T) {
	tried := 0
	for _, n := range []int{1, 2, 5, 20, 60} {
		for _, p := range []float64{0.1, 0.5, 0.8, 0.9} {
			for _, level := range []float64{0.55, 0.9, 0.975} {
				term, atMost := math.Pow(1-p, float64(n)), []float64{0} // atMost[k]: P(≤ k−1)
				for k := range n + 1 {
					atMost = append(atMost, atMost[k]+term)
					term *= float64(n-k) / float64(k+1) * p / (1 - p)
				}
				upper, lower := n+1, 0
				for s := n; s >= 1; s-- {
					if atMost[s] >= level {
						upper = s
					}
				}
				for r := 1; r <= n; r++ {
					if atMost[r] <= 1-level {
						lower = r
					}
				}
				assert.Equal(t, upper, upperRank(n, p, level), "%d of %g at %g", n, p, level)
				assert.Equal(t, lower, lowerRank(n, p, 1-level), "%d of %g at %g", n, p, level)
				tried++
			}
		}
	}
	assert.Equal(t, 60, tried)
}
