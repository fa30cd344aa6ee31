package weather

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// Drizzle of less than 0.2 mm in an hour leaves the air as it is; from 0.2 mm on that hour and the
// two after are wet.
func TestDrizzleIsNoRainHour(t *testing.T) {
	day := []Day{{RainMM: 1, TmaxC: 32, TminC: 24, VapourKPa: 2.6, WindMS: 1.5, SunFraction: 0.6}}
	wet := func(mm float64) (n int) {
		for _, a := range HoursWithRain(day, 200, Place{LatitudeDeg: 14}, func(_ int, rain *[24]float64) { rain[12] = mm }) {
			if a.Humidity >= wetHumidity {
				n++
			}
		}
		return n
	}
	assert.Equal(t, []int{0, 0, 0, 3, 3}, []int{wet(0), wet(0.001), wet(0.199), wet(0.2), wet(5)})
}
