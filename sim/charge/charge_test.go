package charge

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drystalk/sim/air"
	"drystalk/sim/stalk"
)

// outside is the ambient of the check values: 28 °C at 80 %.
func outside() Ambient { return Ambient{TempC: 28, VapourKPa: 0.8 * air.SaturationKPa(28)} }

const fresh = stalk.DryBasis(0.91 / 0.09)

// dryKg is the dry mass of a number of stalks of 5.85 g.
func dryKg(stalks float64) float64 { return stalks * 5.85 / 1000 }

func hours(c Cabinet, m stalk.DryBasis, stalks float64) float64 {
	return alone(&c, m, stalks).DryingH
}

// alone works out a load of one moisture.
func alone(c *Cabinet, m stalk.DryBasis, stalks float64) Course {
	return course(c, outside(), loadOf(stalks, float64(m)))
}

// Purbono, Ainuri & Suryandono, Agritech 30(2), 2010, abstract: 80 kg of stalks (taken as fresh,
// 91 % wet basis: Akendo, Gumbe & Gitau) came to 12.195 % in 10 h at a temperature that is not
// given; the highest mean, 62.3 °C, is that of another run of 50 kg. So the run is a bracket: at
// 56 °C the load must come out wetter, at 62.3 °C drier, and 50 kg at 62.3 °C drier still. The
// mean of the charge is tested on the default path, with limit, heating up and all.
func TestThePublishedCabinetRunIsBracketed(t *testing.T) {
	after10h := func(setC, kg float64) float64 {
		c := Default()
		c.SetC = setC
		end := step(c, outside(), Load{Lots: []Lot{{DryKg: 0.09 * kg, Moisture: fresh}}}, 10)
		return 100 * float64(stalk.DryBasis(end.after[0]).WetBasis())
	}
	assert.Greater(t, after10h(56, 80), 12.195)
	assert.Less(t, after10h(62.3, 80), 12.195)
	assert.Less(t, after10h(62.3, 50), after10h(62.3, 80)-1)
}

// Common practice, no source: at 80 °C a full fresh charge takes 6 to 8 h and a
// pre-dried one 2 to 3 h before about an hour of cooling; over 70 to 90 °C 5 to 10.5 h
// and 1.5 to 3.5 h.
func TestTradeBands(t *testing.T) {
	c := Default()
	freshH, predriedH := hours(c, fresh, 1000), hours(c, 0.7, 1500)
	assert.True(t, freshH >= 6 && freshH <= 8, "%g h", freshH)
	assert.True(t, predriedH >= 2 && predriedH <= 3, "%g h", predriedH)
	assert.InDelta(t, 1, c.CoolingH(28, 40), 0.5)
	for c.SetC = 70; c.SetC <= 90; c.SetC++ {
		freshH, predriedH = hours(c, fresh, 1000), hours(c, 0.7, 1500)
		assert.True(t, freshH >= 5 && freshH <= 10.5, "%g h at %g", freshH, c.SetC)
		assert.True(t, predriedH >= 1.5 && predriedH <= 3.5, "%g h at %g", predriedH, c.SetC)
	}
}

// Computed independently from the printed equations, by stepping; tolerance 0.05 h.
func TestHoursOfALoad(t *testing.T) {
	full := map[float64]float64{}
	for _, tt := range []struct{ m, stalks, want float64 }{
		{float64(fresh), 1000, 7.16}, {6, 1218, 5.70}, {4, 1324, 4.78}, {2.5, 1404, 4.07}, {1.5, 1457, 3.41}, {1.0, 1484, 2.88}, {0.7, 1500, 2.42}, {0.4, 1500, 1.70},
	} {
		full[tt.m] = hours(Default(), stalk.DryBasis(tt.m), tt.stalks)
		assert.InDelta(t, tt.want, full[tt.m], 0.05, "moisture %g", tt.m)
		assert.Equal(t, int(tt.stalks), Capacity(1000, 1500, stalk.DryBasis(tt.m), fresh))
	}
	for stalks, want := range map[float64]float64{250: 5.85, 500: 5.94, 750: 6.44} {
		assert.InDelta(t, want, hours(Default(), fresh, stalks), 0.05)
	}
	for set, want := range map[float64][2]float64{60: {10.98, 4.36}, 70: {8.59, 3.16}, 90: {6.25, 1.94}} {
		c := Default()
		c.SetC = set
		assert.InDelta(t, want[0], hours(c, fresh, 1000), 0.05)
		assert.InDelta(t, want[1], hours(c, 0.7, 1500), 0.05)
	}
}

// One parameter at its low and high, a full fresh charge and one pre-dried; computed
// independently from the printed equations.
func TestSensitivity(t *testing.T) {
	for _, tt := range []struct {
		name               string
		set                func(*Cabinet, float64)
		low, high          float64
		freshLow, freshHi  float64
		predryLow, pridyHi float64
	}{
		{"rate", func(c *Cabinet, v float64) { c.RateAt80CPerH = v }, 0.65, 1.45, 9.48, 5.99, 3.52, 1.79},
		{"evaporates", func(c *Cabinet, v float64) { c.EvaporatesKgPerH = v }, 8, 20, 9.34, 6.21, 2.42, 2.42},
		{"spread", func(c *Cabinet, v float64) { c.RateSpread = v }, 0.05, 0.30, 6.57, 8.33, 2.12, 2.99},
		{"target", func(c *Cabinet, v float64) { c.Target = stalk.WetBasis(v) }, 0.12, 0.15, 7.43, 7.03, 2.70, 2.31},
		{"heating up", func(c *Cabinet, v float64) { c.HeatUpH = v }, 0.5, 1.5, 7.14, 7.19, 2.29, 2.82},
	} {
		c := Default()
		tt.set(&c, tt.low)
		assert.InDelta(t, tt.freshLow, hours(c, fresh, 1000), 0.06, tt.name)
		assert.InDelta(t, tt.predryLow, hours(c, 0.7, 1500), 0.06, tt.name)
		tt.set(&c, tt.high)
		assert.InDelta(t, tt.freshHi, hours(c, fresh, 1000), 0.06, tt.name)
		assert.InDelta(t, tt.pridyHi, hours(c, 0.7, 1500), 0.06, tt.name)
	}
	c := Default()
	c.WoodMoisture = 0.35
	assert.InDelta(t, 8.08, hours(c, fresh, 1000), 0.06)
}

// Charges that end while the limit of the fire still binds: wood too wet or too much water for
// the fire, and a target that is itself wet. The closed form and what it says of the mean at any
// hour before, against stepping by the minute.
func TestChargesThatEndAtTheLimit(t *testing.T) {
	for _, tt := range []struct {
		evaporates, stalks float64
		target             stalk.WetBasis
		m                  stalk.DryBasis
	}{{6, 1000, 0.64, fresh}, {6, 1500, 0.60, 6}, {4, 1000, 0.54, 4}, {12, 1500, 0.70, fresh}, {2, 1500, 0.30, 0.9}} {
		c := Default()
		c.EvaporatesKgPerH, c.Target = tt.evaporates, tt.target
		load := loadOf(tt.stalks, float64(tt.m))
		got := course(&c, outside(), load)
		assert.Less(t, got.DryingH, got.freeH, "the limit binds to the end")
		assert.InDelta(t, step(c, outside(), load, 0).h, got.DryingH, 0.05)
		for h := 2.0; h < got.DryingH; h++ {
			end := step(c, outside(), load, h)
			assert.InDelta(t, end.after[0], got.at(h, float64(tt.m), 1), 0.03, "%+v after %g h", tt, h)
		}
	}
	c := Default()
	got := alone(&c, 0.5, 170)
	assert.InDelta(t, 0.5, got.at(0.01, 0.5, 1), 1e-3, "a cold chamber dries nothing")
}

// A curve begins at lighting, outside temperature and the moistures loaded, reaches SetC in a
// straight line, gives up after 100 hours, and leaves its lots alone.
func TestCurve(t *testing.T) {
	c := Default()
	lots := []Lot{{1, 0.5}, {3, 0.9}}
	curve := c.Curve(outside(), Load{Lots: lots}, 0.25)
	assert.Equal(t, Point{0, 28, 0.8, 0.9}, curve[0])
	assert.InDelta(t, 28+52.0/6, curve[1].TempC, 1e-9)
	assert.Equal(t, 80.0, curve[4].TempC)
	assert.InDelta(t, float64(curve[0].MeanMoisture), 0.8, 1e-12)
	assert.Equal(t, []Lot{{1, 0.5}, {3, 0.9}}, lots)
	c.SetC, c.Target = 45, 0.10
	curve = c.Curve(Ambient{TempC: 28, VapourKPa: 0.98 * air.SaturationKPa(28)}, Load{Lots: lots}, 0.25)
	assert.InDelta(t, 100, curve[len(curve)-1].H, 0.5)
}

// Humidity of the chamber, computed independently from the printed equations: 0.1273 at 80 °C with
// the hidden draught; with a stated draught that of the air that leaves, 80 % at 50 °C, warmed to
// 80 °C (12.351 and 47.41 kPa, steam tables, from memory). Neither passes 90 %.
func TestHumidityOfTheChamber(t *testing.T) {
	c := Default()
	assert.InDelta(t, 0.1273, c.Humidity(outside(), 80), 5e-4)
	assert.Equal(t, 0.90, c.Humidity(outside(), 28))
	c.AirKgPerH = 100
	assert.InDelta(t, 0.8*12.351/47.41, c.Humidity(outside(), 80), 1e-3)
	assert.Equal(t, 0.90, c.Humidity(outside(), 45))
}

// A chamber so humid that no stalk can fall below 8 % overdries none, however they differ.
func TestHumidChamberOverdriesNone(t *testing.T) {
	c := Default()
	c.SetC = 50
	got := course(&c, Ambient{TempC: 28, VapourKPa: 0.98 * air.SaturationKPa(28)}, loadOf(800, 2))
	require.Greater(t, got.fire.emc, overdried)
	assert.Equal(t, 0.0, got.OverdriedShare(2, got.After(2)))
}

// Cooling by Newton's law, by hand: from 80 to 40 °C in air of 28 °C, ln(52/12) time constants
// of half an hour. A chamber that is cold already needs none.
func TestCooling(t *testing.T) {
	c := Default()
	assert.InDelta(t, 0.5*math.Log(52.0/12), c.CoolingH(28, 40), 1e-12)
	assert.Zero(t, c.CoolingH(28, 80))
	assert.Zero(t, c.CoolingH(28, 90))
}

// Ten per cent fresh stalks make a pre-dried charge last more than twice as long.
func TestAFewWetStalksHoldUpACharge(t *testing.T) {
	c := Default()
	assert.Greater(t, course(&c, outside(), loadOf(900, 0.7, 100, float64(fresh))).DryingH, 2*hours(c, 0.7, 1000))
	assert.Zero(t, hours(c, 0.1, 170))
}

// A chamber that cannot reach the target says so, and equal stalks are overdried all or
// not at all.
func TestLimits(t *testing.T) {
	c := Default()
	c.SetC, c.Target = 45, 0.12
	damp := course(&c, Ambient{TempC: 28, VapourKPa: 0.98 * air.SaturationKPa(28)}, loadOf(800, 2))
	assert.True(t, math.IsInf(damp.DryingH, 1))
	c = Default()
	c.RateSpread = 0
	got := alone(&c, 0.7, 800)
	assert.Zero(t, got.OverdriedShare(0.7, got.After(0.7)))
	got.DryingH += 10
	assert.Equal(t, 1.0, got.OverdriedShare(0.7, got.After(0.7)))
	withSpread := Default()
	got = course(&withSpread, outside(), loadOf(800, 0.7, 100, 0.05))
	assert.Equal(t, 1.0, got.OverdriedShare(0.05, got.After(0.05)), "overdried when loaded")
	f := c.Light(outside())
	c.AirKgPerH = 100
	f = c.Light(outside())
	assert.InDelta(t, 4.8, f.capKgPH, 0.1, "computed independently: 100 kg/h of air at 28 °C and 80 %")
}

// Shares below 8 % wet basis and mean moisture at the end, computed independently by
// stepping; the closed form is within 0.08 and 0.6 points.
func TestEndOfALoad(t *testing.T) {
	c := Default()
	for _, tt := range []struct{ m, stalks, mean, share float64 }{
		{float64(fresh), 1000, 7.7, 0.51}, {2.5, 1404, 7.9, 0.52}, {1.5, 1457, 8.7, 0.37}, {0.7, 1500, 10.1, 0.13}, {0.4, 1500, 11.4, 0.01},
	} {
		m := stalk.DryBasis(tt.m)
		got := alone(&c, m, tt.stalks)
		assert.InDelta(t, tt.mean, 100*float64(got.After(m).WetBasis()), 0.3)
		assert.InDelta(t, tt.share, got.OverdriedShare(m, got.After(m)), 0.06)
	}
}

// Published table of heating values of wood with 19.00 MJ/kg dry (relaiscdo.eu); its
// rows of 25 and 50 % break its own pattern and are left out.
func TestHeatingValue(t *testing.T) {
	c := Default()
	for w, want := range map[stalk.WetBasis]float64{0.15: 15.79, 0.20: 14.72, 0.30: 12.58, 0.35: 11.51, 0.40: 10.44, 0.45: 9.37, 0.55: 7.23, 0.60: 6.16} {
		assert.InDelta(t, want, c.HeatingValueMJPerKg(w), 0.04)
	}
}

// Wood of a charge, computed independently from the printed balance, and the
// published band of wood dryers of 0.5 to 3 kg of wood a kg of water (leaf barns and
// simple dryers; fresh charges).
func TestWood(t *testing.T) {
	c := Default()
	f := c.Light(outside())
	for _, tt := range []struct{ m, stalks, water, wood float64 }{
		{float64(fresh), 1000, 58.7, 50.0}, {0.7, 1500, 5.2, 7.9}, {0.7, 1000, 3.4, 6.6}, {1.5, 1457, 12.0, 13.6},
	} {
		m, dry := stalk.DryBasis(tt.m), dryKg(tt.stalks)
		got := alone(&c, m, tt.stalks)
		bill := WoodBill{WaterKg: dry * float64(m-got.After(m)), LoadedWaterKg: dry * tt.m, DryKg: dry, DryingH: got.DryingH}
		assert.InEpsilon(t, tt.water, bill.WaterKg, 0.02)
		assert.InEpsilon(t, tt.wood, f.WoodKg(bill), 0.02)
		perKg := f.WoodKg(bill) / bill.WaterKg
		assert.True(t, perKg > 0.5 && perKg < 3, "%g", perKg)
	}
}

func BenchmarkCourse(b *testing.B) {
	c := Default()
	f, load := c.Light(outside()), loadOf(200, 8, 200, 6, 200, 4, 200, 2, 200, 1)
	var course Course
	for b.Loop() {
		course.Begin(&f, load)
	}
}
