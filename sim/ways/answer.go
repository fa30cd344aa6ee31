package ways

import (
	"context"
	"slices"

	"drystalk/sim"
	"drystalk/sim/decide"
	"drystalk/sim/goal"
	"drystalk/sim/money"
	"drystalk/sim/trials"
)

// Change is one lever and what it is moved from and to. A value is a number, or of a lever of
// choices the key of the choice.
type Change struct {
	Lever  Lever   `json:"lever"`
	From   float64 `json:"from"` // the mean of the sites where they differ
	To     float64 `json:"to"`
	Factor bool    `json:"times_what_is_written"` // the values multiply what the plan has
	Choice string  `json:"choice,omitempty"`      // key of To
	Before string  `json:"choice_before,omitempty"`
}

// Way is a way of working on fresh seasons, beside the plan as written in the same seasons.
type Way struct {
	Changes []Change          `json:"changes"` // the last one is what it adds to the row before, in a list of rows
	Edits   []string          `json:"edits"`   // of the scenario
	Worst   string            `json:"worst_month"`
	Odds    trials.Odds       `json:"target_odds"`
	All     trials.Odds       `json:"all_months"`
	Gain    trials.Mean       `json:"gain_share"` // of the odds over those as written, fraction
	Step    trials.Mean       `json:"step_share"` // over the row before
	Income  money.Pair        `json:"income_a_year"`
	Hours   money.Pair        `json:"hours_a_year_person_h"`
	PerHour money.Pair        `json:"income_of_an_hour"`
	WoodKg  money.Pair        `json:"wood_kg"`
	Second  money.Pair        `json:"second_grade_share_of_cut"`
	Plan    decide.PlanResult `json:"-"`
}

// Gains is what a way gained on what was written, in the seasons of each stage of the search.
type Gains struct {
	Search trials.Mean `json:"search_share"` // in the seasons that found it
	Judge  trials.Mean `json:"judge_share"`  // in those that chose it among the best
	Fresh  trials.Mean `json:"fresh_share"`  // in those of the answer
}

// ByLuck tells whether a way was fitted to luck: fresh seasons clearly give less than half of what the
// seasons that found it gave.
func (g Gains) ByLuck() bool {
	return g.Search.Mean > 0 && g.Fresh.High < g.Search.Mean && g.Fresh.Mean < g.Search.Mean/2
}

// Answer is the reply to "which better ways of working are there?".
type Answer struct {
	Region        string            `json:"region"`
	Sites         []string          `json:"sites"`
	Target        float64           `json:"target_share"`
	Goal          goal.Goal         `json:"target"`
	ByIncome      bool              `json:"sought_by_income"`
	Seasons       int               `json:"seasons"`       // fresh ones, behind every figure
	AloneSeasons  int               `json:"alone_seasons"` // the first of them, behind Alone
	SearchSeasons int               `json:"search_seasons"`
	JudgeSeasons  int               `json:"judge_seasons"`
	Tried         int               `json:"ways_tried"`
	Cutters       string            `json:"cutters_are"` // members or hired; "" without prices
	Members       int               `json:"members"`
	Start         decide.PlanResult `json:"as_written"`
	Best          decide.PlanResult `json:"with_all"`
	Now           Way               `json:"today"`
	Together      []Way             `json:"together"` // each row with the changes of those before it; none where nothing helps
	Alone         []Way             `json:"alone"`    // the changes of together each alone, then those of other levers
	Gains         Gains             `json:"gains"`
	Elsewhere     []There           `json:"other_climates"` // that were asked for
	Hub           decide.HubAir     `json:"hub"`
}

// Find looks for better ways of working and judges them on fresh seasons.
func Find(ctx context.Context, q Question) (Answer, error) {
	s, err := newSearch(q)
	if err != nil {
		return Answer{}, err
	}
	best, order, err := s.best(ctx)
	if err != nil {
		return Answer{}, err
	}
	s.stage = decide.Judging
	return s.answer(ctx, best, order)
}

// answer lives through the fresh seasons with what is written, the rows and what each does alone.
func (s *search) answer(ctx context.Context, best design, order []int) (Answer, error) {
	rows := s.nested(best, order)
	all := append([]design{s.space.written}, rows...)
	got, err := s.space.live(ctx, 0, s.Seasons, all, func(done int) { s.tellAt(done * s.Seasons) })
	if err != nil {
		return Answer{}, err
	}
	a := s.blank()
	ways := make([]Way, len(all))
	for k, d := range all {
		if ways[k], err = s.way(d, got[k], got[0], got[max(0, k-1)]); err != nil {
			return Answer{}, err
		}
	}
	a.Now, a.Together = ways[0], ways[1:]
	for k := range a.Together {
		a.Together[k].Changes = s.changesIn(rows[k], order[:k+1])
	}
	if a.Alone, err = s.alones(ctx, best, order, got); err != nil {
		return Answer{}, err
	}
	a.Start, a.Best = ways[0].Plan, ways[len(rows)].Plan
	if a.Gains, err = s.gains(ctx, best, ways[len(rows)].Gain); err != nil {
		return Answer{}, err
	}
	if len(rows) > 0 {
		if a.Elsewhere, err = s.elsewhere(ctx, best); err != nil {
			return Answer{}, err
		}
	}
	last := got[len(rows)]
	a.Hub, err = decide.HubOf(ctx, last.set, last.region, last.table, s.space.plan)
	return a, err
}

// aloneSeasons is how many of the fresh seasons single changes live through.
const aloneSeasons = 400

// alones judges single changes on the first of the fresh seasons; the first row of the answer has
// lived through them.
func (s *search) alones(ctx context.Context, best design, order []int, got []lived) ([]Way, error) {
	n := min(s.Seasons, aloneSeasons)
	list := s.singles(best, order)
	known := min(1, len(order))
	more, err := s.space.live(ctx, 0, n, list[known:], nil)
	if err != nil {
		return nil, err
	}
	start := got[0].before(n)
	if known > 0 {
		more = append([]lived{got[1].before(n)}, more...)
	}
	var out []Way
	for k, d := range list {
		w, err := s.way(d, more[k], start, start)
		if err != nil {
			return nil, err
		}
		out = append(out, w)
	}
	return out, nil
}

// tellAt tells how far the fresh seasons are.
func (s *search) tellAt(done int) {
	if s.Progress != nil {
		s.Progress(s.stage, s.done+done)
	}
}

func (s *search) blank() Answer {
	r := s.Setup.Region
	a := Answer{
		Region: r.Name, Target: s.Target, Goal: s.Goal, ByIncome: s.ByIncome, Seasons: s.Seasons, SearchSeasons: s.SearchSeasons, JudgeSeasons: s.JudgeSeasons,
		AloneSeasons: min(s.Seasons, aloneSeasons), Tried: len(s.found.designs) - 1,
	}
	for i := range r.Sites {
		a.Sites = append(a.Sites, r.Sites[i].Name)
		a.Members += r.Sites[i].Cutters
	}
	if s.Prices != nil {
		a.Cutters = s.Prices.Hands.String()
	}
	return a
}

// nested are the ways from what is written to the best, one change after another.
func (s *search) nested(best design, order []int) []design {
	var out []design
	now := s.space.written
	for _, l := range order {
		now = now.with(l, best[l])
		out = append(out, now)
	}
	return out
}

// mostAlone is how many single changes are judged on fresh seasons.
const mostAlone = 5

// singles are the changes of the best way each alone, then those of other levers, each at its best
// value, that did better than what is written in the seasons of the search, and the one that earns
// most and reaches the goal no less often.
func (s *search) singles(best design, order []int) []design {
	var out []design
	add := func(d design) {
		known := slices.ContainsFunc(out, func(o design) bool { return slices.Equal(o, d) })
		if !known && len(out) < mostAlone && len(s.space.changed(d)) > 0 {
			out = append(out, d)
		}
	}
	for _, l := range order {
		add(s.space.written.with(l, best[l]))
	}
	if s.Prices != nil {
		add(s.richest())
	}
	for _, l := range s.rank {
		if !slices.Contains(order, l) {
			add(s.space.written.with(l, s.single[l]))
		}
	}
	return out
}

// richest returns the single change that earned most in the search and reached the goal no less
// often.
func (s *search) richest() design {
	richer, best := richer(s.found.score(s.space.written)), s.space.written
	for l, ladder := range s.space.ladders {
		for at := range ladder {
			if d := s.space.written.with(l, at); richer(s.found.score(d), s.found.score(best)) {
				best = d
			}
		}
	}
	return best
}

// changesIn says the changes of some levers of a way.
func (s *search) changesIn(d design, levers []int) []Change {
	var out []Change
	for _, l := range levers {
		lever, ladder := s.space.levers[l], s.space.ladders[l]
		c := Change{Lever: lever.key, From: ladder[s.space.written[l]].x, To: ladder[d[l]].x, Factor: lever.factor}
		if lever.choice != nil {
			c.Choice, c.Before = lever.choice[int(c.To)], lever.choice[int(c.From)]
		}
		out = append(out, c)
	}
	return out
}

// way says how a way does beside what is written and the row before it.
func (s *search) way(d design, now, start, before lived) (Way, error) {
	w := Way{Changes: s.changesIn(d, s.space.changed(d)), Edits: s.space.edits(d)}
	var err error
	if w.Plan, err = decide.JudgeFor(s.Goal, now.region, now.table, s.space.plan); err != nil {
		return w, err
	}
	w.Worst, w.Odds, w.All = w.Plan.WorstMonth().Name, w.Plan.Odds, w.Plan.AllMonths
	if w.Gain, err = s.gain(now, start); err != nil {
		return w, err
	}
	if w.Step, err = s.gain(now, before); err != nil {
		return w, err
	}
	wood := func(l lived, i int) float64 { return l.table.Of(sim.WoodKg, s.space.plan, i) }
	w.WoodKg = pair(start, now, wood)
	w.Second = s.secondGrade(start, now)
	return w, s.livelihood(&w, start, now)
}

// gain is what one way gains on another in the same seasons, of the odds.
func (s *search) gain(now, before lived) (trials.Mean, error) {
	a, _, err := decide.BySeason(s.Goal, now.region, now.table, s.space.plan)
	if err != nil {
		return trials.Mean{}, err
	}
	b, _, err := decide.BySeason(s.Goal, before.region, before.table, s.space.plan)
	return decide.PairedGain(a, b), err
}

// gains says what the best way gained at each stage.
func (s *search) gains(ctx context.Context, best design, fresh trials.Mean) (Gains, error) {
	g := Gains{Fresh: fresh}
	for _, t := range []struct {
		at   *stretch
		into *trials.Mean
	}{{s.found, &g.Search}, {s.judged, &g.Judge}} {
		if err := t.at.need(ctx, best, s.space.written); err != nil {
			return g, err
		}
		*t.into = decide.PairedGain(t.at.score(best).reached, t.at.score(s.space.written).reached)
	}
	return g, nil
}
