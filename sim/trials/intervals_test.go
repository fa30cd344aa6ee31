package trials

import (
	"encoding/json"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Newcombe 1998, Statistics in Medicine 17, 857: the four examples (printed to four
// digits, from memory; full digits computed with a general statistics library), and
// 12 of 150 as published: 0.042 to 0.136.
func TestIntervalsOfAProbability(t *testing.T) {
	for _, tt := range []struct {
		met, n              int
		low, high, oneSided float64
	}{
		{81, 263, 0.252737, 0.367622, 0.261056},
		{15, 148, 0.057844, 0.161650, 0.063518},
		{0, 20, 0, 0.168433, 0},
		{1, 29, 0.000873, 0.177644, 0.001767},
		{95, 100, 0.887165, 0.983568, 0.897747},
		{950, 1000, 0.934610, 0.962665, 0.937137},
		{59, 59, 0.939391, 1, 0.950492},
	} {
		o := NewOdds(tt.met, tt.n)
		assert.InDelta(t, tt.low, o.Low, 2e-6)
		assert.InDelta(t, tt.high, o.High, 2e-6)
		assert.InDelta(t, tt.oneSided, LowerBound(tt.met, tt.n, 0.95), 2e-6)
	}
	o := NewOdds(12, 150)
	assert.InDelta(t, 0.042, o.Low, 5e-4)
	assert.InDelta(t, 0.136, o.High, 5e-4)
	assert.Equal(t, Odds{0, 0, 0, 0, 1}, NewOdds(0, 0), "without seasons nothing is known")
}

// Reliability demonstration: seasons needed to prove 0.90 and 0.95 at 95 % with 0, 1
// and 2 failures (standard tables: 29, 46, 61 and 59, 93, 124).
func TestAcceptanceTable(t *testing.T) {
	for p, sizes := range map[float64][]int{0.90: {29, 46, 61}, 0.95: {59, 93, 124}} {
		for failures, n := range sizes {
			assert.GreaterOrEqual(t, LowerBound(n-failures, n, 0.95), p)
			assert.Less(t, LowerBound(n-1-failures, n-1, 0.95), p)
		}
	}
}

// Law, Simulation Modeling and Analysis: delays of ten replications of a bank (data
// read in an exercise), mean 2.03 and 90 % half-width 0.32; and the paired differences
// of two inventory policies, mean 4.98 and half-width 3.33 (from memory).
func TestIntervalOfAMean(t *testing.T) {
	bank := meanAt([]float64{1.53, 1.66, 1.24, 2.34, 2.00, 1.69, 2.69, 2.86, 1.70, 2.60}, 0.90)
	assert.InDelta(t, 2.0310, bank.Mean, 1e-4)
	assert.InDelta(t, 0.3223, bank.High-bank.Mean, 1e-4)
	a := []float64{126.97, 124.31, 126.68, 122.66, 127.23}
	b := []float64{118.21, 120.22, 122.45, 122.68, 119.40}
	d := make([]float64, len(a))
	for i := range d {
		d[i] = a[i] - b[i]
	}
	paired := meanAt(d, 0.90)
	assert.InDelta(t, 4.978, paired.Mean, 1e-3)
	assert.InDelta(t, 3.3289, paired.High-paired.Mean, 1e-3)
	assert.Equal(t, Mean{}, NewMean(nil))
	one := NewMean([]float64{3})
	assert.True(t, math.IsInf(one.High, 1) && math.IsInf(one.Low, -1))
}

// The intervals cover as often as they say: Clopper-Pearson at least, the t interval
// within the binomial error of 1,000 experiments.
func TestCoverage(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	const experiments, n, p = 1000, 200, 0.9
	odds, mean := 0, 0
	for range experiments {
		met, values := 0, make([]float64, n)
		for i := range values {
			if rng.Float64() < p {
				met++
			}
			values[i] = rng.NormFloat64()
		}
		if o := NewOdds(met, n); o.Low <= p && p <= o.High {
			odds++
		}
		if m := NewMean(values); m.Low <= 0 && 0 <= m.High {
			mean++
		}
	}
	error3 := 3 * math.Sqrt(0.95*0.05/experiments)
	assert.GreaterOrEqual(t, float64(odds)/experiments, 0.95-error3)
	assert.InDelta(t, 0.95, float64(mean)/experiments, error3)
}

// Exact paired test: 8 gains and 1 loss, 2(1+9)/512, by hand.
func TestPairedTest(t *testing.T) {
	assert.InDelta(t, 20.0/512, PairedTest(8, 1), 1e-12)
	assert.Equal(t, 1.0, PairedTest(0, 0))
	assert.Equal(t, 1.0, PairedTest(3, 3))
}

func TestBand(t *testing.T) {
	var x []float64
	for i := range 100 {
		x = append(x, float64(100-i))
	}
	assert.Equal(t, Band{5, 50, 95, 100}, NewBand(x))
	assert.Equal(t, Band{}, NewBand(nil))
	assert.Equal(t, Fan{5, 25, 50, 75, 95, 100}, NewFan(x))
	assert.Equal(t, Fan{}, NewFan(nil))
}

// Golden values of a stream, computed independently: SHA-256 of the key into ChaCha8.
func TestStream(t *testing.T) {
	s := Stream(42, 7, 3, "weather")
	assert.Equal(t, uint64(0x17639d766b8dd4c8), s.Uint64())
	assert.Equal(t, uint64(0x3eaf37d9ae64dc13), s.Uint64())
	assert.Equal(t, 0.3909662015319979, s.Float64())
	seen := map[uint64]bool{}
	for season := range uint64(50) {
		for site := range uint64(20) {
			for _, purpose := range []string{"weather", "output"} {
				v := Stream(1, season, site, purpose).Uint64()
				require.False(t, seen[v])
				seen[v] = true
			}
		}
	}
}

// The interval of a ratio of means covers the ratio about as often as it says, on lognormal
// money over stalks that go with it: 0.95 within the binomial error of 2,000 experiments and
// the known shortfall of Student intervals on skewed values at 100 seasons.
func TestRatioCovers(t *testing.T) {
	rng := rand.New(rand.NewPCG(4, 9))
	const experiments = 2000
	covered := 0
	for range experiments {
		num, den := make([]float64, 100), make([]float64, 100)
		for i := range num {
			den[i] = 1000 * math.Exp(0.3*rng.NormFloat64()-0.045)
			num[i] = 0.08*den[i] + 20*math.Exp(0.5*rng.NormFloat64()-0.125)
		}
		if r := NewRatio(num, den); r.Low <= 0.1 && 0.1 <= r.High {
			covered++
		}
	}
	share := float64(covered) / experiments
	assert.InDelta(t, 0.95, share, 0.022, "covered %.3f", share)

	r := NewRatio([]float64{1, 2, 3}, []float64{-1, 0, 1})
	assert.True(t, math.IsInf(r.Low, -1) && math.IsInf(r.High, 1), "over what cannot be told from nothing")
	data, err := json.Marshal(r)
	require.NoError(t, err)
	assert.Contains(t, string(data), `"low":null`)
}

// JSON has no infinity and no "not a number": what is not known is null, whichever figure of
// the mean it is, and what is known is written in full.
func TestMeansInJSON(t *testing.T) {
	for _, tt := range []struct {
		mean Mean
		want string
	}{
		{Mean{1.5, -2, 4.25, 7}, `{"mean":1.5,"low":-2,"high":4.25,"seasons":7}`},
		{NewMean([]float64{3}), `{"mean":3,"low":null,"high":null,"seasons":1}`},
		{NewRatio(nil, nil), `{"mean":null,"low":null,"high":null,"seasons":0}`},
		{NewRatio([]float64{1, 2}, []float64{0, 0}), `{"mean":null,"low":null,"high":null,"seasons":2}`},
		{Mean{math.Inf(1), math.NaN(), 0, 3}, `{"mean":null,"low":null,"high":0,"seasons":3}`},
	} {
		data, err := json.Marshal(tt.mean)
		require.NoError(t, err)
		assert.Equal(t, tt.want, string(data))
	}
}
