package decide

import (
	"math"
	"math/rand/v2"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/stat/distuv"

	"drystalk/sim"
	"drystalk/sim/trials"
)

// firstWrong is the smallest step that misses the target in the models below: it is met in 899 of
// 1,000 seasons, the step before in at least 900.
const firstWrong = 95

// limits are models with known truth: by which step a season is met, from a uniform number. From steep
// ones, where a hundredth of the contract decides, to flat ones, where a hundred hardly do.
func limits() map[string]func(u float64) float64 {
	at := func(quantile func(u float64) float64) func(float64) float64 {
		return func(u float64) float64 { return firstWrong + quantile(u) - quantile(0.101) }
	}
	return map[string]func(u float64) float64{
		"normal, steep":      at(func(u float64) float64 { return 1.5 * distuv.UnitNormal.Quantile(u) }),
		"normal":             at(func(u float64) float64 { return 6 * distuv.UnitNormal.Quantile(u) }),
		"exponential":        at(func(u float64) float64 { return -30 * math.Log(1-u) }),
		"exponential, below": at(func(u float64) float64 { return 20 * math.Log(u) }),
		"flat":               at(func(u float64) float64 { return 950 * u }),
	}
}

// modelled is a promise of a contract of 10,000 stalks whose seasons are those of a model.
func modelled(limit func(u float64) float64, rng *rand.Rand) *PromiseQuestion {
	q, _ := madeUp(10_000, 0, 0, nil)
	q.SearchSeasons, q.Seasons = 100, 1000
	drawn := map[int][]float64{} // by the number of the first season
	q.made = func(r *sim.Region, first, n int) (trials.Odds, error) {
		for len(drawn[first]) < n {
			drawn[first] = append(drawn[first], limit(rng.Float64()))
		}
		met, step := 0, float64(r.Contract.StalksByMonth[time.June])/100
		for _, x := range drawn[first][:n] {
			if x >= step {
				met++
			}
		}
		return trials.Odds{Met: met, Seasons: n, Share: float64(met) / float64(n)}, nil
	}
	return q
}

// The promise holds on models with known truth: in at least 95 % of repeated experiments what is
// promised reaches the target. Most promise nearly as much as the truth where the odds fall with the
// contract.
func TestPromiseHolds(t *testing.T) {
	models := limits()
	require.Len(t, models, 5)
	for name, limit := range models {
		rng := rand.New(rand.NewPCG(3, 17))
		wrong, promised := 0, 0.0
		for range experiments {
			q := modelled(limit, rng)
			var p Promise
			about, err := q.about(t.Context(), 10_000)
			require.NoError(t, err)
			start, stride, err := q.safely(t.Context(), 10_000, about)
			require.NoError(t, err)
			require.NoError(t, q.prove(t.Context(), &p, ascentFrom(q, 10_000, climbsFrom(start, stride, about))))
			promised += float64(p.Flat) / 100 / experiments
			if p.Flat >= 100*firstWrong {
				wrong++
			}
		}
		t.Logf("%s: wrong %.3f, promised %.1f steps on average", name, float64(wrong)/experiments, promised)
		assert.LessOrEqual(t, float64(wrong)/experiments, 0.05, name)
		if name != "flat" && name != "exponential" {
			assert.Greater(t, promised, 0.9*(firstWrong-1), name)
		}
	}
}

// So it does where the first step that is tried is too much already, or is the last that is not: what
// is tried further down has its own part of the error, and so have the steps in between.
func TestPromiseHoldsWhereTheFirstStepFails(t *testing.T) {
	models := limits()
	require.Len(t, models, 5)
	for name, limit := range models {
		for _, start := range []int{firstWrong, firstWrong + 4, firstWrong + 8, firstWrong - 1} {
			for _, stride := range []int{1, 5} {
				rng := rand.New(rand.NewPCG(uint64(start), uint64(stride)))
				wrong, none := 0, 0
				for range experiments / 4 {
					q := modelled(limit, rng)
					var p Promise
					require.NoError(t, q.prove(t.Context(), &p, ascentFrom(q, 10_000, climbsFrom(start, stride, start+4*stride))))
					if p.Flat >= 100*firstWrong {
						wrong++
					}
					if p.Flat == 0 {
						none++
					}
				}
				of := float64(experiments / 4)
				assert.LessOrEqual(t, float64(wrong)/of, 0.05, "%s from %d by %d", name, start, stride)
				assert.LessOrEqual(t, float64(none)/of, 0.05, "%s from %d by %d", name, start, stride)
			}
		}
	}
}
