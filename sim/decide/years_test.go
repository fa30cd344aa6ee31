package decide

import (
	"math/rand/v2"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/stat/distuv"

	"drystalk/sim"
	"drystalk/sim/trials"
)

// The years of a plan add up to what the plan does in the same seasons, of which two in a row are
// draws of one year: months met, stalks missing, and what took most stalks.
func TestYearsAddUp(t *testing.T) {
	s, set := small(t)
	s.Region.Contract.StalksByMonth = map[time.Month]int{time.June: 1_300, time.July: 1_000_000} // July is always missed
	table := tableOf(t, set, 20, 0)
	judged, err := Judge(table, []int{0})
	require.NoError(t, err)
	calendar := make([]int, 10)
	for i := range calendar {
		calendar[i] = 1951 + i
	}
	years, names := Years(table, []int{0}, calendar, 2)
	require.Len(t, years, 10)
	assert.Equal(t, []string{"June", "July"}, names)
	june, missing := 0.0, 0.0
	for i, y := range years {
		assert.Equal(t, 1951+i, y.Year)
		require.Len(t, y.Shares, 2)
		assert.Contains(t, []float64{0, 0.5, 1}, y.Shares[0])
		assert.Zero(t, y.Shares[1])
		assert.Zero(t, y.All)
		most := 0
		for _, lost := range []sim.FigureID{
			sim.NotCutRain, sim.NotCutYardFull, sim.NotCutTooWet, sim.NotCutPeople, sim.NotCutStand, sim.NotCutClosed,
			sim.Second, sim.Rejected, sim.ThrownOut, sim.Broken, sim.RefusedAtGate,
		} {
			most = max(most, table.Sum(lost, []int{0}, 2*i)+table.Sum(lost, []int{0}, 2*i+1))
		}
		assert.InDelta(t, float64(most)/2, y.LostCount, 1e-9)
		june += 2 * y.Shares[0]
		missing += 2 * y.Missing
	}
	require.Len(t, judged.Months, 2)
	assert.InDelta(t, float64(judged.Months[0].Odds.Met), june, 1e-9)
	assert.True(t, 0 < june && june < 20, "June is met in some draws: %g", june)
	assert.InDelta(t, 20*(judged.Months[0].Shortfall.Mean+judged.Months[1].Shortfall.Mean), missing, 1e-6)
}

// A year in which everything is met lacks nothing; a month that asks for nothing is not counted.
func TestYearsWithNothingMissed(t *testing.T) {
	s, set := small(t)
	s.Region.Contract.StalksByMonth = map[time.Month]int{time.July: 1}
	years, names := Years(tableOf(t, set, 3, 1), []int{1}, []int{1951, 1952, 1953}, 1)
	require.Len(t, years, 3)
	assert.Equal(t, []string{"July"}, names)
	for _, y := range years {
		assert.Equal(t, []float64{1}, y.Shares)
		assert.Equal(t, 1.0, y.All)
		assert.Zero(t, y.Missing)
	}
}

// The mean of years and its variance by hand: of shares 1, 1, 0 and 0.6 the squares about 0.65 are
// 0.67, and those of one year of 0 and one of 1 are 0.545; over 5 and 4. Student's quantiles are
// those of the tables (3 degrees: 3.182; 69: 1.995).
func TestMeanOfYearsByHand(t *testing.T) {
	mean, variance := meanOfYears([]float64{1, 1, 0, 0.6})
	assert.InDelta(t, 0.65, mean, 1e-12)
	assert.InDelta(t, (0.67+0.545)/20, variance, 1e-12)
	assert.InDelta(t, 3.182, tOf(4, 0.975), 0.0005)
	assert.InDelta(t, 1.995, tOf(70, 0.975), 0.0005)
	mean, variance = meanOfYears([]float64{1, 1, 1})
	assert.Equal(t, 1.0, mean)
	assert.InDelta(t, 1.0/12, variance, 1e-12, "three years alike are not certain")
}

// realYears is a result of years, each with one share of its month met.
func realYears(shares ...[]float64) YearsResult {
	var r YearsResult
	for i, s := range shares {
		r.Years = append(r.Years, YearResult{Year: 1951 + i, Shares: s, All: s[0]})
	}
	return r
}

// The generator's result of months met in 1,000 seasons.
func generatorResult(met ...int) (r PlanResult) {
	for k, m := range met {
		r.Months = append(r.Months, MonthResult{Name: time.Month(6 + k).String(), Odds: trials.NewOdds(m, 1000)})
	}
	return r
}

// One month out of two that tells record from generator is enough to disagree.
func TestCompareYears(t *testing.T) {
	var alike, apart [][]float64
	for i := range 40 {
		share := 0.85 + 0.1*float64(i%2)
		alike, apart = append(alike, []float64{share, 0.4 + 0.2*float64(i%2)}), append(apart, []float64{share, 0.2 + 0.2*float64(i%2)})
	}
	r := realYears(alike...)
	r.Compare(generatorResult(900, 500))
	require.Len(t, r.Months, 2)
	assert.True(t, r.Agree)
	assert.Equal(t, "July", r.Months[1].Name)
	assert.InDelta(t, 0.5, r.Months[1].Real.Mean, 1e-9)
	assert.Equal(t, 500, r.Months[1].Generator.Met)
	r = realYears(apart...)
	r.Compare(generatorResult(900, 500))
	assert.False(t, r.Agree)
	assert.Greater(t, r.Months[0].PValue, 0.05)
	assert.Less(t, r.Months[1].PValue, 0.001)
}

// A real difference of what is said to show is seen in about four comparisons of five, and where
// there is none about one in twenty disagrees: drawn years, each with its own share.
func TestWhatCouldHaveBeenSeen(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 1))
	draw := func(mean float64) (r YearsResult) {
		var years [][]float64
		for range 50 {
			years = append(years, []float64{max(0, min(1, mean+0.2*rng.NormFloat64()))})
		}
		return realYears(years...)
	}
	const n = 400
	shows, same, seen := 0.0, 0, 0
	for range n {
		r := draw(0.5)
		r.Compare(generatorResult(int(distuv.Binomial{N: 1000, P: 0.5, Src: rng}.Rand())))
		shows += r.Months[0].Shows / n
		if !r.Agree {
			same++
		}
	}
	for range n {
		r := draw(0.5)
		r.Compare(generatorResult(int(distuv.Binomial{N: 1000, P: 0.5 + shows, Src: rng}.Rand())))
		if !r.Agree {
			seen++
		}
	}
	t.Logf("shows from %.3f: %d and %d of %d disagree", shows, same, seen, n)
	assert.InDelta(t, 0.05, float64(same)/n, 0.03)
	assert.InDelta(t, 0.80, float64(seen)/n, 0.06)
}

// Where nobody cuts, nothing is lost either.
func TestNothingLost(t *testing.T) {
	s, set := small(t)
	s.Region.Sites[0].OutputPerPersonH = 0
	years, _ := Years(tableOf(t, set, 2, 0), []int{0}, []int{1951, 1952}, 1)
	require.Len(t, years, 2)
	for _, y := range years {
		assert.Equal(t, sim.NoFigure, y.MostLost)
		assert.Zero(t, y.LostCount)
		assert.Equal(t, []float64{0, 0}, y.Shares)
	}
}
