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
	Thing string      `json:"thing"`
	Met   trials.Odds `json:"met"` // of the missed months looked at
}

// mostPairs is how many of the things that help most are tried by two.
const mostPairs = 6

// WhatIsShort looks at the first so many seasons of a plan in which a month is missed.
func WhatIsShort(ctx context.Context, set trials.Setup, r *sim.Region, t *trials.Table, plan []int, most int) (Shortage, error) {
	s := Shortage{}
	missed := missedMonths(t, plan, most, &s)
	if s.Months == 0 {
		return s, nil
	}
	things := append(reliefsFor(r), moreReliefs(r)...)
	singles := make([][]relief, len(things))
	for k := range things {
		singles[k] = []relief{things[k]}
	}
	met, err := relieved(ctx, set, r, plan, missed, singles)
	if err != nil {
		return Shortage{}, err
	}
	var rest []miss
	for i, m := range missed {
		if !anyOf(met, i) {
			rest = append(rest, m)
		}
	}
	s.Single = ranked(met, func(k int) string { return things[k].thing }, s.Months)
	s.Alone = trials.NewOdds(s.Months-len(rest), s.Months)
	if len(rest) == 0 {
		return s, nil
	}
	pairs := pairsOf(things, met)
	metByTwo, err := relieved(ctx, set, r, plan, rest, pairs)
	if err != nil {
		return s, err
	}
	two := 0
	for i := range rest {
		if anyOf(metByTwo, i) {
			two++
		}
	}
	s.Two = trials.NewOdds(two, s.Months)
	s.Pairs = ranked(metByTwo, func(k int) string { return pairs[k][0].thing + ", and " + pairs[k][1].thing }, s.Months)
	return s, nil
}

// miss is a missed month of a season.
type miss struct {
	season int // its number
	month  int
}

// missedMonths lists the missed months of the first seasons with any.
func missedMonths(t *trials.Table, plan []int, most int, s *Shortage) []miss {
	var out []miss
	months, scratch := make([]sim.HubMonth, t.Months()), make([]int, t.Months())
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

// relieved tells, by set of reliefs, which of the missed months are met with them.
func relieved(ctx context.Context, set trials.Setup, r *sim.Region, plan []int, missed []miss, reliefs [][]relief) ([][]bool, error) {
	var numbers []int
	at := map[int]int{}
	for _, m := range missed {
		if _, seen := at[m.season]; !seen {
			at[m.season] = len(numbers)
			numbers = append(numbers, m.season)
		}
	}
	variants := make([]trials.Variant, len(reliefs))
	plans := make([][]int, len(reliefs))
	for v, list := range reliefs {
		region := *r
		region.Sites = append([]sim.Site(nil), r.Sites...)
		for i := range region.Sites {
			region.Sites[i].Dryers = plan[i]
		}
		for _, what := range list {
			what.apply(&region)
		}
		plans[v] = PlanOf(&region)
		variants[v] = trials.Variant{Region: &region, Levels: trials.Only(plans[v])}
	}
	study, err := set.StudyOf(numbers, variants)
	if err != nil {
		return nil, err
	}
	if err := study.Run(ctx, len(numbers), nil); err != nil {
		return nil, err
	}
	out := make([][]bool, len(reliefs))
	for v, t := range study.Tables {
		months, scratch := make([]sim.HubMonth, t.Months()), make([]int, t.Months())
		for _, m := range missed {
			t.Hub(months, scratch, plans[v], at[m.season])
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
func ranked(met [][]bool, name func(k int) string, of int) []ShortOf {
	var out []ShortOf
	for k := range met {
		if n := count(met[k]); n > 0 {
			out = append(out, ShortOf{name(k), trials.NewOdds(n, of)})
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
