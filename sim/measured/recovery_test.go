package measured

import (
	"math"
	"math/rand/v2"
	"os"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drystalk/sim/charge"
	"drystalk/sim/knowledge"
	"drystalk/sim/stalk"
)

// truth is what a made-up group's dryer and stalks are like.
type truth struct {
	rate, evaporates, spread, efficiency float64
	between                              float64 // of the rate from load to load, sd of its logarithm
}

// asRead is how a clerk reads: weights to 0.1 kg, clocks to a quarter of an hour, moisture to a
// point, the thermometer to 2 °C.
var asRead = Exact{ScaleKg: 0.1, ClockH: 0.25, MoisturePoints: 1, ThermometerC: 2}

// rounded rounds to a multiple of a step.
func rounded(x, step float64) float64 { return math.Round(x/step) * step }

// read is what an instrument shows of x: good to half a step, then rounded to it.
func read(x, step float64, rng *rand.Rand) float64 {
	return rounded(x+0.25*step*rng.NormFloat64(), step)
}

// logged makes a load as it would be logged: stalks of a moisture, dried until the crew thinks that
// the slow ones are dry.
func (tr truth) logged(stalks int, wet, setC float64, rng *rand.Rand) Load {
	c := charge.Default()
	c.RateAt80CPerH, c.EvaporatesKgPerH, c.RateSpread, c.SetC = tr.rate*math.Exp(tr.between*rng.NormFloat64()), tr.evaporates, tr.spread, setC
	out := Outside(24+8*rng.Float64(), 0.65+0.3*rng.Float64())
	dryKg := float64(stalks) * 0.00585 * math.Exp(0.1*rng.NormFloat64())
	in := dry(wet)
	f := c.Light(out)
	var course charge.Course
	course.Begin(&f, charge.Load{Lots: []charge.Lot{{DryKg: dryKg, Moisture: stalk.DryBasis(in)}}})
	course.Hold(course.DryingH * math.Exp(0.12*rng.NormFloat64()-0.05))
	after := float64(course.After(stalk.DryBasis(in)))
	bill := charge.WoodBill{WaterKg: dryKg * (in - after), LoadedWaterKg: dryKg * in, DryKg: dryKg, DryingH: course.DryingH}
	c.FurnaceEfficiency = tr.efficiency
	l := Load{
		Stalks: float64(stalks), InKg: read(dryKg*(1+in), asRead.ScaleKg, rng), OutKg: read(dryKg*(1+after), asRead.ScaleKg, rng),
		In: math.NaN(), Out: read(after/(1+after), asRead.MoisturePoints/100, rng), ChamberC: read(setC, asRead.ThermometerC, rng), Hours: rounded(course.DryingH, asRead.ClockH),
		WoodKg: rounded(f.WoodKg(bill)*math.Exp(0.1*rng.NormFloat64()), 0.5), WoodWet: 0.20, Outside: out, Sampled: 10, StalkDryKg: 0.00585,
	}
	for range l.Sampled {
		m := float64(course.Stalk(stalk.DryBasis(in), math.Exp(tr.spread*rng.NormFloat64())))
		l.Wettest = max(l.Wettest, m/(1+m))
	}
	l.Wettest = read(l.Wettest, 0.01, rng)
	return l
}

// log makes a log of fresh, half-dried and pre-dried loads.
func (tr truth) log(loads int, rng *rand.Rand) ChargeLog {
	log := ChargeLog{Exact: asRead, Cabinet: charge.Default(), Ranges: knowledge.Of}
	for i := range loads {
		wet, stalks := 0.89+0.04*rng.Float64(), 800+rng.IntN(200)
		switch i % 4 {
		case 1:
			wet, stalks = 0.65+0.15*rng.Float64(), 900+rng.IntN(400)
		case 2, 3:
			wet, stalks = 0.35+0.2*rng.Float64(), 1000+rng.IntN(500)
		}
		l := tr.logged(stalks, wet, 74+10*rng.Float64(), rng)
		l.Line = i + 2
		log.Loads = append(log.Loads, l)
	}
	return log
}

// covered counts logs whose interval of each estimate holds the truth, of those that carry it.
type covered struct {
	holds, carried [4]int
	odd            int // loads left out
}

func (tr truth) recover(t *testing.T, logs, loads int, seed uint64) (c covered) {
	values := [4]float64{tr.rate, tr.evaporates, tr.spread, tr.efficiency}
	for n := range logs {
		rng := rand.New(rand.NewPCG(seed, uint64(n)))
		fit, err := FitCharges(tr.log(loads, rng))
		if err != nil {
			t.Log(n, err)
			continue
		}
		require.Len(t, fit.Estimates, 4)
		c.odd += len(fit.Odd)
		for j, e := range fit.Estimates {
			if !e.Carried {
				continue
			}
			c.carried[j]++
			if e.Low <= values[j] && values[j] <= e.High {
				c.holds[j]++
			}
		}
	}
	return c
}

// Logs made with known values and read as a clerk reads are fitted; the intervals of 95 % hold the
// truth as often as they say.
func TestIntervalsHoldTheTruth(t *testing.T) {
	logs := 20
	if os.Getenv("DRYSTALK_LONG") != "" {
		logs = 120
	}
	for _, tr := range []truth{
		{rate: 1.0, evaporates: 13, spread: 0.15, efficiency: 0.4},
		{rate: 0.75, evaporates: 16, spread: 0.25, efficiency: 0.3, between: 0.08},
	} {
		c := tr.recover(t, logs, 12, 1)
		t.Logf("%+v: %+v", tr, c)
		assert.Less(t, c.odd, 1+logs*12/200, "few loads are left out where none is odd")
		for j := range c.carried {
			require.Greater(t, c.carried[j], logs/4, "%d", j)
			share := float64(c.holds[j]) / float64(c.carried[j])
			slack := 3 * math.Sqrt(0.95*0.05/float64(c.carried[j]))
			assert.Greater(t, share, 0.95-slack, "%d", j)
		}
	}
}

// Expectation and standard deviation of the largest of n normal numbers: of two by the closed form
// 1/√π and √(1 − 1/π), of 5, 10 and 25 as tables of normal order statistics have them (Teichroew 1956,
// from memory).
func TestLargestOfNormals(t *testing.T) {
	for n, want := range map[int][2]float64{2: {1 / math.Sqrt(math.Pi), math.Sqrt(1 - 1/math.Pi)}, 5: {1.16296, 0.66898}, 10: {1.53875, 0.58681}, 25: {1.96531, 0.50844}} {
		mean, sd := largestOfNormals(n)
		assert.InDelta(t, want[0], mean, 1e-4, n)
		assert.InDelta(t, want[1], sd, 1e-3, n)
	}
}
