package decide

import (
	"context"
	"errors"
	"slices"

	"drystalk/sim/goal"
	"drystalk/sim/money"
	"drystalk/sim/trials"
	"drystalk/tongue"
)

// Question is "how many dryers, and where?".
type Question struct {
	Setup         trials.Setup
	MaxDryers     []int         // by site: the most that may be placed there, never fewer than are kept
	Free          bool          // dryers that stand already may be taken away; else they are kept
	Target        float64       // odds wanted
	Goal          goal.Goal     // of what; of the worst contract month unless stated
	SearchSeasons int           // choose the placements
	Seasons       int           // fresh ones, behind the figures of the plan to fund; half of them behind its neighbours
	Limit         int           // fresh seasons up to which the number is sought to be proven; at least Seasons
	Raised        int           // what Limit is raised to while one number alone is undecided and may be settled by it; none below Limit
	ShortSeasons  int           // with a month missed, run again to see what is short
	Prices        *money.Prices // nil: nothing is said of money
	Progress      func(done, of int)

	// Lived, if any, is told of the fresh seasons that each plan of the answer has lived through, in
	// their order.
	Lived func(plan []int, t *trials.Table)
}

// FirstSearchSeason is where the search begins: a question uses seasons numbered from 0 for the figures and from this
// number on for the search, so that "season 417" of an answer can be replayed
// whatever the length of the search.
const FirstSearchSeason = 1_000_000

// ErrNothingKnown is returned where a run is stopped before it could tell anything.
var ErrNothingKnown = tongue.Fault("stopped before anything was known")

// Dryers answers the question. Dryers that stand in the region are kept, unless placement is
// free, and only what is added is chosen. Placements are chosen on the search seasons and
// judged on fresh ones: what was chosen looks better than it is in the seasons
// that chose it. The numbers are looked at after more and more of the fresh seasons: those proven
// too few, or more than enough, are not lived through any further, what is undecided is up to the
// limit, and the plan to fund through all that are stated. The placement to fund is
// also given as a nested order, one dryer after the other.
//
// An interrupted run answers with what it knows and says how far it came; with
// ErrNothingKnown if that is nothing.
func Dryers(ctx context.Context, q Question) (Answer, error) {
	d := &dryers{Question: q}
	if err := d.place(ctx); err != nil {
		return Answer{}, NothingKnown(err)
	}
	a := q.blank()
	a.Whole = d.uneven
	if err := d.look(ctx, &a); err != nil {
		return Answer{}, NothingKnown(err)
	}
	d.told()
	a.Steps = steps(d.played, a.fewest())
	funded := d.judged[a.funded()].table
	a.Swings = q.swings(funded.AllDraws(funded.Seasons), d.played, a)
	if err := d.earns(&a); err != nil {
		return Answer{}, err
	}
	if err := d.phases(ctx, &a); err != nil {
		return Answer{}, err
	}
	at := d.judged[a.funded()]
	hub, err := HubOf(ctx, q.Setup, at.region, at.table, at.plan)
	if err != nil && ctx.Err() == nil {
		return Answer{}, err
	}
	a.Hub = hub
	short, err := WhatIsShort(ctx, q.Setup, Missing{q.Goal, at.region, at.table, at.plan, q.ShortSeasons})
	if err != nil && ctx.Err() == nil {
		return Answer{}, err
	}
	a.Short = short
	if ctx.Err() != nil && a.Stopped == "" {
		a.Stopped = WhileLooking
	}
	return a, nil
}

// told tells of the seasons lived through.
func (d *dryers) told() {
	if d.Lived == nil {
		return
	}
	for _, c := range d.judged {
		d.Lived(c.plan, c.table)
	}
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
	uneven  bool    // stalks are hauled or dryers moved: a dryer more may well do harm
	whole   bool    // plans cannot be put together from sites: each is lived through whole
	scorer  *scorer // of the search seasons
	plans   [][]int
	judged  []candidate // by plan
	weights []float64   // of the events of the goal, where a number is proven too few
	played  []seasons   // by plan
	done    int         // seasons so far, for the progress
}

// candidate is a plan with the table of the seasons that it has lived through; nil before the
// first.
type candidate lived

// seasons returns how many seasons the plan has lived through.
func (c *candidate) seasons() int {
	if c.table == nil {
		return 0
	}
	return c.table.Seasons
}

func (d *dryers) tell(k int) {
	if d.Progress != nil {
		d.Progress(d.done+k, max(d.done+k, d.SearchSeasons+d.Seasons))
	}
}

// place chooses the placement of every number of dryers. Where stalks are hauled or dryers
// moved the search leaves that out, and where the hub tells sites what others bring it lets sites
// live apart (trials.Variant.Apart).
func (d *dryers) place(ctx context.Context) error {
	set, region := d.Setup, d.Setup.Region.Clone()
	d.uneven = region.Hauls() || len(region.Moves) > 0
	d.whole = d.uneven || region.Coupled()
	region.Moves = nil
	for i := range region.Sites {
		region.Sites[i].HaulStalksPerDay = 0
	}
	set.Region = region
	least, most := d.standing(), slices.Clone(d.MaxDryers)
	for site := range most {
		most[site] = max(most[site], least[site])
	}
	search, err := set.Tables(ctx, FirstSearchSeason, d.SearchSeasons, []trials.Variant{{Region: region, Levels: between(least, most), Apart: region.Coupled()}}, d.tell)
	if err != nil {
		return err
	}
	d.scorer = newScorerFor(d.Goal, region, search[0])
	d.plans = worthJudging(d.scorer, placements(d.scorer, least, most), d.Target)
	d.done = d.SearchSeasons
	return nil
}

// standing returns the dryers of each site that every plan keeps.
func (q *Question) standing() []int {
	if q.Free {
		return make([]int, len(q.Setup.Region.Sites))
	}
	return PlanOf(q.Setup.Region)
}

// variantsOf returns how a range of plans is run: all from one table of sites, or each whole.
func (d *dryers) variantsOf(plans [][]int) []trials.Variant {
	if !d.whole {
		levels := usedBy(plans)
		if len(plans) == len(d.plans) {
			levels = levelsOf(plans)
		}
		return []trials.Variant{{Region: d.Setup.Region, Levels: levels}}
	}
	var out []trials.Variant
	for _, plan := range plans {
		out = append(out, trials.Variant{Region: d.Setup.Region, Levels: trials.Only(plan)}) // of one region: side by side
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
		out[k] = candidate{planned(d.Setup.Region, plans[k]), study.Tables[v], plans[k]}
	}
	return out, err
}

// beyond is how many dryers more than the search seasons ask for are judged.
const beyond = 2

// worthJudging drops the numbers of dryers far above what reaches the target on the
// search seasons.
func worthJudging(s *scorer, plans [][]int, target float64) [][]int {
	for n := range plans {
		if float64(s.score(plans[n]).WorstMet) >= target*float64(s.table.Seasons) {
			return plans[:min(len(plans), n+beyond+1)]
		}
	}
	return plans
}

func (q *Question) blank() Answer {
	a := Answer{
		Region: q.Setup.Region.Name, Target: q.Target, Goal: q.Goal, Needed: -1, NeededStrictly: -1,
		SearchSeasons: q.SearchSeasons, Seasons: q.Seasons, Seed: q.Setup.Seed, Standing: q.standing(),
	}
	for i := range q.Setup.Region.Sites {
		a.Sites = append(a.Sites, q.Setup.Region.Sites[i].Name)
	}
	return a
}

// levelsOf returns, by site, the numbers of dryers from the fewest to the most that any of the
// plans has: what is bought in phases stops in between.
func levelsOf(plans [][]int) [][]int {
	least, most := slices.Clone(plans[0]), slices.Clone(plans[0])
	for _, plan := range plans {
		for site, n := range plan {
			least[site], most[site] = min(least[site], n), max(most[site], n)
		}
	}
	return between(least, most)
}

// usedBy returns, by site, the numbers of dryers that any of the plans has.
func usedBy(plans [][]int) [][]int {
	levels := make([][]int, len(plans[0]))
	for site := range levels {
		for _, plan := range plans {
			levels[site] = append(levels[site], plan[site])
		}
		slices.Sort(levels[site])
		levels[site] = slices.Compact(levels[site])
	}
	return levels
}

// between returns, by site, the numbers of dryers from least to most.
func between(least, most []int) [][]int {
	levels := make([][]int, len(least))
	for site := range levels {
		for n := least[site]; n <= most[site]; n++ {
			levels[site] = append(levels[site], n)
		}
	}
	return levels
}

// decide finds the number to fund: the smallest that is proven enough, or where none is the
// smallest whose share of seasons reaches the target.
func (a *Answer) decide() {
	g := &a.Proof
	a.Needed = slices.IndexFunc(a.Plans, func(p PlanResult) bool {
		if g.Enough >= 0 {
			return p.Dryers == g.Enough
		}
		return p.Dryers > g.NotEnough && p.Odds.Share >= a.Target
	})
	for n := a.Needed; n >= 0 && n < len(a.Plans) && a.NeededStrictly < 0; n++ {
		if s := a.Plans[n].Strict; s != nil && s.Odds.Share >= a.Target {
			a.NeededStrictly = n
		}
	}
}

// fewest returns the fewest dryers that were judged: those that stand.
func (a *Answer) fewest() int { return a.Plans[0].Dryers }

// Best returns the index of the plan with the best odds, of those judged on most seasons; the
// smallest of equals.
func (a *Answer) Best() int {
	best := 0
	for n := range a.Plans {
		now, most := a.Plans[n].Odds, a.Plans[best].Odds
		if now.Seasons > most.Seasons || now.Seasons == most.Seasons && now.Met > most.Met {
			best = n
		}
	}
	return best
}
