package decide

import (
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/stat/distuv"

	"drystalk/sim/knowledge"
	"drystalk/sim/trials"
)

// plansWith returns plans of 0, 1, ... dryers whose one month is met in so many of 100
// seasons.
func plansWith(met ...int) []PlanResult {
	var plans []PlanResult
	for n, k := range met {
		plans = append(plans, PlanResult{Dryers: n, Odds: trials.NewOdds(k, 100), Months: []MonthResult{{Odds: trials.NewOdds(k, 100)}}})
	}
	return plans
}

// The number to fund is what is proven enough; without proof it is the smallest whose share
// reaches the target, equality included, but none that is proven too few.
func TestNumberToFund(t *testing.T) {
	for _, tt := range []struct {
		met    []int
		g      Proof
		needed int
	}{
		{[]int{10, 91, 97, 99}, Proof{Enough: 2, NotEnough: 0}, 2},
		{[]int{10, 60, 90, 99}, Proof{Enough: -1, NotEnough: 1}, 2},
		{[]int{10, 90, 90, 99}, Proof{Enough: -1, NotEnough: 1}, 2},
		{[]int{10, 30, 50}, Proof{Enough: -1, NotEnough: 2}, -1},
		{[]int{100}, Proof{Enough: 0, NotEnough: -1}, 0},
	} {
		a := Answer{Target: 0.9, Needed: -1, Plans: plansWith(tt.met...), Proof: tt.g}
		a.decide()
		assert.Equal(t, tt.needed, a.Needed, "%v", tt.met)
	}
}

// What an earlier look has proven stays proven.
func TestLooksMeet(t *testing.T) {
	g := Proof{Enough: -1, NotEnough: 4, Undecided: []int{5, 6, 7}}
	g.meet(Proof{Enough: 7, NotEnough: 5, Undecided: []int{6}})
	assert.Equal(t, Proof{Enough: 7, NotEnough: 5, Undecided: []int{6}}, g)
}

// Value of perfect information with known truth. A plan that earns θ against one that earns
// nothing, θ normal with mean 100 and spread 200: 39.56 (unit normal loss integral, tables of
// Raiffa & Schlaifer, from memory; recomputed). A parameter that decides nothing is worth
// nothing.
func TestValueOfKnowing(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 7))
	const n = 20_000
	draws, nets := make([][]float64, n), [][]float64{make([]float64, n), make([]float64, n)}
	for i := range draws {
		theta := 100 + 200*rng.NormFloat64()
		draws[i] = []float64{theta, rng.Float64()}
		nets[1][i] = theta + 300*rng.NormFloat64() // and the luck of the season
	}
	ranges := []knowledge.Range{{Name: "theta", Measure: "look"}, {Name: "nothing"}}
	w := ValueOfKnowing(ranges, draws, nets)
	require.NotNil(t, w)
	assert.Equal(t, 1, w.Chosen)
	assert.Equal(t, "theta", w.Each[0].Parameter)
	assert.True(t, w.Each[0].Value.Low <= 39.56 && 39.56 <= w.Each[0].Value.High, "%+v", w.Each[0].Value)
	assert.InDelta(t, 39.56, w.All.Mean, 8)
	assert.Less(t, w.Each[1].Value.Mean, 3.0)

	// Three states of the world with chances 0.3, 0.5 and 0.2, and three acts that earn
	// 70 50 20, 40 45 35 and 20 30 60: the best act without knowing earns 50, with knowing 58
	// (a textbook table, computed by hand: 0.3·70 + 0.5·50 + 0.2·60).
	pick := distuv.NewCategorical([]float64{0.3, 0.5, 0.2}, rand.NewPCG(2, 2))
	acts := [][]float64{{70, 50, 20}, {40, 45, 35}, {20, 30, 60}}
	nets = [][]float64{make([]float64, n), make([]float64, n), make([]float64, n)}
	for i := range draws {
		state := pick.Rand()
		draws[i] = []float64{state}
		for a := range acts {
			nets[a][i] = acts[a][int(state)]
		}
	}
	w = ValueOfKnowing(ranges[:1], draws, nets)
	assert.InDelta(t, 8, w.All.Mean, 0.5)
}

// No knowledge is worth less than nothing or more than all of it, whatever the draws.
func TestValueOfKnowingKeepsItsOrder(t *testing.T) {
	for seed := range uint64(20) {
		rng := rand.New(rand.NewPCG(seed, 3))
		n := 200
		draws, nets := make([][]float64, n), make([][]float64, 4)
		for k := range nets {
			nets[k] = make([]float64, n)
		}
		for i := range draws {
			draws[i] = []float64{rng.Float64(), rng.Float64(), 1}
			for k := range nets {
				nets[k][i] = float64(k)*(draws[i][0]-0.5) + rng.NormFloat64()
			}
		}
		w := ValueOfKnowing(make([]knowledge.Range, 3), draws, nets)
		require.NotNil(t, w)
		require.Len(t, w.Each, 3)
		for _, one := range w.Each {
			assert.GreaterOrEqual(t, one.Value.Mean, 0.0)
			assert.LessOrEqual(t, one.Value.Mean, w.All.Mean)
		}
	}
	assert.Nil(t, ValueOfKnowing(nil, make([][]float64, 20), make([][]float64, 2)), "too few seasons to tell")
}

// A number that the first look leaves open is looked at again with as many seasons more, in
// the seasons that follow; what is said of each number is what it does in all its seasons, and
// the proof agrees with bounds of single numbers (Clopper & Pearson): what is enough is so at
// 95 % by itself, what is too few is so by itself.
func TestFurtherLooks(t *testing.T) {
	s, set := small(t)
	set.Region = &s.Region
	for m := range s.Region.Contract.StalksByMonth {
		s.Region.Contract.StalksByMonth[m] = 18_000
	}
	q := Question{Setup: set, MaxDryers: []int{3}, Free: true, Target: 0.8, SearchSeasons: 30, Seasons: 50, Limit: 150, ShortSeasons: 1}
	told, of := 0, 0
	q.Progress = func(done, all int) { told, of = max(told, done), max(of, all) }
	a, err := Dryers(t.Context(), q)
	require.NoError(t, err)
	g := a.Proof
	require.Greater(t, g.Looks, 1, "%+v", g)
	assert.Equal(t, 3, g.Planned)
	assert.Equal(t, 50*g.Looks, g.Seasons)
	assert.Equal(t, a.Plans[a.funded()].AllMonths.Seasons, a.Seasons, "those of the number to fund")
	assert.Equal(t, told, of, "the end is the end")
	assert.Equal(t, 30+50*g.Looks, told)
	require.NotEmpty(t, a.Plans)
	most := 0
	for n, p := range a.Plans {
		o := p.WorstMonth().Odds
		require.Contains(t, []int{50, 100, 150}, o.Seasons)
		most = max(most, o.Seasons)
		judged, err := Judge(tableOf(t, set, o.Seasons, n), []int{n})
		require.NoError(t, err)
		assert.Equal(t, judged.Months, p.Months, "%d dryers", n)
		assert.Equal(t, p.Dryers, n)
		if n <= g.NotEnough {
			assert.Greater(t, trials.LowerBound(o.Seasons-o.Met, o.Seasons, 0.95), 1-q.Target, "%d are too few", n)
		}
		if n == g.Enough {
			assert.GreaterOrEqual(t, trials.LowerBound(o.Met, o.Seasons, 0.95), q.Target)
		}
	}
	assert.Equal(t, g.Seasons, most)
	for _, n := range g.Undecided {
		assert.Greater(t, n, g.NotEnough)
		assert.True(t, g.Enough < 0 || n < g.Enough)
		assert.Equal(t, most, a.Plans[n].WorstMonth().Odds.Seasons, "what is open was looked at to the end")
	}
}
