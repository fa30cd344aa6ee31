package engine

import (
	"errors"
	"fmt"
	"hash/fnv"
	"math"
	"math/rand/v2"
	"runtime"
	"runtime/debug"
	"sync/atomic"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"go.uber.org/goleak"
)

func TestMain(m *testing.M) { goleak.VerifyTestMain(m) }

// Events come by time, then rank, then order of scheduling; an event at the end of
// the span stays undone.
func TestOrder(t *testing.T) {
	var log []string
	var e *Engine[string]
	e = New(func(nowH float64, event string) {
		log = append(log, fmt.Sprintf("%g %s", nowH, event))
		if event == "b" {
			e.At(nowH, 0, "follows b")
			e.At(nowH+47.5, 0, "next day")
		}
	})
	e.At(5, 1, "late rank")
	e.At(5, 0, "first")
	e.At(5, 0, "second")
	e.At(1, 9, "b")
	e.At(72, 0, "at the end")
	require.NoError(t, e.RunDays(3))
	assert.Equal(t, []string{"1 b", "1 follows b", "5 first", "5 second", "5 late rank", "48.5 next day"}, log)

	log = nil
	e.Reset()
	assert.Zero(t, e.NowH())
	e.At(2, 0, "again")
	require.NoError(t, e.RunDays(1))
	assert.Equal(t, []string{"2 again"}, log)
}

func TestBadTimesAndPanics(t *testing.T) {
	for _, timeH := range []float64{math.NaN(), math.Inf(1), 3} {
		var e *Engine[int]
		e = New(func(float64, int) { e.At(timeH, 0, 0) })
		e.At(4, 0, 0)
		var broken *Broken
		require.ErrorAs(t, e.RunDays(1), &broken)
		assert.Equal(t, 4.0, broken.NowH)
	}
	cause := errors.New("cause")
	e := New(func(float64, int) { panic(cause) })
	e.At(30, 0, 0)
	err := e.RunDays(2)
	require.ErrorIs(t, err, cause)
	assert.Contains(t, err.Error(), "hour 30")
}

// Every simulation is collected and no goroutine stays behind.
func TestSimulationsAreCollected(t *testing.T) {
	const n = 100
	var collected atomic.Int64
	before := runtime.NumGoroutine()
	for range n {
		e := New(func(float64, int) {})
		for h := range 200 {
			e.At(float64(h), 0, h)
		}
		require.NoError(t, e.RunDays(5)) // half of the events stay pending
		runtime.AddCleanup(e.sim, func(*atomic.Int64) { collected.Add(1) }, nil)
	}
	for range 50 {
		runtime.GC()
		if collected.Load() == n {
			break
		}
		time.Sleep(time.Millisecond)
	}
	assert.EqualValues(t, n, collected.Load())
	assert.Equal(t, before, runtime.NumGoroutine())
}

// trail runs a little random simulation and returns a digest of its path.
func trail(seed uint64) uint64 {
	rng := rand.New(rand.NewPCG(seed, 1))
	digest := fnv.New64a()
	var e *Engine[int]
	e = New(func(nowH float64, event int) {
		_, _ = fmt.Fprintf(digest, "%x %d;", math.Float64bits(nowH), event)
		if event < 3000 {
			e.At(nowH+3*rng.ExpFloat64(), event%3, event+1)
			if event%5 == 0 {
				_ = make([]byte, 1<<12)
			}
		}
	})
	e.At(0, 0, 0)
	e.At(0, 0, 1)
	if err := e.RunDays(300); err != nil {
		panic(err)
	}
	return digest.Sum64()
}

// The path does not depend on the garbage collector or on the number of processors.
func TestPathIsAlwaysTheSame(t *testing.T) {
	want := trail(9)
	for _, percent := range []int{1, 100, -1} {
		for _, procs := range []int{1, 2} {
			oldP, oldN := debug.SetGCPercent(percent), runtime.GOMAXPROCS(procs)
			got := trail(9)
			debug.SetGCPercent(oldP)
			runtime.GOMAXPROCS(oldN)
			assert.Equal(t, want, got, "GC %d, processors %d", percent, procs)
		}
	}
	assert.NotEqual(t, want, trail(10))
}

// queue is a station with one server on the engine: customers arrive, wait and are
// served one by one. It adds up waiting and the time-average number waiting.
type queue struct {
	e             *Engine[byte]
	arrive, serve func() float64
	customers     int
	waiting       []float64 // arrival times
	busy          bool
	waits         []float64
	area, last    float64
	inSystem      int
	sumInSystem   float64 // of times in the system
}

func (q *queue) handle(nowH float64, event byte) {
	q.area += float64(q.inSystem) * (nowH - q.last)
	q.last = nowH
	switch event {
	case 'a':
		q.waiting = append(q.waiting, nowH)
		q.inSystem++
		if q.customers--; q.customers > 0 {
			q.e.At(nowH+q.arrive(), 1, 'a')
		}
	case 'd':
		q.busy = false
		q.inSystem--
	}
	if !q.busy && len(q.waiting) > 0 {
		arrived := q.waiting[0]
		q.waiting = q.waiting[1:]
		q.busy = true
		s := q.serve()
		q.waits = append(q.waits, nowH-arrived)
		q.sumInSystem += nowH - arrived + s
		q.e.At(nowH+s, 0, 'd')
	}
}

func runQueue(customers, days int, arrive, serve func() float64) *queue {
	q := &queue{arrive: arrive, serve: serve, customers: customers}
	q.e = New(q.handle)
	q.e.At(arrive(), 1, 'a')
	if err := q.e.RunDays(days); err != nil {
		panic(err)
	}
	return q
}

func mean(x []float64) float64 {
	s := 0.0
	for _, v := range x {
		s += v
	}
	return s / float64(len(x))
}

// interval returns mean and 99 % half-width of values from independent runs.
func interval(x []float64) (m, half float64) {
	m = mean(x)
	v := 0.0
	for _, y := range x {
		v += (y - m) * (y - m)
	}
	return m, 2.7 * math.Sqrt(v/float64(len(x)-1)/float64(len(x)))
}

// Gross & Harris, Fundamentals of Queueing Theory (from memory): mean waits of M/M/1
// with load 0.8 (4 services) and M/D/1 with load 0.8 (2 services). Little's law holds
// on every path.
func TestWaitsOfQueues(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 4))
	arrive := func() float64 { return rng.ExpFloat64() / 0.8 }
	for _, tt := range []struct {
		name  string
		serve func() float64
		want  float64
	}{
		{"M/M/1", rng.ExpFloat64, 4},
		{"M/D/1", func() float64 { return 1 }, 2},
	} {
		var means []float64
		for range 40 {
			q := runQueue(20_000, 2000, arrive, tt.serve)
			means = append(means, mean(q.waits))
			require.InEpsilon(t, q.sumInSystem, q.area, 1e-9, "Little's law")
			require.Zero(t, q.inSystem)
		}
		m, half := interval(means)
		assert.InDelta(t, tt.want, m, half, "%s: %.3f ± %.3f", tt.name, m, half)
		assert.Less(t, half, 0.25)
	}
}

// The mean delay of the first 25 customers of an empty M/M/1 (arrivals 1, services
// 10/9): 2.124489, exact by Markov chain; Law, Simulation Modeling and Analysis,
// prints 2.12 (from memory).
func TestFirstCustomersOfAQueue(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 6))
	arrive, serve := rng.ExpFloat64, func() float64 { return 0.9 * rng.ExpFloat64() }
	var means []float64
	for range 12_000 {
		means = append(means, mean(runQueue(25, 10, arrive, serve).waits))
	}
	m, half := interval(means)
	assert.InDelta(t, 2.124489, m, half)
	assert.Less(t, half, 0.06)
}

// Two repairmen and three machines that run 10 and take 8 to repair on average: 1068/761
// machines are down (Ross, Introduction to Probability Models; question read, answer
// from memory and recomputed).
func TestMachineRepair(t *testing.T) {
	rng := rand.New(rand.NewPCG(7, 8))
	var e *Engine[byte]
	down, busy, area, last := 0, 0, 0.0, 0.0
	var means []float64
	start := func(nowH float64) {
		for busy < 2 && down > busy {
			busy++
			e.At(nowH+8*rng.ExpFloat64(), 0, 'r')
		}
	}
	e = New(func(nowH float64, event byte) {
		area += float64(down) * (nowH - last)
		last = nowH
		switch event {
		case 'f':
			down++
		case 'r':
			down--
			busy--
			e.At(nowH+10*rng.ExpFloat64(), 0, 'f')
		}
		start(nowH)
	})
	for range 30 {
		e.Reset()
		down, busy, area, last = 0, 0, 0, 0
		for range 3 {
			e.At(10*rng.ExpFloat64(), 0, 'f')
		}
		require.NoError(t, e.RunDays(3000))
		means = append(means, area/last)
	}
	m, half := interval(means)
	assert.InDelta(t, 1068.0/761, m, half)
	assert.Less(t, half, 0.02)
}

// BenchmarkDay is a day with ten events.
func BenchmarkDay(b *testing.B) {
	days := b.N
	var e *Engine[int]
	e = New(func(nowH float64, i int) { e.At(nowH+2.4, 0, i) })
	e.At(0, 0, 1)
	b.ReportAllocs()
	b.ResetTimer()
	if err := e.RunDays(days); err != nil {
		b.Fatal(err)
	}
}

// BenchmarkEmptyDay is a day without events: what the event library itself costs.
func BenchmarkEmptyDay(b *testing.B) {
	e := New(func(float64, int) {})
	b.ReportAllocs()
	if err := e.RunDays(b.N); err != nil {
		b.Fatal(err)
	}
}
