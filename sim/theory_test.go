package sim

import (
	"math"
	"math/rand/v2"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drystalk/sim/charge"
)

// station runs the model's own dryer, stripped to one that is always wanted, takes an
// exponential time and nothing else: stalks come one by one, lie on a rack and are
// loaded up to four at a time. It returns the mean wait for the dryer, h.
func station(t *testing.T, seed uint64, minimumFill float64, days int) float64 {
	const rate, service, holds = 1.0, 0.5, 4
	rng := rand.New(rand.NewPCG(seed, 11))
	r := small(Site{Name: "Stone Weir", OutputPerPersonH: 1, OpenRackM2: 100, LoadingKgPerM2: 10})
	r.Calendar.Days = days
	r.Dryer = Dryer{HoldsFresh: holds, HoldsPredried: holds, ShiftEndH: 1e9, MinimumFill: minimumFill}
	p := parameters()
	p.Cabinet.CoolTauH = 0
	p.Stalk.MouldFactor = 0
	dayList, hours := calm(days)
	s := season(r, p, dayList, hours)
	run := NewRunner(r)
	y := run.lane(0)
	y.dryers.hoursOf = func(*charge.Course) float64 { return rng.ExpFloat64() / service }
	y.begin(run, &Lane{0, 1, s}, run.openDesk(0, 1, true))

	waiting, area, last, arrivals := 0, 0.0, 0.0, 0
	queued := func() int {
		n := 0
		for i := range y.yard.batches {
			n += y.yard.batches[i].stalks
		}
		return n
	}
	step := func(nowH float64, e event) {
		area += float64(waiting) * (nowH - last)
		last = nowH
		if e.kind == landing {
			arrivals++
			y.engine.At(nowH+rng.ExpFloat64()/rate, rankRound, event{landing, 1})
		}
		y.handle(nowH, e)
		waiting = queued()
	}
	y.engine = engineOf(step)
	y.engine.At(0, rankRound, event{landing, 1})
	require.NoError(t, y.engine.RunDays(days))
	return area / float64(arrivals)
}

// The model's own dryer station reproduces batch service with arrivals of 1, services
// of mean 2 and batches of at most 4 (exact by Markov chain and closed form; forms as
// in Gross & Harris, Fundamentals of Queueing Theory, from memory): mean waits when it
// starts with what is there, with at least two, and only when full.
func TestDryerStationIsABatchServer(t *testing.T) {
	for _, tt := range []struct{ fill, want float64 }{{0.25, 2.536866}, {0.5, 2.281302}, {1, 2.365047}} {
		var waits []float64
		for seed := range uint64(25) {
			waits = append(waits, station(t, seed, tt.fill, 340))
		}
		m, v := 0.0, 0.0
		for _, w := range waits {
			m += w / float64(len(waits))
		}
		for _, w := range waits {
			v += (w - m) * (w - m) / float64(len(waits)-1)
		}
		half := 2.8 * math.Sqrt(v/float64(len(waits))) // 99 %
		assert.InDelta(t, tt.want, m, half, "fill %g: %.3f ± %.3f", tt.fill, m, half)
		assert.Less(t, half, 0.15)
	}
}

// Machine repair with the model's own dryers: three loads that are refilled 10 hours
// after they come out, on average, and two dryers that take 8: 1068/761 loads are in or
// before the dryers (Ross, Introduction to Probability Models; from memory, recomputed).
func TestDryersAreRepairmen(t *testing.T) {
	rng := rand.New(rand.NewPCG(21, 22))
	r := small(Site{Name: "Stone Weir", OutputPerPersonH: 1, OpenRackM2: 100, LoadingKgPerM2: 10})
	const days = 365
	r.Calendar = Calendar{StartMonth: time.January, StartDay: 1, Days: days}
	r.Dryer = Dryer{HoldsFresh: 1, HoldsPredried: 1, ShiftEndH: 1e9, MinimumFill: 1}
	p := parameters()
	p.Cabinet.CoolTauH = 0
	p.Stalk.MouldFactor = 0
	dayList, hours := calm(days)
	s := season(r, p, dayList, hours)
	run := NewRunner(r)
	y := run.lane(0)
	y.dryers.hoursOf = func(*charge.Course) float64 { return 8 * rng.ExpFloat64() }
	var means []float64
	for range 40 {
		y.begin(run, &Lane{0, 2, s}, run.openDesk(0, 1, true))
		inside, area, last := 0, 0.0, 0.0
		y.engine = engineOf(func(nowH float64, e event) {
			area += float64(inside) * (nowH - last)
			last = nowH
			switch e.kind {
			case landing:
				inside++
			case unloaded:
				inside--
				y.engine.At(nowH+10*rng.ExpFloat64(), rankRound, event{landing, 1})
			}
			y.handle(nowH, e)
		})
		for range 3 {
			y.engine.At(10*rng.ExpFloat64(), rankRound, event{landing, 1})
		}
		require.NoError(t, y.engine.RunDays(days))
		means = append(means, area/last)
	}
	m, v := 0.0, 0.0
	for _, x := range means {
		m += x / float64(len(means))
	}
	for _, x := range means {
		v += (x - m) * (x - m) / float64(len(means)-1)
	}
	half := 2.7 * math.Sqrt(v/float64(len(means)))
	assert.InDelta(t, 1068.0/761, m, half)
	assert.Less(t, half, 0.03)
}
