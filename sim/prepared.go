package sim

import (
	"drystalk/sim/stalk"
	"drystalk/tongue"
)

// MostDryers is the most dryers of its own that a site may be run with: beyond it a number is
// a slip of the hand, not a plan.
const MostDryers = 1000

// check tells why a site cannot be run through a season with so many dryers: an error names
// what was found and what is allowed.
func (run *Runner) check(index, dryers int, season *Season) error {
	r := run.region
	switch {
	case index < 0 || index >= len(r.Sites):
		return tongue.Errorf("site number %d of %s, allowed: 0 to %d", index, r.Name, len(r.Sites)-1)
	case len(run.shares) != len(r.Sites):
		return tongue.Errorf("the runner of %s was made for %d sites, the region has %d", r.Name, len(run.shares), len(r.Sites))
	case len(run.spans) == 0:
		return tongue.Errorf("%s: a season of %d days, allowed: 1 or more", r.Name, r.Calendar.Days)
	case dryers < 0 || dryers > MostDryers:
		return tongue.Errorf("%s: %d dryers, allowed: 0 to %d", r.Sites[index].Name, dryers, MostDryers)
	case season == nil:
		return tongue.Errorf("%s: no season", r.Name)
	}
	if err := r.checkStart(); err != nil {
		return err
	}
	if err := season.fits(r, index); err != nil {
		return tongue.Errorf("season %d cannot be lived through at %s: %w", season.Number, r.Sites[index].Name, err)
	}
	return nil
}

// fits tells what a season lacks for a site of a region.
func (s *Season) fits(r *Region, index int) error {
	days := r.Calendar.Days
	for _, x := range []struct {
		what       string
		found, min int
	}{
		{"days of weather", len(s.Days), days},
		{"hours of prepared air", len(s.air), 24 * days},
		{"days of store air at the humidity of this region: Prepare it for the region", len(s.storeOf(r)), days},
		{"days of air at the hub of this region: Prepare it for the region", len(s.hubAirOf(r)), days},
		{"days of fires with the wood of this region: Prepare it for the region", s.firesOf(r).days(), days},
		{"sites with luck of their output", len(s.Output), index + 1},
	} {
		if x.found < x.min {
			return tongue.Errorf("it has %d %s, wanted: %d or more", x.found, x.what, x.min)
		}
	}
	for at := range places {
		if r.uses(at) && len(s.covers.hours[at]) < 24*days {
			return tongue.Errorf("it was not prepared for all kinds of racks of %s: Prepare it for the region", r.Name)
		}
	}
	return s.luckFits(index, days)
}

// luckFits tells what the luck of a season lacks for a site; what is nil is not asked.
func (s *Season) luckFits(index, days int) error {
	for _, x := range []struct {
		what         string
		given        bool
		sites, found int
	}{
		{"output", true, len(s.Output), lengthAt(s.Output, index)},
		{"sheets missed", s.Sheets != nil, len(s.Sheets), lengthAt(s.Sheets, index)},
		{"nights without sheets", s.Nights != nil, len(s.Nights), lengthAt(s.Nights, index)},
	} {
		if x.given && x.found < days {
			return tongue.Errorf("its luck of %s has %d days at site number %d of %d, wanted: %d or more", x.what, x.found, index, x.sites, days)
		}
	}
	if s.Refused != nil && len(s.Refused) <= index {
		return tongue.Errorf("its luck at the gate is of %d sites, wanted: %d or more", len(s.Refused), index+1)
	}
	if s.Dryers != nil && len(s.Dryers) <= index {
		return tongue.Errorf("its luck of dryers is of %d sites, wanted: %d or more", len(s.Dryers), index+1)
	}
	return nil
}

// lengthAt returns the length of the i-th list, 0 where there is none.
func lengthAt[E any](lists [][]E, i int) int {
	if i >= len(lists) {
		return 0
	}
	return len(lists[i])
}

// storeOf returns the air of the stores of a region, by day; nil where the season was not
// prepared for it.
func (s *Season) storeOf(r *Region) []stalk.StillAir { return s.storeAt(r.Store.Humidity) }

// hubAirOf returns the air of the hub of a region, by day; nil where the season was not
// prepared for it.
func (s *Season) hubAirOf(r *Region) []stalk.StillAir {
	if s.Hub != nil {
		s = s.Hub
	}
	return s.storeAt(r.Hub.Humidity)
}

func (s *Season) storeAt(humidity float64) []stalk.StillAir {
	for i := range s.stores {
		if s.stores[i].humidity == humidity {
			return s.stores[i].days
		}
	}
	return nil
}

// firesOf returns the cabinet of a region lit with its wood; nil where the season was
// not prepared for it.
func (s *Season) firesOf(r *Region) *woodFires {
	for _, f := range s.fires {
		if f.of == fireKeyOf(&r.Dryer) {
			return f
		}
	}
	return nil
}
