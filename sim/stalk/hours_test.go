package stalk

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"drystalk/sim/air"
)

// An hour without film and rain, which is worked out in one piece, is to the last bit an hour like all
// others, and hours in a row are hours one by one.
func TestDryHoursAreLikeAllHours(t *testing.T) {
	dry := 0
	rapid.Check(t, func(t *rapid.T) {
		p := Default()
		covers := []Cover{OpenRack(), ClearRoof(0.75), SolidRoof(0.1, 0.8), Sheet()}
		cover := rapid.SampledFrom(covers).Draw(t, "cover")
		var hours []Hour
		for range rapid.IntRange(1, 30).Draw(t, "hours") {
			a := air.Hour{
				TempC:            rapid.Float64Range(-2, 55).Draw(t, "temp"),
				Humidity:         rapid.Float64Range(0.15, 1).Draw(t, "humidity"),
				RadiationMJPerM2: rapid.SampledFrom([]float64{0, 0, 1, 3}).Draw(t, "sun"),
				ET0SunMM:         rapid.SampledFrom([]float64{-0.05, 0, 1e-17, 0.5}).Draw(t, "et0 sun"),
				ET0AirMM:         rapid.SampledFrom([]float64{0, 0.3}).Draw(t, "et0 air"),
				RainMM:           rapid.SampledFrom([]float64{0, 0, 0, 0, 0, 0.2, 5}).Draw(t, "rain"),
			}
			hours = append(hours, NewHour(&a, cover, &p))
		}
		index := rapid.SampledFrom([]float64{0, 1e-3, 0.9, 2, 5.9, 6}).Draw(t, "index")
		s := State{
			Moisture: DryBasis(rapid.SampledFrom([]float64{0.05, 0.2, 0.4, 0.701, 0.72, 1, 3, 11}).Draw(t, "moisture")), MouldIndex: index, PeakIndex: index,
			FilmKgPerM2: rapid.SampledFrom([]float64{0, 0, 0.1}).Draw(t, "film"),
			AgeH:        rapid.Float64Range(0, 200).Draw(t, "age"), StillH: float64(rapid.IntRange(0, 60).Draw(t, "still")),
			Predried: rapid.Bool().Draw(t, "closed up"),
		}
		row, one, plain := Lived{State: s}, s, s
		var single, want Exchange
		after := make([]Lived, len(hours))
		row.State.RackHours(hours, 0.9, &p, &row.Gave, after)
		for i := range hours {
			x := one.RackHour(&hours[i], 0.9, &p)
			single.Rain, single.Evaporated = single.Rain+x.Rain, single.Evaporated+x.Evaporated

			load := 0.9
			if plain.Predried {
				load /= p.AreaAfterPredry
			}
			if !(plain.FilmKgPerM2 > 0) {
				dry++
			}
			x = plain.hour(&hours[i], load, false, &p)
			if !plain.Predried && plain.Moisture <= p.PredriedMoisture {
				x.Rain -= plain.closeUp(load, &p)
			}
			want.Rain, want.Evaporated = want.Rain+x.Rain, want.Evaporated+x.Evaporated
			require.Equal(t, Lived{plain, want}, after[i], "hour %d", i)
		}
		require.Equal(t, Lived{plain, want}, row)
		require.Equal(t, plain, one)
		require.Equal(t, want, single)
		unseen := Lived{State: s}
		unseen.State.RackHours(hours, 0.9, &p, &unseen.Gave, nil)
		require.Equal(t, row, unseen)
	})
	assert.Positive(t, dry)
}

// Step 2 of an hour: what dry stalks take up of the film is min(q k (3.25 − M), F/L), and F gives it. Where
// that is F/L nothing of the film is left, and the next hour is not filmed.
func TestFilmThatIsTakenUpWholeIsGone(t *testing.T) {
	p := Default()
	wetAir := air.Hour{TempC: 26, Humidity: 0.92, VapourKPa: 3.09} // nothing evaporates
	h := NewHour(&wetAir, OpenRack(), &p)
	for i := 1; i <= 300; i++ {
		s := Fresh(&p)
		s.Moisture, s.Predried, s.FilmKgPerM2 = 0.2, true, float64(i)/1e4 // far less than an hour takes up
		s.RackHour(&h, p.DryLoadKgPerM2(10), &p)
		require.Zero(t, s.FilmKgPerM2, "of %g kg/m2 a rounding is left, and the next hour is filmed", float64(i)/1e4)
		require.InDelta(t, 0.2+float64(i)/1e4/(p.DryLoadKgPerM2(10)/p.AreaAfterPredry), float64(s.Moisture), 2e-3, "the film is in the stalks, less what evaporates")
	}
}
