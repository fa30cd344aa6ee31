package page

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"strings"
	"sync"
	"sync/atomic"

	"drystalk/report"
	"drystalk/scenarios"
	"drystalk/sim/decide"
	"drystalk/sim/money"
	"drystalk/sim/trials"
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
	seasons int
	seed    uint64
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
func (s *Server) start(p *plan, ask string, seasons int, seed uint64) error {
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
	r := &run{ask: ask, seasons: seasons, seed: seed, plan: p.now, cancel: cancel, done: make(chan struct{})}
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

func setupOf(s *scenarios.Scenario, seed uint64, workers int) (trials.Setup, error) {
	set := trials.Setup{Region: &s.Region, Base: s.Base, Knowledge: s.Knowledge, Seed: seed, Workers: workers, Group: s.Groups()}
	var err error
	if set.Source, err = s.Source(); err != nil {
		return set, err
	}
	field, err := s.Field()
	if field != nil {
		set.Field = field
	}
	return set, err
}

func pricesOf(s *scenarios.Scenario) *money.Prices {
	if !s.HasMoney {
		return nil
	}
	return &s.Money
}

// futuresFor returns how many sequences of years are behind a payback of the page: a quarter
// of the seasons, and at least as many as an interval needs.
func futuresFor(seasons int) int { return max(fewestSeason, min(500, seasons/4)) }

// compare runs today and the plan through the same seasons; where they are the same, one.
func (s *Server) compare(ctx context.Context, p *plan, r *run) (*result, error) {
	diff, err := scenarios.Differences(p.today, r.plan)
	if err != nil {
		return nil, err
	}
	if len(diff) == 0 {
		return s.odds(ctx, r)
	}
	first, err := setupOf(p.today, r.seed, s.workers)
	if err != nil {
		return nil, err
	}
	second, err := setupOf(r.plan, r.seed, s.workers)
	if err != nil {
		return nil, err
	}
	c, err := decide.Compare(ctx, decide.ComparisonQuestion{
		A: decide.Side{Name: "today", Setup: first}, B: decide.Side{Name: "plan", Setup: second}, Seasons: r.seasons, Prices: pricesOf(r.plan), Futures: futuresFor(r.seasons),
		Progress: func(done, of int) { r.percent.Store(int64(100 * done / max(1, of))) },
	})
	if err != nil {
		return nil, err
	}
	said := report.Compared{Region: r.plan.Region.Name, Result: c, Currency: r.plan.Currency}
	if r.plan.HasMoney && r.plan.Money.LoanShare > 0 {
		said.LoanEnds = r.plan.Money.LoanMonths
	}
	for _, d := range diff {
		change := report.Change{Key: strings.TrimPrefix(d.Key, "sites."), A: d.A, B: d.B}
		if d.Plan {
			said.Changes = append(said.Changes, change)
		} else {
			said.Outside = append(said.Outside, change)
		}
	}
	rep, err := report.ForCompare(said)
	if err != nil {
		return nil, err
	}
	out := &result{comparison: &c}
	for _, side := range []struct {
		name   string
		result decide.PlanResult
	}{{"today", c.A}, {"plan", c.B}} {
		chart, err := report.MonthsChart(side.result)
		if err != nil {
			return nil, err
		}
		chart.Name = "months-" + side.name
		out.charts = append(out.charts, chart)
	}
	return out, s.finish(out, rep, r, c)
}

// odds runs the plan alone.
func (s *Server) odds(ctx context.Context, r *run) (*result, error) {
	set, err := setupOf(r.plan, r.seed, s.workers)
	if err != nil {
		return nil, err
	}
	plan := make([]int, len(r.plan.Region.Sites))
	sites := make([]string, len(plan))
	for i := range plan {
		plan[i], sites[i] = r.plan.Region.Sites[i].Dryers, r.plan.Region.Sites[i].Name
	}
	table, err := set.Table(ctx, 0, r.seasons, trials.Only(plan), func(done int) { r.percent.Store(int64(100 * done / r.seasons)) })
	if err != nil {
		return nil, err
	}
	odds, err := decide.Judge(table, plan)
	if err != nil {
		return nil, err
	}
	short, err := decide.WhatIsShort(ctx, set, &r.plan.Region, table, plan, 30)
	if err != nil {
		return nil, err
	}
	said := report.Odds{Region: r.plan.Region.Name, Target: r.plan.TargetOdds, Sites: sites, Plan: odds, Short: short, Currency: r.plan.Currency}
	if p := pricesOf(r.plan); p != nil {
		e, _, err := decide.EarnsOf(p, &r.plan.Region, table, plan)
		if err != nil {
			return nil, err
		}
		said.Money = &e
	}
	rep, err := report.ForOdds(said)
	if err != nil {
		return nil, err
	}
	out := &result{odds: &odds, charts: chartsOf(rep)}
	return out, s.finish(out, rep, r, odds)
}

// dryers asks how many dryers the plan needs.
func (s *Server) dryers(ctx context.Context, r *run) (*result, error) {
	set, err := setupOf(r.plan, r.seed, s.workers)
	if err != nil {
		return nil, err
	}
	a, err := decide.Dryers(ctx, decide.Question{
		Setup: set, MaxDryers: r.plan.MaxDryers, Target: r.plan.TargetOdds, SearchSeasons: min(100, r.seasons), Seasons: r.seasons, Limit: 2 * r.seasons,
		ShortSeasons: 30, Prices: pricesOf(r.plan), Progress: func(done, of int) { r.percent.Store(int64(100 * done / max(1, of))) },
	})
	if err != nil {
		return nil, err
	}
	rep, err := report.ForDryers(a, r.plan.Currency)
	if err != nil {
		return nil, err
	}
	out := &result{charts: chartsOf(rep)}
	return out, s.finish(out, rep, r, a)
}

func chartsOf(r report.Report) []report.Chart {
	var out []report.Chart
	for _, section := range r.Sections {
		out = append(out, section.Charts...)
	}
	return out
}

// finish makes the files of an answer.
func (s *Server) finish(out *result, rep report.Report, r *run, answer any) error {
	rep.Assumptions, rep.Warnings, rep.Weather = r.plan.Assumptions(), append(rep.Warnings, r.plan.Warnings...), r.plan.WeatherWords()
	rep.Reproduce = []string{
		fmt.Sprintf("drystalk %s plan.yaml --seed %d --seasons %d", r.ask, r.seed, r.seasons),
		"the plan as downloaded here, content " + r.plan.Hash,
		"drystalk " + s.version,
	}
	out.report = rep
	html, err := rep.HTML()
	if err != nil {
		return err
	}
	sheet, err := rep.Spreadsheet()
	if err != nil {
		return err
	}
	tidy, err := rep.Tidy()
	if err != nil {
		return err
	}
	data, err := json.MarshalIndent(struct {
		Sentence  string `json:"sentence"`
		Paragraph string `json:"paragraph"`
		Version   string `json:"version"`
		Hash      string `json:"scenario_hash"`
		Seed      uint64 `json:"seed"`
		Seasons   int    `json:"seasons"`
		Answer    any    `json:"answer"`
	}{rep.Sentence, rep.Words(), s.version, r.plan.Hash, r.seed, r.seasons, answer}, "", "  ")
	if err != nil {
		return err
	}
	out.files = map[string][]byte{"report.html": html, "spreadsheet.xlsx": sheet, "figures.csv": tidy, "answer.json": data}
	for _, c := range out.charts {
		svg, err := c.Encode("svg")
		if err != nil {
			return err
		}
		out.files["chart-"+c.Name+".svg"] = svg
	}
	return nil
}
