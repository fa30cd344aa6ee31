package trials

import (
	"context"
	"errors"
	"fmt"
	"math"
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
	Workers   int // seasons run side by side; 0 or less means one
}

// builder prepares seasons and reuses its memory; one to a worker.
type builder struct {
	setup    *Setup
	variants []Variant
	season   sim.Season
	hours    []air.Hour
	draws    []float64
}

// build draws season number n: knowledge, weather and luck, each from a stream
// of its own, so that nothing a plan changes can shift them.
func (b *builder) build(n int) *sim.Season {
	s, number := b.setup, uint64(n)
	season := &b.season
	season.Number = n
	season.Parameters, b.draws = s.Knowledge.Draw(s.Base, Stream(s.Seed, number, RegionWide, "knowledge"))
	c := s.Region.Calendar
	rng := Stream(s.Seed, number, RegionWide, "weather")
	if years, ok := s.Source.(weather.Numbered); ok {
		season.Days = years.Season(n, rng)
	} else {
		season.Days = s.Source.Days(c.StartDOY(), c.Days, rng)
	}
	b.hours = weather.HoursInto(b.hours, season.Days, c.StartDOY(), s.Region.Place,
		Stream(s.Seed, number, RegionWide, "rain hours"))
	b.drawOutput(number)
	season.Prepare(b.hours, b.regions()...)
	return season
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
	for len(b.season.Output) < sites {
		b.season.Output = append(b.season.Output, nil)
	}
	for i := range sites {
		rng := Stream(s.Seed, number, uint64(i), "output")
		season := logFactor(luck.OutputSeason, shared) * logFactor(luck.OutputSiteSeason, rng.NormFloat64())
		out := b.season.Output[i][:0]
		for range days {
			out = append(out, season*logFactor(luck.OutputDay, rng.NormFloat64()))
		}
		b.season.Output[i] = out
	}
}

// logFactor returns a lognormal factor of mean 1 from a standard normal z.
func logFactor(sd, z float64) float64 { return math.Exp(sd*z - sd*sd/2) }

// Season draws season number n and keeps it for replay.
func (s Setup) Season(n int) *sim.Season {
	b := &builder{setup: &s}
	return b.build(n)
}

// Ledger runs season number n of the plan as written.
func (s Setup) Ledger(n int) (sim.RegionLedger, error) {
	return sim.NewRunner(s.Region).Ledger(s.Season(n))
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
// each site. All variants of a study share calendar, place and number of sites, and
// live through the same seasons.
type Variant struct {
	Region *sim.Region
	Levels [][]int
}

// Tables is Table for several variants in the same seasons.
func (s Setup) Tables(ctx context.Context, first, n int, variants []Variant, progress func(done int)) ([]*Table, error) {
	tables := make([]*Table, len(variants))
	for v := range variants {
		tables[v] = newTable(variants[v].Region, first, n, variants[v].Levels, len(s.Knowledge.Ranges))
	}
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
		if progress != nil {
			progress(done)
		}
	}
	var wg sync.WaitGroup
	for range max(1, s.Workers) {
		wg.Go(func() {
			b := &builder{setup: &s, variants: variants}
			runs := make([]*sim.Runner, len(variants))
			for v := range variants {
				runs[v] = sim.NewRunner(variants[v].Region)
			}
			for i := int(next.Add(1)) - 1; i < n && ctx.Err() == nil; i = int(next.Add(1)) - 1 {
				finish(fill(tables, i, b, runs))
			}
		})
	}
	wg.Wait()
	if failed == nil {
		failed = ctx.Err()
	}
	if failed != nil {
		return nil, fmt.Errorf("seasons %d to %d: %w", first, first+n-1, failed)
	}
	return tables, nil
}

// fill runs all site-seasons of the i-th season of the tables. A broken promise
// inside the model becomes an error with the number of the season.
func fill(tables []*Table, i int, b *builder, runs []*sim.Runner) (err error) {
	defer func() {
		if r := recover(); r != nil {
			err = fmt.Errorf("season %d: %v", tables[0].First+i, r)
		}
	}()
	season := b.build(tables[0].First + i)
	for v, t := range tables {
		copy(t.Draws[i], b.draws)
		for site := range t.levels {
			for _, dryers := range t.levels[site] {
				months, err := runs[v].Site(site, dryers, season)
				if err != nil {
					return err
				}
				t.put(site, dryers, i, months)
			}
		}
	}
	return nil
}
