package trials

import (
	"context"
	"slices"

	"drystalk/sim"
	"drystalk/sim/weather"
	"drystalk/tongue"
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

	// Places tells where each group lies, by number; nil where all lie at the place of Region.
	Places []weather.Place

	// YearsPerFuture, if above 0, makes every so many seasons in a row the years of one
	// future: they share one draw of the knowledge, because what nobody has measured does
	// not change from year to year.
	YearsPerFuture int

	// Design, if any, tells of each trial through which season it lives and where it stands in the
	// ranges of the knowledge (Knowledge.At); ranks that are nil are drawn as ever. Seasons are then
	// counted by trial, so several trials may live through one season with other knowledge. Without
	// it, trial and season are the same.
	Design func(trial int) (season int, ranks []float64)

	// EveryMonth keeps every figure by month and not only those that money goes by
	// (Table.MonthFigures).
	EveryMonth bool

	// Together says that nobody will read the rows of single sites: of many seasons of a plan whoever
	// asks a question may keep the sum of its sites alone (Table.Together).
	Together bool

	// Known is what the season has shown up to today; nil: nothing.
	Known *Known
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

// placeOf returns where a group of sites lies.
func (s *Setup) placeOf(group int) weather.Place {
	if s.Places == nil {
		return s.Region.Place
	}
	return s.Places[group]
}

// groupOf returns the group of a site.
func (s *Setup) groupOf(site int) int {
	if s.groups() == 1 {
		return 0
	}
	return s.Group[site]
}

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
	tables, err := s.Tables(ctx, first, n, []Variant{{Region: s.Region, Levels: levels}}, progress)
	if err != nil {
		return nil, err
	}
	return tables[0], nil
}

// ErrHauling is returned where several numbers of dryers are asked of sites that haul stalks
// to one another: what one sends depends on all, so such a plan is run whole.
var ErrHauling = tongue.Fault("stalks are hauled between sites: numbers of dryers cannot be compared site by site; state the dryers of the plan and ask for its odds")

// ErrMoving is returned where several numbers of dryers are asked of sites between which
// dryers are moved: the plan says how many there are.
var ErrMoving = tongue.Fault("dryers are moved between sites: numbers of dryers cannot be compared site by site; state the dryers of the plan and ask for its odds")

// ErrCoupled is returned where several numbers of dryers are asked of sites that do what they do
// because of what others bring, and it was not asked for them apart (Variant.Apart).
var ErrCoupled = tongue.Fault("the hub tells sites what others bring: numbers of dryers cannot be compared site by site; state the dryers of the plan and ask for its odds")

// haulOrder returns the order in which the sites of a variant run.
func haulOrder(v Variant) ([]int, error) {
	several := slices.ContainsFunc(v.Levels, func(levels []int) bool { return len(levels) > 1 })
	switch {
	case several && v.Region.Hauls():
		return nil, ErrHauling
	case several && len(v.Region.Moves) > 0:
		return nil, ErrMoving
	case !v.Apart && !v.whole() && v.Region.Coupled():
		return nil, ErrCoupled
	}
	return v.Region.HaulOrder()
}

// fill runs all site-seasons of the i-th season of the tables. A broken promise
// inside the model becomes an error with the number of the season.
func (t *Study) fill(i int, w *worker) (err error) {
	number := t.number(i)
	defer func() {
		if r := recover(); r != nil {
			err = tongue.Errorf("season %d: %v", number, r)
		}
	}()
	seasons := w.builder.build(number)
	if err := t.live(w, seasons); err != nil {
		return err
	}
	t.years.putRain(i, seasons[0].Days)
	for g, group := range t.groups {
		lived, at := w.runs[g].Lived(), 0
		for p, v := range group {
			for _, lane := range w.plans[g][p] {
				t.Tables[v].put(lane, i, &lived[at])
				at++
			}
			t.Tables[v].wrote(i)
		}
	}
	return nil
}

// live lets all variants live side by side, those that are plans whole and the sites of the others apart.
// Where stalks are hauled, a variant that is no plan lives by itself.
func (t *Study) live(w *worker, seasons []sim.Season) error {
	w.parties = w.parties[:0]
	for g, group := range t.groups {
		plans := w.plans[g][:0]
		for _, v := range group {
			plans = append(plans, t.lanes(v, seasons))
		}
		w.plans[g] = plans
		if v := &t.variants[group[0]]; v.whole() || !v.Region.Hauls() {
			w.parties = append(w.parties, sim.Party{Run: w.runs[g], Plans: plans})
		} else if _, err := w.runs[g].Live(plans[0]); err != nil {
			return err
		}
	}
	if len(w.parties) == 0 {
		return nil
	}
	return sim.LiveTogether(w.parties)
}

// lanes returns the sites of a variant with each of their numbers of dryers, in a season.
func (t *Study) lanes(v int, seasons []sim.Season) (lanes []sim.Lane) {
	for _, site := range t.orders[v] {
		for _, dryers := range t.variants[v].Levels[site] {
			lanes = append(lanes, sim.Lane{Site: site, Dryers: dryers, Season: &seasons[t.setup.groupOf(site)]})
		}
	}
	return lanes
}
