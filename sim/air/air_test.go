package air

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
)

// hylandWexlerKPa is the reference for the short form used in the season: Hyland &
// Wexler 1983 as in ASHRAE Fundamentals ch. 1, eq. 6 (constants from memory; they
// reproduce the table below).
func hylandWexlerKPa(tempC float64) float64 {
	t := tempC + 273.15
	return math.Exp(-5.8002206e3/t+1.3914993-4.8640239e-2*t+4.1764768e-5*t*t-1.4452093e-8*t*t*t+6.5459673*math.Log(t)) / 1000
}

// ASHRAE Handbook, Fundamentals 2017, ch. 1, table 3. The reference form is good to
// 0.03 %, FAO-56 eq. 11 to 0.15 % up to 60 °C.
func TestSaturationPressure(t *testing.T) {
	for _, tt := range []struct{ tempC, wantKPa float64 }{{5, 0.8726}, {25, 3.1697}, {50, 12.3513}, {100, 101.418}} {
		assert.InEpsilon(t, tt.wantKPa, hylandWexlerKPa(tt.tempC), 0.0003)
		if tt.tempC <= 60 {
			assert.InEpsilon(t, tt.wantKPa, SaturationKPa(tt.tempC), 0.0015)
		}
	}
	for tempC := 1.0; tempC <= 90; tempC++ {
		tolerance := 0.0015
		if tempC > 60 {
			tolerance = 0.005
		}
		assert.InEpsilon(t, hylandWexlerKPa(tempC), SaturationKPa(tempC), tolerance, "%g °C", tempC)
	}
}

// FAO-56, annex 2, table 2.3 (values from memory but for 15 °C, read) and table 2.4
// (from memory); last printed digit.
func TestFAOTables(t *testing.T) {
	for tempC, want := range map[float64]float64{1: 0.657, 5: 0.872, 10: 1.228, 15: 1.705, 20: 2.338, 25: 3.168, 30: 4.243, 35: 5.623, 40: 7.376, 45: 9.583} {
		assert.InDelta(t, want, SaturationKPa(tempC), 0.003)
	}
	for tempC, want := range map[float64]float64{1: 0.047, 10: 0.082, 20: 0.145, 25: 0.189, 30: 0.243, 35: 0.311, 40: 0.393} {
		assert.InDelta(t, want, SaturationSlopeKPaPerC(tempC), 0.001)
	}
}

// FAO-56, examples 2 to 5 (2, 4, 5 from memory, 3 read).
func TestFAOExamples2To5(t *testing.T) {
	p := PressureKPa(1800)
	assert.InDelta(t, 81.8, p, 0.1)
	assert.InDelta(t, 0.054, PsychrometricKPaPerC(p), 0.001)
	assert.InDelta(t, 3.075, SaturationKPa(24.5), 0.005)
	assert.InDelta(t, 1.705, SaturationKPa(15), 0.005)
	assert.InDelta(t, 2.39, DailySaturationKPa(24.5, 15), 0.005)
	assert.InDelta(t, 1.91, VapourFromWetBulbKPa(25.6, 19.5, PressureKPa(1200)), 0.005)
	assert.InDelta(t, 1.70, VapourFromHumidityKPa(18, 0.82, 25, 0.54), 0.005)
}

func TestDewPointIsInverse(t *testing.T) {
	for tempC := -5.0; tempC < 60; tempC += 2.5 {
		assert.InDelta(t, tempC, SaturationTempC(SaturationKPa(tempC)), 1e-9)
	}
}

// ASHRAE Handbook, Fundamentals 2017, ch. 1, table 2 (from memory): saturated air at sea level; no
// enhancement factor here, hence 0.5 to 1 %.
func TestMoistAir(t *testing.T) {
	for _, tt := range []struct{ tempC, ratio, tolerance float64 }{{5, 0.005425, 0.005}, {25, 0.020173, 0.005}, {50, 0.086863, 0.01}} {
		assert.InEpsilon(t, tt.ratio, HumidityRatio(hylandWexlerKPa(tt.tempC), 101.325), tt.tolerance)
	}
}

// Steam tables (from memory), 0.4 %.
func TestLatentHeat(t *testing.T) {
	for tempC, want := range map[float64]float64{25: 2.442, 50: 2.382, 80: 2.308, 100: 2.257} {
		assert.InEpsilon(t, want, LatentHeatMJPerKg(tempC), 0.004)
	}
}

// FAO-56, examples 8, 9, 10, 14, 15; tolerance: last printed digit.
func TestSun(t *testing.T) {
	assert.InDelta(t, 32.2, ExtraterrestrialMJPerM2(-20, 246), 0.05)
	assert.InDelta(t, 0.120, DeclinationRad(246), 0.0005)
	assert.InDelta(t, 1.527, SunsetAngleRad(-20, 246), 0.0005)
	assert.InDelta(t, 11.7, DayLengthH(-20, 246), 0.05)
	ra, n := ExtraterrestrialMJPerM2(-22.90, 135), DayLengthH(-22.90, 135)
	assert.InDelta(t, 25.1, ra, 0.05)
	assert.InDelta(t, 10.9, n, 0.05)
	assert.InDelta(t, 14.5, SolarMJPerM2(220.0/31/n, ra), 0.05)
	assert.InDelta(t, 3.5, netLongwaveMJPerM2(25.1, 19.1, 2.1, 14.5/18.8), 0.05)
	assert.InDelta(t, 2.4, WindAt2M(3.2, 10), 0.05)
	ra = ExtraterrestrialMJPerM2(45.72, 196)
	assert.InDelta(t, 40.6, ra, 0.05)
	assert.InDelta(t, 22.3, SolarFromTemperatureMJPerM2(26.6, 14.8, ra, ClearSkyMJPerM2(200, ra), false), 0.05)
}

// The sun is nearest at the turn of the year: FAO-56 eq. 23 has the same distance a year on, and
// by hand 1.033 on day 365 and 1 − 0.033 cos(π/365) on day 182.
func TestSunDistance(t *testing.T) {
	assert.InDelta(t, 1.033, sunDistance(365), 1e-12)
	assert.InDelta(t, 1-0.033*math.Cos(math.Pi/365), sunDistance(182), 1e-12)
}

// Vapour pressure from the wet bulb, against the energy balance of air cooled to its wet bulb by
// water of that temperature (ASHRAE Fundamentals 2017, ch. 1, from memory). By how much it falls
// below saturation at the wet bulb agrees within 4 %: FAO-56 has the constant of a ventilated
// instrument, and saturation by its own equation.
func TestWetBulbBalance(t *testing.T) {
	const p = 101.325
	for _, tt := range [][2]float64{{30, 25}, {28, 22}, {25, 24}, {35, 27}, {40, 20}} {
		dry, wet := tt[0], tt[1]
		ratio := ((2501-2.326*wet)*HumidityRatio(SaturationKPa(wet), p) - 1.006*(dry-wet)) / (2501 + 1.86*dry - 4.186*wet)
		vapour := ratio * p / (0.621945 + ratio)
		assert.InEpsilon(t, SaturationKPa(wet)-vapour, SaturationKPa(wet)-VapourFromWetBulbKPa(dry, wet, p), 0.04)
	}
}

// The hours of a day add up to the day: FAO-56 eq. 28 against eq. 21.
func TestHoursAddUpToTheDay(t *testing.T) {
	for _, latitude := range []float64{-35, 0, 14, 50.8} {
		for doy := 1; doy <= 365; doy += 13 {
			sum, sun := 0.0, SunOf(latitude, doy)
			for h := range 24 {
				sum += sun.HourMJPerM2(float64(h))
			}
			assert.InEpsilon(t, ExtraterrestrialMJPerM2(latitude, doy), sum, 1e-12)
		}
	}
}

// FAO-56, examples 17 (inputs from memory) and 18 with their printed intermediates.
func TestDailyReferenceEvapotranspiration(t *testing.T) {
	ra := ExtraterrestrialMJPerM2(13.733, 105)
	n := DayLengthH(13.733, 105)
	assert.InDelta(t, 38.06, ra, 0.02)
	assert.InDelta(t, 12.31, n, 0.01)
	rs := SolarMJPerM2(8.5/n, ra)
	assert.InDelta(t, 22.65, rs, 0.02)
	rso := ClearSkyMJPerM2(2, ra)
	assert.InDelta(t, 28.54, rso, 0.02)
	rnl := netLongwaveMJPerM2(34.8, 25.6, 2.85, rs/rso)
	assert.InDelta(t, 3.11, rnl, 0.02)
	net := netMJPerM2(rs, rnl)
	assert.InDelta(t, 14.33, net, 0.02)
	assert.InDelta(t, 5.72, et0Day{34.8, 25.6, 2.85, 2, net, 0.14, 2}.referenceMM(), 0.02)

	ra = ExtraterrestrialMJPerM2(50.80, 187)
	assert.InDelta(t, 41.09, ra, 0.02)
	rs = SolarMJPerM2(9.25/DayLengthH(50.80, 187), ra)
	assert.InDelta(t, 22.07, rs, 0.02)
	rnl = netLongwaveMJPerM2(21.5, 12.3, 1.409, rs/ClearSkyMJPerM2(100, ra))
	assert.InDelta(t, 3.71, rnl, 0.02)
	net = netMJPerM2(rs, rnl)
	assert.InDelta(t, 13.28, net, 0.02)
	assert.InDelta(t, 2.078, WindAt2M(10/3.6, 10), 0.001)
	assert.InDelta(t, 3.88, et0Day{21.5, 12.3, 1.409, 2.078, net, 0, 100}.referenceMM(), 0.02)
}

// FAO-56, example 19: an hour of day and one of night; the sum is printed, the split
// in two terms computed independently from the printed equation.
func TestHourlyReferenceEvapotranspiration(t *testing.T) {
	g := PsychrometricKPaPerC(PressureKPa(8))
	day := ET0Hour{38, SaturationKPa(38), 0.52 * SaturationKPa(38), 3.3, 1.749, 0.175, g}
	sun, wind, _ := day.Terms()
	assert.InDelta(t, 0.63, sun+wind, 0.005)
	assert.InDelta(t, 0.459, sun, 0.005)
	assert.InDelta(t, 0.168, wind, 0.005)
	night := ET0Hour{28, SaturationKPa(28), 0.90 * SaturationKPa(28), 1.9, -0.100, -0.050, g}
	sun, wind, _ = night.Terms()
	assert.InDelta(t, 0.00, sun+wind, 0.005)
	assert.InDelta(t, -0.014, sun, 0.005)
	assert.InDelta(t, 1.749, NetHourMJPerM2(2.450, 38, 3.445, 0.922), 0.001)
	assert.InDelta(t, -0.100, NetHourMJPerM2(0, 28, 3.402, 0.8), 0.001)
}
