package sim

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"drystalk/sim/stalk"
)

// Grades that are remembered are those of stalk.Grade, in whatever order they are asked for, and
// another season's spread forgets them.
func TestGradesAreRemembered(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 4))
	var indices []float64
	for range 300 {
		indices = append(indices, 4*rng.Float64())
	}
	indices = append(indices, 0, 1e-300, 1e-6, stalk.CleanIndex(0.4), stalk.CleanIndex(0.7), math.Nextafter(stalk.CleanIndex(0.4), 1))
	var g grades
	for _, spread := range []float64{0.4, 0.7} {
		g.begin(spread)
		for range 3000 {
			index := indices[rng.IntN(len(indices))]
			full, _, reject := stalk.Grade(index, spread)
			if rng.IntN(2) == 0 {
				require.Equal(t, full, g.full(index))
				continue
			}
			require.Equal(t, reject, g.reject(index))
		}
	}
}

// The charge that is found by working out the most promising ones alone is the best of all that
// there are, each worked out, whatever lies in the yard.
func TestTheBestOfAllCharges(t *testing.T) {
	r := small(landing1(1))
	y := calmRooms(r, 1)
	fresh := float64(y.freshState().Moisture)
	found := 0
	rapid.Check(t, func(t *rapid.T) {
		r.Dryer.LoadingRule = LoadingRule(rapid.IntRange(0, 3).Draw(t, "rule"))
		r.Dryer.HandlingH = rapid.SampledFrom([]float64{0, 0.5}).Draw(t, "handling")
		r.Dryer.MinimumFill = rapid.SampledFrom([]float64{0.05, 0.3}).Draw(t, "minimum")
		nowH := rapid.Float64Range(7, 18).Draw(t, "now")
		y.yard.batches = y.yard.batches[:0]
		for k := range rapid.IntRange(1, 7).Draw(t, "batches") {
			b := wetBatch(k, rapid.IntRange(1, 900).Draw(t, "stalks"), stalk.DryBasis(rapid.Float64Range(0.2, fresh).Draw(t, "moisture")))
			b.state.MouldIndex = rapid.SampledFrom([]float64{0, 0.2, 0.9}).Draw(t, "mould")
			b.state.PeakIndex = b.state.MouldIndex
			y.yard.lay(b)
		}
		y.yard.orderWet()
		fire := y.dryers.fires.on(0)
		got, ok := y.dryers.compose(&y.yard, fire, nowH)

		s := &search{fire: fire, restH: y.shiftEndH() - y.hourOfShift(nowH), available: y.yard.gradeOrder()}
		s.begin(&y.yard)
		for k := range s.begins {
			y.dryers.addFills(&s.begins[k], s)
		}
		for i := range s.fills {
			f := s.fills[i]
			most := f.finishes
			y.dryers.try(&f, s)
			require.LessOrEqual(t, f.finishes, most, "what a charge may finish at most")
		}
		require.Equal(t, s.best.finishes > 0, ok)
		require.Equal(t, s.bestMix, got)
		if ok {
			found++
		}
	})
	assert.Positive(t, found)
}
