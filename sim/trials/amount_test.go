package trials

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
)

// Three events in many seasons: the rate times and by exp(1.96/√3), after Rothman & Greenland, Modern
// Epidemiology (from memory). What Student's interval can tell from nothing is left to it, and so is
// what may be on both sides of nothing.
func TestAmountsStayOnTheirSide(t *testing.T) {
	rare := make([]float64, 100_000)
	rare[7], rare[70], rare[700] = 1, 1, 1
	m := NewAmount(rare)
	factor := math.Exp(1.959964 / math.Sqrt(3))
	assert.InEpsilon(t, 3e-5/factor, m.Low, 1e-4)
	assert.InEpsilon(t, 3e-5*factor, m.High, 1e-4)

	paid := NewAmount([]float64{0, -5, 0, 0})
	got := NewAmount([]float64{0, 5, 0, 0})
	assert.Equal(t, Mean{-got.Mean, -got.High, -got.Low, 4}, paid)
	assert.Negative(t, paid.High)
	for _, same := range [][]float64{nil, {3}, {0, 0}, {7, 8, 9, 8}, {-7, -8, -9, -8}, {-1, 9, 0}} {
		assert.Equal(t, NewMean(same), NewAmount(same), same)
	}
	some, alike, by := []float64{0, 5, 0, 0}, []float64{2, 2, 2, 2}, []float64{1, 2, 2, 1}
	assert.Equal(t, NewAmount(some), NewWeightedAmount(some, alike))
	assert.Negative(t, NewWeightedMean(some, by).Low)
	assert.Positive(t, NewWeightedAmount(some, by).Low)
}

// Where most seasons have none, the interval covers the mean at least as often as Student's does, which
// it replaces.
func TestAmountsCoverMoreThanStudents(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 4))
	for _, law := range []struct {
		often, spread float64
		seasons       int
	}{{0.05, 1, 40}, {0.1, 0.5, 40}, {0.02, 0.5, 200}} {
		truth := law.often * math.Exp(law.spread*law.spread/2)
		amount, student := 0, 0
		for range 1000 {
			values := make([]float64, law.seasons)
			for i := range values {
				if rng.Float64() < law.often {
					values[i] = math.Exp(law.spread * rng.NormFloat64())
				}
			}
			if m := NewAmount(values); m.Low <= truth && truth <= m.High {
				amount++
			}
			if m := NewMean(values); m.Low <= truth && truth <= m.High {
				student++
			}
		}
		assert.Greater(t, amount, student+50, law)
	}
}
