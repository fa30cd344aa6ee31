// Package engine is the clock of a season. It is the only importer of the event
// library: the model schedules its events here and never learns that the
// library drives one event per day while a small heap orders those within it.
package engine

import (
	"fmt"
	"math"
	"runtime"

	"github.com/fschuetz04/simgo"
)

// hoursPerDay is the span one event of the library stands for.
const hoursPerDay = 24

// Broken is the value of the panic of a broken promise inside the model, such
// as an event in the past.
type Broken struct {
	NowH   float64 // when it happened, in hours from the start of the season
	Reason string  // what was asked for
}

// Error returns the time and the reason.
func (b *Broken) Error() string { return fmt.Sprintf("at hour %g: %s", b.NowH, b.Reason) }

// Engine runs one simulation of events of type E in hours from 0.
//
// Events happen in the order of their time, then of their rank, then in the
// order in which they were scheduled. An engine is not safe for concurrent use.
type Engine[E any] struct {
	handle func(nowH float64, event E)
	nowH   float64
	count  uint64 // events scheduled so far
	heap   []item[E]
	sim    *simgo.Simulation
	day    int // days run so far
	days   int // the day at which the run ends
	failed error
	onDay  func(*simgo.Event)
}

// item is a scheduled event.
type item[E any] struct {
	timeH float64
	rank  int
	count uint64
	event E
}

// before tells whether a happens before b. No two items of an engine are equal.
func (a *item[E]) before(b *item[E]) bool {
	if a.timeH != b.timeH {
		return a.timeH < b.timeH
	}
	if a.rank != b.rank {
		return a.rank < b.rank
	}
	return a.count < b.count
}

// New returns an engine at time 0 that hands every event to handle.
func New[E any](handle func(nowH float64, event E)) *Engine[E] {
	e := &Engine[E]{handle: handle}
	e.onDay = e.nextDay
	e.Reset()
	return e
}

// Reset takes the engine back to time 0 without events, also after a failed run.
// It keeps the memory of its heap and makes a fresh simulation of the library.
func (e *Engine[E]) Reset() {
	clear(e.heap)
	e.heap, e.nowH, e.count, e.day, e.failed = e.heap[:0], 0, 0, 0, nil
	e.sim = simgo.NewSimulation()
}

// NowH returns the time of the event being handled, or after a run its end, in
// hours.
func (e *Engine[E]) NowH() float64 { return e.nowH }

// At schedules an event. A time that is not a number, infinite or in the past
// breaks a promise and panics with a *Broken.
func (e *Engine[E]) At(timeH float64, rank int, event E) {
	if !(timeH >= e.nowH) || math.IsInf(timeH, 0) {
		panic(&Broken{e.nowH, fmt.Sprintf("event scheduled at hour %g", timeH)})
	}
	e.count++
	e.heap = append(e.heap, item[E]{timeH, rank, e.count, event})
	e.up(len(e.heap) - 1)
}

// RunDays runs the half-open span of hours from 0 to 24·days: events at its end or
// later stay undone, and a later call with more days goes on with them. Days that
// have been run already are not run again; a negative number of days is an error.
//
// A panic inside a handler ends the run and becomes an error with the time at
// which it happened. Until the next Reset every further run returns that error.
func (e *Engine[E]) RunDays(days int) (err error) {
	if days < 0 {
		return fmt.Errorf("days to run: got %d, want 0 or more", days)
	}
	if e.failed != nil || days <= e.day {
		return e.failed
	}
	defer func() {
		if r := recover(); r != nil {
			e.failed = e.failure(r)
			err = e.failed
		}
	}()
	e.days = days
	e.after(0)
	e.sim.Run()
	e.nowH = float64(days) * hoursPerDay
	return nil
}

// failure makes an error with the time from the value of a panic.
func (e *Engine[E]) failure(cause any) error {
	if b, ok := cause.(*Broken); ok {
		return b
	}
	if err, ok := cause.(error); ok {
		return fmt.Errorf("at hour %g: %w", e.nowH, err)
	}
	return fmt.Errorf("at hour %g: %v", e.nowH, cause)
}

// after schedules the next day with the event library. This is the only place
// that makes its events. The finalizer of the event is cleared: it would keep
// the whole simulation alive for ever and takes a lock shared by all goroutines.
func (e *Engine[E]) after(delayH float64) {
	ev := e.sim.Timeout(delayH)
	runtime.SetFinalizer(ev, nil)
	ev.AddHandler(e.onDay)
}

// nextDay runs a day and schedules the one after it.
func (e *Engine[E]) nextDay(*simgo.Event) {
	e.runDay()
	if e.day < e.days {
		e.after(hoursPerDay)
	}
}

// runDay hands out the events before the end of the day.
func (e *Engine[E]) runDay() {
	e.day++
	endH := float64(e.day) * hoursPerDay
	for len(e.heap) > 0 && e.heap[0].timeH < endH {
		next := e.pop()
		e.nowH = next.timeH
		e.handle(e.nowH, next.event)
	}
}

// up moves item i towards the root until its parent comes before it.
func (e *Engine[E]) up(i int) {
	for i > 0 {
		parent := (i - 1) / 2
		if !e.heap[i].before(&e.heap[parent]) {
			return
		}
		e.heap[i], e.heap[parent] = e.heap[parent], e.heap[i]
		i = parent
	}
}

// pop takes the first item off the heap.
func (e *Engine[E]) pop() item[E] {
	first, last := e.heap[0], len(e.heap)-1
	e.heap[0] = e.heap[last]
	e.heap[last] = item[E]{}
	e.heap = e.heap[:last]
	for i := 0; ; {
		child := 2*i + 1
		if child >= last {
			return first
		}
		if child+1 < last && e.heap[child+1].before(&e.heap[child]) {
			child++
		}
		if !e.heap[child].before(&e.heap[i]) {
			return first
		}
		e.heap[i], e.heap[child] = e.heap[child], e.heap[i]
		i = child
	}
}
