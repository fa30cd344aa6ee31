package weather

import (
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drystalk/sim/air"
)

// desert is a made-up climate of little rain in dry air.
func desert(t *testing.T) Normals {
	t.Helper()
	raw := RawNormals{Station: "desert", Place: Place{LatitudeDeg: 25, ElevationM: 300}}
	raw.RainMM, raw.Days1MM = &[12]float64{2, 3, 5, 4, 1, 0, 15, 20, 5, 0, 0, 1}, &[12]float64{0.4, 0.5, 1, 0.8, 0.2, 0, 1.5, 2, 0.6, 0, 0, 0.3}
	raw.TmaxC, raw.TminC, raw.VapourKPa = new([12]float64), new([12]float64), new([12]float64)
	for m := range 12 {
		raw.TmaxC[m], raw.TminC[m], raw.VapourKPa[m] = 36, 20, 0.9
	}
	n, err := FillNormals(raw)
	require.NoError(t, err)
	return n
}

// The air of an hour never holds more vapour than the day, wet with rain or not, in twenty years of a
// desert and four of each station of the table; wet hours are humid all the same, and there is no
// frost of rain.
func TestNoHourHoldsMoreVapourThanItsDay(t *testing.T) {
	climates := []Normals{desert(t)}
	for _, raw := range stations(t) {
		n, err := FillNormals(raw)
		require.NoError(t, err)
		climates = append(climates, n)
	}
	require.Len(t, climates, 32)
	for _, n := range climates {
		s, err := newNormalsSource(n, 20)
		require.NoError(t, err)
		rng := rand.New(rand.NewPCG(7, 7))
		wet, cooled, years := 0, 0, 4
		if n.Station == "desert" {
			years = 20
		}
		var hours []air.Hour
		for range years {
			days := s.Days(1, 365, rng)
			hours = HoursInto(hours, days, 1, n.Place, rng)
			for i, h := range hours {
				day := &days[i/24]
				require.LessOrEqual(t, h.VapourKPa, day.VapourKPa+1e-12, "%s: hour %d of a day of %+v", n.Station, i%24, *day)
				if h.RainMM < wetFromMM {
					continue
				}
				wet++
				if h.TempC < day.TminC-1 {
					cooled++
				}
				if day.VapourKPa >= wetHumidity*air.SaturationKPa(rainsDownToC) {
					require.GreaterOrEqual(t, h.Humidity, wetHumidity, n.Station)
				}
				require.GreaterOrEqual(t, h.TempC, min(0, day.TminC), n.Station)
			}
		}
		assert.Greater(t, wet, 100, n.Station)
		assert.Positive(t, cooled, "%s: where the rule is tried", n.Station)
	}
}

// It rains in the afternoon inland and at any hour on a coast, in a season's hours too: by the law of
// the hour at which rain begins, a normal one around 15 h, hardly any falls before 6 h inland, and on a coast
// about a quarter of what the day has.
func TestRainOfASeasonFallsAtTheHoursOfItsPlace(t *testing.T) {
	days := make([]Day, 300)
	for d := range days {
		days[d] = Day{RainMM: 5, TmaxC: 31, TminC: 25, SunFraction: 0.3, VapourKPa: 2.9, WindMS: 2}
	}
	early := func(coast bool) float64 {
		before, all := 0.0, 0.0
		for i, h := range NewAlmanac(152, Place{LatitudeDeg: 17, Coast: coast}).HoursInto(nil, days, rand.New(rand.NewPCG(3, 1))) {
			if all += h.RainMM; i%24 < 6 {
				before += h.RainMM
			}
		}
		require.InDelta(t, 1500, all, 1e-6)
		return before / all
	}
	assert.Less(t, early(false), 0.01)
	assert.InDelta(t, 0.2, early(true), 0.06)
}

// An almanac that has seen other seasons, longer and shorter, tells the same of one as a new one does, over New
// Year too.
func TestAnAlmanacKeepsNoSeason(t *testing.T) {
	place := Place{LatitudeDeg: 22, ElevationM: 60}
	day := func(tmaxC float64) Day { return Day{3, tmaxC, 21, 0.5, 2.2, 2} }
	short, long := []Day{day(29), day(31)}, []Day{day(33), day(28), day(30), day(27)}
	kept := NewAlmanac(364, place)
	for k, days := range [][]Day{short, long, short} {
		fresh := HoursInto(nil, days, 364, place, rand.New(rand.NewPCG(5, uint64(k))))
		require.Len(t, fresh, 24*len(days))
		assert.Equal(t, fresh, kept.HoursInto(nil, days, rand.New(rand.NewPCG(5, uint64(k)))), k)
	}
}
