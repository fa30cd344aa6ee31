package spend

import (
	"context"
	"math"
	"slices"

	"gonum.org/v1/gonum/stat"

	"drystalk/sim"
	"drystalk/sim/decide"
	"drystalk/sim/goal"
	"drystalk/sim/money"
	"drystalk/sim/trials"
)

// search looks for designs. Rows of a site are run once and kept by all that they depend on.
type search struct {
	Question
	*kept
	levers  []lever
	asked   map[string]bool // keys of rows that this search has asked for, whether run for it or not
	coupled bool            // sites of a design are run whole: what one brings depends on what others do
	first   int             // season
	n       int             // seasons

	// live runs site-plans through the seasons and returns what each brought to the hub, good
	// stalks by season and month.
	live func(ctx context.Context, runs []siteRun) ([][]brought, error)
}

// kept is what searches for several budgets share: it is the same for all of them, so that none
// finds anything else for what another has run.
type kept struct {
	rows    map[string][]brought // by season, by key of a site of a design
	opening [][]float64          // by season: what keeps of the hub's opening stock, see trials.Table.OpeningKept
	named   map[string]names     // of the sites of a design
	pruner  *search              // the same search on the seasons of pruning; nil until steps are dropped
}

// brought is what a site brought to the hub in a season: good stalks by month, and how many of
// them are of full grade in the months after; nil: all of them. Where the goal goes by income it
// is the second grade by month too, and the money of the site by itself.
type brought struct {
	accepted, still, second []int32
	net                     money.Amount
}

func newSearch(q Question) *search {
	levers, _ := leversOf(q.Prices)
	s := &search{
		Question: q, levers: levers, coupled: coupled(q.Setup.Region), first: decide.FirstSearchSeason, n: q.SearchSeasons,
		kept: &kept{rows: map[string][]brought{}, named: map[string]names{}}, asked: map[string]bool{},
	}
	s.live = s.simulate
	return s
}

// of returns the same search for another budget, as if nothing had been run yet.
func (s *search) of(budget money.Amount) *search {
	other := *s
	other.Budget, other.asked = budget, map[string]bool{}
	return &other
}

// tried is how many site-plans the search asked for.
func (s *search) tried() int { return len(s.asked) }

// coupled tells whether a search must run designs whole. Where it is only that the hub tells sites what
// others bring, designs are ranked by sites that live apart (trials.Variant.Apart).
func coupled(r *sim.Region) bool { return r.Hauls() || len(r.Moves) > 0 }

// apart tells whether sites live apart in the search, told nothing by the hub (trials.Variant.Apart).
func (s *search) apart() bool { return !s.coupled && s.Setup.Region.Coupled() }

// siteRun is a site of a design that is to be run. Sites of one design share its region.
type siteRun struct {
	key    string
	site   int
	design design
	region *sim.Region
}

// atOnce is how many site-plans share one drawing of the seasons.
const atOnce = 60

// runAll runs the site-plans of designs that have not been run yet.
func (s *search) runAll(ctx context.Context, designs []design) error {
	if err := s.fetch(ctx, designs); err != nil {
		return err
	}
	for _, d := range designs {
		for _, k := range s.namesOf(d).asked {
			s.asked[k] = true
		}
	}
	return nil
}

// fetch runs the site-plans of designs that have not been run yet, for whoever asks for them later.
func (s *search) fetch(ctx context.Context, designs []design) error {
	runs := s.runsOf(designs, func(key string) bool { return s.rows[key] != nil })
	for from := 0; from < len(runs); from += atOnce {
		if s.Progress != nil {
			s.Progress(decide.Searching, from, len(runs))
		}
		part := runs[from:min(len(runs), from+atOnce)]
		rows, err := s.live(ctx, part)
		if err != nil {
			return err
		}
		for k, run := range part {
			s.rows[run.key] = rows[k]
		}
	}
	return nil
}

// unasked returns how many rows of a design this search has not asked for yet.
func (s *search) unasked(d design) int {
	n := 0
	for _, k := range s.namesOf(d).asked {
		if !s.asked[k] {
			n++
		}
	}
	return n
}

// runsOf lists the site-plans of designs whose rows are not known, each once.
func (s *search) runsOf(designs []design, known func(key string) bool) []siteRun {
	var runs []siteRun
	seen := map[string]bool{}
	for _, d := range designs {
		var region *sim.Region
		for site, k := range s.keys(d) {
			if known(k) || seen[k] {
				continue
			}
			if region == nil {
				region = s.region(d)
			}
			seen[k] = true
			runs = append(runs, siteRun{k, site, d, region})
		}
	}
	return runs
}

// simulate lets site-plans live through the seasons.
func (s *search) simulate(ctx context.Context, runs []siteRun) ([][]brought, error) {
	variants, of := s.variants(runs)
	tables, err := s.Setup.Tables(ctx, s.first, s.n, variants, nil)
	if err != nil {
		return nil, err
	}
	out := make([][]brought, len(runs))
	for k, j := range runs {
		t, dryers := tables[of[k]], j.region.Sites[j.site].Dryers
		for i := range s.n {
			b := brought{accepted: slices.Clone(t.Accepted(j.site, dryers, i)), still: slices.Clone(t.Kept(j.site, dryers, i))}
			if s.Goal.Kind == goal.IncomeAtLeast {
				b.second = slices.Clone(t.MonthFigures(sim.Second, j.site, dryers, i))
				b.net = s.Prices.SiteNet(j.region, t, j.site, dryers, i)
			}
			out[k] = append(out[k], b)
		}
	}
	if s.opening == nil && len(tables) > 0 {
		for i := range s.n {
			s.opening = append(s.opening, tables[0].OpeningKept(i))
		}
	}
	return out, nil
}

// played is what a design did in the seasons.
type played struct {
	score   decide.Score
	short   []float64 // stalks missing, by season
	met     [][]bool  // by month and season
	reached []bool    // the goal, where it has one event for the season
}

// play serves the contract under a design, all of whose rows must have been run.
func (s *search) play(d design) played {
	g := s.gate(d)
	n := len(g.Months)
	months := make([]sim.HubMonth, n)
	var sums trials.Arriving
	p := played{met: make([][]bool, n)}
	tally := decide.NewTally(s.Goal, g.Asked)
	rows := make([][]brought, len(s.Setup.Region.Sites))
	for site, k := range s.keys(d) {
		rows[site] = s.rows[k]
	}
	before, income := 0, s.incomeOf(d)
	for i := range s.n {
		sums.Clear(n)
		for site := range rows {
			sums.Add(rows[site][i].accepted, rows[site][i].still)
		}
		var opening []float64
		if s.opening != nil {
			opening = s.opening[i]
		}
		sums.Serve(&g, months, opening)
		p.reached = append(p.reached, tally.Add(months, income(rows, i, months)))
		p.short = append(p.short, float64(tally.Shortfall-before))
		before = tally.Shortfall
		for k := range months {
			p.met[k] = append(p.met[k], months[k].Met)
		}
	}
	p.score = tally.Score()
	return p
}

// incomeOf returns what tells what the region earns under a design in a season, in units of the
// currency; nothing where the goal does not go by income.
func (s *search) incomeOf(d design) func(rows [][]brought, i int, months []sim.HubMonth) float64 {
	if s.Goal.Kind != goal.IncomeAtLeast {
		return func([][]brought, int, []sim.HubMonth) float64 { return 0 }
	}
	dryers, second := decide.DryersYearly(s.Prices, decide.PlanOf(s.region(d))), make([][]int32, len(s.Setup.Region.Sites))
	return func(rows [][]brought, i int, months []sim.HubMonth) float64 {
		sum := money.Amount(0)
		for site := range rows {
			sum += rows[site][i].net
			second[site] = rows[site][i].second
		}
		return (sum + s.Prices.HubNet(months, second)).Units() - dryers
	}
}

// score returns how good a design is: the same order of better as for placements of dryers.
func (s *search) score(d design) decide.Score { return s.play(d).score }

// gate returns the rules of the hub with a stock bought ahead: those of sites that live apart, where they do.
func (s *search) gate(d design) sim.Gate {
	hub := s.start()
	hub[len(hub)-1] = d[len(d)-1]
	r := s.region(hub)
	if s.apart() {
		return trials.GateApart(r)
	}
	return r.Gate()
}

// helps tells whether a design leaves fewer stalks missing than now, or where the goal goes by
// income reaches it in more seasons, by more than the standard error of that difference: a small
// step needs no proof of its own, for the list is judged on fresh seasons.
func (s *search) helps(d design, now played) bool {
	then := s.play(d)
	fewer := then.short
	for i := range fewer {
		fewer[i] = now.short[i] - fewer[i]
	}
	if s.Goal.Kind == goal.IncomeAtLeast && aboveChance(gained(then.reached, now.reached)) {
		return true
	}
	return aboveChance(fewer)
}

// gained returns 1 for a season that reaches the goal and did not, -1 for the opposite.
func gained(now, before []bool) []float64 {
	out := make([]float64, len(now))
	for i := range out {
		if now[i] != before[i] {
			out[i] = -1
			if now[i] {
				out[i] = 1
			}
		}
	}
	return out
}

// aboveChance tells whether a mean is above 0 by more than its standard error.
func aboveChance(values []float64) bool {
	mean, sd := stat.MeanStdDev(values, nil)
	return mean > sd/math.Sqrt(float64(len(values)))
}
