package engine

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/stat"
	"gonum.org/v1/gonum/stat/distuv"
)

// The checks of this file compare small stations, written on the engine, with queueing
// theory. The forms are those of Gross & Harris, Fundamentals of Queueing Theory (from
// memory); all values are computed independently from the balance equations of their
// Markov chains. Runs are seeded; each tolerance is the 99 % interval of the mean over
// independent runs, and a limit on its width keeps the check sharp.

// near checks that the mean of values from independent runs is want, within its 99 %
// interval, whose half-width must not exceed widest.
func near(t *testing.T, want float64, values []float64, widest float64, what string) {
	t.Helper()
	mean, sd := stat.MeanStdDev(values, nil)
	n := float64(len(values))
	half := distuv.StudentsT{Sigma: 1, Nu: n - 1}.Quantile(0.995) * sd / math.Sqrt(n)
	assert.InDelta(t, want, mean, half, "%s: %.5f ± %.5f", what, mean, half)
	assert.Less(t, half, widest, what)
}

// sum adds with a correction term, so that long sums keep all their digits (Neumaier,
// Zeitschrift für angewandte Mathematik und Mechanik 54, 1974; from memory).
type sum struct{ total, lost float64 }

func (s *sum) add(x float64) {
	t := s.total + x
	if math.Abs(s.total) >= math.Abs(x) {
		s.lost += s.total - t + x
	} else {
		s.lost += x - t + s.total
	}
	s.total = t
}

func (s *sum) value() float64 { return s.total + s.lost }

// queue is a station with one server: customers arrive, wait and are served one by one.
type queue struct {
	e             *Engine[byte]
	arrive, serve func() float64 // hours to the next arrival and of a service
	customers     int            // still to arrive
	inSystem      []float64      // their arrival times; the first is being served
	served        int
	waits         sum // of all customers, h
	stays         sum // waits and services, h
	area          sum // of the number in the system over time, h
	lastH         float64
}

func (q *queue) handle(nowH float64, event byte) {
	q.area.add(float64(len(q.inSystem)) * (nowH - q.lastH))
	q.lastH = nowH
	switch event {
	case 'a':
		q.inSystem = append(q.inSystem, nowH)
		if q.customers--; q.customers > 0 {
			q.e.At(nowH+q.arrive(), 1, 'a')
		}
		if len(q.inSystem) == 1 {
			q.start(nowH)
		}
	case 'd':
		q.stays.add(nowH - q.inSystem[0])
		q.inSystem = q.inSystem[1:]
		if len(q.inSystem) > 0 {
			q.start(nowH)
		}
	}
}

func (q *queue) start(nowH float64) {
	q.waits.add(nowH - q.inSystem[0])
	q.served++
	q.e.At(nowH+q.serve(), 0, 'd')
}

// run serves the customers, who find the station empty, to the last.
func (q *queue) run(t *testing.T, customers int) (meanWaitH float64) {
	*q = queue{e: q.e, arrive: q.arrive, serve: q.serve, customers: customers}
	if q.e == nil {
		q.e = New(q.handle)
	}
	q.e.Reset()
	q.e.At(q.arrive(), 1, 'a')
	require.NoError(t, q.e.RunDays(customers/8+100))
	require.Equal(t, customers, q.served)
	require.Empty(t, q.inSystem)
	return q.waits.value() / float64(customers)
}

// Mean waits with load 0.8: 4 services of M/M/1, 2 of M/D/1. Little's law holds on every
// path that starts and ends empty: the area under the number in the system is the sum of
// the stays.
func TestWaitsOfQueues(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 4))
	for _, tt := range []struct {
		name         string
		serve        func() float64
		want, widest float64
	}{
		{"M/M/1", rng.ExpFloat64, 4, 0.2},
		{"M/D/1", func() float64 { return 1 }, 2, 0.05},
	} {
		q := &queue{arrive: func() float64 { return rng.ExpFloat64() / 0.8 }, serve: tt.serve}
		var waits []float64
		for range 40 {
			waits = append(waits, q.run(t, 20_000))
			require.InEpsilon(t, q.stays.value(), q.area.value(), 1e-12, "Little's law, %s", tt.name)
		}
		near(t, tt.want, waits, tt.widest, tt.name)
	}
}

// The mean wait of the first 25 customers who find an M/M/1 with arrivals of 1 and
// services of 10/9 empty is 2.124489; Law, Simulation Modeling and Analysis, prints 2.12
// (from memory). It needs no warm-up, so nothing but the engine is in it.
func TestFirstCustomersOfAQueue(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 6))
	q := &queue{arrive: rng.ExpFloat64, serve: func() float64 { return 0.9 * rng.ExpFloat64() }}
	var waits []float64
	for range 12_000 {
		waits = append(waits, q.run(t, 25))
	}
	near(t, 2.124489, waits, 0.05, "first 25 customers")
}

// batchServer is a station with one server that takes up to most customers at once and
// starts when at least fewest wait; nobody joins a batch under way.
type batchServer struct {
	e             *Engine[byte]
	rng           *rand.Rand
	fewest, most  int
	waiting       int
	busy          bool
	waitingH      float64 // customer-hours of waiting
	busyH, lastH  float64
	served, loads int
}

func (s *batchServer) handle(nowH float64, event byte) {
	s.waitingH += float64(s.waiting) * (nowH - s.lastH)
	if s.busy {
		s.busyH += nowH - s.lastH
	}
	s.lastH = nowH
	switch event {
	case 'w':
		s.waitingH, s.busyH, s.served, s.loads = 0, 0, 0, 0
		return
	case 'a':
		s.waiting++
		s.e.At(nowH+s.rng.ExpFloat64(), 1, 'a')
	case 'd':
		s.busy = false
	}
	if !s.busy && s.waiting >= s.fewest {
		load := min(s.waiting, s.most)
		s.busy, s.waiting = true, s.waiting-load
		s.served, s.loads = s.served+load, s.loads+1
		s.e.At(nowH+2*s.rng.ExpFloat64(), 0, 'd')
	}
}

// Batch service with arrivals of 1, services of mean 2 and batches of at most 4, started
// with what is there, with at least two, and only when full: mean wait, share of time
// busy, mean batch.
func TestBatchService(t *testing.T) {
	const warmupDays, days = 50, 1000
	for _, tt := range []struct {
		fewest            int
		waitH, busy, load float64
	}{
		{1, 2.536866, 0.885454, 2.258729},
		{2, 2.281302, 0.738213, 2.709247},
		{4, 2.365047, 0.5, 4},
	} {
		s := &batchServer{rng: rand.New(rand.NewPCG(9, uint64(tt.fewest)))}
		s.e = New(s.handle)
		var waits, busy, loads []float64
		for range 30 {
			*s = batchServer{e: s.e, rng: s.rng, fewest: tt.fewest, most: 4}
			s.e.Reset()
			s.e.At(24*warmupDays, 0, 'w')
			s.e.At(s.rng.ExpFloat64(), 1, 'a')
			require.NoError(t, s.e.RunDays(warmupDays+days))
			spanH := s.lastH - 24*warmupDays
			waits = append(waits, s.waitingH/spanH) // arrivals are 1 per hour
			busy = append(busy, s.busyH/spanH)
			loads = append(loads, float64(s.served)/float64(s.loads))
		}
		near(t, tt.waitH, waits, 0.05, "wait")
		near(t, tt.busy, busy, 0.006, "busy")
		if tt.fewest < 4 {
			near(t, tt.load, loads, 0.02, "batch")
		} else {
			assert.Equal(t, 4.0, stat.Mean(loads, nil))
		}
	}
}

// repairShop is machines that fail and wait for one of a few repairmen.
type repairShop struct {
	e           *Engine[byte]
	rng         *rand.Rand
	repairmen   int
	runH, mendH float64 // mean hours of running and of repair
	down, busy  int
	downH       []float64 // hours with so many machines down
	lastH       float64
}

func (s *repairShop) handle(nowH float64, event byte) {
	s.downH[s.down] += nowH - s.lastH
	s.lastH = nowH
	switch event {
	case 'w':
		clear(s.downH)
	case 'f':
		s.down++
	case 'r':
		s.down--
		s.busy--
		s.e.At(nowH+s.runH*s.rng.ExpFloat64(), 0, 'f')
	}
	for s.busy < s.repairmen && s.busy < s.down {
		s.busy++
		s.e.At(nowH+s.mendH*s.rng.ExpFloat64(), 0, 'r')
	}
}

// Machine repair: the mean number of machines down and the shares of time with none,
// one, two ... down. The four shops are exercises of Winston (patrol cars), Ross,
// Hillier & Lieberman, and Stevenson (parameters from memory).
func TestMachineRepair(t *testing.T) {
	const warmupDays, days = 100, 2000
	for _, tt := range []struct {
		machines, repairmen int
		runH, mendH         float64
		down                float64
		shares              []float64
	}{
		{5, 2, 30, 3, 0.464794, []float64{0.618592, 0.309296, 0.061859, 0.009279}},
		{3, 2, 10, 8, 1068.0 / 761, []float64{125.0 / 761, 300.0 / 761, 240.0 / 761, 96.0 / 761}},
		{2, 1, 10, 8, 104.0 / 97, []float64{25.0 / 97, 40.0 / 97, 32.0 / 97}},
		{10, 2, 86, 14, 1.856386, []float64{0.185863, 0.302568, 0.221649}},
	} {
		s := &repairShop{rng: rand.New(rand.NewPCG(7, uint64(tt.machines)))}
		s.e = New(s.handle)
		var down []float64
		shares := make([][]float64, len(tt.shares))
		for range 30 {
			*s = repairShop{e: s.e, rng: s.rng, repairmen: tt.repairmen, runH: tt.runH, mendH: tt.mendH, downH: make([]float64, tt.machines+1)}
			s.e.Reset()
			s.e.At(24*warmupDays, 0, 'w')
			for range tt.machines {
				s.e.At(s.runH*s.rng.ExpFloat64(), 0, 'f')
			}
			require.NoError(t, s.e.RunDays(warmupDays+days))
			spanH, machineH := s.lastH-24*warmupDays, 0.0
			for n, h := range s.downH {
				machineH += float64(n) * h
				if n < len(shares) {
					shares[n] = append(shares[n], h/spanH)
				}
			}
			down = append(down, machineH/spanH)
		}
		near(t, tt.down, down, 0.05, "machines down")
		for n, want := range tt.shares {
			near(t, want, shares[n], 0.01, "share of time")
		}
	}
}
