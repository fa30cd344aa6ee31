package decide

import (
	"context"
	"sort"

	"drystalk/sim"
	"drystalk/sim/trials"
)

// Shortage says what is short where months are missed: each missed month of some seasons is
// lived through again with one thing after another made plentiful, in the same weather, luck
// and knowledge, and where no single thing meets it, with two.
type Shortage struct {
	Seasons int         `json:"seasons"` // with a month missed that were looked at
	OfAll   int         `json:"of_seasons"`
	Months  int         `json:"missed_months"`
	Single  []ShortOf   `json:"single"` // by how many they meet
	Pairs   []ShortOf   `json:"pairs"`  // of the months that no single thing meets
	Alone   trials.Odds `json:"met_by_a_single_thing"`
	Two     trials.Odds `json:"met_by_two_things"` // and by no single one
}

// ShortOf is one thing, or two, that would have met missed months.
type ShortOf struct {
	Things []Relief    `json:"things"`
	Met    trials.Odds `json:"met"` // of the missed months looked at
}

// mostPairs is how many of the things that help most are tried by two.
const mostPairs = 6

// WhatIsShort looks at the first so many seasons of a plan in which a month is missed. A plan
// that the table does not hold is an error.
func WhatIsShort(ctx context.Context, set trials.Setup, r *sim.Region, t *trials.Table, plan []int, most int) (Shortage, error) {
	if err := t.CheckPlan(plan); err != nil {
		return Shortage{}, err
	}
	s := Shortage{}
	again := livedAgain{set: set, region: planned(r, plan), missed: missedMonths(t, plan, most, &s)}
	if s.Months == 0 {
		return s, nil
	}
	things := reliefsFor(r)
	singles := make([][]relief, len(things))
	for k := range things {
		singles[k] = []relief{things[k]}
	}
	met, err := again.with(ctx, singles)
	if err != nil {
		return Shortage{}, err
	}
	var rest []miss
	for i, m := range again.missed {
		if !anyOf(met, i) {
			rest = append(rest, m)
		}
	}
	s.Single = ranked(singles, met, s.Months)
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

// miss is a missed month of a season.
type miss struct {
	season int // its number
	month  int
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
		months, scratch := make([]sim.HubMonth, t.Months()), &trials.Arriving{}
		for _, m := range l.missed {
			t.Hub(months, scratch, PlanOf(variants[v].Region), at[m.season])
			out[v] = append(out[v], months[m.month].Met)
		}
	}
	return out, nil
}

func anyOf(met [][]bool, i int) bool {
	for v := range met {
		if met[v][i] {
			return true
		}
	}
	return false
}

// ranked lists things by the missed months they meet; those that meet none are left out.
func ranked(tried [][]relief, met [][]bool, of int) []ShortOf {
	var out []ShortOf
	for k := range met {
		if n := count(met[k]); n > 0 {
			x := ShortOf{Met: trials.NewOdds(n, of)}
			for _, what := range tried[k] {
				x.Things = append(x.Things, what.key)
			}
			out = append(out, x)
		}
	}
	sort.SliceStable(out, func(i, j int) bool { return out[i].Met.Met > out[j].Met.Met })
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
