package page

import (
	"context"
	"errors"
	"fmt"
	"sync"
	"sync/atomic"
	"time"

	"drystalk/report"
	"drystalk/report/document"
	"drystalk/scenarios"
	"drystalk/sim/decide"
)

// plan is a scenario that somebody has opened, and what has been made of it.
type plan struct {
	id    string
	today *scenarios.Scenario

	mu     sync.Mutex
	now    *scenarios.Scenario   // with the numbers of the form
	state  int                   // how often now was changed; a form says of which state it was made
	past   []*scenarios.Scenario // now before each change that can be taken back, the latest last
	run    *run                  // the last one; nil if none
	kept   string                // its name in the folder of plans; "" where it is not there
	keptAs []byte                // what was written or read there
	used   int64                 // when it was last asked for, in requests
}

// run is an answer being computed, or computed.
type run struct {
	ask     string
	asked   questions
	plan    *scenarios.Scenario
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

// result is what a run found, ready to be shown and taken away.
type result struct {
	report     report.Report
	charts     []report.Chart
	files      map[string][]byte  // by name
	comparison *decide.Comparison // nil for other questions
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
	r := &run{ask: e.ask, asked: q, plan: now, cancel: cancel, done: make(chan struct{})}
	r.waiting.Store(true)
	p.put(now)
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
}

// What keeps a run from beginning.
var (
	errUnderWay = errors.New("a run of this plan is under way; stop it first")
	errTooMany  = errors.New("too many runs wait for their turn; try again in a minute")
)

// safely computes and turns a panic into an error.
func (s *Server) safely(ctx context.Context, p *plan, r *run) (out *result, err error) {
	defer func() {
		if v := recover(); v != nil {
			out, err = nil, fmt.Errorf("the computation broke: %v", v)
		}
	}()
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	return s.answer(ctx, p, r)
}

func chartsOf(r report.Report) []report.Chart {
	var out []report.Chart
	for _, section := range r.Sections {
		out = append(out, section.Charts...)
	}
	return out
}

// finish makes the files of an answer; the paper of two pages and the spreadsheet bear today's date.
func (out *result) finish(d document.Document, today time.Time) error {
	d.Report.Dated = today
	out.report = d.Report
	files, err := d.Files()
	if err != nil {
		return err
	}
	out.files = map[string][]byte{}
	for _, f := range files {
		out.files[f.Name] = f.Data
	}
	if d.Report.Brief != nil {
		if out.files[report.BriefFile], err = d.Report.BriefHTML(today); err != nil {
			return err
		}
	}
	for _, c := range out.charts {
		svg, err := c.Encode("svg")
		if err != nil {
			return err
		}
		out.files["chart-"+c.Name+".svg"] = svg
	}
	return nil
}
