package engine

import (
	"cmp"
	"errors"
	"fmt"
	"hash/fnv"
	"math"
	"math/rand/v2"
	"runtime"
	"runtime/debug"
	"slices"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"go.uber.org/goleak"
	"pgregory.net/rapid"
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

// Whatever is scheduled comes in the order in which a stable sort by time and rank puts
// it.
func TestOrderIsThatOfAStableSort(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		type planned struct{ quarter, rank, number int }
		var got []planned
		e := New(func(nowH float64, p planned) {
			require.Equal(t, float64(p.quarter)/4, nowH)
			got = append(got, p)
		})
		want := []planned{}
		for n := range rapid.IntRange(0, 60).Draw(t, "events") {
			p := planned{rapid.IntRange(0, 4*24*2-1).Draw(t, "quarter hour"), rapid.IntRange(-2, 2).Draw(t, "rank"), n}
			e.At(float64(p.quarter)/4, p.rank, p)
			want = append(want, p)
		}
		slices.SortStableFunc(want, func(a, b planned) int {
			return cmp.Or(cmp.Compare(a.quarter, b.quarter), cmp.Compare(a.rank, b.rank))
		})
		require.NoError(t, e.RunDays(2))
		require.Equal(t, len(want), len(got))
		require.True(t, slices.Equal(want, got), "want %v, got %v", want, got)
	})
}

// Events that are scheduled while others happen come as the plain way puts them: of all that wait,
// the first by time, rank and number is looked for anew each time.
func TestOrderOfEventsThatFollow(t *testing.T) {
	type planned struct {
		timeH        float64
		rank, number int
	}
	rapid.Check(t, func(t *rapid.T) {
		gaps := rapid.SliceOfN(rapid.IntRange(0, 40), 1, 200).Draw(t, "quarter hours to the next")
		follow := func(n int, nowH float64) (out []planned) { // up to two for each that happens
			for k := 2*n + 1; k <= 2*n+2 && k < len(gaps); k++ {
				out = append(out, planned{nowH + float64(gaps[k])/4, gaps[k] % 3, k})
			}
			return out
		}
		var got []int
		var e *Engine[int]
		e = New(func(nowH float64, n int) {
			got = append(got, n)
			for _, p := range follow(n, nowH) {
				e.At(p.timeH, p.rank, p.number)
			}
		})
		e.At(0, 0, 0)
		require.NoError(t, e.RunDays(40))

		var want []int
		wait := []planned{{}}
		for len(wait) > 0 {
			first := slices.MinFunc(wait, func(a, b planned) int { // the earlier scheduled of equals
				return cmp.Or(cmp.Compare(a.timeH, b.timeH), cmp.Compare(a.rank, b.rank))
			})
			wait = slices.DeleteFunc(wait, func(p planned) bool { return p == first })
			want = append(want, first.number)
			wait = append(wait, follow(first.number, first.timeH)...)
		}
		require.Len(t, want, len(gaps))
		require.Equal(t, want, got)
	})
}

// The span is half-open, also between days and when a run goes on: the last instant
// before the end happens, the end itself belongs to what follows, and no day runs twice.
func TestSpanIsHalfOpen(t *testing.T) {
	var log []float64
	e := New(func(nowH float64, _ int) { log = append(log, nowH) })
	before := math.Nextafter(48, 0)
	for _, timeH := range []float64{0, 24, before, 48, 72} {
		e.At(timeH, 0, 0)
	}
	require.NoError(t, e.RunDays(0))
	assert.Empty(t, log)
	require.NoError(t, e.RunDays(2))
	assert.Equal(t, []float64{0, 24, before}, log)
	assert.Equal(t, 48.0, e.NowH())
	assert.Panics(t, func() { e.At(before, 0, 0) }, "the run has passed this time")
	require.NoError(t, e.RunDays(2))
	assert.Len(t, log, 3)
	require.NoError(t, e.RunDays(3))
	assert.Equal(t, []float64{0, 24, before, 48}, log)
	assert.ErrorContains(t, e.RunDays(-1), "got -1, want 0 or more")
}

// A time that is no number, infinite or past breaks a promise, inside a run and before it.
func TestBadTimes(t *testing.T) {
	for _, timeH := range []float64{math.NaN(), math.Inf(1), math.Inf(-1), -1, 3, math.Nextafter(4, 0)} {
		var e *Engine[int]
		e = New(func(float64, int) { e.At(timeH, 0, 0) })
		e.At(4, 0, 0)
		var broken *Broken
		require.ErrorAs(t, e.RunDays(1), &broken)
		assert.Equal(t, 4.0, broken.NowH)
		assert.Contains(t, broken.Error(), fmt.Sprint(timeH))
	}
	for _, timeH := range []float64{math.NaN(), math.Inf(1), -1} {
		func() {
			defer func() { assert.IsType(t, &Broken{}, recover()) }()
			New(func(float64, int) {}).At(timeH, 0, 0)
		}()
	}
}

// A panic of a handler ends the run and becomes an error with its time and cause; the
// engine works again after a reset.
func TestPanicsBecomeErrors(t *testing.T) {
	cause := errors.New("cause")
	var none []int
	for name, tt := range map[string]struct {
		handler func()
		check   func(err error)
	}{
		"error":   {func() { panic(cause) }, func(err error) { require.ErrorIs(t, err, cause) }},
		"text":    {func() { panic("no such batch") }, func(err error) { require.ErrorContains(t, err, "no such batch") }},
		"runtime": {func() { _ = none[len(none)] }, func(err error) { require.ErrorContains(t, err, "index out of range") }},
	} {
		handled, fails := 0, true
		e := New(func(float64, int) {
			handled++
			if fails {
				tt.handler()
			}
		})
		e.At(30, 0, 0)
		e.At(31, 0, 0)
		err := e.RunDays(2)
		tt.check(err)
		assert.ErrorContains(t, err, "at hour 30: ", name)
		assert.Equal(t, err, e.RunDays(3), "a failed run does not go on")
		assert.Equal(t, 1, handled)

		fails = false
		e.Reset()
		e.At(31, 0, 0)
		require.NoError(t, e.RunDays(2))
		assert.Equal(t, 2, handled)
	}
}

// Every simulation is collected, whether its run ended with events pending or failed,
// and no goroutine stays behind.
func TestSimulationsAreCollected(t *testing.T) {
	const n = 100
	var collected atomic.Int64
	before := runtime.NumGoroutine()
	for i := range n {
		e := New(func(_ float64, h int) {
			if i%2 == 1 && h == 100 {
				panic("a bug")
			}
		})
		for h := range 200 {
			e.At(float64(h), 0, h)
		}
		err := e.RunDays(5) // events stay pending
		require.Equal(t, i%2 == 1, err != nil)
		runtime.AddCleanup(e.alone.sim, func(*atomic.Int64) { collected.Add(1) }, nil)
	}
	for range 50 {
		runtime.GC()
		if collected.Load() == n {
			break
		}
		time.Sleep(time.Millisecond)
	}
	assert.EqualValues(t, n, collected.Load())
	assert.LessOrEqual(t, runtime.NumGoroutine(), before) // one of another test may have ended
}

// Neither events that have happened nor those that a reset drops are kept in memory, and
// each run after a reset has a simulation of its own.
func TestResetForgets(t *testing.T) {
	e := New(func(float64, *int) {})
	for h := range 60 {
		e.At(float64(h), 0, &h)
	}
	require.NoError(t, e.RunDays(1))
	kept := func() (n int) {
		for _, it := range e.line[:cap(e.line)] {
			if it.event != nil {
				n++
			}
		}
		return n
	}
	assert.Equal(t, 36, kept())
	old, room := e.alone.sim, cap(e.line)
	e.Reset()
	assert.Zero(t, kept())
	assert.Equal(t, room, cap(e.line))
	e.At(0, 0, new(int))
	require.NoError(t, e.RunDays(1))
	assert.NotSame(t, old, e.alone.sim)
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

// Nor does it depend on what other engines do at the same time.
func TestPathIsTheSameAmongOthers(t *testing.T) {
	want := trail(9)
	for _, workers := range []int{2, 7} {
		got := make([]uint64, workers)
		var all sync.WaitGroup
		for w := range workers {
			all.Go(func() { got[w] = trail(9) })
		}
		all.Wait()
		for w := range workers {
			assert.Equal(t, want, got[w], "worker %d of %d", w+1, workers)
		}
	}
}

// In steady state an event allocates nothing: days with 240 events allocate what empty
// days do, which is the event library's own few.
func TestEventsDoNotAllocate(t *testing.T) {
	var e *Engine[int]
	e = New(func(nowH float64, i int) { e.At(nowH+1, 0, i) })
	perRun := func(events int) float64 {
		return testing.AllocsPerRun(20, func() {
			e.Reset()
			for i := range events {
				e.At(0, 0, i)
			}
			require.NoError(t, e.RunDays(30))
		})
	}
	busy, empty := perRun(10), perRun(0)
	assert.Equal(t, empty, busy)
	assert.Less(t, empty, 20.0)
}

// endlessly returns an engine whose ten events each come again after everyH hours.
func endlessly(everyH float64) *Engine[int] {
	var e *Engine[int]
	e = New(func(nowH float64, i int) { e.At(nowH+everyH, 0, i) })
	for i := range 10 {
		e.At(everyH*float64(i)/10, 0, i)
	}
	return e
}

// BenchmarkEvent is one event among ten that are pending, 240 a day.
func BenchmarkEvent(b *testing.B) {
	e := endlessly(1)
	b.ReportAllocs()
	if err := e.RunDays(b.N/240 + 1); err != nil {
		b.Fatal(err)
	}
}

// BenchmarkDay is a day with ten events.
func BenchmarkDay(b *testing.B) {
	e := endlessly(24)
	b.ReportAllocs()
	if err := e.RunDays(b.N); err != nil {
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

// An engine that takes over from another goes on as that does, from its time and with all that waits there, and
// neither touches the line of the other.
func TestTakeOver(t *testing.T) {
	var log [2][]string
	engines := make([]*Engine[int], 2)
	for i := range engines {
		engines[i] = New(func(nowH float64, day int) {
			log[i] = append(log[i], fmt.Sprint(nowH, " ", day))
			engines[i].At(nowH+24, 0, day+1)
		})
	}
	a, b := engines[0], engines[1]
	a.At(6, 0, 0)
	a.At(70, 0, 9)
	b.At(1, 0, 77)
	require.NoError(t, a.RunDays(2))
	b.Reset()
	b.TakeOver(a)
	assert.Equal(t, a.NowH(), b.NowH())
	require.NoError(t, b.RunDays(5))
	assert.Len(t, log[0], 2)
	require.NoError(t, a.RunDays(5))
	assert.Equal(t, log[0][2:], log[1])
	assert.Equal(t, []string{"54 2", "70 9", "78 3", "94 10", "102 4", "118 11"}, log[1])
}

// What has happened before an engine takes over from another does not happen to it again.
func TestTakeOverLeavesWhatHasHappened(t *testing.T) {
	var log []string
	a, b := New(func(float64, string) {}), New(func(nowH float64, what string) { log = append(log, fmt.Sprint(nowH, " ", what)) })
	for k, what := range []string{"one", "two", "three"} {
		a.At(float64(k+1), 0, what)
	}
	a.At(50, 0, "four")
	require.NoError(t, a.RunDays(1))
	b.TakeOver(a)
	require.NoError(t, b.RunDays(3))
	assert.Equal(t, []string{"50 four"}, log)
}
