package sim

import (
	"fmt"

	"drystalk/sim/internal/engine"
)

// Runner runs site-seasons, one alone or several side by side, and reuses their memory. It is
// not safe for concurrent use: one runner to a worker.
type Runner struct {
	region      *Region
	spans       []Span
	collections []int
	shares      []float64
	clock       engine.Clock
	lanes       []*siteSeason
	lived       []Lived
	common      common

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
	run.lane(0)
	return run
}

// common is what sites that live side by side work out once for all.
type common struct {
	paths paths
	alone bool // there is but one site: paths would be its own
	cold  coldHours
}

// clear forgets what was worked out in seasons before.
func (c *common) clear(several bool) {
	c.alone, c.cold = !several, coldHours{}
	c.paths.clear()
}

// ways returns the paths of batches; nil where nobody shares them.
func (c *common) ways() *paths {
	if c.alone {
		return nil
	}
	return &c.paths
}

// lane returns the memory of the i-th of the sites that run side by side.
func (run *Runner) lane(i int) *siteSeason {
	for len(run.lanes) <= i {
		y := &siteSeason{}
		y.engine = engine.New(y.handle)
		run.lanes = append(run.lanes, y)
	}
	return run.lanes[i]
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

// Lane is a site with a number of dryers of its own that lives through a season.
type Lane struct {
	Site, Dryers int
	Season       *Season
}

// Lived is what a site-season did. Its lists are good until the runner runs again.
type Lived struct {
	Months []SiteMonth
	Days   []SiteDay // with Runner.EveryDay, and for good
	Water  Water
	Each   []DryerHours // by dryer: those of the site first, then those that came from other sites
	Kept   Kept         // what became at the hub of what was brought there
}

// Live lets sites live through their seasons, side by side: a day of each after another. Where
// stalks are hauled between sites each lives alone, those that haul to others before these
// (Region.HaulOrder). An error says what does not fit, such as a season that was not prepared for
// the region, or names the season, the site and the time; then it means a bug, such as stalks
// that do not balance.
func (run *Runner) Live(lanes []Lane) ([]Lived, error) {
	run.lived = run.lived[:0]
	together := len(lanes)
	if run.region.Hauls() {
		together = 1
	}
	for from := 0; from < len(lanes); from += together {
		if err := run.live(lanes, from, min(len(lanes), from+together)); err != nil {
			return nil, err
		}
	}
	return run.lived, nil
}

// live lets some of the lanes live side by side.
func (run *Runner) live(lanes []Lane, from, to int) error {
	run.clock.Reset()
	run.common.clear(to-from > 1)
	for i := from; i < to; i++ {
		l, y := &lanes[i], run.lane(i)
		if err := run.check(l.Site, l.Dryers, l.Season); err != nil {
			return err
		}
		y.begin(run, l)
		run.takeParcels(&y.road)
		y.engine.At(0, rankDawn, event{dawn, 0})
		run.clock.Drive(y.engine)
	}
	if err := run.clock.RunDays(run.region.Calendar.Days); err != nil {
		return run.lanes[from+run.clock.Running()].because(err)
	}
	for i := from; i < to; i++ {
		y := run.lanes[i]
		y.closeSeason()
		if err := y.checkBalance(y.spans); err != nil {
			return y.because(err)
		}
		run.parcels[y.index] = y.road.sent
		run.lived = append(run.lived, y.lived())
	}
	return nil
}

// because says in which season and where something went wrong.
func (y *siteSeason) because(err error) error {
	return fmt.Errorf("season %d, site %s: %w", y.season.Number, y.site.Name, err)
}

// lived returns what the season that has ended did.
func (y *siteSeason) lived() Lived {
	return Lived{y.months, y.days, y.water, y.dryers.each(), Kept{y.road.hub.still, y.road.hub.first}}
}

// Site runs site number index of the region through the season with the given
// number of dryers and returns its months, valid until the runner runs again. Errors are those
// of Live.
func (run *Runner) Site(index, dryers int, season *Season) ([]SiteMonth, error) {
	lived, err := run.Live([]Lane{{index, dryers, season}})
	if err != nil {
		return nil, err
	}
	return lived[0].Months, nil
}
