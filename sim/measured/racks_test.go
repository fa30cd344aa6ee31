package measured

import (
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drystalk/scenarios"
	"drystalk/sim/air"
	"drystalk/sim/knowledge"
	"drystalk/sim/stalk"
	"drystalk/sim/weather"
)

// tavariCase is the demo, whose weather, loading and stalks the logs of racks have.
func tavariCase(t *testing.T) (rest weather.Normals, loadKgPerM2 float64, p stalk.Properties) {
	t.Helper()
	s, err := scenarios.Demo("lake-tavari")
	require.NoError(t, err)
	c := s.WithoutWeather(1)
	return c.Normals, c.Setup.Region.Sites[0].LoadingKgPerM2, c.Setup.Base.Stalk
}

// weighed makes a log of two racks weighed morning and evening: stalks on racks that evaporate by a
// factor, in weather of which the record differs from the yard's by some part from day to day.
func weighed(t *testing.T, factor, between float64, days int, rng *rand.Rand) RackLog {
	rest, load, stalks := tavariCase(t)
	log := RackLog{
		ScaleG: 1, ClockH: 0.25, MoisturePoints: 1, LoadKgPerM2: load, Rest: rest, Stalk: stalks, Ranges: knowledge.Of,
		Record: &weather.Record{Station: "yard", FirstYear: 2026, Years: make([][365]weather.Reading, 1)},
	}
	start := time.Date(2026, 3, 1, 0, 0, 0, 0, time.UTC)
	for d := range days {
		mean := rest.Months[2]
		r := weather.Reading{TmaxC: rounded(mean.TmaxC+2*rng.NormFloat64(), 0.1), TminC: rounded(mean.TminC+rng.NormFloat64(), 0.1), SunFraction: 0.4 + 0.5*rng.Float64(), VapourKPa: 2.4 + 0.3*rng.NormFloat64()}
		if d == 4 {
			r.RainMM = 12
		}
		log.Record.Years[0][doyOf(start)-1+d] = r
	}
	log.Weighings = []Weighing{{Day: start}, {Day: start.AddDate(0, 0, days-1)}}
	_, hours, err := log.hours()
	require.NoError(t, err)
	log.Weighings = nil
	for rack := range 2 {
		log.addRack(rack, start, hours, func() float64 { return factor * math.Exp(between*rng.NormFloat64()) }, rng)
	}
	return log
}

// addRack lays marked stalks on a rack every sixth day and weighs them morning and evening.
func (log *RackLog) addRack(rack int, start time.Time, hours []air.Hour, factor func() float64, rng *rand.Rand) {
	var m, dryG float64
	for h, twelve := 0, 0; h+10 < len(hours); h, twelve = h+24, twelve+1 {
		if twelve%6 == 0 {
			m, dryG = dry(0.91), 110+20*rng.Float64()
		}
		name := fmt.Sprintf("%d-%d", rack+1, twelve/6+1)
		for _, atH := range []float64{7, 17} {
			next := float64(h) + atH
			g := rounded(dryG*(1+m)+0.25*rng.NormFloat64(), 1)
			wet := none
			if m < 0.6 {
				wet = rounded(m/(1+m), 0.01)
			}
			log.Weighings = append(log.Weighings, Weighing{Line: len(log.Weighings) + 2, Rack: name, Day: start.AddDate(0, 0, twelve), AtH: atH + rounded(0.1*rng.NormFloat64(), 0.25), Grams: g, Wet: wet})
			to := next + 10
			if atH == 17 {
				to = next + 14
			}
			x := span{fromH: next, toH: to, dryG: dryG, before: dryG * (1 + m)}
			m = log.after(&x, hours, []float64{math.Log(factor()), math.Log(log.Stalk.RateAt80CPerH)})
		}
	}
}

// Logs of weighings with a known evaporation are fitted; intervals hold it at least as often as they
// say: more often, because they leave room for a drying rate that is not known, and here is the mode.
func TestEvaporationIsRecovered(t *testing.T) {
	logs := 8
	if os.Getenv("DRYSTALK_LONG") != "" {
		logs = 60
	}
	for _, between := range []float64{0, 0.1} {
		held, carried, odd := 0, 0, 0
		for n := range logs {
			fit, err := FitRacks(weighed(t, 0.52, between, 12, rand.New(rand.NewPCG(3, uint64(n)))))
			if err != nil {
				t.Log(err)
				continue
			}
			carried++
			odd += len(fit.Odd)
			if e := fit.Estimates[0]; e.Low <= 0.52 && 0.52 <= e.High {
				held++
			}
		}
		t.Logf("between %g: %d of %d of %d, odd %d", between, held, carried, logs, odd)
		require.Greater(t, carried, logs*3/4)
		assert.Greater(t, float64(held)/float64(carried), 0.95-3*math.Sqrt(0.95*0.05/float64(carried)))
		assert.LessOrEqual(t, odd, carried/4)
	}
}

// Without sunshine and humidity of the days the truth is held by an interval that is wider by what is
// allowed for normals; the same logs with them are fitted as before.
func TestNormalsStandIn(t *testing.T) {
	held, carried := 0, 0
	const logs = 6
	for n := range logs {
		log := weighed(t, 0.52, 0.05, 12, rand.New(rand.NewPCG(5, uint64(n))))
		with, err := FitRacks(log)
		require.NoError(t, err)
		require.Zero(t, with.StoodIn.SD)
		require.Empty(t, with.StoodIn.What())
		for d := range log.Record.Years[0] {
			log.Record.Years[0][d].SunFraction, log.Record.Years[0][d].VapourKPa = none, none
		}
		without, err := FitRacks(log)
		if err != nil {

			require.ErrorContains(t, err, "the record has no sunshine and humidity")
			continue
		}
		carried++
		require.Equal(t, "sunshine and humidity", without.StoodIn.What())
		a, b := with.Estimates[0], without.Estimates[0]
		t.Logf("%.3f (%.3f to %.3f), without %.3f (%.3f to %.3f), allowed %.3f", a.Value, a.Low, a.High, b.Value, b.Low, b.High, without.StoodIn.SD)
		require.Contains(t, b.Why, "an assumption")
		require.Greater(t, b.High/b.Low, a.High/a.Low)
		if b.Low <= 0.52 && 0.52 <= b.High {
			held++
		}
	}
	t.Logf("held %d of %d of %d", held, carried, logs)
	require.Positive(t, carried)
	assert.GreaterOrEqual(t, held, carried-1)
}

// What a log of weighings lacks is told.
func TestPoorRackLogs(t *testing.T) {
	fresh := func() RackLog { return weighed(t, 0.52, 0, 12, rand.New(rand.NewPCG(3, 1))) }
	log := fresh()
	log.Record.Years[0][doyOf(log.Weighings[0].Day)+1].TmaxC = none
	_, err := FitRacks(log)
	require.EqualError(t, err, "yard: tmax_c: found nothing for 2026-03-03, allowed: rain, highest and lowest temperature of every day of the log")
	log = fresh()
	for i := range log.Weighings {
		log.Weighings[i].Wet = none
	}
	_, err = FitRacks(log)
	require.ErrorContains(t, err, `found 0 times between weighings that can be used, allowed: 6 or more, without rain, of stalks that are still wet; line 3: no moisture of 50 % or less was read of rack "1-1"`)
	log = fresh()
	log.Weighings = log.Weighings[:4]
	_, err = FitRacks(log)
	require.ErrorContains(t, err, "allowed: 6 or more")
	_, err = FitRacks(RackLog{})
	require.EqualError(t, err, "found no weighing, allowed: two or more of a rack")

	log = fresh()
	log.Weighings[2].Grams *= 2
	fit, err := FitRacks(log)
	require.NoError(t, err)
	require.NotEmpty(t, fit.Odd, "a slip spoils the spans before and after it")
	slip := log.Weighings[2].Line
	for _, o := range fit.Odd {
		assert.Contains(t, []int{o.Before, o.Line}, slip)
		assert.Contains(t, o.Why, "look for a slip in line "+o.Lines())
	}
	e := fit.Estimates[0]
	assert.True(t, e.Low <= 0.52 && 0.52 <= e.High, "%+v", e)
	rained := false
	for _, u := range fit.Unused {
		rained = rained || u.Why == "it rained on that day, and nobody wrote when"
	}
	assert.True(t, rained)
	log = fresh()
	log.Weighings = append(log.Weighings[:4:4], log.Weighings[7:]...)
	fit, err = FitRacks(log)
	require.NoError(t, err)
	assert.Contains(t, fit.Unused[0].Why+fit.Unused[1].Why+fit.Unused[2].Why, "a day is missing")
}

// The example log of weighings, with its weather, is made by simulation.
func TestExampleWeighings(t *testing.T) {
	log := weighed(t, 0.52, 0.05, 12, rand.New(rand.NewPCG(2026, 1)))
	lines := []string{
		"# Made up by simulation, seed 2026: twenty marked stalks on two racks at Lake Tavari, which is no place, that evaporate 0.52 of the",
		"# reference; days differ by 0.05 from the weather record. The record is lake_tavari_racks_weather.csv.",
		"date,clock,rack,weight_g,moisture_percent",
	}
	for _, w := range log.Weighings {
		h, minutes := math.Modf(w.AtH)
		wet := ""
		if has(w.Wet) {
			wet = fmt.Sprintf("%.0f", 100*w.Wet)
		}
		lines = append(lines, fmt.Sprintf("%s,%02.0f:%02.0f,%s,%.0f,%s", w.Day.Format("2006-01-02"), h, 60*minutes, w.Rack, w.Grams, wet))
	}
	example(t, "lake_tavari_racks.csv", lines)
	days := []string{"# Made up by simulation.", "date,rain_mm,tmax_c,tmin_c,sunshine_fraction,vapour_pressure_kpa"}
	for d := range 12 {
		at := log.Weighings[0].Day.AddDate(0, 0, d)
		r := log.Record.Years[0][doyOf(at)-1]
		days = append(days, fmt.Sprintf("%s,%.1f,%.1f,%.1f,%.2f,%.2f", at.Format("2006-01-02"), r.RainMM, r.TmaxC, r.TminC, r.SunFraction, r.VapourKPa))
	}
	example(t, "lake_tavari_racks_weather.csv", days)
	fit, err := FitRacks(log)
	require.NoError(t, err)
	e := fit.Estimates[0]
	assert.True(t, e.Low <= 0.52 && 0.52 <= e.High, "%+v", e)
}
