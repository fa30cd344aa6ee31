package trials

import (
	"context"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/stat"

	"drystalk/sim/knowledge"
)

// What was cut moves output as Bayes' rule says. The check is a second way to the same: lucks and factors
// drawn as ever, each of which counts by the density of what was cut given all of them.
func TestWhatWasCutMovesOutputByBayesRule(t *testing.T) {
	luck := tinySetup(1).Region.Luck
	known := Known{Output: []CutSoFar{{Days: 12, LogMean: math.Log(0.75)}, {Days: 3, LogMean: math.Log(1.1)}, {}}}
	r, ok := DefaultKnowledge().Of(knowledge.OutputFactor)
	require.True(t, ok)
	rng := rand.New(rand.NewPCG(3, 3))
	logOf := func(f float64, z lucks, site int) float64 {
		a, b := luck.OutputSeason, luck.OutputSiteSeason
		return math.Log(f) + a*z.shared - a*a/2 + b*z.site[site] - b*b/2
	}
	var plain, moved [3][]float64
	var density, weights []float64
	for range 100_000 {
		f := r.Quantile(rng.Float64())
		z := lucks{rng.NormFloat64(), []float64{rng.NormFloat64(), rng.NormFloat64(), rng.NormFloat64()}}
		now := known.given(luck, f, z)
		log := 0.0
		for i, o := range known.Output {
			plain[i], moved[i] = append(plain[i], logOf(f, z, i)), append(moved[i], logOf(f, now, i))
			if o.Days > 0 {
				variance := (luck.OutputDay*luck.OutputDay + tallySD*tallySD) / float64(o.Days)
				off := o.LogMean - (logOf(f, z, i) - luck.OutputDay*luck.OutputDay/2)
				log -= off * off / 2 / variance
			}
		}
		density, weights = append(density, math.Exp(log)), append(weights, math.Exp(known.logLikelihood(luck, f)))
	}
	require.Greater(t, Effective(density), 2000.0)
	assert.Greater(t, Effective(weights), 3*Effective(density), "lucks are drawn, not weighed")
	for i := range known.Output {
		want, wantVar := stat.MeanVariance(plain[i], density)
		got, gotVar := stat.MeanVariance(moved[i], weights)
		assert.InDelta(t, want, got, 0.01, "site %d", i)
		assert.InDelta(t, math.Sqrt(wantVar), math.Sqrt(gotVar), 0.006, "site %d", i)
	}
	assert.Less(t, stat.Mean(moved[0], weights), -0.1)
}

func sum(list []float64) (s float64) {
	for _, x := range list {
		s += x
	}
	return s
}

// weightsOf returns how seasons of a setup count.
func weightsOf(t *testing.T, set Setup, n int) []float64 {
	t.Helper()
	table, err := set.Table(context.Background(), 0, n, Only([]int{0, 0}), nil)
	require.NoError(t, err)
	return set.Weights(table)
}

// Where nothing is known all is as ever, and the seasons count alike.
func TestKnowingNothingChangesNothing(t *testing.T) {
	set := tinySetup(1)
	want, err := set.Season(4)
	require.NoError(t, err)
	set.Known = &Known{Day: 5}
	got, err := set.Season(4)
	require.NoError(t, err)
	assert.Equal(t, want.Days, got.Days)
	assert.Equal(t, want.Output, got.Output)
	assert.Equal(t, 30.0, Effective(weightsOf(t, set, 30)))
}

// The rain so far stands in its place, and what comes after it is drawn among weathers whose past is
// like it: after a past as wet as any that was drawn the future of that weather is found again.
func TestRainSoFarStands(t *testing.T) {
	set := tinySetup(1)
	day := set.Region.Calendar.Days / 2
	truth, err := set.Season(900)
	require.NoError(t, err)
	known := &Known{Day: day, OutlookMM: []float64{0, 44}}
	for d := range day {
		known.RainMM = append(known.RainMM, truth.Days[d].RainMM)
	}
	known.RainMM[3] = math.NaN()
	set.Known = known
	for n := range 5 {
		s, err := set.Season(n)
		require.NoError(t, err)
		for d := range day {
			if d != 3 {
				assert.Equal(t, truth.Days[d].RainMM, s.Days[d].RainMM)
			}
		}
		assert.Equal(t, 0.0, s.Days[day].RainMM)
		assert.Equal(t, 44.0, s.Days[day+1].RainMM)
		assert.Less(t, s.Days[day].TminC, s.Days[day].TmaxC)
	}
	again, err := set.Season(900) // the first weather drawn for it is that of the record: no other is more like it
	require.NoError(t, err)
	for d := day + 2; d < len(again.Days); d++ {
		assert.Equal(t, truth.Days[d].RainMM, again.Days[d].RainMM)
	}
}

// Each season counts by how likely what was cut is with the factor that was drawn for it, and not with that
// of another.
func TestSeasonsCountByTheirOwnDraw(t *testing.T) {
	set := tinySetup(1)
	table, err := set.Table(context.Background(), 0, 20, Only([]int{0, 0}), nil)
	require.NoError(t, err)
	set.Known = &Known{Output: []CutSoFar{{Days: 12, LogMean: math.Log(0.75)}, {}}}
	at := slices.IndexFunc(set.Knowledge.Ranges, func(r knowledge.Range) bool { return r.Key == knowledge.OutputFactor })
	require.GreaterOrEqual(t, at, 0)
	w := set.Weights(table)
	require.Len(t, w, 20)
	require.Greater(t, slices.Max(w), 1.2*slices.Min(w))
	likely := func(season int) float64 {
		_, draws := set.Knowledge.Draw(set.Base, KnowledgeStream(set.Seed, uint64(season)))
		return set.Known.logLikelihood(set.Region.Luck, draws[at])
	}
	for i := range w {
		assert.InDelta(t, likely(i)-likely(0), math.Log(w[i]/w[0]), 1e-9, "season %d", i)
	}
}

// Seasons count by the third to which their rain from today on belongs.
func TestThirdsOfTheRest(t *testing.T) {
	set := tinySetup(1)
	table, err := set.Table(context.Background(), 0, 60, Only([]int{0, 0}), nil)
	require.NoError(t, err)
	set.Known = &Known{Thirds: [3]float64{0.2, 0.3, 0.5}}
	w := set.Weights(table)
	require.Len(t, w, 60)
	least, most := math.Inf(1), 0.0 // rain of the wet and of the dry seasons
	set.Known = nil
	for i, x := range w {
		season, err := set.Season(i)
		require.NoError(t, err)
		rainMM := 0.0
		for _, day := range season.Days {
			rainMM += day.RainMM
		}
		assert.InDelta(t, rainMM, table.AheadMM(i), 1e-9)
		if x > 1.4 {
			least = min(least, rainMM)
		} else if x < 0.7 {
			most = max(most, rainMM)
		}
	}
	assert.InDelta(t, 60, sum(w), 1e-9)
	assert.Greater(t, least, most)
	assert.Len(t, within(w, 0.6), 20)
	assert.Len(t, within(w, 0.9), 20)
	assert.Len(t, within(w, 1.5), 20)
}

// within are the numbers of a list near one.
func within(list []float64, x float64) (out []float64) {
	for _, y := range list {
		if math.Abs(x-y) < 1e-9 {
			out = append(out, y)
		}
	}
	return out
}

// What is known and does not fit is an error that says what is wanted.
func TestNonsenseOfWhatIsKnown(t *testing.T) {
	for want, k := range map[string]Known{
		"known up to day 9999":       {Day: 9999},
		"rain of 1 days, wanted: of": {Day: 3, RainMM: []float64{1}},
		"output of 9 sites":          {Output: make([]CutSoFar, 9)},
		"add up to 0.8":              {Thirds: [3]float64{0.3, 0.3, 0.3}},
	} {
		set := tinySetup(1)
		set.Known = &k
		_, err := set.Season(0)
		require.ErrorContains(t, err, want)
	}
}

// Weights that are all the same give what is said without weights, to the last bit; one season that
// counts for all says as much as one.
func TestWeightedOdds(t *testing.T) {
	met := []bool{true, true, false, true, false}
	same := []float64{2, 2, 2, 2, 2}
	values := []float64{5, 1, 4, 2, 3}
	assert.Equal(t, NewOdds(3, 5), NewWeightedOdds(met, same))
	assert.Equal(t, NewMean(values), NewWeightedMean(values, same))
	assert.Equal(t, NewBand(values), NewWeightedBand(values, same))
	assert.InDelta(t, 5, Effective(same), 1e-12)

	// Two groups: 30 of weight 2 and 40 of weight 1 are worth 100²/160 = 62.5 seasons (Kish, by hand).
	var w []float64
	var held []bool
	for i := range 70 {
		w = append(w, map[bool]float64{true: 2, false: 1}[i < 30])
		held = append(held, i < 30 || i >= 50)
	}
	o := NewWeightedOdds(held, w)
	assert.InDelta(t, 62.5, Effective(w), 1e-12)
	assert.InDelta(t, 0.8, o.Share, 1e-12)
	low, high := ClopperPearson(50, 62, Level)
	assert.InDelta(t, low, o.Low, 0.01)
	assert.InDelta(t, high, o.High, 0.01)
	lone := NewWeightedOdds([]bool{true, false}, []float64{1, 1e-9})
	assert.Less(t, lone.Low, 0.1)
	assert.Less(t, lone.Share, 1.0)
	assert.InDelta(t, 2.0, WeightedQuantile(0.5, []float64{1, 2, 3}, []float64{1, 1, 1}), 1e-12)
	assert.InDelta(t, 3.0, WeightedQuantile(0.5, []float64{1, 2, 3}, []float64{1, 1, 5}), 1e-12)
}
