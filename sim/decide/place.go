package decide

import (
	"drystalk/sim"
	"drystalk/sim/goal"
	"drystalk/sim/trials"
)

// exhaustive is the largest number of placements that are all tried. Above it
// placements grow one dryer at a time and are improved by moving dryers.
const exhaustive = 30_000

// Score ranks plans on the search seasons: the odds of the goal first, then
// the mean shortfall of the season, then the stalks left over.
type Score struct {
	WorstMet  int // seasons in which the goal is reached: the worst month met
	Shortfall int // stalks, summed over seasons and months
	Left      int // at the hub on the last day, summed over seasons
}

// Better tells whether a plan with this score ranks before one with the other.
func (s Score) Better(o Score) bool {
	if s.WorstMet != o.WorstMet {
		return s.WorstMet > o.WorstMet
	}
	if s.Shortfall != o.Shortfall {
		return s.Shortfall < o.Shortfall
	}
	return s.Left > o.Left
}

// Tally books what a plan does season by season into its score.
type Tally struct {
	Shortfall int // stalks missing so far

	left    int
	seasons int
	goal    goal.Goal
	asked   []int // by month
	met     []int // seasons, by month
	reached int   // seasons that reach a goal which has one event
}

// NewTally returns a tally of no season yet, of a contract that asks for so many by month.
func NewTally(g goal.Goal, asked []int) *Tally {
	return &Tally{goal: g, asked: asked, met: make([]int, len(asked))}
}

// Add books one season's months at the hub, and what the region earned in it where the goal goes
// by income. It tells whether the season reaches a goal that has one event.
func (t *Tally) Add(months []sim.HubMonth, income float64) (reached bool) {
	if reached = !t.goal.ByMonth() && t.goal.Reached(months, income); reached {
		t.reached++
	}
	t.seasons++
	for k := range months {
		m := &months[k]
		t.Shortfall += m.Asked - m.Delivered
		if m.Met {
			t.met[k]++
		}
	}
	t.left += months[len(months)-1].Closing
	return reached
}

// Score returns the score of the seasons so far. A month that asks for nothing is never the
// worst.
func (t *Tally) Score() Score {
	s := Score{WorstMet: t.seasons, Shortfall: t.Shortfall, Left: t.left}
	if !t.goal.ByMonth() {
		s.WorstMet = t.reached
		return s
	}
	for k, asked := range t.asked {
		if asked > 0 {
			s.WorstMet = min(s.WorstMet, t.met[k])
		}
	}
	return s
}

// scorer scores placements from a table and reuses its memory.
type scorer struct {
	goal   goal.Goal
	earns  *incomes // nil where the goal does not go by income
	table  *trials.Table
	asked  []int
	months []sim.HubMonth
	sums   trials.Arriving
}

// newScorer scores by the worst month.
func newScorer(t *trials.Table) *scorer { return newScorerFor(goal.Goal{}, nil, t) }

func newScorerFor(g goal.Goal, r *sim.Region, t *trials.Table) *scorer {
	s := &scorer{goal: g, table: t, asked: t.Gate().Asked, months: make([]sim.HubMonth, t.Months())}
	if g.Kind == goal.IncomeAtLeast {
		s.earns = newIncomes(g.Prices, r, t)
	}
	return s
}

func (s *scorer) score(plan []int) Score {
	tally := NewTally(s.goal, s.asked)
	for i := range s.table.Seasons {
		s.table.Hub(s.months, &s.sums, plan, i)
		tally.Add(s.months, s.income(plan, i))
	}
	return tally.Score()
}

// income returns what the region earns in season i, whose months stand in s.months; nothing where
// the goal does not go by it.
func (s *scorer) income(plan []int, i int) float64 {
	if s.earns == nil {
		return 0
	}
	return s.earns.of(plan, i, s.months)
}

// Placements returns, for every number of dryers from the sum of least to the sum of most, the
// best placement on the seasons of the table by the worst month: dryers of each site, none fewer than least. Ties
// go to the placement that gives earlier sites more.
func Placements(t *trials.Table, least, most []int) [][]int {
	return placements(newScorer(t), least, most)
}

func placements(s *scorer, least, most []int) [][]int {
	if fewPlacements(least, most) {
		return allPlacements(s, least, most)
	}
	return grownPlacements(s, least, most)
}

// fewPlacements tells whether there are few enough placements to try them all.
func fewPlacements(least, most []int) bool {
	count := 1
	for k, n := range most {
		if count *= n - least[k] + 1; count > exhaustive {
			return false
		}
	}
	return true
}

// allPlacements tries every placement.
func allPlacements(s *scorer, least, most []int) [][]int {
	fewest := total(least)
	best := make([][]int, total(most)-fewest+1)
	scores := make([]Score, len(best))
	plan := append([]int(nil), most...)
	for {
		n := total(plan) - fewest
		if sc := s.score(plan); best[n] == nil || sc.Better(scores[n]) {
			best[n], scores[n] = append([]int(nil), plan...), sc
		}
		k := len(plan) - 1
		for ; k >= 0 && plan[k] == least[k]; k-- {
			plan[k] = most[k]
		}
		if k < 0 {
			return best
		}
		plan[k]--
	}
}

// grownPlacements adds dryers one by one, each where it does most, and after
// each moves single dryers that were added between sites as long as that helps.
func grownPlacements(s *scorer, least, most []int) [][]int {
	plan := append([]int(nil), least...)
	best := [][]int{append([]int(nil), plan...)}
	for range total(most) - total(least) {
		grow(s, plan, most)
		for improve(s, plan, least, most) {
		}
		best = append(best, append([]int(nil), plan...))
	}
	return best
}

func grow(s *scorer, plan, most []int) {
	at, found := -1, Score{}
	for k := range plan {
		if plan[k] == most[k] {
			continue
		}
		plan[k]++
		if sc := s.score(plan); at < 0 || sc.Better(found) {
			at, found = k, sc
		}
		plan[k]--
	}
	plan[at]++
}

// improve makes the best move of one dryer to another site, if any helps.
func improve(s *scorer, plan, least, most []int) bool {
	found, from, to := s.score(plan), -1, -1
	for i := range plan {
		for j := range plan {
			if i == j || plan[i] == least[i] || plan[j] == most[j] {
				continue
			}
			plan[i]--
			plan[j]++
			if sc := s.score(plan); sc.Better(found) {
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

// PlanOf returns the dryers of each site of a region.
func PlanOf(r *sim.Region) []int {
	plan := make([]int, len(r.Sites))
	for i := range plan {
		plan[i] = r.Sites[i].Dryers
	}
	return plan
}

// planned returns a region with the dryers of a plan at its sites.
func planned(r *sim.Region, plan []int) *sim.Region {
	region := r.Clone()
	for i := range region.Sites {
		region.Sites[i].Dryers = plan[i]
	}
	return region
}
