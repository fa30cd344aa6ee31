package decide

import (
	"context"
	"errors"
	"slices"
	"sort"

	"drystalk/sim"
	"drystalk/sim/money"
	"drystalk/sim/trials"
)

// Question is "how many dryers, and where?".
type Question struct {
	Setup         trials.Setup
	MaxDryers     []int         // by site: the most that may be placed there
	Target        float64       // odds wanted in the worst contract month
	SearchSeasons int           // choose the placements
	Seasons       int           // fresh ones, behind every figure of the answer
	Limit         int           // fresh seasons up to which the number is sought to be proven; at least Seasons
	ShortSeasons  int           // with a month missed, run again to see what is short
	Prices        *money.Prices // nil: nothing is said of money
	Progress      func(done, of int)
}

// FirstSearchSeason is where the search begins: a question uses seasons numbered from 0 for the figures and from this
// number on for the search, so that "season 417" of an answer can be replayed
// whatever the length of the search.
const FirstSearchSeason = 1_000_000

// ErrNothingKnown is returned where a run is stopped before it could tell anything.
var ErrNothingKnown = errors.New("stopped before anything was known")

// Dryers answers the question. Placements are chosen on the search seasons and
// judged on fresh ones: what was chosen looks better than it is in the seasons
// that chose it. Where the first look cannot prove a number, the numbers around it are
// looked at again with as many seasons more, up to the limit.
//
// An interrupted run answers with what it knows and says how far it came; with
// ErrNothingKnown if that is nothing.
func Dryers(ctx context.Context, q Question) (Answer, error) {
	d := &dryers{Question: q}
	if err := d.place(ctx); err != nil {
		return Answer{}, NothingKnown(err)
	}
	a := q.blank()
	a.Whole = d.whole
	if err := d.look(ctx, &a); err != nil {
		return Answer{}, NothingKnown(err)
	}
	a.Steps = steps(d.played)
	a.Swings = q.swings(d.judged[0].table.Draws, d.played, a)
	if err := d.earns(&a); err != nil {
		return Answer{}, err
	}
	at := d.judged[a.funded()]
	short, err := WhatIsShort(ctx, q.Setup, at.region, at.table, at.plan, q.ShortSeasons)
	if err != nil && ctx.Err() == nil {
		return Answer{}, err
	}
	a.Short = short
	if ctx.Err() != nil && a.Stopped == "" {
		a.Stopped = WhileLooking
	}
	return a, nil
}

// NothingKnown turns the error of an interrupted run into ErrNothingKnown.
func NothingKnown(err error) error {
	if errors.Is(err, context.Canceled) {
		return errors.Join(ErrNothingKnown, err)
	}
	return err
}

// funded returns the index of the plan to fund, or of the best where none reaches the target.
func (a *Answer) funded() int {
	if a.Needed >= 0 {
		return a.Needed
	}
	return a.Best()
}

// dryers is a question on its way to an answer.
type dryers struct {
	Question
	whole  bool // plans cannot be put together from sites
	plans  [][]int
	judged []candidate // by plan
	played []seasons   // by plan, of the seasons that all plans lived through
	done   int         // seasons so far, for the progress
}

// candidate is a plan with the table that holds it.
type candidate struct {
	region *sim.Region
	table  *trials.Table
	plan   []int
}

func (d *dryers) tell(k int) {
	if d.Progress != nil {
		d.Progress(d.done+k, max(d.done+k, d.SearchSeasons+d.Seasons))
	}
}

// place chooses the placement of every number of dryers. Where stalks are hauled or dryers
// moved the search leaves that out.
func (d *dryers) place(ctx context.Context) error {
	set, region := d.Setup, d.Setup.Region.Clone()
	if d.whole = region.Hauls() || len(region.Moves) > 0; d.whole {
		region.Moves = nil
		for i := range region.Sites {
			region.Sites[i].HaulStalksPerDay = 0
		}
		set.Region = region
	}
	search, err := set.Table(ctx, FirstSearchSeason, d.SearchSeasons, trials.Upto(d.MaxDryers), d.tell)
	if err != nil {
		return err
	}
	d.plans = worthJudging(search, Placements(search, d.MaxDryers), d.Target)
	d.done = d.SearchSeasons
	return nil
}

// variantsOf returns how a range of plans is run: all from one table of sites, or each whole.
func (d *dryers) variantsOf(plans [][]int) []trials.Variant {
	if !d.whole {
		return []trials.Variant{{Region: d.Setup.Region, Levels: levelsOf(plans)}}
	}
	var out []trials.Variant
	for _, plan := range plans {
		out = append(out, trials.Variant{Region: planned(d.Setup.Region, plan), Levels: trials.Only(plan)})
	}
	return out
}

// run runs a range of plans through seasons from first on and returns a candidate for each.
// An interrupted run keeps the seasons that all plans have lived through.
func (d *dryers) run(ctx context.Context, plans [][]int, first, n int) ([]candidate, error) {
	variants := d.variantsOf(plans)
	study, err := d.Setup.Study(first, n, variants)
	if err != nil {
		return nil, err
	}
	err = study.Run(ctx, n, d.tell)
	d.done += study.Tables[0].Seasons
	out := make([]candidate, len(plans))
	for k := range plans {
		v := 0
		if d.whole {
			v = k
		}
		out[k] = candidate{variants[v].Region, study.Tables[v], plans[k]}
	}
	return out, err
}

// fewestFresh is the smallest number of fresh seasons of which anything is said.
const fewestFresh = 50

// look judges all plans on the first seasons, and those around the number to fund on more
// until it is proven or the limit is reached.
func (d *dryers) look(ctx context.Context, a *Answer) error {
	judged, err := d.run(ctx, d.plans, 0, d.Seasons)
	if err != nil && (judged == nil || ctx.Err() == nil || judged[0].table.Seasons < fewestFresh) {
		return err
	}
	d.judged = judged
	a.Seasons = judged[0].table.Seasons
	for _, c := range judged {
		p := play(c.table, c.plan)
		if len(p.asked) == 0 {
			return ErrNoContract
		}
		d.played = append(d.played, p)
	}
	planned := max(1, d.Limit/max(1, d.Seasons))
	from, to := 0, len(d.plans)
	g := d.prove(d.played, from, planned)
	for look := 1; look < planned && err == nil && !g.Decided() && len(g.Undecided) > 0; look++ {
		from, to = around(g, from, to)
		var more []candidate
		more, err = d.run(ctx, d.plans[from:to], look*d.Seasons, d.Seasons)
		if err != nil {
			break // a look counts whole or not at all
		}
		played := make([]seasons, 0, to-from)
		for k := range more {
			c := &d.judged[from+k]
			c.table = trials.Join(c.table, more[k].table)
			played = append(played, play(c.table, c.plan))
		}
		before := g
		g = d.prove(played, from, planned)
		g.Looks = look + 1
		g.meet(before)
	}
	if err != nil {
		if ctx.Err() == nil {
			return err
		}
		a.Stopped = WhileProving
	}
	a.Guarantee = g
	for _, c := range d.judged {
		r, err := Judge(c.table, c.plan)
		if err != nil {
			return err
		}
		a.Plans = append(a.Plans, r)
	}
	a.decide()
	return nil
}

// prove returns the guarantee of plans from the from-th on.
func (d *dryers) prove(played []seasons, from, planned int) Guarantee {
	met := make([][][]bool, len(played))
	for k := range played {
		met[k] = played[k].met
	}
	g := guarantee(met, from, d.Target, planned)
	if d.whole {
		g = eachBound(met, from, d.Target, planned)
	}
	g.Looks = 1
	return g
}

// meet keeps what an earlier look has proven.
func (g *Guarantee) meet(before Guarantee) {
	if before.Enough >= 0 && (g.Enough < 0 || before.Enough < g.Enough) {
		g.Enough = before.Enough
	}
	g.NotEnough = max(g.NotEnough, before.NotEnough)
	g.Undecided = slices.DeleteFunc(g.Undecided, func(n int) bool { return n <= g.NotEnough || (g.Enough >= 0 && n >= g.Enough) })
}

// around returns the plans that a further look runs: the undecided ones and a neighbour on
// each side.
func around(g Guarantee, from, to int) (int, int) {
	first, last := g.Undecided[0]-1, g.Undecided[len(g.Undecided)-1]+1
	return max(from, first), min(to, last+1)
}

// beyond is how many dryers more than the search seasons ask for are judged.
const beyond = 2

// worthJudging drops the numbers of dryers far above what reaches the target on the
// search seasons.
func worthJudging(t *trials.Table, plans [][]int, target float64) [][]int {
	s := newScorer(t)
	for n := range plans {
		if float64(s.score(plans[n]).WorstMet) >= target*float64(t.Seasons) {
			return plans[:min(len(plans), n+beyond+1)]
		}
	}
	return plans
}

func (q *Question) blank() Answer {
	a := Answer{
		Region: q.Setup.Region.Name, Target: q.Target, Needed: -1,
		SearchSeasons: q.SearchSeasons, Seasons: q.Seasons, Seed: q.Setup.Seed,
	}
	for i := range q.Setup.Region.Sites {
		a.Sites = append(a.Sites, q.Setup.Region.Sites[i].Name)
	}
	return a
}

// levelsOf returns, by site, the numbers of dryers that any of the plans has.
func levelsOf(plans [][]int) [][]int {
	levels := make([][]int, len(plans[0]))
	for site := range levels {
		seen := map[int]bool{}
		for _, plan := range plans {
			if !seen[plan[site]] {
				seen[plan[site]] = true
				levels[site] = append(levels[site], plan[site])
			}
		}
		sort.Ints(levels[site])
	}
	return levels
}

// decide finds the number to fund: the smallest that is proven enough, or where none is the
// smallest whose share of seasons reaches the target.
func (a *Answer) decide() {
	g := &a.Guarantee
	a.Needed = slices.IndexFunc(a.Plans, func(p PlanResult) bool {
		if g.Enough >= 0 {
			return p.Dryers == g.Enough
		}
		return p.Dryers > g.NotEnough && p.WorstMonth().Odds.Share >= a.Target
	})
}

// steps compares each number of dryers with one fewer in the same seasons.
func steps(played []seasons) []Step {
	var out []Step
	for n := 1; n < len(played); n++ {
		now, before := &played[n], &played[n-1]
		gain := PairedGain(now.met[now.worst()], before.met[before.worst()])
		out = append(out, Step{Dryers: n, Gain: gain, ToldApart: gain.Low > 0 || gain.High < 0})
	}
	return out
}

// PairedGain returns the mean of now less before over the same seasons.
func PairedGain(now, before []bool) trials.Mean {
	diff := make([]float64, len(now))
	for i := range diff {
		if now[i] {
			diff[i]++
		}
		if before[i] {
			diff[i]--
		}
	}
	return trials.NewMean(diff)
}

// swings splits the seasons that all plans lived through into thirds by each drawn parameter
// and asks each third for the smallest number that reaches the target.
func (q *Question) swings(draws [][]float64, played []seasons, a Answer) []Swing {
	if q.Setup.Knowledge.Fixed {
		return nil
	}
	met := make([][]bool, len(played)) // of each plan's worst month
	for n := range played {
		met[n] = played[n].met[played[n].worst()]
	}
	at := a.funded()
	var out []Swing
	for k, rng := range q.Setup.Knowledge.Ranges {
		order := make([]int, len(met[0]))
		for i := range order {
			order[i] = i
		}
		sort.SliceStable(order, func(i, j int) bool { return draws[order[i]][k] < draws[order[j]][k] })
		third := len(order) / 3
		if third == 0 {
			return nil
		}
		low, high := order[:third], order[len(order)-third:]
		out = append(out, Swing{
			Parameter: rng.Name, Unit: rng.Unit, Measure: rng.Measure,
			Low: q.neededIn(low, met), High: q.neededIn(high, met),
			LowBelow: draws[low[third-1]][k], HighAbove: draws[high[0]][k],
			OddsLow: oddsIn(low, met[at]), OddsHigh: oddsIn(high, met[at]),
		})
	}
	sort.SliceStable(out, func(i, j int) bool { return out[i].width() > out[j].width() })
	return out
}

// width is how far the odds of the answer's plan move with the parameter.
func (s Swing) width() float64 {
	return max(s.OddsHigh.Share-s.OddsLow.Share, s.OddsLow.Share-s.OddsHigh.Share)
}

func (q *Question) neededIn(seasons []int, met [][]bool) int {
	for n := range met {
		if oddsIn(seasons, met[n]).Share >= q.Target {
			return n
		}
	}
	return -1
}

func oddsIn(seasons []int, met []bool) trials.Odds {
	n := 0
	for _, i := range seasons {
		if met[i] {
			n++
		}
	}
	return trials.NewOdds(n, len(seasons))
}

// Best returns the index of the plan with the best worst month, the smallest
// of equals.
func (a *Answer) Best() int {
	best := 0
	for n := range a.Plans {
		if a.Plans[n].WorstMonth().Odds.Met > a.Plans[best].WorstMonth().Odds.Met {
			best = n
		}
	}
	return best
}
