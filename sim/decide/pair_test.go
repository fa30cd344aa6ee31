package decide

import (
	"math"
	"math/rand/v2"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drystalk/sim/knowledge"
	"drystalk/sim/trials"
)

// The months of a comparison by hand: the second plan meets four seasons that the first
// misses and misses one that it meets, so 5 changes lie 4 to 1, two-sided 2 (1+5)/32 = 0.375
// (McNemar's exact test); stalks delivered are those asked less those missing, of each plan's
// own contract. A month that only one contract asks for is not compared.
func TestMonthsOfAComparisonByHand(t *testing.T) {
	s, set := small(t)
	s.Region.Contract.StalksByMonth = map[time.Month]int{time.June: 1000, time.July: 2000}
	other := s.Region
	other.Contract.StalksByMonth = map[time.Month]int{time.July: 2500}
	a := tableOf(t, set, 6, 1)
	set.Region = &other
	tables := []*trials.Table{a, tableOf(t, set, 6, 1)}

	first := seasons{
		asked:     []int{0, 1},
		met:       [][]bool{make([]bool, 6), {true, false, false, false, false, true}},
		shortfall: [][]float64{make([]float64, 6), {0, 200, 200, 200, 200, 0}},
	}
	second := seasons{
		asked:     []int{1},
		met:       [][]bool{{false, true, true, true, true, true}},
		shortfall: [][]float64{{300, 0, 0, 0, 0, 0}},
	}
	c := Comparison{
		A: PlanResult{Months: []MonthResult{{Name: "June"}, {Name: "July", Odds: trials.NewOdds(2, 6)}}},
		B: PlanResult{Months: []MonthResult{{Name: "July", Odds: trials.NewOdds(5, 6)}}},
	}
	c.months(&first, &second, tables)
	require.Len(t, c.Months, 1)
	m := c.Months[0]
	assert.Equal(t, "July", m.Name)
	assert.Equal(t, 2, m.OddsA.Met)
	assert.Equal(t, 5, m.OddsB.Met)
	assert.InDelta(t, 0.5, m.Gain.Mean, 1e-12)
	assert.InDelta(t, 0.375, m.PValue, 1e-12)
	// 2500 less what is missing, less 2000 less what is missing there: 200, 700 four times, 500.
	assert.InDelta(t, (200+4*700+500)/6.0, m.Stalks.Mean, 1e-9)
}

// A gain that is not linear in what is not known is found: a plan that earns 100 (θ² − 1/2)
// against nothing, θ even between −1 and 1, loses on average; where θ is known it is taken
// beyond 1/√2 alone, and is worth 100 ∫ (θ² − 1/2) from 1/√2 to 1 = 100 (1/3 − 1/2 + 1/(3√2))
// = 6.904. A straight line would find nothing.
func TestKnowingWhatIsNotLinear(t *testing.T) {
	rng := rand.New(rand.NewPCG(4, 4))
	const n = 8000
	draws, nets := make([][]float64, n), [][]float64{make([]float64, n), make([]float64, n)}
	for i := range draws {
		theta := 2*rng.Float64() - 1
		draws[i] = []float64{5 + 3*theta} // on a scale of its own
		nets[1][i] = 100*(theta*theta-0.5) + 20*rng.NormFloat64()
	}
	w := ValueOfKnowing([]knowledge.Range{{Name: "theta", Measure: "look"}}, draws, nets)
	require.NotNil(t, w)
	assert.Equal(t, 0, w.Chosen)
	require.Len(t, w.Each, 1)
	known := 100 * (1.0/3 - 0.5 + 1/math.Sqrt2/3)
	require.InDelta(t, 6.904, known, 0.001)
	assert.InDelta(t, known, w.Each[0].Value.Mean, 1)
	assert.Equal(t, "look", w.Each[0].Measure)
}

// What parameters are to the fit, by hand: 1, the place between the lowest and the highest
// draw from −1 to 1, and its square; one that does not vary stands in the middle.
func TestFeaturesByHand(t *testing.T) {
	x := features([][]float64{{10, 3}, {20, 3}, {15, 3}, {12, 3}}, []int{1, 0})
	want := [][]float64{{1, 0, 0, -1, 1}, {1, 0, 0, 1, 1}, {1, 0, 0, 0, 0}, {1, 0, 0, -0.6, 0.36}}
	for i, row := range want {
		assert.InDeltaSlice(t, row, x.RawRowView(i), 1e-12)
	}
}

// The same contract in every month that asks, the stock wanted ahead as written, by hand; and the
// caller's plan stays as it was.
func TestFlatContract(t *testing.T) {
	s, set := small(t)
	s.Region.Contract.StalksByMonth = map[time.Month]int{time.June: 1, time.July: 2000, time.August: 0}
	s.Region.Contract.TargetStock = map[time.Month]int{time.June: 500, time.July: 300}
	q := PromiseQuestion{Setup: set}
	r := q.flat(4000)
	assert.Equal(t, map[time.Month]int{time.June: 4000, time.July: 4000}, r.Contract.StalksByMonth)
	assert.Equal(t, map[time.Month]int{time.June: 500, time.July: 300}, r.Contract.TargetStock)
	r.Contract.TargetStock[time.June] = 1
	assert.Equal(t, map[time.Month]int{time.June: 1, time.July: 2000, time.August: 0}, s.Region.Contract.StalksByMonth)
	assert.Equal(t, map[time.Month]int{time.June: 500, time.July: 300}, s.Region.Contract.TargetStock)
}

// Of a promise of the small region: it is a grid step of the contract, the step above is
// not proven, each month alone takes no less than the flat number, and the stock is
// the smallest step that reaches the target.
func TestPromiseOfASmallRegion(t *testing.T) {
	s, set := small(t)
	s.Region.Sites[0].Dryers = 2
	s.Region.Contract.TargetStock = map[time.Month]int{time.June: 4000, time.July: 4000}
	set.Region = &s.Region
	before := *s.Region.Clone()
	stages := map[Doing]bool{}
	q := PromiseQuestion{Setup: set, Target: 0.5, SearchSeasons: 15, Seasons: 30, StockAfter: 0, Progress: func(at Doing) { stages[at] = true }}
	p, err := FindPromise(t.Context(), q)
	require.NoError(t, err)
	assert.Equal(t, before, s.Region, "a question leaves the plan it asks about as it was")
	require.Positive(t, p.Flat)
	assert.InDelta(t, p.Part*20_000, float64(p.Flat), 0.51)
	assert.Contains(t, []int{200, 400}, p.Next-p.Flat, "one hundredth of the contract, two where the first that is tried fails")
	judge := func(stalks int) trials.Odds {
		plan := s.Region.Clone() // the plan as written, of another contract and of nothing else
		for m := range plan.Contract.StalksByMonth {
			plan.Contract.StalksByMonth[m] = stalks
		}
		r, err := q.result(t.Context(), q.try(plan, 0, q.Seasons))
		require.NoError(t, err)
		return r.WorstMonth().Odds
	}
	assert.Equal(t, judge(p.Flat), p.Worst.Odds)
	assert.Equal(t, judge(p.Next), p.NextOdds)
	lower := func(o trials.Odds) float64 { return trials.LowerBound(o.Met, o.Seasons, 0.975) }
	assert.GreaterOrEqual(t, lower(p.Worst.Odds), q.Target)
	assert.Less(t, lower(p.NextOdds), q.Target)

	require.Len(t, p.Months, 2)
	assert.Equal(t, 30, p.MonthSeasons)
	assert.Equal(t, map[Doing]bool{{Stage: Searching}: true, {Stage: Proving}: true, {Raising, time.June}: true, {Raising, time.July}: true, {Stocking, time.June}: true}, stages)
	for k, m := range p.Months {
		raised := q.flat(p.Flat)
		raised.Contract.StalksByMonth[time.Month(6+k)] = m.Stalks
		r, err := q.result(t.Context(), q.try(raised, 0, 30))
		require.NoError(t, err)
		assert.Equal(t, r.WorstMonth().Odds, m.Odds, "%s alone raised", m.Name)
		assert.GreaterOrEqual(t, m.Stalks, p.Flat)
		assert.LessOrEqual(t, m.Stalks, 3*p.Flat)
		assert.GreaterOrEqual(t, m.Odds.Share, q.Target)
	}
	assert.Equal(t, []string{"June", "July"}, []string{p.Months[0].Name, p.Months[1].Name})

	need, err := q.stock(t.Context())
	require.NoError(t, err)
	assert.Equal(t, need, p.Stock)
}

// The search ends about where its seasons say that fresh ones will just prove a step: there the share
// is reached, and as far above as the last cut goes it is not. The proof begins where it is reached by
// more.
func TestAboutTheLimit(t *testing.T) {
	_, set := small(t)
	q := PromiseQuestion{Setup: set, Target: 0.8, SearchSeasons: 20, Seasons: 60}
	about, err := q.about(t.Context(), 20_000)
	require.NoError(t, err)
	share := func(step int) float64 {
		r, err := q.result(t.Context(), q.try(q.flat(200*step), FirstSearchSeason, 20))
		require.NoError(t, err)
		return r.WorstMonth().Odds.Share
	}
	assert.Greater(t, about, 20)
	assert.GreaterOrEqual(t, share(about), q.share(0))
	assert.Less(t, share(about+sections-1), q.share(0))
	start, stride, err := q.safely(t.Context(), 20_000, about)
	require.NoError(t, err)
	assert.Less(t, start, about)
	assert.GreaterOrEqual(t, start+sections*stride, about)
	assert.GreaterOrEqual(t, share(start), q.share(1))
}

// The stock for July, by looking at every step: the first that reaches the target on fresh
// seasons, at or above what the search seasons ask for.
func TestStockStepByStep(t *testing.T) {
	s, set := small(t)
	s.Region.Contract.StalksByMonth = map[time.Month]int{time.June: 20_000, time.July: 30_000}
	q := PromiseQuestion{Setup: set, Target: 0.7, SearchSeasons: 20, Seasons: 30, StockAfter: 0}
	need, err := q.stock(t.Context())
	require.NoError(t, err)
	require.NotNil(t, need)
	assert.Equal(t, "June", need.After)
	with := func(stalks, first, n int) trials.Odds {
		r := s.Region.From(30)
		r.Hub.OpeningStock, r.Sites[0].OpeningStock = stalks, 0
		result, err := q.result(t.Context(), q.try(r, first, n))
		require.NoError(t, err)
		return result.WorstMonth().Odds
	}
	step := 150 // a two-hundredth of what July asks
	at := 1
	for with(at*step, FirstSearchSeason, 20).Share < 0.7 {
		at++
	}
	less := 0
	for with(at*step, 0, 30).Share < 0.7 {
		less = at * step
		at++
	}
	require.Greater(t, at, 1)
	assert.Equal(t, at*step, need.Stalks)
	assert.Equal(t, less, need.Less)
	assert.Equal(t, with(at*step, 0, 30), need.Odds)

	q.Target = 1.01
	need, err = q.stock(t.Context())
	require.NoError(t, err)
	assert.Equal(t, -1, need.Stalks, "no stock is enough")
	assert.Equal(t, 201*step, need.Less, "all of July and a step more was tried")

	q.StockAfter = 1
	need, err = q.stock(t.Context())
	require.NoError(t, err)
	assert.Nil(t, need, "nothing follows July")
}

// The fit by hand: what is a straight line or a parabola of a parameter is found exactly, also
// in seasons it was not learned from; a parameter that does not vary changes nothing.
func TestFittedByHand(t *testing.T) {
	var draws [][]float64
	var line, parabola []float64
	for i := range 60 {
		x := float64(i*7%60) / 59 // from 0 to 1, so 2x−1 is its place
		draws = append(draws, []float64{x, 3})
		line, parabola = append(line, 5-2*x), append(parabola, 1+4*x*x)
	}
	for _, known := range [][]int{{0}, {0, 1}} {
		x := features(draws, known)
		for _, y := range [][]float64{line, parabola} {
			spoilt := append([]float64(nil), y...)
			for i := 0; i < 60; i += 3 {
				spoilt[i] = 1e6 // not learned from
			}
			assert.InDeltaSlice(t, y, fitted(x, spoilt, func(i int) bool { return i%3 != 0 }), 0.001)
		}
	}
	mean := fitted(features(draws, []int{1}), line, func(i int) bool { return i < 2 })
	assert.InDelta(t, (line[0]+line[1])/2, mean[50], 0.001, "nothing is known: the mean of what was learned")
}

// What knowing gains, by hand: two plans of which each is better by 10 in half of the seasons,
// and what tells which. Known, the better one is taken always; the plan taken without knowing
// is the one that earned more in the other seasons.
func TestGainsByHand(t *testing.T) {
	const n = 160
	var draws [][]float64
	nets := [][]float64{make([]float64, n), make([]float64, n)}
	for i := range n {
		high := float64(i / 5 % 2)
		draws = append(draws, []float64{high, 1})
		nets[1][i] = 20*high - 10
	}
	nets[1][0] += 0.5 // a little more than nothing in all, but in the seasons without this one
	sum := 0.0
	for i, g := range gains(draws, nets, []int{0}) {
		if g > 0 {
			assert.InDelta(t, 10, g, 1e-9, "season %d", i)
		} else {
			assert.InDelta(t, 0, g, 1e-9, "season %d", i)
		}
		sum += g
	}
	assert.InDelta(t, 10*n/2, sum, 1e-6)
	for i, g := range gains(draws, nets, []int{1}) {
		assert.Zero(t, g, "season %d: nothing is known", i)
	}
	assert.Equal(t, 1, bestOf(nets, func(int) bool { return true }))
	assert.Equal(t, 0, bestOf(nets, func(i int) bool { return i >= 10 }), "of equals the first")
	assert.Equal(t, 1, bestOf([][]float64{{-5, 3}, {-4, 3}, {-4, 3}}, func(int) bool { return true }), "also where all lose")

	// Of how few seasons and plans it is said at all, and in which order.
	ranges := []knowledge.Range{{Name: "nothing"}, {Name: "all", Measure: "look"}}
	for i := range draws {
		draws[i][0], draws[i][1] = draws[i][1], draws[i][0]
	}
	assert.Nil(t, ValueOfKnowing(ranges, draws[:149], nets))
	assert.Nil(t, ValueOfKnowing(ranges, draws[:150], nets[:1]), "there is nothing to choose")
	w := ValueOfKnowing(ranges, draws[:150], [][]float64{nets[0][:150], nets[1][:150]})
	require.NotNil(t, w)
	require.Len(t, w.Each, 2)
	assert.Equal(t, []string{"all", "nothing"}, []string{w.Each[0].Parameter, w.Each[1].Parameter})
	assert.Equal(t, "look", w.Each[0].Measure)
	assert.InDelta(t, 5, w.Each[0].Value.Mean, 1e-6)
	assert.InDelta(t, 5, w.All.Mean, 1e-6)
	assert.Equal(t, trials.Mean{Seasons: 150}, w.Each[1].Value)
}

// Knowing more is worth no less than nothing, at each end of the interval.
func TestAtLeastNothing(t *testing.T) {
	assert.Equal(t, trials.Mean{Seasons: 2}, atLeastNothing([]float64{-1, -1}))
	m := trials.NewMean([]float64{-1, 3})
	assert.Equal(t, trials.Mean{Mean: 1, Low: 0, High: m.High, Seasons: 2}, atLeastNothing([]float64{-1, 3}))
}

// Two shares differ by no more than all seasons, and neither does the interval: 19 of 20 seasons
// lost are -0.95, and Student's interval would reach beyond -1.
func TestPairedGainEndsAtAllSeasons(t *testing.T) {
	all, none := make([]bool, 20), make([]bool, 20)
	for i := range all {
		all[i] = true
	}
	none[3] = true
	lost := PairedGain(none, all)
	assert.InDelta(t, -0.95, lost.Mean, 1e-12)
	assert.Equal(t, -1.0, lost.Low)
	assert.Greater(t, lost.High, -0.95)
	won := PairedGain(all, none)
	assert.Equal(t, 1.0, won.High)
	assert.InDelta(t, -lost.High, won.Low, 1e-12)
}

// What is left over may be a loss: its interval may pass nothing where few seasons have any, that of an
// amount does not.
func TestAmountsAndWhatIsLeftInPairs(t *testing.T) {
	a, b := []float64{0, 5, 0, 0}, []float64{0, 0, 7, 0}
	left, amount := pairedLeft("left over", "", a, b), pairedOf("stalks", "", a, b)
	assert.Negative(t, left.A.Low)
	assert.Negative(t, left.B.Low)
	assert.Positive(t, amount.A.Low)
	assert.Positive(t, amount.B.Low)
	assert.Equal(t, left.More, amount.More)
}
