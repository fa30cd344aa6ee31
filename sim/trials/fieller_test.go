package trials

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The ends of Fieller's interval are the ratios at which the t test of num − r·den is just on its
// limit; between them the test does not reject, beyond them it does. That is how the interval is
// defined, and it is tested with the interval of a plain mean.
func TestFiellerInvertsTheTTest(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	bounded := 0
	for range 200 {
		n := 3 + rng.IntN(40)
		num, den := make([]float64, n), make([]float64, n)
		shift := 4 * rng.Float64()
		for i := range num {
			den[i] = shift + rng.NormFloat64()
			num[i] = 2*den[i] - 3 + rng.NormFloat64()
		}
		r := NewFieller(num, den)
		at := func(ratio float64) Mean {
			rest := make([]float64, n)
			for i := range rest {
				rest[i] = num[i] - ratio*den[i]
			}
			return NewMean(rest)
		}
		if d := NewMean(den); d.Low <= 0 && d.High >= 0 {
			require.True(t, math.IsInf(r.Low, -1) && math.IsInf(r.High, 1), "what is divided by may be nothing")
			continue
		}
		bounded++
		for _, end := range []float64{r.Low, r.High} {
			m := at(end)
			scale := m.High - m.Low
			require.InDelta(t, 0, min(math.Abs(m.Low), math.Abs(m.High))/scale, 1e-9)
		}
		require.True(t, r.Low <= r.Mean && r.Mean <= r.High)
		mid := at((r.Low + r.High) / 2)
		require.True(t, mid.Low <= 0 && mid.High >= 0)
		far := at(r.High + (r.High - r.Low))
		require.False(t, far.Low <= 0 && far.High >= 0)
	}
	require.Greater(t, bounded, 100)
}

// Where the divisor is certain the interval is that of the mean over it, and one value alone says
// nothing.
func TestFiellerOfACertainDivisor(t *testing.T) {
	num := []float64{1, 2, 4, 9}
	m := NewMean(num)
	r := NewFieller(num, []float64{2, 2, 2, 2})
	assert.InDeltaSlice(t, []float64{m.Mean / 2, m.Low / 2, m.High / 2}, []float64{r.Mean, r.Low, r.High}, 1e-12)
	one := NewFieller([]float64{3}, []float64{2})
	assert.Equal(t, 1.5, one.Mean)
	assert.True(t, math.IsInf(one.Low, -1) && math.IsInf(one.High, 1))
}

// The interval holds the true ratio about as often as it says, with a skewed divisor too, over
// many samples of 40 with a known truth.
func TestFiellerCovers(t *testing.T) {
	rng := rand.New(rand.NewPCG(7, 7))
	const samples, n = 4000, 40
	held := 0
	for range samples {
		num, den := make([]float64, n), make([]float64, n)
		for i := range num {
			e := rng.ExpFloat64()
			den[i] = e + 0.5*rng.NormFloat64() // mean 1
			num[i] = 3*e + rng.NormFloat64()   // mean 3
		}
		if r := NewFieller(num, den); r.Low <= 3 && 3 <= r.High {
			held++
		}
	}
	assert.InDelta(t, 0.95, float64(held)/samples, 0.015)
}
