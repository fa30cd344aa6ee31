package weather

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/stat/distuv"
)

// correctByWholeDays corrects a source as it is described: by years of whole days, one after another.
func correctByWholeDays(s *NormalsSource, years int) {
	for pass := range correctionPasses {
		var wet, rain [12]float64
		rng := rand.New(rand.NewPCG(1, uint64(pass)))
		days := make([]Day, 365)
		for range years {
			s.draw(days, 0, rng)
			for d := range days {
				if m := monthOf(d); days[d].RainMM >= 1 {
					wet[m]++
					rain[m] += days[d].RainMM - 1
				}
			}
		}
		for d := range 365 {
			m := monthOf(d)
			share, excess := s.normals.monthlyWet(m)
			if wet[m] > 0 {
				got := wet[m] / (float64(years) * monthLength[m])
				s.chance[d] += 0.7 * (distuv.UnitNormal.Quantile(min(share, 0.999)) - distuv.UnitNormal.Quantile(min(got, 0.999)))
			}
			if wet[m] >= enoughWetDays && rain[m] > 0 {
				s.excess[d] *= math.Pow(excess/(rain[m]/wet[m]), 0.7)
			}
		}
	}
}

// The correction makes nothing but rain of its years, which are drawn ahead; its curves are to the last
// bit those of whole days, in dry climates and wet ones and in years that are no whole number of
// what is drawn at a time.
func TestCorrectedByRainAlone(t *testing.T) {
	for _, name := range []string{"Sittwe 48062", "DarwinAirport 94120", "ChiangMai 48327"} {
		for _, years := range []int{1, yearsAtOnce, 2*yearsAtOnce + 7} {
			n := stationNormals(t, name)
			want, err := newNormalsSource(n, 0)
			require.NoError(t, err)
			before := want.chance
			correctByWholeDays(want, years)
			require.NotEqual(t, before, want.chance)
			got, err := newNormalsSource(n, years)
			require.NoError(t, err)
			assert.Equal(t, want.chance, got.chance, "%s, %d years", name, years)
			assert.Equal(t, want.excess, got.excess, "%s, %d years", name, years)
			rngA, rngB := rand.New(rand.NewPCG(5, 6)), rand.New(rand.NewPCG(5, 6))
			assert.Equal(t, want.Days(100, 200, rngA), got.Days(100, 200, rngB))
		}
	}
}

func BenchmarkNewNormalsSource(b *testing.B) {
	n := stationNormals(b, "Sittwe 48062")
	for b.Loop() {
		if _, err := NewNormalsSource(n); err != nil {
			b.Fatal(err)
		}
	}
}
