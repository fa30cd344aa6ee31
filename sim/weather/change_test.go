package weather

import (
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The mean of 1/e° over a day, in a script apart from the printed equations: 17° north, 15 July
// (day length 12.92 h), 30 to 24.5 °C, and with it vapour pressures of two degrees more at the same
// relative humidity. The rise lies near the 6 % a degree of the Clausius-Clapeyron law at 27 °C.
func TestMeanDayByHand(t *testing.T) {
	n := Normals{Place: Place{LatitudeDeg: 17}}
	for m := range n.Months {
		n.Months[m] = MonthNormal{RainMM: 100, RainDays: 10, TmaxC: 30, TminC: 24.5, SunFraction: 0.4, VapourKPa: 3.0, WindMS: 2}
	}
	assert.InDelta(t, 0.8471, 3.0/n.meanDay(6).vapourKPa(1), 1e-4)
	assert.InDelta(t, 3.0, n.meanDay(6).vapourKPa(0.8471), 1e-3)
	warm := n.Changed(Change{TempC: 2})
	assert.Equal(t, 32.0, warm.Months[6].TmaxC)
	assert.Equal(t, 26.5, warm.Months[6].TminC)
	assert.InDelta(t, 3.371, warm.Months[6].VapourKPa, 1e-3)
	assert.InEpsilon(t, 1.06*1.06, warm.Months[6].VapourKPa/3.0, 0.005)
	assert.InDelta(t, 0.8471, warm.Months[6].VapourKPa/warm.meanDay(6).vapourKPa(1), 1e-4, "the humidity stays")
	moist := n.Changed(Change{HumidityPoints: 5})
	assert.InDelta(t, 0.8471+0.05, moist.Months[6].VapourKPa/moist.meanDay(6).vapourKPa(1), 1e-4)
	assert.Equal(t, 30.0, moist.Months[6].TmaxC)
	assert.Equal(t, n, n.Changed(Change{AmountFactor: 2, OnsetDays: 3}), "rain is no matter of normals")
	dry := n.Changed(Change{HumidityPoints: -100})
	assert.InDelta(t, 0.15, dry.Months[6].VapourKPa/dry.meanDay(6).vapourKPa(1), 1e-9)
}

// Air drawn from a changed climate: warmer by what is stated, of the same humidity; drier or moister by
// the points stated, from normals and from a fitted climate alike, to a point or so.
func TestDaysOfAChangedClimate(t *testing.T) {
	n := stationNormals(t, "DarwinAirport 94120")
	flat := levelClimate([4]float64{0.3, 0.3, 0.3, 0.3})
	flat.Rest = n
	for name, draw := range map[string]func(Change) Source{
		"normals": func(c Change) Source {
			s, err := newNormalsSource(n.Changed(c), 100)
			require.NoError(t, err)
			return s
		},
		"climate": func(c Change) Source {
			changed := flat
			changed.Change = c
			s, err := NewClimateSource(changed)
			require.NoError(t, err)
			return s
		},
	} {
		air := func(c Change) (tempC, humidity float64) {
			s, rng := draw(c), rand.New(rand.NewPCG(4, 4))
			for range 20 {
				for _, h := range HoursInto(nil, s.Days(1, 365, rng), 1, n.Place, rng) {
					tempC += h.TempC / (20 * 8760)
					humidity += h.Humidity / (20 * 8760)
				}
			}
			return tempC, humidity
		}
		tempC, humidity := air(Change{})
		warmC, warm := air(Change{TempC: 2})
		assert.InDelta(t, 2, warmC-tempC, 0.1, name)
		assert.InDelta(t, humidity, warm, 0.01, name)
		sameC, drier := air(Change{HumidityPoints: -6})
		assert.InDelta(t, tempC, sameC, 0.15, "%s: rain cools drier air a little further", name)
		assert.LessOrEqual(t, sameC, tempC, name)
		assert.InDelta(t, humidity-0.06, drier, 0.015, name)
	}
}
