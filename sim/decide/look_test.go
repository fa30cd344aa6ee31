package decide

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drystalk/sim"
	"drystalk/sim/goal"
	"drystalk/sim/knowledge"
	"drystalk/sim/trials"
)

// monthMet is a month met in the first so many of n seasons.
func monthMet(met, n int) []bool {
	out := make([]bool, n)
	for i := range met {
		out[i] = true
	}
	return out
}

// Where no dryer at all is enough nothing stays undecided.
func TestNoneIsEnough(t *testing.T) {
	g := proofOf(metOf(3, make([]float64, 36)), 0, 0.9, 0.05)
	assert.Equal(t, 0, g.Enough)
	assert.Equal(t, -1, g.NotEnough)
	assert.True(t, g.Decided())
	assert.Empty(t, g.Undecided)
	assert.Zero(t, g.MoreNeed)
	assert.Zero(t, g.Fewer)
	assert.Equal(t, 2*36, g.Pairs)
}

// The seasons that would settle an undecided number, by hand: z² p (1−p) over the square of
// its distance from the target, up to whole hundreds. z = 1.95996 for one month and one look;
// of several numbers the one closest to the target counts, of several months the worst.
func TestSeasonsToDecideByHand(t *testing.T) {
	of := func(planned int, undecided []int, met ...[][]bool) int {
		return seasonsToDecide(met, 2, undecided, 0.9, 0.05/float64(planned))
	}
	month := func(met ...int) [][]bool {
		var out [][]bool
		for _, n := range met {
			out = append(out, monthMet(n, 100))
		}
		return out
	}
	assert.Equal(t, 900, of(1, []int{2}, month(88)), "1.95996² · 0.09 / 0.02² = 864")
	assert.Equal(t, 900, of(1, []int{2}, month(92)), "as far above")
	assert.Equal(t, 900, of(1, []int{2, 3}, month(88), month(96)), "the closer of two numbers")
	assert.Equal(t, 900, of(1, []int{2, 3}, month(96), month(88)))
	assert.Equal(t, 100, of(1, []int{3}, month(88), month(96)), "1.95996² · 0.09 / 0.06² = 96: that of the number asked for")
	assert.Equal(t, 1200, of(1, []int{2}, month(88, 97)), "two months: z = 2.24140 gives 1130")
	assert.Equal(t, 1200, of(2, []int{2}, month(88)), "two looks: the same")
	assert.Zero(t, of(1, nil, month(88)))
	assert.Equal(t, 34_573_000, of(1, []int{2}, month(90))/1000*1000, "at the target itself the distance is taken as a hundredth of a per cent")
}

// Each number by itself, by hand (Clopper & Pearson): with three numbers and one look each
// bound is at 1−0.05/3/2; all of 100 met prove 0.9 (0.9^100 is below 0.0083), 50 of 100
// disprove it, 92 of 100 do neither.
func TestEachBoundByHand(t *testing.T) {
	met := [][][]bool{{monthMet(50, 100)}, {monthMet(92, 100)}, {monthMet(100, 100)}}
	g := eachBound(met, 4, 0.9, 0.05)
	assert.Equal(t, 6, g.Enough)
	assert.Equal(t, 4, g.NotEnough)
	assert.Equal(t, []int{5}, g.Undecided)
	assert.Equal(t, 100, g.Seasons)
	assert.Equal(t, 200, g.Pairs)
	assert.Zero(t, g.Fewer)
	assert.Positive(t, g.MoreNeed)

	// 45 seasons without a failure: 0.9^45 = 0.0087 proves nothing at 0.0083, 46 do; with two
	// numbers 0.0125 is asked and 42 are enough (0.9^42 = 0.0120).
	three := func(n int) [][][]bool { m := [][]bool{monthMet(n, n)}; return [][][]bool{m, m, m} }
	assert.Equal(t, -1, eachBound(three(45), 0, 0.9, 0.05).Enough)
	assert.Equal(t, 0, eachBound(three(46), 0, 0.9, 0.05).Enough)
	assert.Equal(t, -1, eachBound(three(42)[:2], 0, 0.9, 0.025).Enough, "two looks share the confidence")
	assert.Equal(t, 0, eachBound(three(42)[:2], 0, 0.9, 0.05).Enough)

	// A larger number that fails does not make the smaller ones too few.
	met = [][][]bool{{monthMet(92, 100)}, {monthMet(50, 100)}, {monthMet(92, 100)}}
	g = eachBound(met, 0, 0.9, 0.05)
	assert.Equal(t, -1, g.NotEnough)
	assert.Equal(t, []int{0, 1, 2}, g.Undecided)
	assert.Equal(t, 42, g.Fewer, "seasons that one dryer more misses")

	// The worst of two months decides.
	g = eachBound([][][]bool{{monthMet(100, 100), monthMet(50, 100)}}, 0, 0.9, 0.05)
	assert.Equal(t, 0, g.NotEnough)
	assert.Equal(t, -1, g.Enough)
}

// What an earlier look has proven stays proven, also a smaller number that is enough.
func TestEarlierLooksStay(t *testing.T) {
	g := Proof{Enough: 7, NotEnough: 3, Undecided: []int{4, 5, 6}}
	g.meet(Proof{Enough: 5, NotEnough: 2})
	assert.Equal(t, Proof{Enough: 5, NotEnough: 3, Undecided: []int{4}}, g)
	g = Proof{Enough: 5, NotEnough: 3, Undecided: []int{4}}
	g.meet(Proof{Enough: 7, NotEnough: 2})
	assert.Equal(t, Proof{Enough: 5, NotEnough: 3, Undecided: []int{4}}, g, "and a later one counts")
	g = Proof{Enough: 2, NotEnough: -1, Undecided: []int{0, 1}}
	g.meet(Proof{Enough: 0, NotEnough: -1})
	assert.Equal(t, 0, g.Enough)
	assert.Empty(t, g.Undecided)
	g = Proof{Enough: -1, NotEnough: 3, Undecided: []int{4, 5}}
	g.meet(Proof{Enough: -1, NotEnough: -1})
	assert.Equal(t, []int{4, 5}, g.Undecided)
}

// The plan to fund is what is proven enough; what is lived through beside it is one dryer fewer.
func TestWhatIsLivedThroughFurther(t *testing.T) {
	d := dryers{plans: make([][]int, 11), judged: make([]candidate, 11)}
	for k := range d.plans {
		d.plans[k] = []int{k}
	}
	assert.Equal(t, 6, d.chosen(Proof{Enough: 6, NotEnough: 3}))
	assert.Equal(t, []int{5}, d.beside(6))
	assert.Empty(t, d.beside(0), "there is none below no dryer")
	assert.Equal(t, []int{4, 5}, d.undecided(Proof{Undecided: []int{4, 5}}))
	d.plans = d.plans[2:] // two stand
	assert.Equal(t, []int{2, 3}, d.undecided(Proof{Undecided: []int{4, 5}}))
	assert.Equal(t, 3, d.chosen(Proof{Enough: 5, NotEnough: 3}))
}

// What may earn most is lived through as long as it takes to tell: a fifth of the stated seasons, no
// fewer than 150 unless fewer are stated.
func TestSeasonsToKnow(t *testing.T) {
	for seasons, want := range map[int]int{60: 60, 400: 150, 1000: 200, 5000: 1000} {
		assert.Equal(t, want, (&dryers{Question: Question{Seasons: seasons}}).toKnow())
	}
}

// Looks are after a twentieth, a tenth, a fifth, a half and all of the stated seasons, then they double up to the
// limit; none is after fewer than 50 seasons. The errors of all planned looks add up to 5 %, of
// which the early ones spend little.
func TestLooksArePlanned(t *testing.T) {
	for _, tt := range []struct {
		seasons, limit int
		want           []int
	}{
		{1000, 0, []int{50, 100, 200, 500, 1000}},
		{1000, 1999, []int{50, 100, 200, 500, 1000}},
		{1000, 2000, []int{50, 100, 200, 500, 1000, 2000}},
		{1000, 4000, []int{50, 100, 200, 500, 1000, 2000, 4000}},
		{400, 800, []int{80, 200, 400, 800}},
		{50, 150, []int{50, 100, 150}},
		{30, 61, []int{30, 60}},
		{0, 0, []int{1}},
		{1000, 9500, []int{50, 100, 200, 500, 1000, 2000, 4000, 8000, 9000}},
	} {
		sum := 0.0
		var after []int
		for _, l := range looksAt(tt.seasons, tt.limit) {
			after, sum = append(after, l.after), sum+l.err
			if l.after < tt.seasons {
				assert.LessOrEqual(t, l.err, 0.0020001)
			}
		}
		assert.Equal(t, tt.want, after)
		assert.InDelta(t, 0.05, sum, 1e-12)
	}
}

// The error goes where the target is missed, by hand: nine tenths by the square of what is missed,
// 3 and 1 seasons in two numbers together, the rest to all three alike; all alike where nothing is.
func TestWeightsOfMonths(t *testing.T) {
	w := weightsOf([][]bool{monthMet(10, 10), monthMet(8, 10), monthMet(9, 10)}, [][]bool{monthMet(10, 10), monthMet(9, 10), monthMet(10, 10)})
	require.Len(t, w, 3)
	assert.InDeltaSlice(t, []float64{0.1 / 3, 0.9*0.9 + 0.1/3, 0.9*0.1 + 0.1/3}, w, 1e-12)
	assert.InDeltaSlice(t, []float64{0.5, 0.5}, weightsOf([][]bool{monthMet(10, 10), monthMet(10, 10)}), 1e-12)
	assert.InDeltaSlice(t, []float64{1}, weightsOf([][]bool{monthMet(3, 10)}), 1e-12)
}

// Beyond the limit only one number that alone is undecided is looked at again, and only where the
// last look may settle it.
func TestOneNumberRaisesTheLimit(t *testing.T) {
	s := sequence{limit: 2000, looks: looksAt(1000, 4000)}
	one, two := Proof{Looks: 1, Undecided: []int{7}}, Proof{Looks: 1, Undecided: []int{7, 8}}
	assert.True(t, s.goesOn(&one, 2000))
	assert.True(t, s.goesOn(&two, 2000))
	assert.True(t, s.goesOn(&one, 4000), "one number separates two answers")
	one.MoreNeed = 4000
	assert.True(t, s.goesOn(&one, 4000))
	one.MoreNeed = 4100
	assert.False(t, s.goesOn(&one, 4000), "too close to be told after 4,000 seasons")
	assert.True(t, s.goesOn(&one, 2000))
	assert.False(t, s.goesOn(&two, 4000))
	assert.False(t, s.goesOn(&Proof{Looks: 1}, 2000))
}

// What to measure first, by hand: three things nobody knows in nine seasons. The second
// decides whether the month is met, the first goes with it a little, the third not at all; so
// they come in that order, each with its thirds.
func TestMeasureFirst(t *testing.T) {
	q := Question{Target: 0.9}
	q.Setup.Knowledge.Ranges = []knowledge.Range{{Name: "nothing"}, {Name: "a little", Unit: "h", Measure: "look"}, {Name: "all"}}
	var draws [][]float64
	met := make([]bool, 9)
	for i := range 9 {
		draws = append(draws, []float64{float64(i * 4 % 9), float64(i * 2 % 9), float64(i)})
		met[i] = i >= 4
	}
	played := []seasons{
		{met: [][]bool{make([]bool, 9)}, allMet: make([]bool, 9)}, // no dryer: never
		{met: [][]bool{met}, allMet: met},
		{met: [][]bool{monthMet(9, 9)}, allMet: monthMet(9, 9)},
	}
	out := q.swings(draws, played, Answer{Needed: 1, Plans: plansWith(0, 55, 100)})
	require.Len(t, out, 3)
	all := out[0]
	assert.Equal(t, "all", all.Parameter)
	assert.Equal(t, 2, all.Low, "in the lowest third one dryer is never enough")
	assert.Equal(t, 1, all.High)
	assert.Equal(t, 2.0, all.LowBelow)
	assert.Equal(t, 6.0, all.HighAbove)
	assert.Equal(t, trials.NewOdds(0, 3), all.OddsLow)
	assert.Equal(t, trials.NewOdds(3, 3), all.OddsHigh)
	// By 2i mod 9 the seasons come in the order 0 5 1 6 2 7 3 8 4: one of the lowest three and
	// two of the highest are met. By 4i mod 9: 0 7 5 3 1 8 6 4 2, two and two.
	assert.Equal(t, Swing{
		Parameter: "a little", Unit: "h", Measure: "look", Low: 2, High: 2, LowSeasons: 3, HighSeasons: 3, LowBelow: 2, HighAbove: 6,
		OddsLow: trials.NewOdds(1, 3), OddsHigh: trials.NewOdds(2, 3),
	}, out[1])
	assert.Equal(t, "nothing", out[2].Parameter)
	assert.Equal(t, out[2].OddsLow, out[2].OddsHigh)

	for i := range draws { // of equals the first listed comes first
		draws[i][0] = draws[i][2]
	}
	out = q.swings(draws, played, Answer{Needed: 1, Plans: plansWith(0, 55, 100)})
	assert.Equal(t, []string{"nothing", "all", "a little"}, []string{out[0].Parameter, out[1].Parameter, out[2].Parameter})

	assert.Nil(t, q.swings(draws[:2], []seasons{{met: [][]bool{met[:2]}, allMet: met[:2]}}, Answer{Needed: 0}), "two seasons have no thirds")
	q.Setup.Knowledge.Fixed = true
	assert.Nil(t, q.swings(draws, played, Answer{Needed: 1, Plans: plansWith(0, 55, 100)}), "everything is known")
}

// Thirds are told apart where their intervals do not meet, whichever is the better one.
func TestThirdsToldApart(t *testing.T) {
	low, high := trials.NewOdds(10, 100), trials.NewOdds(60, 100)
	for _, s := range []Swing{{OddsLow: low, OddsHigh: high}, {OddsLow: high, OddsHigh: low}} {
		assert.True(t, s.ToldApart())
	}
	assert.False(t, (&Swing{OddsLow: low, OddsHigh: trials.NewOdds(12, 100)}).ToldApart())
	assert.False(t, (&Swing{OddsLow: low, OddsHigh: low}).ToldApart())
	// Intervals that just touch share a value, so they meet.
	below, above := trials.Odds{Low: 0.1, High: 0.5}, trials.Odds{Low: 0.5, High: 0.8}
	assert.False(t, (&Swing{OddsLow: below, OddsHigh: above}).ToldApart())
	assert.False(t, (&Swing{OddsLow: above, OddsHigh: below}).ToldApart())
	above.Low = 0.501
	assert.True(t, (&Swing{OddsLow: below, OddsHigh: above}).ToldApart())
	assert.True(t, (&Swing{OddsLow: above, OddsHigh: below}).ToldApart())
}

// One dryer more, in the same seasons: its gain is that of the worst months, and it is told
// apart where the interval of that lies to one side of nothing.
func TestStepsByHand(t *testing.T) {
	n := 40
	of := func(met ...int) seasons {
		s := seasons{allMet: make([]bool, n)}
		for _, k := range met {
			s.met = append(s.met, monthMet(k, n))
		}
		return s
	}
	out := steps([]seasons{of(10, 30), of(35, 30), of(31, 35), of(20, 35)}, 2)
	require.Len(t, out, 3)
	assert.Equal(t, 3, out[0].Dryers, "two stand")
	assert.InDelta(t, 20.0/40, out[0].Gain.Mean, 1e-12, "from 10 to 30, whichever month it is")
	assert.True(t, out[0].ToldApart)
	assert.InDelta(t, 1.0/40, out[1].Gain.Mean, 1e-12)
	assert.False(t, out[1].ToldApart, "one season of forty")
	assert.InDelta(t, -11.0/40, out[2].Gain.Mean, 1e-12)
	assert.True(t, out[2].ToldApart, "fewer are told apart as well")
}

// The best plan is the smallest of those whose worst month is met most often.
func TestBestPlan(t *testing.T) {
	a := Answer{Needed: -1, Plans: plansWith(10, 40, 40, 30)}
	assert.Equal(t, 1, a.Best())
	assert.Equal(t, 1, a.funded(), "none reaches the target")
	a.Needed = 3
	assert.Equal(t, 3, a.funded())
	a.Needed = 0
	assert.Equal(t, 0, a.funded())
}

// Placements rank by the worst month, then by missing stalks, then by what is left over.
func TestBetterPlacements(t *testing.T) {
	ordered := []Score{{9, 500, 0}, {8, 100, 10}, {8, 100, 5}, {8, 200, 90}, {7, 0, 99}}
	for i, a := range ordered {
		for j, b := range ordered {
			assert.Equal(t, i < j, a.Better(b), "%+v against %+v", a, b)
		}
	}
	season := func(delivered ...int) []sim.HubMonth {
		months := make([]sim.HubMonth, 3)
		for k, d := range delivered {
			months[k] = sim.HubMonth{Asked: 100, Delivered: d, Met: d >= 95, Closing: 10 * k}
		}
		months[2] = sim.HubMonth{Closing: 7} // asks for nothing
		return months
	}
	tally := NewTally(goal.Goal{}, []int{100, 100, 0})
	tally.Add(season(100, 60), 0)
	assert.Equal(t, 40, tally.Shortfall)
	tally.Add(season(95, 100), 0)
	assert.Equal(t, Score{WorstMet: 1, Shortfall: 45, Left: 14}, tally.Score())
	assert.Equal(t, 0, NewTally(goal.Goal{}, []int{0}).Score().WorstMet)
}

// Numbers of dryers far above the first that reaches the target on the search seasons are not
// judged: two more are. Reaching it exactly is enough.
func TestFewAreJudged(t *testing.T) {
	s, set := small(t)
	for m := range s.Region.Contract.StalksByMonth {
		s.Region.Contract.StalksByMonth[m] = 8000 // one dryer meets that in every season
	}
	table, err := set.Table(t.Context(), 0, 10, trials.Upto([]int{5}), nil)
	require.NoError(t, err)
	plans := Placements(table, []int{0}, []int{5})
	require.Equal(t, [][]int{{0}, {1}, {2}, {3}, {4}, {5}}, plans)
	one, err := Judge(table, []int{1})
	require.NoError(t, err)
	require.Equal(t, 10, one.WorstMonth().Odds.Met)
	assert.Len(t, worthJudging(newScorer(table), plans, 1), 4, "none, the one that reaches it exactly, and two more")
	assert.Len(t, worthJudging(newScorer(table), plans[:2], 1), 2)
	assert.Len(t, worthJudging(newScorer(table), plans, 1.01), 6, "none reaches it")
}

// The worst month is the one met in the fewest seasons, the earliest of equals.
func TestWorstMonth(t *testing.T) {
	all := make([]bool, 10)
	assert.Equal(t, 1, (&seasons{met: [][]bool{monthMet(9, 10), monthMet(3, 10), monthMet(4, 10), monthMet(3, 10)}, allMet: all}).worst())
	assert.Equal(t, 0, (&seasons{met: [][]bool{monthMet(10, 10), monthMet(10, 10)}, allMet: all}).worst())
}

// Too few by hand: 7 of 11 seasons met are too few for 0.9, for 7 or fewer of 11 have a chance
// of 0.0185 there (binomial tables), below the 0.025 of the lower side; of two months each has
// half of that, and 0.0185 proves nothing.
func TestTooFewByHand(t *testing.T) {
	needs := []float64{1, 1, 1, 1, 1, 1, 1, 3, 3, 3, 3}
	met := metOf(4, needs)
	assert.Equal(t, 2, proofOf(met, 0, 0.9, 0.05).NotEnough)
	for k := range met {
		met[k] = append(met[k], met[k][0])
	}
	assert.Equal(t, 0, proofOf(met, 0, 0.9, 0.05).NotEnough, "none is met without a dryer")
	assert.Equal(t, 2, proofOf(met, 0, 0.9, 0.05, 0.75, 0.25).NotEnough, "three quarters of 0.025 are 0.01875")
	assert.Equal(t, 0, proofOf(met, 0, 0.9, 0.05, 0.73, 0.27).NotEnough, "0.01825 are too little")
	for _, w := range [][]float64{{0.75, 0.25}, {0.25, 0.75}} {
		assert.Equal(t, 2, proofOf(met, 0, 0.9, 0.05, w...).NotEnough, "either of the two alike months proves it")
	}
}
