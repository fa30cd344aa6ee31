package trials

import (
	"context"
	"errors"
	"slices"
	"sync"
	"sync/atomic"

	"drystalk/sim"
	"drystalk/tongue"
)

// Variant is a region as planned in one way, with the numbers of dryers to run at
// each site, none for a site that is not asked about. All variants of a study live through
// the seasons drawn for the region of the setup, so they share with it the number of sites,
// calendar, place, luck, trouble (each may ignore it) and how sheets are pulled; a variant
// that does not is an error.
//
// A plan, one number of dryers at each site, is lived through whole, as the hub speaks to its
// sites; plans of the same Region live side by side. Several numbers at a site are sites apart:
// that is the same only where no site does what it does because of others (sim.Region.Coupled).
// Elsewhere it must be asked for with Apart.
type Variant struct {
	Region *sim.Region
	Levels [][]int

	// Apart has each site live by itself, never told that the hub has enough; so that plans
	// may be put together from sites, the hub then carries no more than carriesOver of the
	// stock wanted ahead. It ranks plans, for searching; odds are said of plans that are lived
	// through whole.
	Apart bool
}

// carriesOver is how much of the stock wanted ahead is carried over where sites live apart. With it
// nine placements of the demo are ranked as whole plans are, with odds up to 8 points higher
// (TestSitesApartRankAsWholePlans).
const carriesOver = 1.3

// whole tells whether a variant is a plan that is lived through as the hub speaks to its sites.
func (v *Variant) whole() bool {
	return !v.Apart && !slices.ContainsFunc(v.Levels, func(levels []int) bool { return len(levels) != 1 })
}

// Tables is Table for several variants in the same seasons.
func (s Setup) Tables(ctx context.Context, first, n int, variants []Variant, progress func(done int)) ([]*Table, error) {
	study, err := s.Study(first, n, variants)
	if err != nil {
		return nil, err
	}
	return study.Tables, study.Run(ctx, n, progress)
}

// Study is seasons of several variants that may be run in pieces.
type Study struct {
	Tables []*Table // by variant; they hold the seasons run so far

	setup    Setup
	variants []Variant
	orders   [][]int
	most     int
	years    *years
	staff    []worker
	groups   [][]int // variants that live side by side
}

// StudyOf returns a study of the seasons of the given numbers.
func (s Setup) StudyOf(numbers []int, variants []Variant) (*Study, error) {
	for _, n := range numbers {
		if err := s.checkSeasons(n, 1); err != nil {
			return nil, err
		}
	}
	study, err := s.Study(0, len(numbers), variants)
	if err != nil {
		return nil, err
	}
	study.years.numbers = slices.Clone(numbers) // draws are drawn again from them later
	return study, nil
}

// number returns the number of the i-th season.
func (t *Study) number(i int) int { return t.years.number(i) }

// Study returns a study of seasons from first on, at most so many, of which none has been
// run. What is nonsense in the setup, the numbers or a variant is an error.
func (s Setup) Study(first, most int, variants []Variant) (*Study, error) {
	if err := s.check(); err != nil {
		return nil, err
	}
	if err := s.checkSeasons(first, most); err != nil {
		return nil, err
	}
	if len(variants) == 0 {
		return nil, tongue.Fault("no plan to run")
	}
	study := &Study{setup: s, variants: variants, most: most}
	for v := range variants {
		if err := s.checkVariant(variants[v], most); err != nil {
			return nil, err
		}
		order, err := haulOrder(variants[v])
		if err != nil {
			return nil, err
		}
		study.orders = append(study.orders, order)
	}
	study.years = newYears(&s, first, most)
	for v := range variants {
		table := newTable(variants[v].Region, first, most, variants[v].Levels)
		if variants[v].whole() {
			table.parts = partsOf(variants[v].Region, most, variants[v].Levels, window)
		}
		table.years = []yearsFrom{{0, study.years}}
		if s.groups() > 1 {
			table.RainAt = s.Region.Sites[0].Name
		}
		if s.EveryMonth {
			table.keepEveryMonth()
		}
		if variants[v].Apart {
			table.gate = GateApart(variants[v].Region)
		}
		study.Tables = append(study.Tables, table)
		study.join(v)
	}
	return study, nil
}

// join puts a variant to those that it lives side by side with: whole plans of the same region.
func (t *Study) join(v int) {
	for g, group := range t.groups {
		if w := group[0]; t.variants[w].Region == t.variants[v].Region && t.variants[w].whole() && t.variants[v].whole() {
			t.groups[g] = append(group, v)
			return
		}
	}
	t.groups = append(t.groups, []int{v})
}

// GateApart returns the rules by which the hub serves the contract from sites that live apart
// (Variant.Apart).
func GateApart(r *sim.Region) sim.Gate {
	g := r.Gate()
	if !r.Coupled() {
		return g
	}
	for _, month := range g.Months {
		g.CarriesMost = append(g.CarriesMost, int(carriesOver*float64(r.Contract.TargetStock[month])))
	}
	return g
}

// piece is how many seasons are run before their rows count: what is interrupted keeps
// whole pieces, and where it stops depends on no worker.
const piece = 50

// Run runs the study up to so many seasons. An interrupted run keeps the pieces that were
// finished and returns an error.
func (t *Study) Run(ctx context.Context, to int, progress func(done int)) error {
	if to < 0 {
		return tongue.Errorf("%d seasons, allowed: 0 or more", to)
	}
	from := t.Tables[0].Seasons
	if to = min(to, t.most); to <= from {
		return nil
	}
	done, err := t.run(ctx, from, to, progress)
	if err != nil {
		done = from + (done-from)/piece*piece
		err = tongue.Errorf("seasons %d to %d: %w", t.number(done), t.number(min(done+piece, to)-1), err)
	}
	for _, table := range t.Tables {
		table.runTo(done)
	}
	return err
}

// worker is what one worker needs; it reuses its memory.
type worker struct {
	builder *builder
	runs    []*sim.Runner  // by group of the study
	plans   [][][]sim.Lane // by group and variant of it
	parties []sim.Party    // that live together
}

// Rest lets the workers go, with the memory they use again between runs. A study that rests may run
// on.
func (t *Study) Rest() { t.staff = nil }

// workers returns the workers of so many seasons, no more than there are seasons.
func (t *Study) workers(seasons int) []worker {
	n := max(1, min(t.setup.Workers, seasons))
	for len(t.staff) < n {
		w := worker{builder: &builder{setup: &t.setup, variants: t.variants}}
		for _, group := range t.groups {
			run := sim.NewRunner(t.variants[group[0]].Region)
			run.Restless = t.variants[group[0]].Apart
			w.runs = append(w.runs, run)
		}
		w.plans = make([][][]sim.Lane, len(t.groups))
		t.staff = append(t.staff, w)
	}
	return t.staff[:n]
}

// run runs the seasons from one on to below another and returns up to which one all are
// finished. No worker waits for another: each takes the next season that none has taken.
func (t *Study) run(ctx context.Context, from, to int, progress func(done int)) (int, error) {
	var next atomic.Int64
	next.Store(int64(from))
	var mu sync.Mutex
	var failed error
	finished, done := to, from
	finish := func(i int, err error) {
		mu.Lock()
		defer mu.Unlock()
		done++
		if err != nil {
			failed, finished = errors.Join(failed, err), min(finished, i)
			next.Store(int64(to))
		}
		if progress != nil {
			progress(done)
		}
	}
	var wg sync.WaitGroup
	for _, w := range t.workers(to - from) {
		wg.Go(func() {
			for ctx.Err() == nil {
				i := int(next.Add(1)) - 1
				if i >= to {
					return
				}
				finish(i, t.fill(i, &w))
			}
		})
	}
	wg.Wait()
	switch {
	case failed != nil:
		return finished, failed
	case done < to: // every season taken was finished, and they are taken in order
		return done, ctx.Err()
	}
	return to, nil
}
