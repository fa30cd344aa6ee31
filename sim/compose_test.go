package sim

import (
	"testing"

	"drystalk/sim/stalk"
)

// BenchmarkCompose puts a charge together from twelve batches, from fresh to nearly dry.
func BenchmarkCompose(b *testing.B) {
	y := calmRooms(small(landing1(1)), 1)
	for k := range 12 {
		batch := wetBatch(k, 100+10*k, y.freshState().Moisture*stalk.DryBasis(12-k)/12)
		batch.state.MouldIndex = 0.1 * float64(k%5)
		y.yard.lay(batch)
	}
	y.yard.orderWet()
	b.ReportAllocs()
	for b.Loop() {
		y.dryers.compose(&y.yard, y.dryers.fires.on(0), 7)
	}
}
