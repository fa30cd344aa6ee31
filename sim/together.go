package sim

import (
	"drystalk/sim/internal/engine"
	"drystalk/tongue"
)

// Party is plans of one region, with the runner of that region.
type Party struct {
	Run   *Runner
	Plans [][]Lane
}

// LiveTogether lets the plans of several regions live through the same seasons, as LivePlans does for
// those of one: all side by side, so that what becomes of stalks that were laid down alike is worked
// out once for all regions. The regions share their calendar and the rules by which sheets are
// pulled, as those do that a season is prepared for. What each did is with its runner (Runner.Lived),
// good until it runs again. Errors are those of Live. The runners share memory from then on: none of
// them is to be used beside another.
func LiveTogether(parties []Party) error {
	first := parties[0].Run
	clock, lanes := &first.clock, 0
	for _, p := range parties {
		if got, want := p.Run.region.Calendar.Days, first.region.Calendar.Days; got != want {
			return tongue.Errorf("%s: a season of %d days, together with one of %d", p.Run.region.Name, got, want)
		}
		p.Run.common = first.common
		p.Run.gather(p.Plans)
		lanes += len(p.Run.all)
	}
	clock.Reset()
	first.common.clear(lanes > 1)
	desks := make([][]*desk, len(parties))
	for k, p := range parties {
		var err error
		if desks[k], err = p.Run.enter(clock, p.Run.all, 0, p.Run.of, p.Run.deskOf); err != nil {
			return err
		}
	}
	twins := pairTwins(parties)
	clock.Evening(func(day int) {
		for _, of := range desks {
			evenings(of, day)
		}
		partTwins(twins)
		for _, of := range desks {
			hear(of)
		}
	})
	if err := clock.RunDays(first.region.Calendar.Days); err != nil {
		return failedAmong(parties, clock, err)
	}
	for _, p := range parties {
		if err := p.Run.closeSeason(p.Run.lanes[:len(p.Run.all)], false); err != nil {
			return err
		}
	}
	return nil
}

// failedAmong says at which site of the parties something went wrong.
func failedAmong(parties []Party, clock *engine.Clock, err error) error {
	at := clock.Running()
	for _, p := range parties {
		if n := len(p.Run.all); at >= n {
			at -= n
			continue
		}
		return p.Run.lanes[at].because(err)
	}
	return err
}

// Lived returns what the lanes of a runner did in the seasons that it ran last, in the order of plans
// and sites.
func (run *Runner) Lived() []Lived { return run.lived }
