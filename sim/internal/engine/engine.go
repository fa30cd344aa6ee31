// Package engine is the clock of a season. It is the only importer of the event
// library: the model schedules its events here and never learns that the
// library drives one event for some days, of all sites that run side by side, while a short line of
// each site orders those within them.
package engine

import (
	"fmt"
	"math"
)

// hoursPerDay: engines that run side by side live a day of each after another.
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
	line   []item[E] // in the order in which they happen; those before next have happened
	next   int
	alone  Clock // of a run without other engines
}

// item is a scheduled event.
type item[E any] struct {
	timeH float64
	rank  int
	event E
}

// New returns an engine at time 0 that hands every event to handle.
func New[E any](handle func(nowH float64, event E)) *Engine[E] {
	e := &Engine[E]{handle: handle}
	e.Reset()
	return e
}

// Reset takes the engine back to time 0 without events, also after a failed run.
// It keeps the memory of its line.
func (e *Engine[E]) Reset() {
	clear(e.line)
	e.line, e.next, e.nowH = e.line[:0], 0, 0
	e.alone.Reset()
	e.alone.Drive(e)
}

// TakeOver puts the engine at the time of another, with the events that wait there.
func (e *Engine[E]) TakeOver(o *Engine[E]) {
	clear(e.line)
	e.line, e.next, e.nowH = append(e.line[:0], o.line[o.next:]...), 0, o.nowH
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
	if len(e.line) == cap(e.line) && 2*e.next >= len(e.line) {
		e.closeUp()
	}
	e.lineUp(item[E]{timeH, rank, event})
}

// closeUp moves those who wait to the front of the memory of the line.
func (e *Engine[E]) closeUp() {
	n := copy(e.line, e.line[e.next:])
	clear(e.line[n:])
	e.line, e.next = e.line[:n], 0
}

// lineUp puts an item in its place, behind those of its time and rank. Few wait at a time and
// most new ones come late, so that a line needs fewer moves than a heap.
func (e *Engine[E]) lineUp(it item[E]) {
	line := append(e.line, it)
	i := len(line) - 1
	for ; i > e.next; i-- {
		before := &line[i-1]
		if before.timeH < it.timeH || before.timeH == it.timeH && before.rank <= it.rank {
			break
		}
		line[i] = *before
	}
	line[i] = it
	e.line = line
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
	for e.next < len(e.line) && e.line[e.next].timeH < endH {
		first := e.line[e.next]
		e.line[e.next] = item[E]{}
		if e.next++; e.next == len(e.line) {
			e.line, e.next = e.line[:0], 0
		}
		e.nowH = first.timeH
		e.handle(e.nowH, first.event)
	}
}
