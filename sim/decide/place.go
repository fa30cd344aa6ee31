package decide

import (
	"drystalk/sim"
	"drystalk/sim/trials"
)

// exhaustive is the largest number of placements that are all tried. Above it
// placements grow one dryer at a time and are improved by moving dryers.
const exhaustive = 30_000

// score ranks placements on the search seasons: the odds of the worst contract
// month first, then the mean shortfall of the season, then the stalks left over.
type score struct {
	worstMet  int
	shortfall int // stalks, summed over seasons and months
	left      int // at the hub on the last day, summed over seasons
}

func (s score) better(o score) bool {
	if s.worstMet != o.worstMet {
		return s.worstMet > o.worstMet
	}
	if s.shortfall != o.shortfall {
		return s.shortfall < o.shortfall
	}
	return s.left > o.left
}

// scorer scores placements from a table and reuses its memory.
type scorer struct {
	table  *trials.Table
	months []sim.HubMonth
	met    []int
	sums   []int
}

func newScorer(t *trials.Table) *scorer {
	n := t.Months()
	return &scorer{t, make([]sim.HubMonth, n), make([]int, n), make([]int, n)}
}

func (s *scorer) score(plan []int) score {
	for k := range s.met {
		s.met[k] = 0
	}
	var sc score
	for i := range s.table.Seasons {
		s.table.Hub(s.months, s.sums, plan, i)
		sc.add(s.months, s.met)
	}
	sc.finish(s.months, s.met, s.table.Seasons)
	return sc
}

// add books one season's months at the hub, and in met the months that are met.
func (s *score) add(months []sim.HubMonth, met []int) {
	for k := range months {
		m := &months[k]
		s.shortfall += m.Asked - m.Delivered
		if m.Met {
			met[k]++
		}
	}
	s.left += months[len(months)-1].Closing
}

// finish finds the worst contract month.
func (s *score) finish(months []sim.HubMonth, met []int, seasons int) {
	s.worstMet = seasons
	for k := range months {
		if months[k].Asked > 0 {
			s.worstMet = min(s.worstMet, met[k])
		}
	}
}

// Placements returns, for every number of dryers from 0 to the sum of most, the
// best placement on the seasons of the table: dryers of each site. Ties go to
// the placement that gives earlier sites more.
func Placements(t *trials.Table, most []int) [][]int {
	count := 1
	for _, n := range most {
		if count *= n + 1; count > exhaustive {
			return grownPlacements(t, most)
		}
	}
	return allPlacements(t, most)
}

// allPlacements tries every placement.
func allPlacements(t *trials.Table, most []int) [][]int {
	best := make([][]int, total(most)+1)
	scores := make([]score, len(best))
	s := newScorer(t)
	plan := append([]int(nil), most...)
	for {
		n := total(plan)
		if sc := s.score(plan); best[n] == nil || sc.better(scores[n]) {
			best[n], scores[n] = append([]int(nil), plan...), sc
		}
		k := len(plan) - 1
		for ; k >= 0 && plan[k] == 0; k-- {
			plan[k] = most[k]
		}
		if k < 0 {
			return best
		}
		plan[k]--
	}
}

// grownPlacements adds dryers one by one, each where it does most, and after
// each moves single dryers between sites as long as that helps.
func grownPlacements(t *trials.Table, most []int) [][]int {
	s := newScorer(t)
	plan := make([]int, len(most))
	best := [][]int{append([]int(nil), plan...)}
	for range total(most) {
		grow(s, plan, most)
		for improve(s, plan, most) {
		}
		best = append(best, append([]int(nil), plan...))
	}
	return best
}

func grow(s *scorer, plan, most []int) {
	at, found := -1, score{}
	for k := range plan {
		if plan[k] == most[k] {
			continue
		}
		plan[k]++
		if sc := s.score(plan); at < 0 || sc.better(found) {
			at, found = k, sc
		}
		plan[k]--
	}
	plan[at]++
}

// improve makes the best move of one dryer to another site, if any helps.
func improve(s *scorer, plan, most []int) bool {
	found, from, to := s.score(plan), -1, -1
	for i := range plan {
		for j := range plan {
			if i == j || plan[i] == 0 || plan[j] == most[j] {
				continue
			}
			plan[i]--
			plan[j]++
			if sc := s.score(plan); sc.better(found) {
				found, from, to = sc, i, j
			}
			plan[i]++
			plan[j]--
		}
	}
	if from < 0 {
		return false
	}
	plan[from]--
	plan[to]++
	return true
}

func total(plan []int) int {
	n := 0
	for _, k := range plan {
		n += k
	}
	return n
}
