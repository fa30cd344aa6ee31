package trials

import (
	"context"
	"errors"
	"fmt"
	"math"
	"slices"
	"strconv"
	"sync"
	"sync/atomic"

	"drystalk/sim"
	"drystalk/sim/air"
	"drystalk/sim/weather"
)

// Setup is what a set of trials needs: a region, the parameters as written,
// what is known of them, and where the weather comes from.
type Setup struct {
	Region    *sim.Region
	Base      sim.Parameters
	Knowledge Knowledge
	Source    weather.Source
	Seed      uint64
	Workers   int // seasons run side by side; 0 means one

	// Field draws the weather of several groups of sites that lie apart, and Group tells
	// which group a site belongs to. Without it, all sites share the weather of Source.
	Field weather.FieldSource
	Group []int

	// YearsPerFuture, if above 0, makes every so many seasons in a row the years of one
	// future: they share one draw of the knowledge, because what nobody has measured does
	// not change from year to year.
	YearsPerFuture int
}

// groups returns the number of groups of sites with a weather of their own.
func (s *Setup) groups() int {
	n := 1
	if s.Field != nil {
		for _, g := range s.Group {
			n = max(n, g+1)
		}
	}
	return n
}

// groupOf returns the group of a site.
func (s *Setup) groupOf(site int) int {
	if s.groups() == 1 {
		return 0
	}
	return s.Group[site]
}

// builder prepares seasons and reuses its memory; one to a worker.
type builder struct {
	setup    *Setup
	variants []Variant
	seasons  []sim.Season // by group of sites
	hours    [][]air.Hour
	draws    []float64
}

// build draws season number n for each group of sites: knowledge, weather and luck, each
// from a stream of its own, so that nothing a plan changes can shift them.
func (b *builder) build(n int) []sim.Season {
	s, number := b.setup, uint64(n)
	groups := s.groups()
	for len(b.seasons) < groups {
		b.seasons, b.hours = append(b.seasons, sim.Season{}), append(b.hours, nil)
	}
	var parameters sim.Parameters
	known := number
	if s.YearsPerFuture > 0 {
		known = number / uint64(s.YearsPerFuture)
	}
	parameters, b.draws = s.Knowledge.Draw(s.Base, Stream(s.Seed, known, RegionWide, "knowledge"))
	days := s.weather(n)
	c := s.Region.Calendar
	for g := range groups {
		season := &b.seasons[g]
		season.Number, season.Parameters = n, parameters
		season.Days = days[min(g, len(days)-1)]
		at := RegionWide // the first group draws as one weather does
		if g > 0 {
			at = uint64(g)
		}
		b.hours[g] = weather.HoursInto(b.hours[g], season.Days, c.StartDOY(), s.Region.Place, Stream(s.Seed, number, at, "rain hours"))
		if g == 0 {
			b.drawOutput(number)
		}
		season.Output = b.seasons[0].Output
		season.Sheets, season.Dryers = b.drawMissed(number, "sheets", s.Region.Trouble.SheetsMissed), b.drawDryers(number)
		season.Refused = b.drawRefused(number)
		season.Nights = b.drawMissed(number, "sheets at night", s.Region.Trouble.NightMissed)
		season.Prepare(b.hours[g], b.regions()...)
	}
	return b.seasons
}

// weather draws the days of season n, by group of sites; one list where all share it.
func (s *Setup) weather(n int) [][]weather.Day {
	c := s.Region.Calendar
	rng := Stream(s.Seed, uint64(n), RegionWide, "weather")
	if years, ok := s.Source.(weather.Numbered); ok {
		return [][]weather.Day{years.Season(n, rng)}
	}
	if s.groups() > 1 {
		return s.Field.Days(c.StartDOY(), c.Days, rng)
	}
	return [][]weather.Day{s.Source.Days(c.StartDOY(), c.Days, rng)}
}

// regions returns all regions that will live through the season.
func (b *builder) regions() []*sim.Region {
	regions := []*sim.Region{b.setup.Region}
	for _, v := range b.variants {
		regions = append(regions, v.Region)
	}
	return regions
}

// drawOutput fills the factors on each site's output: lognormal with mean 1,
// with a part shared by all sites, one of the site's season and one of the day.
func (b *builder) drawOutput(number uint64) {
	s, luck := b.setup, b.setup.Region.Luck
	shared := Stream(s.Seed, number, RegionWide, "output").NormFloat64()
	sites, days := len(s.Region.Sites), s.Region.Calendar.Days
	output := &b.seasons[0].Output
	for len(*output) < sites {
		*output = append(*output, nil)
	}
	for i := range sites {
		rng := Stream(s.Seed, number, uint64(i), "output")
		season := logFactor(luck.OutputSeason, shared) * logFactor(luck.OutputSiteSeason, rng.NormFloat64())
		out := (*output)[i][:0]
		for range days {
			out = append(out, season*logFactor(luck.OutputDay, rng.NormFloat64()))
		}
		(*output)[i] = out
	}
}

// drawRefused draws the factor of each site on the share refused at the gate: lognormal with
// mean 1; nil where there is no spread.
func (b *builder) drawRefused(number uint64) []float64 {
	s := b.setup
	sd := s.Region.Luck.RefusedSiteSeason
	if !(sd > 0) {
		return nil
	}
	out := make([]float64, len(s.Region.Sites))
	for i := range out {
		out[i] = logFactor(sd, Stream(s.Seed, number, uint64(i), "gate").NormFloat64())
	}
	return out
}

// drawMissed draws the days on which sheets are not pulled in time, by site, with a chance;
// nil where none can be missed.
func (b *builder) drawMissed(number uint64, purpose string, chance float64) [][]bool {
	s := b.setup
	if !(chance > 0) || !slices.ContainsFunc(b.regions(), hasSheets) {
		return nil
	}
	missed := make([][]bool, len(s.Region.Sites))
	for i := range missed {
		rng := Stream(s.Seed, number, uint64(i), purpose)
		for range s.Region.Calendar.Days {
			missed[i] = append(missed[i], rng.Float64() < chance)
		}
	}
	return missed
}

func hasSheets(r *sim.Region) bool {
	return slices.ContainsFunc(r.Sites, func(site sim.Site) bool { return site.Sheets })
}

// mostFails is the most breakdowns of one dryer that a season draws.
const mostFails = 12

// drawDryers draws what happens to each dryer that any variant may have, each from a stream
// of its own, so that the first dryer of a site has the same luck with or without a second;
// nil where nothing can happen.
func (b *builder) drawDryers(number uint64) [][]sim.DryerLuck {
	s := b.setup
	t := s.Region.Trouble
	if !(t.OutForSeason > 0) && !(t.FiringHPerFail > 0) {
		return nil
	}
	luck := make([][]sim.DryerLuck, len(s.Region.Sites))
	for i := range luck {
		for k := range b.mostDryers(i) {
			rng := Stream(s.Seed, number, uint64(i), "dryer "+strconv.Itoa(k))
			l := sim.DryerLuck{Out: rng.Float64() < t.OutForSeason}
			at := 0.0
			for range mostFails {
				at += t.FiringHPerFail * rng.ExpFloat64()
				if t.FiringHPerFail > 0 {
					l.FailsAt = append(l.FailsAt, at)
					l.RepairH = append(l.RepairH, 24*t.RepairDays*math.Exp(t.RepairLogSD*rng.NormFloat64()))
				}
			}
			luck[i] = append(luck[i], l)
		}
	}
	return luck
}

// mostDryers returns the most dryers that any variant runs at a site.
func (b *builder) mostDryers(site int) int {
	most := b.setup.Region.Sites[site].Dryers
	for _, v := range b.variants {
		for _, n := range v.Levels[site] {
			most = max(most, n)
		}
	}
	return most + b.setup.Region.Coming(site)
}

// logFactor returns a lognormal factor of mean 1 from a standard normal z.
func logFactor(sd, z float64) float64 { return math.Exp(sd*z - sd*sd/2) }

// draw draws season number n for each group of sites.
func (s *Setup) draw(n int) ([]sim.Season, error) {
	if err := s.check(); err != nil {
		return nil, err
	}
	if err := s.checkSeasons(n, 1); err != nil {
		return nil, err
	}
	return (&builder{setup: s}).build(n), nil
}

// Season draws season number n of the first group of sites and keeps it for replay.
func (s Setup) Season(n int) (*sim.Season, error) {
	seasons, err := s.draw(n)
	if err != nil {
		return nil, err
	}
	return &seasons[0], nil
}

// Ledger runs season number n of the plan as written.
func (s Setup) Ledger(n int) (sim.RegionLedger, error) { return s.ledger(n, false) }

// DailyLedger is Ledger with the days of each site.
func (s Setup) DailyLedger(n int) (sim.RegionLedger, error) { return s.ledger(n, true) }

func (s *Setup) ledger(n int, everyDay bool) (sim.RegionLedger, error) {
	seasons, err := s.draw(n)
	if err != nil {
		return sim.RegionLedger{}, err
	}
	run := sim.NewRunner(s.Region)
	run.EveryDay = everyDay
	return run.LedgerOf(func(site int) *sim.Season { return &seasons[s.groupOf(site)] })
}

// Table runs seasons first to first+n-1 once for each site and each of its levels,
// the numbers of dryers, and keeps a row of each. The result depends on nothing but
// the setup without Workers: seasons are dealt to workers, and every row has its
// own place. progress, if any, is told how many seasons are done, by one worker at a
// time.
func (s Setup) Table(ctx context.Context, first, n int, levels [][]int, progress func(done int)) (*Table, error) {
	tables, err := s.Tables(ctx, first, n, []Variant{{s.Region, levels}}, progress)
	if err != nil {
		return nil, err
	}
	return tables[0], nil
}

// Variant is a region as planned in one way, with the numbers of dryers to run at
// each site, none for a site that is not asked about. All variants of a study live through
// the seasons drawn for the region of the setup, so they share with it the number of sites,
// calendar, place, luck, trouble (each may ignore it) and how sheets are pulled; a variant
// that does not is an error.
type Variant struct {
	Region *sim.Region
	Levels [][]int
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
	numbers  []int // of the seasons, where they are not first, first+1, ...
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
	study.numbers = numbers
	return study, nil
}

// number returns the number of the i-th season.
func (t *Study) number(i int) int {
	if t.numbers != nil {
		return t.numbers[i]
	}
	return t.Tables[0].First + i
}

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
		return nil, errors.New("no plan to run")
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
	for v := range variants {
		study.Tables = append(study.Tables, newTable(variants[v].Region, first, most, variants[v].Levels, len(s.Knowledge.Ranges)))
	}
	return study, nil
}

// piece is how many seasons are run before their rows count: what is interrupted keeps
// whole pieces, and where it stops depends on no worker.
const piece = 50

// Run runs the study up to so many seasons. An interrupted run keeps the pieces that were
// finished and returns an error.
func (t *Study) Run(ctx context.Context, to int, progress func(done int)) error {
	if to < 0 {
		return fmt.Errorf("%d seasons, allowed: 0 or more", to)
	}
	to = min(to, t.most)
	workers := t.workers()
	for done := t.Tables[0].Seasons; done < to; {
		n := min(piece, to-done)
		tell := func(k int) {
			if progress != nil {
				progress(done + k)
			}
		}
		if err := t.run(ctx, workers, done, n, tell); err != nil {
			return err
		}
		done += n
		for _, table := range t.Tables {
			table.Seasons = done
		}
	}
	return nil
}

// worker is what one worker needs; it reuses its memory.
type worker struct {
	builder *builder
	runs    []*sim.Runner
}

func (t *Study) workers() []worker {
	out := make([]worker, max(1, t.setup.Workers))
	for i := range out {
		out[i].builder = &builder{setup: &t.setup, variants: t.variants}
		for v := range t.variants {
			out[i].runs = append(out[i].runs, sim.NewRunner(t.variants[v].Region))
		}
	}
	return out
}

// run runs n seasons of the study from the done-th on.
func (t *Study) run(ctx context.Context, workers []worker, from, n int, progress func(done int)) error {
	var next atomic.Int64
	var mu sync.Mutex
	var failed error
	done := 0
	finish := func(err error) {
		mu.Lock()
		defer mu.Unlock()
		done++
		if err != nil {
			failed = errors.Join(failed, err)
			next.Store(int64(n))
		}
		progress(done)
	}
	var wg sync.WaitGroup
	for _, w := range workers {
		wg.Go(func() {
			for i := int(next.Add(1)) - 1; i < n && ctx.Err() == nil; i = int(next.Add(1)) - 1 {
				finish(fill(t.Tables, t.orders, from+i, t.number(from+i), w.builder, w.runs))
			}
		})
	}
	wg.Wait()
	if failed == nil {
		failed = ctx.Err()
	}
	if failed != nil {
		return fmt.Errorf("seasons %d to %d: %w", t.number(from), t.number(from+n-1), failed)
	}
	return nil
}

// ErrHauling is returned where several numbers of dryers are asked of sites that haul stalks
// to one another: what one sends depends on all, so such a plan is run whole.
var ErrHauling = errors.New("stalks are hauled between sites: numbers of dryers cannot be compared site by site; state the dryers of the plan and ask for its odds")

// ErrMoving is returned where several numbers of dryers are asked of sites between which
// dryers are moved: the plan says how many there are.
var ErrMoving = errors.New("dryers are moved between sites: numbers of dryers cannot be compared site by site; state the dryers of the plan and ask for its odds")

// haulOrder returns the order in which the sites of a variant run.
func haulOrder(v Variant) ([]int, error) {
	several := slices.ContainsFunc(v.Levels, func(levels []int) bool { return len(levels) > 1 })
	switch {
	case several && v.Region.Hauls():
		return nil, ErrHauling
	case several && len(v.Region.Moves) > 0:
		return nil, ErrMoving
	}
	return v.Region.HaulOrder()
}

// fill runs all site-seasons of the i-th season of the tables. A broken promise
// inside the model becomes an error with the number of the season.
func fill(tables []*Table, orders [][]int, i, number int, b *builder, runs []*sim.Runner) (err error) {
	defer func() {
		if r := recover(); r != nil {
			err = fmt.Errorf("season %d: %v", number, r)
		}
	}()
	seasons := b.build(number)
	for v, t := range tables {
		copy(t.Draws[i], b.draws)
		t.putRain(i, seasons[0].Days)
		for _, site := range orders[v] {
			for _, dryers := range t.levels[site] {
				months, err := runs[v].Site(site, dryers, &seasons[b.setup.groupOf(site)])
				if err != nil {
					return err
				}
				t.put(site, dryers, i, months, runs[v].Dryers())
			}
		}
	}
	return nil
}
