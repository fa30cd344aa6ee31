package page

import (
	"context"
	"errors"
	"net/url"
	"sync"
	"sync/atomic"

	"drystalk/report"
	"drystalk/scenarios"
	"drystalk/sim/decide"
	"drystalk/tongue"
)

// plan is a scenario that somebody has opened, and what has been made of it.
type plan struct {
	id     string
	opened *scenarios.Scenario // in the weather that it states

	mu sync.Mutex
	standing
	state  int        // how often that was changed; a form says of which state it was made
	past   []standing // before each change that can be taken back, the latest last
	rest   url.Values // what stood in its last form besides its numbers
	run    *run       // the last one; nil if none
	record *chosen    // the weather of the daily record that was read last; nil for none
	kept   string     // its name in the folder of plans; "" where it is not there
	keptAs []byte     // what was written or read there
	used   int64      // when it was last asked for, in requests
}

// standing is how a plan stands.
type standing struct {
	today   *scenarios.Scenario
	now     *scenarios.Scenario // with the numbers of the form
	weather chosen              // of all

	beside     *scenarios.Scenario // a second plan, set aside to be compared too; nil for none
	besideName string
}

// stand returns how the plan stands.
func (p *plan) stand() standing {
	p.mu.Lock()
	defer p.mu.Unlock()
	return p.standing
}

// run is an answer being computed, or computed.
type run struct {
	ask     string
	asked   questions
	today   *scenarios.Scenario // as it was then
	beside  *scenarios.Scenario
	plan    *scenarios.Scenario
	days    *days // to be fitted to; nil for other questions
	cancel  context.CancelFunc
	done    chan struct{}
	waiting atomic.Bool
	progress

	// The fields below are set once, before done is closed.
	result *result
	err    error
}

// finished tells whether the run has ended.
func (r *run) finished() bool {
	select {
	case <-r.done:
		return true
	default:
		return false
	}
}

// compares tells whether the run compares plans.
func (r *run) compares() bool { return r.ask == askCompare || r.ask == askSecond }

// result is what a run found, ready to be shown and taken away.
type result struct {
	report     report.Report
	charts     []report.Chart
	files      map[string][]byte  // by name
	packed     map[string][]byte  // files by name, packed by gzip
	rows       int                // of the table of seasons
	found      []string           // about a record
	normals    []report.Table     // beside it
	comparison *decide.Comparison // nil for other questions
	three      *three             // with a second plan beside; nil without one
	stopped    bool               // it says what was known when it was stopped
}

// start begins a run of a plan with new numbers, unless one is under way or the plan was changed
// since the form was made; then the plan stays as it is.
func (s *Server) start(p *plan, e *edit, now *scenarios.Scenario, q questions) error {
	q.workers(s.workers)
	p.mu.Lock()
	defer p.mu.Unlock()
	if !p.fresh(e.state, now) {
		return errOlder
	}
	if p.run != nil && !p.run.finished() {
		return errUnderWay
	}
	if s.waiting.Add(1) > mostWaiting {
		s.waiting.Add(-1)
		return errTooMany
	}
	ctx, cancel := context.WithCancel(s.ctx)
	r := &run{ask: e.ask, asked: q, today: e.at.today, beside: e.at.beside, plan: now, days: e.days, cancel: cancel, done: make(chan struct{})}
	r.staged = r.ask == askFit // nobody knows how far a fit is
	r.waiting.Store(true)
	p.put(e.with(now))
	p.run = r
	s.runs.Add(1)
	go s.live(ctx, p, r)
	return nil
}

// live waits for its turn and computes.
func (s *Server) live(ctx context.Context, p *plan, r *run) {
	defer s.runs.Done()
	defer r.cancel()
	defer close(r.done)
	select {
	case s.turn <- struct{}{}:
		defer func() { <-s.turn }()
	case <-ctx.Done():
	}
	s.waiting.Add(-1)
	r.begin(s.clock())
	r.waiting.Store(false)
	r.result, r.err = s.safely(ctx, p, r)
	r.days = nil
}

// What keeps a run from beginning.
var (
	errUnderWay error = tongue.Fault("a run of this plan is under way; stop it first")
	errTooMany  error = tongue.Fault("too many runs wait for their turn; try again in a minute")
)

// safely computes and turns a panic into an error.
func (s *Server) safely(ctx context.Context, p *plan, r *run) (out *result, err error) {
	defer func() {
		if v := recover(); v != nil {
			out, err = nil, tongue.Errorf("the computation broke: %v", v)
		}
	}()
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	write, err := s.answer(ctx, p, r)
	if err != nil {
		return nil, err
	}
	wrong := tongue.WithNumbersAsIn(r.plan.NumbersAsIn, func() { out, err = write() })
	return out, errors.Join(err, wrong)
}

func chartsOf(r report.Report) []report.Chart {
	var out []report.Chart
	for _, section := range r.Sections {
		out = append(out, section.Charts...)
	}
	return out
}
