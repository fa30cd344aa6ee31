// Package engine is the clock of a season. It is the only importer of the event
// library: the model schedules its events here and never learns that the
// library drives one event per day, for all sites that run side by side, while a small heap of
// each site orders those within it.
package engine

import (
	"fmt"
	"math"
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
	alone  Clock // of a run without other engines
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
	e.Reset()
	return e
}

// Reset takes the engine back to time 0 without events, also after a failed run.
// It keeps the memory of its heap.
func (e *Engine[E]) Reset() {
	clear(e.heap)
	e.heap, e.nowH, e.count = e.heap[:0], 0, 0
	e.alone.Reset()
	e.alone.Drive(e)
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

// RunDays runs the engine alone, as Clock.RunDays does.
func (e *Engine[E]) RunDays(days int) error { return e.alone.RunDays(days) }

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

// endAt sets the time at the end of a run.
func (e *Engine[E]) endAt(timeH float64) { e.nowH = timeH }

// runDay hands out the events before the end of the day.
func (e *Engine[E]) runDay(endH float64) {
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
