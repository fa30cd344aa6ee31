package decide

import (
	"context"
	"slices"
	"sort"

	"drystalk/sim"
	"drystalk/sim/goal"
	"drystalk/sim/trials"
)

// Shortage says what is short where months are missed: each missed month of some seasons is
// lived through again with one thing after another made plentiful, in the same weather, luck
// and knowledge, and where no single thing meets it, with two. Where the goal does not go by
// months met, seasons that do not reach it stand in place of missed months.
// What hardly meets any is tried in the first of the months alone.
type Shortage struct {
	Whole   bool        `json:"of_whole_seasons"` // seasons are counted, not months
	Seasons int         `json:"seasons"`          // with a month missed that were looked at
	OfAll   int         `json:"of_seasons"`
	Months  int         `json:"missed_months"`
	Single  []ShortOf   `json:"single"` // by the share they meet of the months that each was tried in
	Pairs   []ShortOf   `json:"pairs"`  // of the months that no single thing meets
	Alone   trials.Odds `json:"met_by_a_single_thing"`
	Two     trials.Odds `json:"met_by_two_things"` // and by no single one
}

// ShortOf is one thing, or two, that would have met missed months.
type ShortOf struct {
	Things []Relief    `json:"things"`
	Met    trials.Odds `json:"met"` // of the missed months that it was tried in
}

// mostPairs is how many of the things that help most are tried by two.
const mostPairs = 6

// Missing is a plan that is asked what it is short of.
type Missing struct {
	Goal   goal.Goal
	Region *sim.Region
	Table  *trials.Table // of the region, holding the plan
	Plan   []int
	Most   int // seasons that are looked at
}

// WhatIsShort looks at the first seasons of a plan in which a month is missed, or the goal is not
// reached. A plan that the table does not hold is an error.
func WhatIsShort(ctx context.Context, set trials.Setup, m Missing) (Shortage, error) {
	if err := m.Table.CheckPlan(m.Plan); err != nil {
		return Shortage{}, err
	}
	s := Shortage{Whole: m.Goal.Kind != goal.WorstMonth && m.Goal.Kind != goal.AllMonths}
	again := livedAgain{set: set, goal: m.Goal, region: planned(m.Region, m.Plan)}
	if s.Whole {
		again.missed = m.seasons(&s)
	} else {
		again.missed = missedMonths(m.Table, m.Plan, m.Most, &s)
	}
	if s.Months == 0 {
		return s, nil
	}
	things := reliefsFor(m.Region)
	singles := make([][]relief, len(things))
	for k := range things {
		singles[k] = []relief{things[k]}
	}
	met, err := again.oneByOne(ctx, singles)
	if err != nil {
		return Shortage{}, err
	}
	var rest []miss
	for i, missed := range again.missed {
		if !anyOf(met, i) {
			rest = append(rest, missed)
		}
	}
	s.Single = ranked(singles, met, 0)
	s.Alone = trials.NewOdds(s.Months-len(rest), s.Months)
	if len(rest) == 0 {
		return s, nil
	}
	again.missed = rest
	return s, s.byTwo(ctx, again, pairsOf(things, met))
}

// byTwo tries two things at once on the months that no single one meets.
func (s *Shortage) byTwo(ctx context.Context, again livedAgain, pairs [][]relief) error {
	met, err := again.with(ctx, pairs)
	if err != nil {
		return err
	}
	two := 0
	for i := range again.missed {
		if anyOf(met, i) {
			two++
		}
	}
	s.Two = trials.NewOdds(two, s.Months)
	s.Pairs = ranked(pairs, met, s.Months)
	return nil
}

// miss is a missed month of a season, or the whole season.
type miss struct {
	season int // its number
	month  int // -1 for the season
}

// seasons lists the first seasons that do not reach a goal which has one event.
func (m *Missing) seasons(s *Shortage) []miss {
	p := playFor(m.Goal, lived{m.Region, m.Table, m.Plan})
	reached := p.least()
	var out []miss
	for i := 0; i < len(reached) && len(out) < m.Most; i++ {
		s.OfAll++
		if !reached[i] {
			out = append(out, miss{m.Table.First + i, -1})
		}
	}
	s.Months, s.Seasons = len(out), len(out)
	return out
}

// missedMonths lists the missed months of the first seasons with any.
func missedMonths(t *trials.Table, plan []int, most int, s *Shortage) []miss {
	var out []miss
	months, scratch := make([]sim.HubMonth, t.Months()), &trials.Arriving{}
	for i := 0; i < t.Seasons && s.Seasons < most; i++ {
		s.OfAll++
		t.Hub(months, scratch, plan, i)
		before := len(out)
		for k := range months {
			if months[k].Asked > 0 && !months[k].Met {
				out = append(out, miss{t.First + i, k})
			}
		}
		if len(out) > before {
			s.Seasons++
		}
	}
	s.Months = len(out)
	return out
}

// livedAgain is missed months of a plan that are lived through once more.
type livedAgain struct {
	set    trials.Setup
	goal   goal.Goal
	region *sim.Region // with the dryers of the plan
	missed []miss
}

// with tells, by set of reliefs, which of the missed months are met with them.
func (l *livedAgain) with(ctx context.Context, tried [][]relief) ([][]bool, error) {
	var numbers []int
	at := map[int]int{} // season to its place among the numbers
	for _, m := range l.missed {
		if _, seen := at[m.season]; !seen {
			at[m.season] = len(numbers)
			numbers = append(numbers, m.season)
		}
	}
	variants := make([]trials.Variant, len(tried))
	for v, list := range tried {
		region := with(l.region, list...)
		variants[v] = trials.Variant{Region: region, Levels: trials.Only(PlanOf(region))}
	}
	study, err := l.set.StudyOf(numbers, variants)
	if err != nil {
		return nil, err
	}
	if err := study.Run(ctx, len(numbers), nil); err != nil {
		return nil, err
	}
	out := make([][]bool, len(tried))
	for v, t := range study.Tables {
		plan, s := PlanOf(variants[v].Region), newScorerFor(l.goal, variants[v].Region, t)
		for _, m := range l.missed {
			i := at[m.season]
			t.Hub(s.months, &s.sums, plan, i)
			met := m.month < 0 && l.goal.Reached(s.months, s.income(plan, i))
			if m.month >= 0 {
				met = s.months[m.month].Met
			}
			out[v] = append(out[v], met)
		}
	}
	return out, nil
}

// A thing that meets fewer than a tenth of the missed months of the first quarter or half of the
// seasons, of at least fewestMissed, is lived through with no further; the hopefulFew that meet
// most always are.
const (
	fewestMissed = 10
	hopefulFew   = 3
)

// oneByOne tells, by set of reliefs, which of the missed months are met with them: of the first so
// many months where they are hopeless.
func (l *livedAgain) oneByOne(ctx context.Context, tried [][]relief) ([][]bool, error) {
	met, open := make([][]bool, len(tried)), indexes(0, len(tried)-1)
	from := 0
	for _, to := range l.parts() {
		part := livedAgain{l.set, l.goal, l.region, l.missed[from:to]}
		sets := make([][]relief, len(open))
		for k, v := range open {
			sets[k] = tried[v]
		}
		got, err := part.with(ctx, sets)
		if err != nil {
			return nil, err
		}
		for k, v := range open {
			met[v] = append(met[v], got[k]...)
		}
		open, from = hopeful(open, met), to
	}
	return met, nil
}

// parts returns up to which missed month a quarter, a half and all of the seasons go.
func (l *livedAgain) parts() []int {
	var ends []int // of the months of each season
	for i := range l.missed {
		if i+1 == len(l.missed) || l.missed[i+1].season != l.missed[i].season {
			ends = append(ends, i+1)
		}
	}
	var out []int
	for _, n := range []int{len(ends) / 4, len(ends) / 2, len(ends)} {
		if n > 0 && (len(out) == 0 || ends[n-1] > out[len(out)-1]) {
			out = append(out, ends[n-1])
		}
	}
	return out
}

// hopeful returns those of the open things that go on.
func hopeful(open []int, met [][]bool) []int {
	order := slices.Clone(open)
	sort.SliceStable(order, func(i, j int) bool { return count(met[order[i]]) > count(met[order[j]]) })
	var out []int
	for _, v := range open {
		n := len(met[v])
		if n < fewestMissed || 10*count(met[v]) >= n || slices.Index(order, v) < hopefulFew {
			out = append(out, v)
		}
	}
	return out
}

func anyOf(met [][]bool, i int) bool {
	for v := range met {
		if i < len(met[v]) && met[v][i] {
			return true
		}
	}
	return false
}

// ranked lists things by the share of missed months they meet, of so many or, with 0, of those that
// each was tried in; those that meet none are left out.
func ranked(tried [][]relief, met [][]bool, of int) []ShortOf {
	var out []ShortOf
	for k := range met {
		if n := count(met[k]); n > 0 {
			x := ShortOf{Met: trials.NewOdds(n, of)}
			if of == 0 {
				x.Met = trials.NewOdds(n, len(met[k]))
			}
			for _, what := range tried[k] {
				x.Things = append(x.Things, what.key)
			}
			out = append(out, x)
		}
	}
	sort.SliceStable(out, func(i, j int) bool { return out[i].Met.Share > out[j].Met.Share })
	return out
}

// pairsOf returns the pairs of the things that meet most months alone.
func pairsOf(things []relief, met [][]bool) [][]relief {
	order := make([]int, len(things))
	for k := range order {
		order[k] = k
	}
	sort.SliceStable(order, func(i, j int) bool { return count(met[order[i]]) > count(met[order[j]]) })
	order = order[:min(mostPairs, len(order))]
	var out [][]relief
	for i, a := range order {
		for _, b := range order[i+1:] {
			out = append(out, []relief{things[a], things[b]})
		}
	}
	return out
}
