package decide

import (
	"context"
	"sort"

	"drystalk/sim"
	"drystalk/sim/trials"
)

// Question is "how many dryers, and where?".
type Question struct {
	Setup         trials.Setup
	MaxDryers     []int   // by site: the most that may be placed there
	Target        float64 // odds wanted in the worst contract month
	SearchSeasons int     // choose the placements
	Seasons       int     // fresh ones, behind every figure of the answer
	Progress      func(done, of int)
}

// The question uses seasons numbered from 0 for the figures and from this
// number on for the search, so that "season 417" of an answer can be replayed
// whatever the length of the search.
const firstSearchSeason = 1_000_000

// reliefSeasons is how many of the fresh seasons are run again with one thing
// made plentiful.
const reliefSeasons = 60

// Dryers answers the question. Placements are chosen on the search seasons and
// judged on fresh ones: what was chosen looks better than it is in the seasons
// that chose it.
func Dryers(ctx context.Context, q Question) (Answer, error) {
	search, err := q.Setup.Table(ctx, firstSearchSeason, q.SearchSeasons, trials.Upto(q.MaxDryers), q.step(0))
	if err != nil {
		return Answer{}, err
	}
	plans := worthJudging(search, Placements(search, q.MaxDryers), q.Target)
	fresh, err := q.Setup.Table(ctx, 0, q.Seasons, levelsOf(plans), q.step(q.SearchSeasons))
	if err != nil {
		return Answer{}, err
	}
	a := q.blank()
	for _, plan := range plans {
		r, err := Judge(fresh, plan)
		if err != nil {
			return Answer{}, err
		}
		a.Plans = append(a.Plans, r)
	}
	a.decide()
	a.Steps = steps(fresh, plans)
	a.Swings = q.swings(fresh, plans, a)
	a.Reliefs, err = q.reliefs(ctx, fresh, a)
	return a, err
}

// beyond is how many dryers more than the search seasons ask for are judged.
const beyond = 2

// worthJudging drops the numbers of dryers far above what reaches the target on the
// search seasons.
func worthJudging(t *trials.Table, plans [][]int, target float64) [][]int {
	s := newScorer(t)
	for n := range plans {
		if float64(s.score(plans[n]).worstMet) >= target*float64(t.Seasons) {
			return plans[:min(len(plans), n+beyond+1)]
		}
	}
	return plans
}

func (q *Question) step(before int) func(int) {
	if q.Progress == nil {
		return nil
	}
	return func(done int) { q.Progress(before+done, q.SearchSeasons+q.Seasons) }
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

// decide finds the smallest number that reaches the target and says how sure
// that is. A number whose interval holds the target cannot be told from it.
func (a *Answer) decide() {
	for n := range a.Plans {
		odds := a.Plans[n].WorstMonth().Odds
		if a.Needed < 0 && odds.Share >= a.Target {
			a.Needed = n
		}
		if odds.Low < a.Target && a.Target < odds.High {
			a.CannotTell = append(a.CannotTell, a.Plans[n].Dryers)
		}
	}
	if a.Needed < 0 {
		return
	}
	a.Sure = a.Plans[a.Needed].WorstMonth().Odds.Low >= a.Target &&
		(a.Needed == 0 || a.Plans[a.Needed-1].WorstMonth().Odds.High < a.Target)
}

// steps compares each number of dryers with one fewer in the same seasons.
func steps(t *trials.Table, plans [][]int) []Step {
	var out []Step
	before := play(t, plans[0])
	for n := 1; n < len(plans); n++ {
		now := play(t, plans[n])
		gain := pairedGain(now.met[now.worst()], before.met[before.worst()])
		out = append(out, Step{Dryers: total(plans[n]), Gain: gain, ToldApart: gain.Low > 0 || gain.High < 0})
		before = now
	}
	return out
}

// pairedGain returns the mean of now less before over the same seasons.
func pairedGain(now, before []bool) trials.Mean {
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

// swings splits the fresh seasons into thirds by each drawn parameter and asks
// each third for the smallest number that reaches the target.
func (q *Question) swings(t *trials.Table, plans [][]int, a Answer) []Swing {
	if q.Setup.Knowledge.Fixed {
		return nil
	}
	met := make([][]bool, len(plans)) // of each plan's worst month
	for n := range plans {
		p := play(t, plans[n])
		met[n] = p.met[a.Plans[n].Worst]
	}
	at := a.Needed
	if at < 0 {
		at = a.Best()
	}
	var out []Swing
	for k, rng := range q.Setup.Knowledge.Ranges {
		order := make([]int, t.Seasons)
		for i := range order {
			order[i] = i
		}
		sort.SliceStable(order, func(i, j int) bool { return t.Draws[order[i]][k] < t.Draws[order[j]][k] })
		third := len(order) / 3
		if third == 0 {
			return nil
		}
		low, high := order[:third], order[len(order)-third:]
		out = append(out, Swing{
			Parameter: rng.Name, Unit: rng.Unit, Measure: rng.Measure,
			Low: q.neededIn(low, met, plans), High: q.neededIn(high, met, plans),
			LowBelow: t.Draws[low[third-1]][k], HighAbove: t.Draws[high[0]][k],
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

func (q *Question) neededIn(seasons []int, met [][]bool, plans [][]int) int {
	for n := range plans {
		if oddsIn(seasons, met[n]).Share >= q.Target {
			return total(plans[n])
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

// relief is one thing made plentiful.
type relief struct {
	thing string
	apply func(*sim.Region)
}

// reliefsFor lists what is tried: each thing a plan can buy but dryers.
func reliefsFor(r *sim.Region) []relief {
	list := []relief{
		{"half as many cutting hours again", eachSite(func(s *sim.Site) { s.CuttingHPerDay *= 1.5 })},
		{"half as much open rack again", eachSite(func(s *sim.Site) { s.OpenRackM2 *= 1.5 })},
		{"a clear roof over half of the open rack", eachSite(func(s *sim.Site) {
			s.ClearRoofM2 += s.OpenRackM2 / 2
			s.OpenRackM2 /= 2
		})},
		{"a dryer shift two hours longer", func(r *sim.Region) { r.Dryer.ShiftEndH = min(24, r.Dryer.ShiftEndH+2) }},
		{"one month of the contract more in stock at the start", func(r *sim.Region) {
			most := 0
			for _, s := range r.Calendar.Months() {
				most = max(most, r.Contract.StalksByMonth[s.Month])
			}
			r.Hub.OpeningStock += most
		}},
	}
	if r.People.Pool {
		list = append(list, relief{"other people for all work but cutting", func(r *sim.Region) { r.People.Pool = false }})
	}
	if r.Trouble.OutForSeason > 0 || r.Trouble.FiringHPerFail > 0 {
		list = append(list, relief{"dryers that never break", func(r *sim.Region) { r.Trouble.Ignore = true }})
	}
	if r.Dryer.WoodLimited {
		list = append(list, relief{"wood that never runs out", func(r *sim.Region) { r.Dryer.WoodLimited = false }})
	}
	if !anySite(r, func(s *sim.Site) bool { return s.Sheets }) {
		list = append(list, relief{"sheets over the open racks in rain", eachSite(func(s *sim.Site) { s.Sheets = true })})
	}
	if anySite(r, func(s *sim.Site) bool { return !s.SealedStore }) {
		list = append(list, relief{"sealed bags in every store", eachSite(func(s *sim.Site) { s.SealedStore = true })})
	}
	return list
}

// reliefs runs the answer's plan again in the first of the fresh seasons with
// one thing after another made plentiful, and ranks what that does.
func (q *Question) reliefs(ctx context.Context, fresh *trials.Table, a Answer) ([]Relief, error) {
	at := a.Needed
	if at < 0 {
		at = a.Best()
	}
	plan := a.Plans[at].PerSite
	p := play(fresh, plan)
	n := min(reliefSeasons, q.Seasons)
	list := reliefsFor(q.Setup.Region)
	variants := make([]trials.Variant, len(list))
	for i := range list {
		region := *q.Setup.Region
		region.Sites = append([]sim.Site(nil), region.Sites...)
		list[i].apply(&region)
		variants[i] = trials.Variant{Region: &region, Levels: trials.Only(plan)}
	}
	tables, err := q.Setup.Tables(ctx, 0, n, variants, nil)
	if err != nil {
		return nil, err
	}
	var out []Relief
	for i, t := range tables {
		with := play(t, plan)
		now := with.met[with.worst()]
		out = append(out, Relief{
			Thing: list[i].thing,
			Odds:  trials.NewOdds(count(now), n),
			Gain:  pairedGain(now, p.met[a.Plans[at].Worst][:n]),
		})
	}
	sort.SliceStable(out, func(i, j int) bool { return out[i].Gain.Mean > out[j].Gain.Mean })
	return out, nil
}
