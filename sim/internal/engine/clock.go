package engine

import (
	"fmt"
	"runtime"

	"github.com/fschuetz04/simgo"
)

// Clock drives engines side by side, a day of each after another: one event of the event library
// for every daysAnEvent days, however many engines there are. It is not safe for concurrent use.
type Clock struct {
	engines []Driven
	sim     *simgo.Simulation
	dawns   [2]*simgo.Event // the events of the library, used in turn
	turn    int             // the one that was used last
	pending simgo.Event     // what each is before it has happened
	day     int             // days run so far
	days    int             // the day at which the run ends
	evening func(day int)   // after a day of every engine; nil: nothing is done
	running int             // the engine whose day is run
	failed  error
}

// daysAnEvent is how many days, one after another, are run in one event of the library, which takes
// longer over an event of its own than a site does over a quiet day.
const daysAnEvent = 30

// Driven is an engine as its clock sees it.
type Driven interface {
	runDay(endH float64)
	endAt(timeH float64)
	failure(cause any) error
}

// Reset takes the clock back to time 0, without engines, also after a failed run. The next run has
// a fresh simulation of the library.
func (c *Clock) Reset() { *c = Clock{engines: c.engines[:0]} }

// Drive adds an engine, at time 0 as the clock, whose days are run after those of the engines
// before.
func (c *Clock) Drive(e Driven) { c.engines = append(c.engines, e) }

// Evening has something done after each day of all engines, day counted from 0; a Reset forgets it.
func (c *Clock) Evening(do func(day int)) { c.evening = do }

// Running returns the engine whose day was run last, by the order of Drive: the one that failed,
// where a run did.
func (c *Clock) Running() int { return c.running }

// RunDays runs the half-open span of hours from 0 to 24·days: events at its end or
// later stay undone, and a later call with more days goes on with them. Days that
// have been run already are not run again; a negative number of days is an error.
//
// A panic inside a handler ends the run and becomes an error with the time at
// which it happened. Until the next Reset every further run returns that error.
func (c *Clock) RunDays(days int) (err error) {
	if days < 0 {
		return fmt.Errorf("days to run: got %d, want 0 or more", days)
	}
	if c.failed != nil || days <= c.day {
		return c.failed
	}
	defer func() {
		if r := recover(); r != nil {
			c.failed = c.engines[c.running].failure(r)
			err = c.failed
		}
	}()
	if c.sim == nil {
		c.begin()
	}
	c.days = days
	c.goOn()
	c.sim.Run()
	for _, e := range c.engines {
		e.endAt(float64(days) * hoursPerDay)
	}
	return nil
}

// begin makes the simulation of the library and the events of its days. This is the only place
// that makes either. The finalizers of the events are cleared: they would keep the whole
// simulation alive for ever and take a lock shared by all goroutines.
func (c *Clock) begin() {
	c.sim = simgo.NewSimulation()
	for i := range c.dawns {
		c.dawns[i] = c.sim.Event()
		runtime.SetFinalizer(c.dawns[i], nil)
	}
	c.dawns[0].AddHandler(c.nextDays)
	c.pending = *c.dawns[0]
}

// goOn schedules the next days with the event library. An event of the library happens once; as
// nobody else holds these, one is made what it was before it happened while the other happens.
func (c *Clock) goOn() {
	c.turn = 1 - c.turn
	ev := c.dawns[c.turn]
	*ev = c.pending
	ev.TriggerDelayed(float64(c.day)*hoursPerDay - c.sim.Now())
}

// nextDays runs some days and schedules those after them.
func (c *Clock) nextDays(*simgo.Event) {
	for range min(daysAnEvent, c.days-c.day) {
		c.nextDay()
	}
	if c.day < c.days {
		c.goOn()
	}
}

// nextDay runs a day of every engine.
func (c *Clock) nextDay() {
	c.day++
	for i, e := range c.engines {
		c.running = i
		e.runDay(float64(c.day) * hoursPerDay)
	}
	if c.evening != nil {
		c.evening(c.day - 1)
	}
}
