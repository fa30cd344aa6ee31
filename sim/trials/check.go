package trials

import (
	"drystalk/sim"
	"drystalk/sim/weather"
	"drystalk/tongue"
)

// The most that a study takes: beyond it a number is a slip of the hand, not a plan.
const (
	MostSeasons = 10_000_000 // in one study, and the largest number of a season
	MostWorkers = 10_000
	MostDryers  = sim.MostDryers // at one site
)

// mostFigures is how many figures the rows of one table may hold: 8 GB.
const mostFigures = 1 << 31

// check tells what is wrong with a setup: an error names the figure, what was found and
// what is allowed.
func (s *Setup) check() error {
	switch {
	case s.Region == nil:
		return tongue.Errorf("setup: no region")
	case s.Source == nil && s.Field == nil:
		return tongue.Errorf("setup of %s: no source of weather", s.Region.Name)
	case s.Region.Calendar.Days < 1:
		return tongue.Errorf("setup of %s: a season of %d days, allowed: 1 or more", s.Region.Name, s.Region.Calendar.Days)
	case s.Workers < 0 || s.Workers > MostWorkers:
		return tongue.Errorf("setup of %s: %d workers, allowed: 0 to %d", s.Region.Name, s.Workers, MostWorkers)
	case s.YearsPerFuture < 0:
		return tongue.Errorf("setup of %s: %d years a future, allowed: 0 or more", s.Region.Name, s.YearsPerFuture)
	case s.Field != nil && len(s.Group) != len(s.Region.Sites):
		return tongue.Errorf("setup of %s: %d groups of weather for %d sites", s.Region.Name, len(s.Group), len(s.Region.Sites))
	case s.Places != nil && len(s.Places) < s.groups():
		return tongue.Errorf("setup of %s: %d places for %d groups of weather", s.Region.Name, len(s.Places), s.groups())
	}
	for site, g := range s.Group {
		if g < 0 || g >= len(s.Region.Sites) {
			return tongue.Errorf("setup of %s: site %d in group %d, allowed: 0 to %d", s.Region.Name, site+1, g, len(s.Region.Sites)-1)
		}
	}
	if s.Known != nil {
		if err := s.Known.check(s); err != nil {
			return tongue.Errorf("setup of %s: %w", s.Region.Name, err)
		}
	}
	return s.Knowledge.check()
}

// checkSeasons tells what is wrong with n seasons from the first on.
func (s *Setup) checkSeasons(first, n int) error {
	if first < 0 || first > MostSeasons {
		return tongue.Errorf("first season %d, allowed: 0 to %d", first, MostSeasons)
	}
	if n < 0 || n > MostSeasons {
		return tongue.Errorf("%d seasons, allowed: 0 to %d", n, MostSeasons)
	}
	if years, ok := s.Source.(weather.Numbered); ok && first+n > years.Seasons() {
		return tongue.Errorf("seasons %d to %d, allowed: 0 to %d, the years of the record", first, first+n-1, years.Seasons()-1)
	}
	return nil
}

// checkVariant tells why a variant cannot live through the seasons of the setup's region. The
// draws of a season are those of that region, so what they depend on must be the same: place,
// calendar, luck, trouble (but for Ignore) and how sheets are pulled.
func (s *Setup) checkVariant(v Variant, seasons int) error {
	a, b := s.Region, v.Region
	if b == nil {
		return tongue.Errorf("a plan without a region")
	}
	trouble := b.Trouble
	trouble.Ignore = a.Trouble.Ignore // what is drawn may be ignored
	for _, x := range []struct {
		what string
		same bool
	}{
		{"number of sites", len(a.Sites) == len(b.Sites)},
		{"calendar", a.Calendar == b.Calendar},
		{"place", a.Place == b.Place},
		{"spread of luck", a.Luck == b.Luck},
		{"trouble", a.Trouble == trouble},
		{"time until sheets are pulled", a.Yard.SheetReactionH == b.Yard.SheetReactionH},
		{"sheets at night", a.Yard.SheetsAtNight == b.Yard.SheetsAtNight},
	} {
		if !x.same {
			return tongue.Errorf("the plan of %s has another %s than %s: the seasons are drawn for one; run it as a setup of its own", b.Name, x.what, a.Name)
		}
	}
	return s.checkLevels(b, v.Levels, seasons)
}

// checkLevels tells what is wrong with the numbers of dryers to run.
func (s *Setup) checkLevels(r *sim.Region, levels [][]int, seasons int) error {
	if len(levels) != len(r.Sites) {
		return tongue.Errorf("numbers of dryers for %d sites, want one list for each of the %d", len(levels), len(r.Sites))
	}
	rows := 0
	for site, list := range levels {
		name := r.Sites[site].Name
		seen := map[int]bool{}
		for _, n := range list {
			if n < 0 || n > MostDryers || seen[n] {
				return tongue.Errorf("%s: %d dryers among %v, allowed: 0 to %d, each once", name, n, list, MostDryers)
			}
			seen[n] = true
			rows += seasons
		}
	}
	stride := strideOf(r, levels)
	if s.EveryMonth {
		stride += figures * len(r.Gate().Months)
	}
	if rows > mostFigures/max(1, stride) {
		return tongue.Errorf("%d seasons of these plans need %d rows of %d figures, more than fit", seasons, rows, stride)
	}
	return nil
}

// strideOf returns how many figures a row of the plans holds: accepted by month, totals, what is
// told by month, what keeps at the hub, and the states of as many dryers as any plan has at a
// site.
func strideOf(r *sim.Region, levels [][]int) int {
	most := 0
	for site, l := range levels {
		for _, dryers := range l {
			most = max(most, dryers+r.Coming(site))
		}
	}
	n := len(r.Gate().Months)
	return keptAt(n) + pairs(n) + most*states
}
