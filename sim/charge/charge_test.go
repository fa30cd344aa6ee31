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
	f := c.Light(outside())
	return f.DryingH(m, m, dryKg(stalks))
}

// Purbono, Ainuri & Suryandono, Agritech 30(2), 2010, abstract: 80 kg of stalks (taken as fresh,
// 91 % wet basis: Akendo, Gumbe & Gitau) came to 12.195 % in 10 h at a temperature that is not
// given; the highest mean, 62.3 °C, is that of another run of 50 kg. So the run is a bracket: at
// 56 °C the load must come out wetter, at 62.3 °C drier, and 50 kg at 62.3 °C drier still. The
// mean of the charge is tested on the default path, with limit, heating up and all.
func TestThePublishedCabinetRunIsBracketed(t *testing.T) {
	after10h := func(setC, kg float64) float64 {
		c := Default()
		c.SetC, c.Target = setC, 0.05 // so that the curve runs on beyond 10 h
		curve := c.Curve(outside(), []Lot{{DryKg: 0.09 * kg, Moisture: fresh}}, 1.0/60)
		f := c.Light(outside())
		closed := 100 * float64(f.After(10, fresh, fresh, 0.09*kg).WetBasis())
		stepped := 100 * float64(curve[600].MeanMoisture.WetBasis())
		assert.InDelta(t, stepped, closed, 0.7, "%g kg at %g °C", kg, setC)
		return stepped
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

// The closed form against stepping by the minute: one lot over temperature, moisture
// and load within 0.7 % or 0.05 h, and mixed charges.
func TestClosedFormAgainstStepping(t *testing.T) {
	worst := 0.0
	for set := 60.0; set <= 90; set += 5 {
		for _, m := range []stalk.DryBasis{0.3, 0.5, 0.7, 1, 2, 4, 8, 12} {
			for _, stalks := range []float64{300, 600, 1000} {
				c := Default()
				c.SetC = set
				curve := c.Curve(outside(), []Lot{{dryKg(stalks), m}}, 1.0/60)
				stepped, closed := curve[len(curve)-1], hours(c, m, stalks)
				worst = max(worst, math.Abs(closed-stepped.H))
				assert.InDelta(t, stepped.H, closed, math.Max(0.05, 0.007*stepped.H), "%g °C, %g, %g", set, m, stalks)
				f := c.Light(outside())
				after := f.After(closed, m, m, dryKg(stalks))
				assert.InDelta(t, 100*float64(stepped.MeanMoisture.WetBasis()), 100*float64(after.WetBasis()), 0.7)
			}
		}
	}
	t.Logf("closed form off by at most %.3f h", worst)
	for _, mix := range [][2]Lot{
		{{dryKg(500), 1.4}, {dryKg(500), 0.7}},
		{{dryKg(500), fresh}, {dryKg(500), 5.06}},
		{{dryKg(100), fresh}, {dryKg(900), 0.7}},
		{{dryKg(900), fresh}, {dryKg(100), 0.7}},
		{{dryKg(300), 6}, {dryKg(900), 2}},
		{{dryKg(300), 3}, {dryKg(1000), 0.4}},
		{{dryKg(50), 8}, {dryKg(1000), 0.3}},
		{{dryKg(700), 2.5}, {dryKg(700), 2.4}},
	} {
		c := Default()
		curve := c.Curve(outside(), mix[:], 1.0/60)
		f := c.Light(outside())
		sum := mix[0].DryKg + mix[1].DryKg
		mean := meanOf(mix[:])
		closed := f.DryingH(mix[0].Moisture, mean, sum)
		assert.InDelta(t, curve[len(curve)-1].H, closed, math.Max(0.06, 0.01*closed), "%v", mix)
	}
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
		curve := c.Curve(outside(), []Lot{{dryKg(tt.stalks), tt.m}}, 1.0/60)
		end := curve[len(curve)-1]
		f := c.Light(outside())
		limit := f.capped(float64(tt.m), float64(tt.m), dryKg(tt.stalks))
		assert.Greater(t, f.slow*(float64(end.SlowMoisture)-f.emc), limit, "the limit binds to the end")
		closed := f.DryingH(tt.m, tt.m, dryKg(tt.stalks))
		assert.InDelta(t, end.H, closed, 0.05)
		hot := int(60*c.HeatUpH) + 1
		for i := hot; i < len(curve)-1; i++ { // while the limit binds the fire evaporates just that much
			lost := float64(curve[i].MeanMoisture-curve[i+1].MeanMoisture) * dryKg(tt.stalks)
			require.InDelta(t, tt.evaporates/60, lost, 1e-9)
		}
		for i := 120; i < len(curve); i += 60 {
			after := f.After(curve[i].H, tt.m, tt.m, dryKg(tt.stalks))
			assert.InDelta(t, float64(curve[i].MeanMoisture), float64(after), 0.03, "%+v after %g h", tt, curve[i].H)
		}
	}
	c := Default()
	f := c.Light(outside())
	assert.Equal(t, stalk.DryBasis(0.5), f.After(0.01, 0.5, 0.5, 1), "a cold chamber dries nothing")
}

// A curve begins at lighting, outside temperature and the moistures loaded, reaches SetC in a
// straight line, gives up after 100 hours, and leaves its lots alone.
func TestCurve(t *testing.T) {
	c := Default()
	lots := []Lot{{1, 0.5}, {3, 0.9}}
	curve := c.Curve(outside(), lots, 0.25)
	assert.Equal(t, Point{0, 28, 0.8, 0.9}, curve[0])
	assert.InDelta(t, 28+52.0/6, curve[1].TempC, 1e-9)
	assert.Equal(t, 80.0, curve[4].TempC)
	assert.InDelta(t, float64(curve[0].MeanMoisture), 0.8, 1e-12)
	assert.Equal(t, []Lot{{1, 0.5}, {3, 0.9}}, lots)
	c.SetC, c.Target = 45, 0.10
	curve = c.Curve(Ambient{TempC: 28, VapourKPa: 0.98 * air.SaturationKPa(28)}, lots, 0.25)
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
	f := c.Light(Ambient{TempC: 28, VapourKPa: 0.98 * air.SaturationKPa(28)})
	require.Greater(t, f.emc, overdried)
	assert.Equal(t, 0.0, f.OverdriedShare(30, 2, 2, 5))
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
	f := c.Light(outside())
	pure := f.DryingH(0.7, 0.7, dryKg(1000))
	mixed := f.DryingH(fresh, 0.9*0.7+0.1*fresh, dryKg(1000))
	assert.Greater(t, mixed, 2*pure)
	assert.Zero(t, f.DryingH(0.1, 0.1, 1))
}

// A chamber that cannot reach the target says so, and equal stalks are overdried all or
// not at all.
func TestLimits(t *testing.T) {
	c := Default()
	c.SetC, c.Target = 45, 0.12
	f := c.Light(Ambient{TempC: 28, VapourKPa: 0.98 * air.SaturationKPa(28)})
	assert.True(t, math.IsInf(f.DryingH(2, 2, 5), 1))
	c = Default()
	c.RateSpread = 0
	f = c.Light(outside())
	h := f.DryingH(0.7, 0.7, 5)
	assert.Zero(t, f.OverdriedShare(h, 0.7, 0.7, 5))
	assert.Equal(t, 1.0, f.OverdriedShare(h+10, 0.7, 0.7, 5))
	assert.InEpsilon(t, f.capKgPH/5, f.capped(3, 3, 5), 1e-12, "one lot has the whole fire")
	withSpread := Default()
	f = withSpread.Light(outside())
	assert.Equal(t, 1.0, f.OverdriedShare(1, 0.05, 0.05, 5), "overdried when loaded")
	c.AirKgPerH = 100
	f = c.Light(outside())
	assert.InDelta(t, 4.8, f.capKgPH, 0.1, "computed independently: 100 kg/h of air at 28 °C and 80 %")
}

// Shares below 8 % wet basis and mean moisture at the end, computed independently by
// stepping; the closed form is within 0.08 and 0.6 points.
func TestEndOfALoad(t *testing.T) {
	c := Default()
	f := c.Light(outside())
	for _, tt := range []struct{ m, stalks, mean, share float64 }{
		{float64(fresh), 1000, 7.7, 0.51}, {2.5, 1404, 7.9, 0.52}, {1.5, 1457, 8.7, 0.37}, {0.7, 1500, 10.1, 0.13}, {0.4, 1500, 11.4, 0.01},
	} {
		m := stalk.DryBasis(tt.m)
		h := f.DryingH(m, m, dryKg(tt.stalks))
		assert.InDelta(t, tt.mean, 100*float64(f.After(h, m, m, dryKg(tt.stalks)).WetBasis()), 0.6)
		assert.InDelta(t, tt.share, f.OverdriedShare(h, m, m, dryKg(tt.stalks)), 0.08)
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
		h := f.DryingH(m, m, dry)
		bill := WoodBill{WaterKg: dry * float64(m-f.After(h, m, m, dry)), LoadedWaterKg: dry * tt.m, DryKg: dry, DryingH: h}
		assert.InEpsilon(t, tt.water, bill.WaterKg, 0.02)
		assert.InEpsilon(t, tt.wood, f.WoodKg(bill), 0.02)
		perKg := f.WoodKg(bill) / bill.WaterKg
		assert.True(t, perKg > 0.5 && perKg < 3, "%g", perKg)
	}
}

func BenchmarkDryingH(b *testing.B) {
	c := Default()
	f := c.Light(outside())
	for b.Loop() {
		f.DryingH(5, 4, 6)
	}
}
