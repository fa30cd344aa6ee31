package knowledge_test

import (
	"fmt"
	"math"
	"regexp"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drystalk/sim/knowledge"
)

// ranks are the parameters that stand for others, with what they stand for.
var ranks = map[knowledge.Key][]knowledge.Key{
	knowledge.StoreRank:     {knowledge.StoreOpenPerH, knowledge.StoreSealedPerH},
	knowledge.SolidRoofRank: {knowledge.SolidRoofSun, knowledge.SolidRoofAir},
}

// Every parameter stands in the table once, in order of its numbers, with words, a source and
// a way to measure it.
func TestTableIsWhole(t *testing.T) {
	table := knowledge.Table()
	require.Len(t, table, 19)
	seen := map[knowledge.Key]bool{}
	for _, r := range table {
		require.False(t, seen[r.Key], "%s twice", r.Key)
		seen[r.Key] = true
		require.NoError(t, r.Check())
		assert.Less(t, r.Low, r.High, r.Key)
		assert.Regexp(t, `^[a-z][a-z0-9_]+$`, r.Key)
		assert.NotEmpty(t, r.Name, r.Key)
		assert.NotEmpty(t, r.Source, r.Key)
		assert.NotEmpty(t, r.Measure, r.Key)
		assert.Equal(t, r, knowledge.Of(r.Key))
		assert.Equal(t, r.Mode, knowledge.Mode(r.Key))
		assert.Equal(t, ranks[r.Key] != nil, r.IsRank(), r.Key)
	}
	table[0].Low = 77
	assert.NotEqual(t, table[0], knowledge.Table()[0], "what a caller changes is its own")
	assert.PanicsWithValue(t, "knowledge: no parameter moonlight", func() { knowledge.Of("moonlight") })
}

// The source of a rank names the numbers of what it stands for.
func TestRanksNameTheirNumbers(t *testing.T) {
	for rank, keys := range ranks {
		var want []float64
		for _, k := range keys {
			want = append(want, knowledge.Of(k).Low, knowledge.Of(k).High)
		}
		var got []float64
		for _, text := range regexp.MustCompile(`\d\.\d+`).FindAllString(string(knowledge.Of(rank).Source), -1) {
			var x float64
			_, err := fmt.Sscan(text, &x)
			require.NoError(t, err)
			got = append(got, x)
		}
		assert.Equal(t, want, got, rank)
	}
}

// The triangular distribution by its closed forms (Evans, Hastings & Peacock, Statistical
// Distributions; from memory): mean (a+b+c)/3, variance (a²+b²+c²−ab−ac−bc)/18, probability
// (c−a)/(b−a) up to the mode. A rank is even between its ends.
func TestQuantiles(t *testing.T) {
	r := knowledge.Range{Low: 0.6, Mode: 1, High: 1.5}
	sum, squares := 0.0, 0.0
	const n = 100_000
	for i := range n {
		x := r.Quantile((float64(i) + 0.5) / n)
		sum += x
		squares += x * x
	}
	mean := sum / n
	assert.InDelta(t, (0.6+1+1.5)/3, mean, 1e-5)
	assert.InDelta(t, (0.36+1+2.25-0.6-0.9-1.5)/18, squares/n-mean*mean, 1e-5)
	assert.InDelta(t, 1, r.Quantile(0.4/0.9), 1e-12)
	assert.Equal(t, 0.6, r.Quantile(0))
	assert.Equal(t, 1.5, r.Quantile(1))
	assert.Equal(t, 2.0, knowledge.Range{Low: 2, Mode: 2, High: 2}.Quantile(0.7))
	assert.Equal(t, 0.0, knowledge.Range{Low: 0, Mode: 0, High: 4}.Quantile(0))
	assert.InDelta(t, 2, knowledge.Range{Low: 0, Mode: 4, High: 4}.Quantile(0.25), 1e-12, "half of the way at a quarter")
	assert.Equal(t, 0.25, knowledge.Range{Key: knowledge.StoreRank, Low: 0, Mode: 0.9, High: 1}.Quantile(0.25))
	assert.Equal(t, 3.0, knowledge.Range{Key: knowledge.SolidRoofRank, Low: 2, Mode: 2, High: 4}.Quantile(0.5))
}

// Numbers out of order, and such as are none, are told.
func TestCheck(t *testing.T) {
	require.NoError(t, knowledge.Range{Low: 1, Mode: 1, High: 1}.Check())
	for _, r := range []knowledge.Range{
		{Low: 2, Mode: 1, High: 3},
		{Low: 1, Mode: 4, High: 3},
		{Low: math.NaN(), Mode: 1, High: 3},
		{Low: 1, Mode: math.NaN(), High: 3},
		{Low: 1, Mode: 2, High: math.NaN()},
		{Low: math.Inf(-1), Mode: 2, High: 3},
		{Low: 1, Mode: 2, High: math.Inf(1)},
	} {
		require.ErrorContains(t, r.Check(), "allowed: finite, low at most mode, mode at most high")
	}
}

// An even distribution has its quantiles in a straight line; a shape that is none is refused.
func TestEven(t *testing.T) {
	r := knowledge.Range{Low: 2, Mode: 3, High: 10, Shape: knowledge.Even}
	for _, u := range []float64{0, 0.25, 0.5, 1} {
		assert.InDelta(t, 2+8*u, r.Quantile(u), 1e-12)
	}
	require.NoError(t, r.Check())
	r.Shape = "round"
	assert.ErrorContains(t, r.Check(), `found the shape "round", allowed: none or even`)
}
