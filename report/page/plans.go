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
	"drystalk/sim/answers"
	"drystalk/sim/decide"
)

// plan is a scenario that somebody has opened, and what has been made of it.
type plan struct {
	id    string
	today *scenarios.Scenario

	mu   sync.Mutex
	now  *scenarios.Scenario // with the numbers of the form
	run  *run                // the last one; nil if none
	used int64               // when it was last asked for, in requests
}

// The questions a run answers.
const (
	askCompare = "compare"
	askDryers  = "dryers"
)

// run is an answer being computed, or computed.
type run struct {
	ask     string
	asked   questions
	plan    *scenarios.Scenario
	cancel  context.CancelFunc
	done    chan struct{}
	percent atomic.Int64
	waiting atomic.Bool

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
	files      map[string][]byte // by name
	comparison *decide.Comparison
	odds       *decide.PlanResult
}

// start begins a run of a plan, unless one is under way.
func (s *Server) start(p *plan, ask string, q questions) error {
	q.workers(s.workers)
	p.mu.Lock()
	defer p.mu.Unlock()
	if p.run != nil && !p.run.finished() {
		return errUnderWay
	}
	if s.waiting.Add(1) > mostWaiting {
		s.waiting.Add(-1)
		return errTooMany
	}
	ctx, cancel := context.WithCancel(s.ctx)
	r := &run{ask: ask, asked: q, plan: p.now, cancel: cancel, done: make(chan struct{})}
	r.waiting.Store(true)
	p.run = r
	s.runs.Add(1)
	go func() {
		defer s.runs.Done()
		defer cancel()
		defer close(r.done)
		select {
		case s.turn <- struct{}{}:
			defer func() { <-s.turn }()
		case <-ctx.Done():
		}
		s.waiting.Add(-1)
		r.waiting.Store(false)
		r.result, r.err = s.safely(ctx, p, r)
	}()
	return nil
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
	if r.ask == askDryers {
		return s.dryers(ctx, r)
	}
	return s.compare(ctx, p, r)
}

// tell says how far a run has come.
func (r *run) tell(_ answers.Doing, done, of int) { r.percent.Store(int64(100 * done / max(1, of))) }

// compare runs today and the plan through the same seasons; where they are the same, one.
func (s *Server) compare(ctx context.Context, p *plan, r *run) (*result, error) {
	pair, err := scenarios.Pair(p.today, r.plan, r.asked.seed)
	if err != nil {
		return nil, err
	}
	if len(pair.Differences) == 0 {
		return s.odds(ctx, pair.Second, r)
	}
	a, err := answers.Compare(ctx, pair, r.asked.compare, r.tell)
	if err != nil {
		return nil, err
	}
	d, err := s.writer.Compare(a)
	if err != nil {
		return nil, err
	}
	out := &result{comparison: &a.Comparison, charts: chartsOf(d.Report)}
	return out, out.finish(d, s.today())
}

// odds runs the plan alone.
func (s *Server) odds(ctx context.Context, c answers.Case, r *run) (*result, error) {
	a, err := answers.Odds(ctx, c, r.asked.odds, r.tell)
	if err != nil {
		return nil, err
	}
	d, err := s.writer.Odds(a)
	if err != nil {
		return nil, err
	}
	out := &result{odds: &a.Plan, charts: chartsOf(d.Report)}
	return out, out.finish(d, s.today())
}

// dryers asks how many dryers the plan needs.
func (s *Server) dryers(ctx context.Context, r *run) (*result, error) {
	c, err := r.plan.Setup(r.asked.seed)
	if err != nil {
		return nil, err
	}
	a, err := answers.Dryers(ctx, c, r.asked.dryers, r.tell)
	if err != nil {
		return nil, err
	}
	d, err := s.writer.Dryers(a)
	if err != nil {
		return nil, err
	}
	out := &result{charts: chartsOf(d.Report)}
	return out, out.finish(d, s.today())
}

func chartsOf(r report.Report) []report.Chart {
	var out []report.Chart
	for _, section := range r.Sections {
		out = append(out, section.Charts...)
	}
	return out
}

// finish makes the files of an answer; the paper of two pages bears today's date.
func (out *result) finish(d document.Document, today time.Time) error {
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
