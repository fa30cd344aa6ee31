package decide

import (
	"context"
	"fmt"
	"maps"
	"math"
	"slices"
	"sort"

	"gonum.org/v1/gonum/stat"

	"drystalk/sim"
	"drystalk/sim/money"
	"drystalk/sim/trials"
)

// lever is something a budget buys in steps.
type lever struct {
	name  string
	size  float64 // of a step
	unit  string  // of the size; "" where steps are counted
	most  func(r *sim.Region, site, maxDryers int) int
	apply func(r *sim.Region, site, steps int)
	cost  func(p *money.Prices, r *sim.Region, site, steps int) float64
	hub   bool // of the region, not of a site
}

// The steps of the levers.
const (
	rackStepM2   = 50
	roofStepM2   = 20
	cutterStep   = 2
	shiftStepH   = 2
	roomStep     = 5000
	stockStep    = 20_000
	mostSteps    = 6
	bundleLevers = 3 // most levers in a bundle, besides all of them together
)

// leversOf returns the levers that have a price, and those that have none.
func leversOf(p *money.Prices) (levers []lever, without []string) {
	site := func(name string, size float64, unit string, price float64, most func(r *sim.Region, site, maxDryers int) int, apply func(s *sim.Site, steps int), cost func(r *sim.Region, s *sim.Site, steps int) float64) {
		if !(price > 0) {
			without = append(without, name)
			return
		}
		levers = append(levers, lever{
			name: name, size: size, unit: unit, most: most,
			apply: func(r *sim.Region, site, steps int) { apply(&r.Sites[site], steps) },
			cost:  func(_ *money.Prices, r *sim.Region, site, steps int) float64 { return cost(r, &r.Sites[site], steps) },
		})
	}
	always := func(n int) func(*sim.Region, int, int) int { return func(*sim.Region, int, int) int { return n } }
	per := func(price float64) func(*sim.Region, *sim.Site, int) float64 {
		return func(_ *sim.Region, _ *sim.Site, steps int) float64 { return price * float64(steps) }
	}
	site("dryers", 1, "", p.DryerCost, func(r *sim.Region, site, most int) int { return max(0, most-r.Sites[site].Dryers) },
		func(s *sim.Site, n int) { s.Dryers += n }, per(p.DryerCost))
	site("open racks", rackStepM2, "m²", p.RackPerM2, always(mostSteps),
		func(s *sim.Site, n int) { s.OpenRackM2 += rackStepM2 * float64(n) },
		func(_ *sim.Region, s *sim.Site, n int) float64 {
			more := rackStepM2 * float64(n) * p.RackPerM2
			if s.Sheets && p.SheetPerM2 > 0 { // new racks get sheets where the others have them
				more += rackStepM2 * float64(n) * p.SheetPerM2
			}
			return more
		})
	site("clear roofs", roofStepM2, "m²", p.RoofPerM2, always(mostSteps),
		func(s *sim.Site, n int) { s.ClearRoofM2 += roofStepM2 * float64(n) }, per(roofStepM2*p.RoofPerM2))
	site("sheets", 1, "", p.SheetPerM2, func(r *sim.Region, site, _ int) int { return without01(r.Sites[site].Sheets) },
		func(s *sim.Site, n int) { s.Sheets = s.Sheets || n > 0 },
		func(_ *sim.Region, s *sim.Site, n int) float64 { return float64(n) * s.OpenRackM2 * p.SheetPerM2 })
	site("sealed bags", 1, "", p.SealPerSite, func(r *sim.Region, site, _ int) int { return without01(r.Sites[site].SealedStore) },
		func(s *sim.Site, n int) { s.SealedStore = s.SealedStore || n > 0 }, per(p.SealPerSite))
	site("cutters", cutterStep, "", p.PerCutter, func(r *sim.Region, site, _ int) int { // more than twice as many people are rarely there
		return min(mostSteps, (r.Sites[site].Cutters+1)/cutterStep)
	}, func(s *sim.Site, n int) { s.Cutters += cutterStep * n }, per(cutterStep*p.PerCutter))
	site("longer shifts", shiftStepH, "h", p.PerShiftH, func(r *sim.Region, site, _ int) int {
		room := r.Dryer.ShiftStartH + 24 - r.Dryer.ShiftEndH - r.Sites[site].LongerShiftH
		return min(2, int(room/shiftStepH))
	}, func(s *sim.Site, n int) { s.LongerShiftH += shiftStepH * float64(n) }, per(shiftStepH*p.PerShiftH))
	site("store room", roomStep, "stalks", p.RoomPer1000, func(r *sim.Region, site, _ int) int {
		if r.Sites[site].StoreStalks == 0 {
			return 0 // there is room for any number
		}
		return mostSteps
	}, func(s *sim.Site, n int) { s.StoreStalks += roomStep * n }, per(roomStep/1000*p.RoomPer1000))
	if !(p.PerStock > 0) {
		return levers, append(without, "stock ahead")
	}
	levers = append(levers, lever{
		name: "stock ahead", size: stockStep, unit: "stalks", hub: true, most: always(mostSteps),
		apply: func(r *sim.Region, _, steps int) { r.Hub.OpeningStock += stockStep * steps },
		cost: func(_ *money.Prices, _ *sim.Region, _, steps int) float64 {
			return stockStep * p.PerStock * float64(steps)
		},
	})
	return levers, without
}

func without01(has bool) int {
	if has {
		return 0
	}
	return 1
}

// SpendQuestion is "with this budget, what do we buy?".
type SpendQuestion struct {
	Setup         trials.Setup
	MaxDryers     []int
	Prices        *money.Prices
	Budget        float64
	Target        float64
	SearchSeasons int // choose what is bought
	Seasons       int // fresh ones, behind every figure of the answer
	Progress      func(stage string, done, of int)
}

// Bought is one step of the list: what is bought, and how the plan stands after it.
type Bought struct {
	Site  string      `json:"site"` // "" for the region
	What  []Amount    `json:"what"`
	Cost  float64     `json:"cost"`
	Spent float64     `json:"spent_so_far"`
	Worst MonthResult `json:"worst_month"` // on fresh seasons
	All   trials.Odds `json:"all_months"`
	Gain  trials.Mean `json:"gain"`  // of the worst month's odds over the step before, fraction, paired
	Fewer trials.Mean `json:"fewer"` // stalks missing a season than the step before, paired
}

// Amount is so much of one thing.
type Amount struct {
	Of   string  `json:"of"` // "dryers"
	Size float64 `json:"size"`
	Unit string  `json:"unit"` // "" where it is counted
}

// InAll is how much of one thing is bought at each site, in the order of Spending.Sites; the
// last entry is that of the region.
type InAll struct {
	Of      string    `json:"of"`
	Unit    string    `json:"unit"`
	PerSite []float64 `json:"per_site"`
}

// Spending is the answer: what to buy, in order.
type Spending struct {
	Budget        float64     `json:"budget"`
	SearchSeasons int         `json:"search_seasons"`
	Seasons       int         `json:"seasons"`
	Sites         []string    `json:"sites"`
	Start         Bought      `json:"start"` // the plan as written
	Steps         []Bought    `json:"steps"`
	All           []InAll     `json:"in_all"`
	Reached       int         `json:"target_reached_after"` // steps; -1 if it is not
	Before        trials.Mean `json:"net_a_year_before"`
	After         trials.Mean `json:"net_a_year_after"` // what is bought by the year included
	Why           string      `json:"stopped_because"`
	Tried         int         `json:"site_plans_tried"` // site-plans run through the search seasons
	NotTried      []string    `json:"not_tried"`
	Best          *sim.Region `json:"-"` // the plan after the last step
	Marginal      []Marginal  `json:"next"`
	Stopped       bool        `json:"stopped,omitempty"` // interrupted: the list is what was found so far
}

// Marginal is what one more step of a lever would do at the answer, on the search seasons.
type Marginal struct {
	Site  string  `json:"site"`
	What  Amount  `json:"what"`
	Cost  float64 `json:"cost"`
	Gain  float64 `json:"gain_of_odds"` // of the worst month, fraction of the search seasons
	Fewer float64 `json:"fewer_missing_stalks"`
}

// design is how many steps of each lever each site has, and the region.
type design struct {
	sites [][]int // by site and lever
	hub   []int   // by lever
}

func (d design) clone() design {
	c := design{hub: slices.Clone(d.hub)}
	for _, s := range d.sites {
		c.sites = append(c.sites, slices.Clone(s))
	}
	return c
}

// spender searches designs. Rows of a site under one set of steps are run once and kept.
type spender struct {
	SpendQuestion
	levers []lever
	rows   map[string][][]int32 // accepted by season and month, by key of a site's steps
	tried  int
	first  int // season
	n      int // seasons
}

// key names the rows of a site: its steps and those of the region, which move its share of the
// stock.
func (s *spender) key(d *design, site int) string { return fmt.Sprint(site, d.sites[site], d.hub) }

// region returns the region under a design.
func (s *spender) region(d *design) *sim.Region {
	r := *s.Setup.Region
	r.Sites = append([]sim.Site(nil), r.Sites...)
	for l := range s.levers {
		if s.levers[l].hub {
			s.levers[l].apply(&r, -1, d.hub[l])
			continue
		}
		for site := range r.Sites {
			s.levers[l].apply(&r, site, d.sites[site][l])
		}
	}
	return &r
}

// cost returns what a design costs. Things bought one by one cost what they cost in the plan
// as written, but sheets cover the racks that are there in the end.
func (s *spender) cost(d *design) float64 {
	r := s.region(d)
	sum := 0.0
	for l := range s.levers {
		if s.levers[l].hub {
			sum += s.levers[l].cost(s.Prices, s.Setup.Region, -1, d.hub[l])
			continue
		}
		for site := range d.sites {
			base := s.Setup.Region
			if s.levers[l].name == "sheets" {
				base = r
			}
			if n := d.sites[site][l]; n > 0 {
				sum += s.levers[l].cost(s.Prices, base, site, n)
			}
		}
	}
	return sum
}

// runAll runs the site-plans of designs that have not been run yet.
func (s *spender) runAll(ctx context.Context, designs []design) error {
	type job struct {
		key    string
		site   int
		region *sim.Region
	}
	var jobs []job
	seen := map[string]bool{}
	for i := range designs {
		d := &designs[i]
		for site := range d.sites {
			k := s.key(d, site)
			if _, known := s.rows[k]; !known && !seen[k] {
				seen[k] = true
				jobs = append(jobs, job{k, site, s.region(d)})
			}
		}
	}
	for from := 0; from < len(jobs); from += atOnce {
		part := jobs[from:min(len(jobs), from+atOnce)]
		variants := make([]trials.Variant, len(part))
		for v, j := range part {
			levels := make([][]int, len(j.region.Sites))
			levels[j.site] = []int{j.region.Sites[j.site].Dryers}
			variants[v] = trials.Variant{Region: j.region, Levels: levels}
		}
		if s.Progress != nil {
			s.Progress("searching", from, len(jobs))
		}
		tables, err := s.Setup.Tables(ctx, s.first, s.n, variants, nil)
		if err != nil {
			return err
		}
		for v, j := range part {
			rows := make([][]int32, s.n)
			for i := range rows {
				rows[i] = slices.Clone(tables[v].Accepted(j.site, j.region.Sites[j.site].Dryers, i))
			}
			s.rows[j.key] = rows
			s.tried++
		}
	}
	return nil
}

// atOnce is how many site-plans share one drawing of the seasons.
const atOnce = 60

// score returns how good a design is: the same order of better as for placements of dryers.
// All its rows must have been run.
func (s *spender) score(d *design) score {
	sc, _, _ := s.play(d)
	return sc
}

// play serves the contract under a design: its score, the missing stalks of each season, and
// by month the seasons in which it was met.
func (s *spender) play(d *design) (score, []float64, [][]bool) {
	g := s.gate(d.hub)
	n := len(g.Months)
	months, sums, none := make([]sim.HubMonth, n), make([]int, n), make([]int, n)
	met := make([]int, n)
	rows := make([][][]int32, len(d.sites))
	for site := range rows {
		rows[site] = s.rows[s.key(d, site)]
	}
	var sc score
	short := make([]float64, s.n)
	metIn := make([][]bool, n)
	before := 0
	for i := range s.n {
		for k := range sums {
			sums[k] = 0
			for site := range rows {
				sums[k] += int(rows[site][i][k])
			}
		}
		g.Serve(months, sums, none)
		sc.add(months, met)
		short[i] = float64(sc.shortfall - before)
		before = sc.shortfall
		for k := range months {
			metIn[k] = append(metIn[k], months[k].Met)
		}
	}
	sc.finish(months, met, s.n)
	return sc, short, metIn
}

// gate returns the rules of the hub with a stock bought ahead.
func (s *spender) gate(hub []int) sim.Gate {
	d := s.start()
	d.hub = hub
	return s.region(&d).Gate()
}

// helps tells whether a design leaves fewer stalks missing than now, by more than the standard
// error of that difference: a small step needs no proof of its own, for the list is judged on
// fresh seasons.
func (s *spender) helps(d *design, now []float64) bool {
	_, short, _ := s.play(d)
	for i := range short {
		short[i] = now[i] - short[i]
	}
	mean, sd := stat.MeanStdDev(short, nil)
	return mean > sd/math.Sqrt(float64(len(short)))
}

// bundle is steps of levers bought together at one site, or of the region.
type bundle struct {
	site  int // -1: the region
	steps map[int]int
}

func (b *bundle) add(d *design, sign int) {
	for l, n := range b.steps {
		if b.site < 0 {
			d.hub[l] += sign * n
		} else {
			d.sites[b.site][l] += sign * n
		}
	}
}

// bundles lists what may be bought in one go: each step alone, by two and by three at one site,
// all levers of a site together, and a step of the region. A chain of shortages can only begin
// with several at once.
func (s *spender) bundles() []bundle {
	var local []int
	var out []bundle
	for l := range s.levers {
		if s.levers[l].hub {
			out = append(out, bundle{-1, map[int]int{l: 1}})
		} else {
			local = append(local, l)
		}
	}
	var sets []map[int]int
	var grow func(from int, set map[int]int)
	grow = func(from int, set map[int]int) {
		if len(set) > 0 {
			sets = append(sets, maps.Clone(set))
		}
		if len(set) == bundleLevers {
			return
		}
		for k := from; k < len(local); k++ {
			set[local[k]] = 1
			grow(k+1, set)
			delete(set, local[k])
		}
	}
	grow(0, map[int]int{})
	all := map[int]int{}
	for _, l := range local {
		all[l] = 1
	}
	if len(all) > bundleLevers {
		sets = append(sets, all)
	}
	for site := range s.Setup.Region.Sites {
		for _, set := range sets {
			out = append(out, bundle{site, set})
		}
	}
	return out
}

// allowed tells whether a design keeps to the most of each lever.
func (s *spender) allowed(d *design) bool {
	for l := range s.levers {
		if s.levers[l].hub {
			if d.hub[l] < 0 || d.hub[l] > s.levers[l].most(s.Setup.Region, -1, 0) {
				return false
			}
			continue
		}
		for site := range d.sites {
			if n := d.sites[site][l]; n < 0 || n > s.levers[l].most(s.Setup.Region, site, s.MaxDryers[site]) {
				return false
			}
		}
	}
	return true
}

// start returns the design in which nothing is bought.
func (s *spender) start() design {
	d := design{hub: make([]int, len(s.levers))}
	for range s.Setup.Region.Sites {
		d.sites = append(d.sites, make([]int, len(s.levers)))
	}
	return d
}

// metCounts is the part of a month's contract that a season counts in which the worst month
// is met and was not: missing stalks alone would leave a month just short, met seasons alone
// cannot tell one small step from another. Assumption.
const metCounts = 0.05

// worth returns what a step does for its money: fewer missing stalks a season, and seasons
// more in which the worst month is met.
func (s *spender) worth(now, then score, cost float64) float64 {
	most := 0
	for _, n := range s.Setup.Region.Contract.StalksByMonth {
		most = max(most, n)
	}
	gain := float64(now.shortfall-then.shortfall) + metCounts*float64(most)*float64(then.worstMet-now.worstMet)
	return gain / max(cost, 1e-9)
}

// next returns the affordable bundle with the best worth, if any helps.
func (s *spender) next(ctx context.Context, d design, now score, spent float64) (best bundle, found bool, err error) {
	var tries []design
	var of []bundle
	var cost []float64
	for _, b := range s.bundles() {
		t := d.clone()
		b.add(&t, 1)
		if !s.allowed(&t) {
			continue
		}
		if c := s.cost(&t); c <= s.Budget+1e-9 {
			tries, of, cost = append(tries, t), append(of, b), append(cost, c-spent)
		}
	}
	if err := s.runAll(ctx, tries); err != nil {
		return bundle{}, false, err
	}
	_, short, _ := s.play(&d)
	top := 0.0
	for k := range tries {
		w := s.worth(now, s.score(&tries[k]), cost[k])
		if w > top && s.helps(&tries[k], short) {
			best, top, found = of[k], w, true
		}
	}
	return best, found, nil
}

// exchange tries to give up one bought bundle and to buy another for it: from what was found
// one by one, the best such exchange, if any helps. It returns the changed design.
func (s *spender) exchange(ctx context.Context, d design, now score) (design, bool, error) {
	var tries []design
	for site := range d.sites {
		for l := range s.levers {
			if s.levers[l].hub || d.sites[site][l] == 0 {
				continue
			}
			without := d.clone()
			without.sites[site][l]--
			for _, b := range s.bundles() {
				if len(b.steps) > 2 {
					continue
				}
				t := without.clone()
				b.add(&t, 1)
				if s.allowed(&t) && s.cost(&t) <= s.Budget+1e-9 {
					tries = append(tries, t)
				}
			}
		}
	}
	// Rows already run answer many of them; of the rest only so many are run.
	known := tries[:0:0]
	fresh := 0
	for _, t := range tries {
		missing := 0
		for site := range t.sites {
			if _, ok := s.rows[s.key(&t, site)]; !ok {
				missing++
			}
		}
		if missing > 0 {
			if fresh >= mostExchanges {
				continue
			}
			fresh += missing
		}
		known = append(known, t)
	}
	if err := s.runAll(ctx, known); err != nil {
		return d, false, err
	}
	best, found := now, false
	out := d
	for k := range known {
		sc := s.score(&known[k])
		if sc.better(best) && (sc.worstMet > best.worstMet || sc.shortfall < best.shortfall) {
			best, out, found = sc, known[k], true
		}
	}
	return out, found, nil
}

// mostExchanges bounds the site-plans run for exchanges in one round, and rounds how often.
const (
	mostExchanges = 60
	rounds        = 2
)

// Spend answers the question. What is bought is chosen on the search seasons, one bundle after
// another by its gain for its money, then improved by exchanges; the list and its odds are
// judged on fresh seasons. An interrupted search answers with the list so far.
func Spend(ctx context.Context, q SpendQuestion) (Spending, error) {
	levers, without := leversOf(q.Prices)
	s := &spender{SpendQuestion: q, levers: levers, rows: map[string][][]int32{}, first: firstSearchSeason, n: q.SearchSeasons}
	out := Spending{Budget: q.Budget, SearchSeasons: q.SearchSeasons, Seasons: q.Seasons, Reached: -1}
	for i := range q.Setup.Region.Sites {
		out.Sites = append(out.Sites, q.Setup.Region.Sites[i].Name)
	}
	for _, name := range without {
		out.NotTried = append(out.NotTried, name+": no price is stated")
	}
	out.NotTried = append(out.NotTried,
		fmt.Sprintf("other steps than %d m² of rack, %d m² of roof, %d cutters, %d h of shift and %d stalks of stock, more than %d of them at a site, and more than twice the cutters", rackStepM2, roofStepM2, cutterStep, shiftStepH, stockStep, mostSteps),
		"bundles at several sites at once", "hauling, moving dryers, other loading rules and temperatures, other collections")
	d := s.start()
	if err := s.runAll(ctx, []design{d}); err != nil {
		return out, stopped(err)
	}
	bought, why, err := s.buy(ctx, &d, []design{d.clone()})
	if err != nil && ctx.Err() == nil {
		return out, err
	}
	if err == nil {
		err = s.otherWay(ctx, &d, &bought, &why)
		if err != nil && ctx.Err() == nil {
			return out, err
		}
	}
	out.Stopped = err != nil
	out.Why, out.Tried = why, s.tried
	if err == nil {
		out.Marginal, err = s.marginal(ctx, d)
		if err != nil && ctx.Err() == nil {
			return out, err
		}
	}
	out.Best = s.region(&d)
	return out, s.judge(context.WithoutCancel(ctx), &out, bought)
}

// otherWay begins with as many dryers as the budget holds, each where it does most, and spends
// the rest as before. It replaces a list that is worse: small cheap steps first may leave too
// little for the dryer that counts.
func (s *spender) otherWay(ctx context.Context, d *design, bought *[]design, why *string) error {
	lever := slices.IndexFunc(s.levers, func(l lever) bool { return l.name == "dryers" })
	if lever < 0 {
		return nil
	}
	other := s.start()
	path := []design{other.clone()}
	for {
		var tries []design
		for site := range other.sites {
			t := other.clone()
			t.sites[site][lever]++
			if s.allowed(&t) && s.cost(&t) <= s.Budget+1e-9 {
				tries = append(tries, t)
			}
		}
		if len(tries) == 0 {
			break
		}
		if err := s.runAll(ctx, tries); err != nil {
			return err
		}
		best := slices.MaxFunc(tries, func(a, b design) int {
			switch x, y := s.score(&a), s.score(&b); {
			case y.better(x):
				return -1
			case x.better(y):
				return 1
			}
			return 0
		})
		if now, then := s.score(&other), s.score(&best); !then.better(now) {
			break
		}
		other = best
		path = append(path, other.clone())
	}
	path, reason, err := s.buy(ctx, &other, path)
	if err != nil {
		return err
	}
	if x, y := s.score(&other), s.score(d); x.better(y) {
		*d, *bought, *why = other, path, reason
	}
	return nil
}

// buy spends what is left of the budget and returns the designs after each purchase, those of
// the given path first.
func (s *spender) buy(ctx context.Context, d *design, bought []design) (path []design, why string, err error) {
	path = bought
	now := s.score(d)
	for {
		if now.worstMet == s.n && now.shortfall == 0 {
			why = "every month is met in every season searched"
			break
		}
		b, found, err := s.next(ctx, *d, now, s.cost(d))
		if err != nil {
			return path, "the search was stopped", err
		}
		if !found {
			why = "nothing that the rest of the budget buys helps by more than chance"
			break
		}
		b.add(d, 1)
		now = s.score(d)
		path = append(path, d.clone())
	}
	for range rounds {
		better, found, err := s.exchange(ctx, *d, now)
		if err != nil {
			return path, "the search was stopped", err
		}
		if !found {
			break
		}
		*d = better
		now = s.score(d)
		path, err = s.inOrder(ctx, *d)
		if err != nil {
			return []design{s.start(), d.clone()}, "the search was stopped", err
		}
	}
	return path, why, nil
}

// inOrder lays out a design as a list of purchases: what is in it is bought again, one step
// after another by its gain for its money.
func (s *spender) inOrder(ctx context.Context, goal design) ([]design, error) {
	d := s.start()
	path := []design{d.clone()}
	for {
		var tries []design
		var cost []float64
		now := s.score(&d)
		spent := s.cost(&d)
		for site := range goal.sites {
			for l := range s.levers {
				if !s.levers[l].hub && d.sites[site][l] < goal.sites[site][l] {
					t := d.clone()
					t.sites[site][l]++
					tries, cost = append(tries, t), append(cost, s.cost(&t)-spent)
				}
			}
		}
		for l := range s.levers {
			if d.hub[l] < goal.hub[l] {
				t := d.clone()
				t.hub[l]++
				tries, cost = append(tries, t), append(cost, s.cost(&t)-spent)
			}
		}
		if len(tries) == 0 {
			return path, nil
		}
		if err := s.runAll(ctx, tries); err != nil {
			return path, err
		}
		best, top := 0, 0.0
		for k := range tries {
			if w := s.worth(now, s.score(&tries[k]), cost[k]); k == 0 || w > top {
				best, top = k, w
			}
		}
		d = tries[best]
		path = append(path, d.clone())
	}
}

// marginal says what one more step of each lever would do at the answer.
func (s *spender) marginal(ctx context.Context, d design) ([]Marginal, error) {
	now, spent := s.score(&d), s.cost(&d)
	var tries []design
	var out []Marginal
	add := func(t design, site string, what Amount) {
		if s.allowed(&t) {
			tries = append(tries, t)
			out = append(out, Marginal{Site: site, What: what, Cost: s.cost(&t) - spent})
		}
	}
	for l := range s.levers {
		if s.levers[l].hub {
			t := d.clone()
			t.hub[l]++
			add(t, "", s.amount(l, 1))
			continue
		}
		for site := range d.sites {
			t := d.clone()
			t.sites[site][l]++
			add(t, s.Setup.Region.Sites[site].Name, s.amount(l, 1))
		}
	}
	if err := s.runAll(ctx, tries); err != nil {
		return nil, err
	}
	for k := range tries {
		sc := s.score(&tries[k])
		out[k].Gain = float64(sc.worstMet-now.worstMet) / float64(s.n)
		out[k].Fewer = float64(now.shortfall-sc.shortfall) / float64(s.n)
	}
	sort.SliceStable(out, func(i, j int) bool { return out[i].Fewer/out[i].Cost > out[j].Fewer/out[j].Cost })
	return out, nil
}

// amount returns so many steps of a lever as an amount.
func (s *spender) amount(l, steps int) Amount {
	return Amount{s.levers[l].name, s.levers[l].size * float64(steps), s.levers[l].unit}
}

// together joins purchases that follow one another at one site.
func (s *spender) together(path []design) []design {
	out := path[:1:1]
	last := "" // site of the purchase that leads to the last of out
	for k := 1; k < len(path); k++ {
		site, _ := s.describe(&path[k-1], &path[k])
		if len(out) > 1 && site == last && site != "" {
			out[len(out)-1] = path[k]
			continue
		}
		out, last = append(out, path[k]), site
	}
	return out
}

// judge runs the designs of the list through fresh seasons. Only what changes from one to the
// next is run.
func (s *spender) judge(ctx context.Context, out *Spending, path []design) error {
	path = s.together(path)
	fresh := &spender{SpendQuestion: s.SpendQuestion, levers: s.levers, rows: map[string][][]int32{}, first: 0, n: s.Seasons}
	if s.Progress != nil {
		fresh.Progress = func(_ string, done, of int) { s.Progress("judging on fresh seasons", done, of) }
	}
	if err := fresh.runAll(ctx, path); err != nil {
		return err
	}
	var shortBefore []float64
	var metBefore []bool
	spentBefore := 0.0
	for k := range path {
		_, short, metIn := fresh.play(&path[k])
		b, met, err := fresh.bought(&path[k], metIn)
		if err != nil {
			return err
		}
		b.Cost = b.Spent - spentBefore
		if b.Worst.Odds.Share >= s.Target && out.Reached < 0 {
			out.Reached = k
		}
		if k == 0 {
			out.Start = b
		} else {
			fewer := make([]float64, len(short))
			for i := range fewer {
				fewer[i] = shortBefore[i] - short[i]
			}
			b.Gain, b.Fewer = pairedGain(met, metBefore), trials.NewMean(fewer)
			b.Site, b.What = s.describe(&path[k-1], &path[k])
			out.Steps = append(out.Steps, b)
		}
		shortBefore, metBefore, spentBefore = short, met, b.Spent
	}
	last := &path[len(path)-1]
	out.All = s.inAll(last)
	var err error
	if out.Before, err = s.income(ctx, &path[0]); err != nil {
		return err
	}
	out.After, err = s.income(ctx, last)
	return err
}

// bought returns how a design stands, and in which seasons its worst month was met.
func (s *spender) bought(d *design, metIn [][]bool) (Bought, []bool, error) {
	g := s.gate(d.hub)
	b := Bought{Spent: s.cost(d)}
	worst := -1
	all := make([]bool, s.n)
	for i := range all {
		all[i] = true
	}
	for k := range g.Months {
		if g.Asked[k] == 0 {
			continue
		}
		if worst < 0 || count(metIn[k]) < count(metIn[worst]) {
			worst = k
		}
		for i := range all {
			all[i] = all[i] && metIn[k][i]
		}
	}
	if worst < 0 {
		return b, nil, ErrNoContract
	}
	b.Worst = MonthResult{Month: g.Months[worst], Name: g.Months[worst].String(), Asked: g.Asked[worst], Odds: trials.NewOdds(count(metIn[worst]), s.n)}
	b.All = trials.NewOdds(count(all), s.n)
	return b, metIn[worst], nil
}

// income returns what a design earns a year on fresh seasons, with what is bought by the year.
func (s *spender) income(ctx context.Context, d *design) (trials.Mean, error) {
	r := s.region(d)
	plan := dryersOf(r)
	set := s.Setup
	set.Region = r
	t, err := set.Table(ctx, 0, s.Seasons, trials.Only(plan), nil)
	if err != nil {
		return trials.Mean{}, err
	}
	items, _ := money.Items(s.Prices, s.Setup.Region, r, dryersOf(s.Setup.Region), plan)
	y, err := money.NewPlay(r, t, plan)
	if err != nil {
		return trials.Mean{}, err
	}
	yearly := s.Prices.YearlyCost(items)
	net := make([]float64, t.Seasons)
	for i := range net {
		year := y.Year(s.Prices, i)
		net[i] = year.Net().Units() - yearly
	}
	return trials.NewMean(net), nil
}

func dryersOf(r *sim.Region) []int {
	plan := make([]int, len(r.Sites))
	for i := range plan {
		plan[i] = r.Sites[i].Dryers
	}
	return plan
}

// describe names what one design has more of than another.
func (s *spender) describe(a, b *design) (site string, what []Amount) {
	for l := range s.levers {
		if n := b.hub[l] - a.hub[l]; n > 0 {
			what = append(what, s.amount(l, n))
		}
		for k := range b.sites {
			if n := b.sites[k][l] - a.sites[k][l]; n > 0 {
				site = s.Setup.Region.Sites[k].Name
				what = append(what, s.amount(l, n))
			}
		}
	}
	return site, what
}

// inAll sums up a design.
func (s *spender) inAll(d *design) []InAll {
	var out []InAll
	for l := range s.levers {
		all := InAll{Of: s.levers[l].name, Unit: s.levers[l].unit}
		any := d.hub[l] > 0
		for k := range d.sites {
			all.PerSite = append(all.PerSite, s.levers[l].size*float64(d.sites[k][l]))
			any = any || d.sites[k][l] > 0
		}
		all.PerSite = append(all.PerSite, s.levers[l].size*float64(d.hub[l]))
		if any {
			out = append(out, all)
		}
	}
	return out
}
