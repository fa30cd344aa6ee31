package sim

import (
	"fmt"

	"drystalk/sim/internal/engine"
)

// Runner runs site-seasons one after another and reuses their memory. It is
// not safe for concurrent use: one runner to a worker.
type Runner struct {
	region      *Region
	spans       []Span
	collections []int
	shares      []float64
	site        siteSeason

	parcels   [][]parcel // by site that sent them, in season number parcelsOf
	parcelsOf int

	EveryDay bool // ledgers hold the days of each site too
}

// NewRunner returns a runner for a region.
func NewRunner(r *Region) *Runner {
	run := &Runner{
		region:      r,
		spans:       r.Calendar.Months(),
		collections: r.Calendar.CollectionDays(r.Hub.CollectionsPerMonth),
		shares:      r.Shares(),
	}
	run.site.engine = engine.New(run.site.handle)
	return run
}

// Shares returns each site's share of the contract: its cutters' ordinary
// output over that of all sites. Where nobody cuts, all shares are equal.
func (r *Region) Shares() []float64 {
	shares := make([]float64, len(r.Sites))
	sum := 0.0
	for i := range r.Sites {
		s := &r.Sites[i]
		shares[i] = float64(s.Cutters) * s.OutputPerPersonH * s.CuttingHPerDay
		sum += shares[i]
	}
	for i := range shares {
		if sum > 0 {
			shares[i] /= sum
		} else {
			shares[i] = 1 / float64(len(shares))
		}
	}
	return shares
}

// Site runs site number index of the region through the season with the given
// number of dryers and returns its months, valid until the next call. An error says what does
// not fit, such as a season that was not prepared for the region, or names the season and the
// time; then it means a bug, such as stalks that do not balance.
func (run *Runner) Site(index, dryers int, season *Season) ([]SiteMonth, error) {
	if err := run.check(index, dryers, season); err != nil {
		return nil, err
	}
	y := &run.site
	y.begin(run, index, dryers, season)
	run.takeParcels(index, season)
	y.engine.At(0, rankDawn, event{dawn, 0})
	if err := y.engine.RunDays(run.region.Calendar.Days); err != nil {
		return nil, fmt.Errorf("season %d, site %s: %w", season.Number, y.site.Name, err)
	}
	y.closeSeason()
	if err := y.checkBalance(y.spans); err != nil {
		return nil, fmt.Errorf("season %d, site %s: %w", season.Number, y.site.Name, err)
	}
	run.parcels[index] = y.road.sent
	return y.months, nil
}

// Water returns the water of the site-season that ran last.
func (run *Runner) Water() Water { return run.site.water }
