package sim

import (
	"drystalk/sim/internal/engine"
	"drystalk/tongue"
)

// Runner runs site-seasons, one alone or several side by side, and reuses their memory. It is
// not safe for concurrent use: one runner to a worker.
type Runner struct {
	region      *Region
	spans       []Span
	collections []int
	shares      []float64
	gate        Gate
	desks       []*desk
	all         []Lane // of the plans that live side by side
	of          []int  // the plan of each
	clock       engine.Clock
	lanes       []*siteSeason
	lived       []Lived
	common      *common

	parcels   [][]parcel // by site that sent them, in season number parcelsOf
	parcelsOf int

	taken []Start // by plan

	TakenOn  int  // the day of the season on which what lies where is noted (Taken); 0: none
	EveryDay bool // ledgers hold the days of each site too
	Restless bool // sites that live apart are never told that the hub has enough: for searching
}

// NewRunner returns a runner for a region.
func NewRunner(r *Region) *Runner {
	run := &Runner{
		region:      r,
		spans:       r.Calendar.Months(),
		collections: r.Calendar.CollectionDays(r.Hub.CollectionsPerMonth),
		shares:      r.Shares(),
		gate:        r.Gate(),
		common:      &common{},
	}
	run.lane(0)
	return run
}

// common is what sites that live side by side work out once for all.
type common struct {
	paths paths
	alone bool // there is but one site: paths would be its own
	cold  coldHours

	grades []*grades // one for each spread of mould
	graded int       // how many are of these seasons
}

// clear forgets what was worked out in seasons before.
func (c *common) clear(several bool) {
	c.alone, c.cold, c.graded = !several, coldHours{}, 0
	c.paths.clear()
}

// ways returns the paths of batches; nil where nobody shares them.
func (c *common) ways() *paths {
	if c.alone {
		return nil
	}
	return &c.paths
}

// gradesOf returns the grades of the stalks of a season.
func (c *common) gradesOf(s *Season) *grades {
	spread := s.Parameters.Stalk.MouldSpread
	for _, g := range c.grades[:c.graded] {
		if g.spread == spread {
			return g
		}
	}
	if c.graded == len(c.grades) {
		c.grades = append(c.grades, &grades{})
	}
	g := c.grades[c.graded]
	c.graded++
	g.begin(spread)
	return g
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
	Loaded []Loaded     // on the day on which the season is taken up; none where it opens as ever
}

// Live lets sites live through their seasons apart, each with its share of the contract, but side
// by side: a day of each after another. Where stalks are hauled between sites each lives alone,
// those that haul to others before these (Region.HaulOrder). An error says what does not fit,
// such as a season that was not prepared for the region, or names the season, the site and the
// time; then it means a bug, such as stalks that do not balance.
func (run *Runner) Live(lanes []Lane) ([]Lived, error) {
	run.lived = run.lived[:0]
	together := len(lanes)
	if run.region.Hauls() {
		together = 1
	}
	for from := 0; from < len(lanes); from += together {
		part := lanes[from:min(len(lanes), from+together)]
		err := run.live(part, from, func(i int) *desk {
			return run.openDesk(i, run.shares[part[i].Site], !run.Restless)
		})
		if err != nil {
			return nil, err
		}
	}
	return run.lived, nil
}

// LivePlans lets plans live through their seasons, side by side: each is the sites of the region in
// an order in which every site comes after those that haul to it (Region.HaulOrder), and they live
// as the hub speaks to them. What the sites did comes in the order of plans and sites. Errors are
// those of Live.
func (run *Runner) LivePlans(plans [][]Lane) ([]Lived, error) {
	if err := LiveTogether([]Party{{run, plans}}); err != nil {
		return nil, err
	}
	return run.lived, nil
}

// gather lists the lanes of plans.
func (run *Runner) gather(plans [][]Lane) {
	run.lived, run.all, run.of = run.lived[:0], run.all[:0], run.of[:0]
	for p, lanes := range plans {
		for _, l := range lanes {
			run.all, run.of = append(run.all, l), append(run.of, p)
		}
	}
}

// deskOf returns the desk of the i-th lane of plans: that of its plan, or where the hub does not speak
// to its sites by what they bring together, or to none, one of its own.
func (run *Runner) deskOf(i int) *desk {
	p := run.of[i]
	switch {
	case !run.region.Coupled() || run.Restless:
		return run.openDesk(i, run.shares[run.all[i].Site], !run.Restless)
	case i == 0 || p != run.of[i-1]:
		return run.openDesk(p, 1, true)
	}
	return run.desks[p]
}

// openDesk opens the i-th desk, which knows a share of contract, stock and room, for a season.
func (run *Runner) openDesk(i int, share float64, rests bool) *desk {
	for len(run.desks) <= i {
		run.desks = append(run.desks, &desk{})
	}
	run.desks[i].begin(run, share, rests)
	return run.desks[i]
}

// live lets lanes live side by side but apart, in the memory of the first given and those after it, each at
// the desk that is given for it.
func (run *Runner) live(lanes []Lane, first int, deskOf func(lane int) *desk) error {
	run.clock.Reset()
	run.common.clear(len(lanes) > 1)
	desks, err := run.enter(&run.clock, lanes, first, nil, deskOf)
	if err != nil {
		return err
	}
	run.clock.Evening(func(day int) {
		evenings(desks, day)
		hear(desks)
	})
	if err := run.clock.RunDays(run.region.Calendar.Days); err != nil {
		return run.lanes[first+run.clock.Running()].because(err)
	}
	return run.closeSeason(run.lanes[first:first+len(lanes)], true)
}

// enter opens the season of lanes on a clock, in the memory of the first given and those after it, each at the
// desk that is given for it and with those of the same plan; of no plan where each lives apart. It returns
// the desks.
func (run *Runner) enter(clock *engine.Clock, lanes []Lane, first int, of []int, deskOf func(lane int) *desk) ([]*desk, error) {
	run.openTaken(planOf(of, len(lanes)-1) + 1)
	open := 0
	for i := range lanes {
		l, y := &lanes[i], run.lane(first+i)
		if err := run.check(l.Site, l.Dryers, l.Season); err != nil {
			return nil, err
		}
		k := deskOf(i)
		k.sites = append(k.sites, y)
		if len(k.sites) == 1 {
			open++
		}
		y.begin(run, l, k)
		run.hauledTo(y, i, of)
		run.mayTake(y, planOf(of, i))
		y.engine.At(float64(24*run.region.Start.Day), rankDawn, event{dawn, run.region.Start.Day})
		clock.Drive(y.engine)
	}
	desks := run.desks[:open]
	for _, k := range desks {
		k.speak(run.region.Start.Day, true)
		k.tell()
	}
	return desks, nil
}

// evenings is the evening of a day at some desks.
func evenings(desks []*desk, day int) {
	for _, k := range desks {
		k.evening(day)
		if day >= k.region.Start.Day {
			k.speak(day+1, false)
		}
	}
}

// hear has all sites of some desks hear what was said to them.
func hear(desks []*desk) {
	for _, k := range desks {
		k.tell()
	}
}

// closeSeason ends the season of some sites. Those that live apart leave what they sent to
// sites that live after them.
func (run *Runner) closeSeason(sites []*siteSeason, apart bool) error {
	for _, y := range sites {
		if y.twin != nil {
			run.lived = append(run.lived, y.twin.lived())
			continue
		}
		y.closeSeason()
		if err := y.checkBalance(y.spans); err != nil {
			return y.because(err)
		}
		if apart {
			run.parcels[y.index] = y.road.sent
		}
		run.lived = append(run.lived, y.lived())
	}
	return nil
}

// hauledTo finds what is hauled to a lane: by those of its plan, or where sites live apart what those
// have sent that lived through the season before.
func (run *Runner) hauledTo(y *siteSeason, lane int, of []int) {
	if of == nil {
		run.takeParcels(&y.road)
		return
	}
	for i := range lane {
		if from := run.lanes[i]; of[i] == of[lane] && from.site.HaulTo == y.site.Name {
			y.road.senders = append(y.road.senders, &from.road)
		}
	}
}

// because says in which season and where something went wrong.
func (y *siteSeason) because(err error) error {
	return tongue.Errorf("season %d, site %s: %w", y.season.Number, y.site.Name, err)
}

// lived returns what the season that has ended did.
func (y *siteSeason) lived() Lived {
	return Lived{y.months, y.days, y.water, y.dryers.each(), Kept{y.road.hub.still, y.road.hub.first}, y.loaded}
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
