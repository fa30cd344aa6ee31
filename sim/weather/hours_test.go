package weather

import (
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Four days over New Year at 17° south and 400 m, each unlike the others, with rain at known hours:
// every part of an hour as computed by an independent script from the printed equations. Hours
// before dawn follow the sunset before, evenings lead to the next lowest; wet hours are humid, two
// hours on and over midnight too; saturated and very dry air have their limits, and a shower in it
// makes no frost.
func TestHoursByTheEquations(t *testing.T) {
	days := []Day{
		{0, 30, 20, 0.7, 2.6, 2},
		{9, 34, 24, 0.4, 2.8, 3},
		{0, 28, 22, 0.1, 2.4, 1},
		{2, 36, 15, 1, 0.3, 2},
	}
	hours := HoursWithRain(days, 364, Place{LatitudeDeg: -17, ElevationM: 400}, func(d int, rain *[24]float64) {
		switch d {
		case 1:
			rain[10], rain[11], rain[23] = 3, 3, 3
		case 3:
			rain[13] = 2
		}
	})
	require.Len(t, hours, 96)
	for _, tt := range []struct {
		hour int
		want [7]float64 // °C, humidity, kPa, MJ/m², mm, mm, mm
	}{
		{3, [7]float64{20.672323, 1.000000, 2.437387, 0.000000, 0.000000, -0.016449, 0.000000}},
		{12, [7]float64{29.945220, 0.614693, 2.600000, 3.001485, 0.000000, 0.537439, 0.085892}},
		{20, [7]float64{24.045141, 0.868981, 2.600000, 0.000000, 0.000000, -0.017316, 0.017117}},
		{27, [7]float64{24.011276, 0.937729, 2.800000, 0.000000, 0.000000, -0.009490, 0.011508}},
		{33, [7]float64{31.430381, 0.608187, 2.800000, 1.853886, 0.000000, 0.318475, 0.126152}},
		{34, [7]float64{24.329694, 0.920000, 2.800000, 2.115819, 3.000000, 0.319018, 0.021666}},
		{37, [7]float64{24.329694, 0.920000, 2.800000, 2.115819, 0.000000, 0.319018, 0.021666}},
		{38, [7]float64{33.510354, 0.540964, 2.800000, 1.853886, 0.000000, 0.329211, 0.154365}},
		{44, [7]float64{26.066791, 0.829695, 2.800000, 0.000000, 0.000000, -0.010155, 0.033049}},
		{47, [7]float64{24.232299, 0.925382, 2.800000, 0.000000, 3.000000, -0.009561, 0.013864}},
		{49, [7]float64{21.780069, 0.920000, 2.400000, 0.000000, 0.000000, -0.004748, 0.005295}},
		{50, [7]float64{23.225725, 0.842690, 2.400000, 0.000000, 0.000000, -0.004965, 0.010743}},
		{61, [7]float64{27.967101, 0.636150, 2.400000, 1.410691, 0.000000, 0.272437, 0.042207}},
		{69, [7]float64{20.179961, 1.000000, 2.364457, 0.000000, 0.000000, -0.004569, 0.000000}},
		{77, [7]float64{16.047360, 0.164492, 0.300000, 0.107045, 0.000000, -0.057731, 0.088571}},
		{84, [7]float64{35.884792, 0.150000, 0.300000, 3.753324, 0.000000, 0.649163, 0.236203}},
		{85, [7]float64{0.000000, 0.491159, 0.300000, 3.527086, 2.000000, 0.244608, 0.040493}},
		{87, [7]float64{0.000000, 0.491159, 0.300000, 2.471933, 0.000000, 0.162506, 0.040493}},
		{95, [7]float64{18.144080, 0.150000, 0.300000, 0.000000, 0.000000, -0.044676, 0.096400}},
	} {
		h := hours[tt.hour]
		got := []float64{h.TempC, h.Humidity, h.VapourKPa, h.RadiationMJPerM2, h.RainMM, h.ET0SunMM, h.ET0AirMM}
		assert.InDeltaSlice(t, tt.want[:], got, 2e-6, "hour %d", tt.hour)
	}
}

// hoursOfRain draws the rain hours of many days and returns what of each it is asked for.
func hoursOfRain(n int, rainMM float64, coast bool, of func(rain *[24]float64)) {
	rng := rand.New(rand.NewPCG(21, 1))
	for range n {
		var rain [24]float64
		drawRainHours(rainMM, coast, rng, &rain)
		of(&rain)
	}
}

// wetHours counts the hours with rain.
func wetHours(rain *[24]float64) (n int) {
	for _, mm := range rain {
		if mm > 0 {
			n++
		}
	}
	return n
}

// How long it rains, by the law of its length: a block of l hours that begins at any minute touches
// l + 1 hours in the mean, and six or more with the chance that l − 4 leaves. Integrated apart for
// 2 mm: 1.6·2^0.4 hours with a lognormal scatter of 0.4.
func TestLengthOfRain(t *testing.T) {
	const n = 20_000
	var mean, six, two float64
	hoursOfRain(n, 2, false, func(rain *[24]float64) {
		k := wetHours(rain)
		mean += float64(k) / n
		if k >= 6 {
			six += 1.0 / n
		}
		if k == 2 {
			two += 1.0 / n
		}
	})
	assert.InDelta(t, 3.287, mean, 0.03)
	assert.InDelta(t, 0.0312, six, 0.004)
	assert.InDelta(t, 0.2107, two, 0.03, "up to two hours: two less l, but for some that begin and end in one hour")

	var both float64
	hoursOfRain(n, 0.001, true, func(rain *[24]float64) {
		k := wetHours(rain)
		require.LessOrEqual(t, k, 2)
		both += float64(k-1) / n
	})
	assert.InDelta(t, 0.5*23/23.5, both, 0.02, "half an hour at least: it runs over the hour half the time, but never over midnight")
}

// A flood lasts 20 hours in two blocks of ten, each with half of the rain and ending by midnight:
// both begin at 14 h, the latest they may, as often as 15 + 3 z lies above (0.631²), on a coast as
// often as any hour of the day does ((10/24)²); the largest hour of such a day is by the triangle.
func TestFlood(t *testing.T) {
	const n = 20_000
	for coast, want := range map[bool]float64{false: 0.631 * 0.631, true: 100.0 / 576} {
		late := 0.0
		hoursOfRain(n, 1e6, coast, func(rain *[24]float64) {
			sum, before := 0.0, 0.0
			for h, mm := range rain {
				sum += mm
				if h < 14 {
					before += mm
				}
			}
			require.InDelta(t, 1e6, sum, 1e-6)
			if before == 0 {
				late += 1.0 / n
				// By hand: the densest hour of a block of ten hours that peaks after 3 h 20 min is its
				// fourth, of 1 − 1.5·0.6² − 3·0.3² of the rain.
				require.InDelta(t, 0.19e6, rain[17], 1e-6)
			}
		})
		assert.InDelta(t, want, late, 0.012, "coast %v", coast)
	}
	var dry [24]float64
	drawRainHours(0, false, rand.New(rand.NewPCG(1, 1)), &dry)
	assert.Zero(t, dry)
}
