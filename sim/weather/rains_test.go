package weather

import (
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drystalk/sim/air"
)

// Points of humidity of the rains are found again in the hours: all of them in months with rain on half
// of the days, none in months with rain on one day of twenty, and a part between; from normals, a
// fitted climate and real years alike. Nights hold no more than they can.
func TestPointsInTheHoursOfTheRains(t *testing.T) {
	n := stationNormals(t, "ChiangMai 48327")
	flat := levelClimate([4]float64{0.3, 0.3, 0.3, 0.3})
	flat.Rest = n
	climate, err := NewClimateSource(flat)
	require.NoError(t, err)
	normals := sourceOf(t, "ChiangMai 48327")
	record := &Record{Station: "wet", FirstYear: 1990, Years: [][365]Reading{emptyYear(), emptyYear()}}
	for y := range record.Years {
		for d := range record.Years[y] {
			record.Years[y][d].RainMM = float64(7 * (d % 2))
		}
	}
	years, err := NewRealYears(record, normals, n, 1, 365)
	require.NoError(t, err)
	for name, s := range map[string]Source{"normals": normals, "climate": climate, "years": years} {
		months := func(points float64) (humidity [12]float64) {
			rng := rand.New(rand.NewPCG(4, 4))
			for range 20 {
				days := s.Days(1, 365, rng)
				before := append([]Day(nil), days...)
				s.(Moist).Moisten(days, 1, points)
				if points == 0 {
					require.Equal(t, before, days)
				}
				for i, h := range HoursInto(nil, days, 1, n.Place, rng) {
					require.LessOrEqual(t, h.VapourKPa, air.SaturationKPa(h.TempC)+1e-9)
					humidity[monthOf(i/24)] += 100 * h.Humidity / (20 * 24 * monthLength[monthOf(i/24)])
				}
			}
			return humidity
		}
		stated, lower, higher := months(0), months(-4), months(4)
		assert.InDelta(t, -4, lower[7]-stated[7], 0.7, "%s: 17 days of rain in August", name)
		assert.InDelta(t, 4, higher[7]-stated[7], 0.9, name)
		assert.InDelta(t, -4*(9.1/31-0.05)/0.45, lower[9]-stated[9], 0.7, "%s: October", name)
		assert.InDelta(t, 0, lower[1]-stated[1], 0.3, "%s: half a day of rain in February", name)
		assert.InDelta(t, 0, higher[1]-stated[1], 0.3, name)
	}
}

// Each station of a field is moistened by its own months; a day stays between the driest air and
// saturation, and what a record holds above that stays.
func TestMoistenedDays(t *testing.T) {
	c := levelClimate([4]float64{0.3, 0.3, 0.3, 0.3})
	for m := range c.Rest.Months {
		c.Rest.Months[m].RainDays = 20
	}
	dry := c
	for m := range dry.Rest.Months {
		dry.Rest.Months[m].RainDays = 1
	}
	one := [][]float64{{1, 0}, {0, 1}}
	f, err := NewField(sourcesOf(t, c, dry), one, one)
	require.NoError(t, err)
	day := Day{TmaxC: 30, TminC: 24, VapourKPa: 2.5}
	days := [][]Day{{day, day}, {day, day}}
	f.Moisten(days, 200, -5)
	assert.Less(t, days[0][1].VapourKPa, 2.45)
	assert.InDelta(t, days[0][0].VapourKPa, days[0][1].VapourKPa, 1e-3, "level normals")
	assert.Equal(t, []Day{day, day}, days[1])
	edge := [][]Day{{{TmaxC: 30, TminC: 24, VapourKPa: 0.05}, {TmaxC: 30, TminC: 24, VapourKPa: 3.33}, {TmaxC: 30, TminC: 24, VapourKPa: 3.5}}, nil}
	f.Moisten(edge, 200, 5)
	assert.InDelta(t, 0.15*air.SaturationKPa(30), edge[0][0].VapourKPa, 1e-9)
	assert.InDelta(t, air.SaturationKPa(26), edge[0][1].VapourKPa, 1e-9)
	assert.Equal(t, 3.5, edge[0][2].VapourKPa)
}
