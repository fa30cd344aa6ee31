package decide

import (
	"fmt"
	"sort"

	"drystalk/sim"
	"drystalk/sim/trials"
)

// MonthWhy says why one month of one season was missed: what single thing, made plentiful
// in the same season, would have met it.
type MonthWhy struct {
	Month     string   `json:"month"`
	Asked     int      `json:"asked"`
	Delivered int      `json:"delivered"`
	MetWith   []string `json:"met_with"`  // each alone
	Most      string   `json:"most_with"` // the single thing that adds most stalks, where none alone meets the month
	MostAdds  int      `json:"most_adds_stalks"`
}

// Why runs a season of the plan as written again with one thing after another made
// plentiful, in the same weather, luck and knowledge, and explains each missed month.
func Why(set trials.Setup, n int) ([]MonthWhy, error) {
	plain, err := set.Ledger(n)
	if err != nil {
		return nil, err
	}
	var out []MonthWhy
	at := map[int]int{} // month of the season to its place in out
	for k, m := range plain.Hub {
		if m.Asked > 0 && !m.Met {
			at[k] = len(out)
			out = append(out, MonthWhy{Month: m.Month.String(), Asked: m.Asked, Delivered: m.Delivered})
		}
	}
	if len(out) == 0 {
		return nil, nil
	}
	for _, what := range append(reliefsFor(set.Region), moreReliefs(set.Region)...) {
		with := set
		region := *set.Region
		region.Sites = append([]sim.Site(nil), region.Sites...)
		what.apply(&region)
		with.Region = &region
		l, err := with.Ledger(n)
		if err != nil {
			return nil, fmt.Errorf("with %s: %w", what.thing, err)
		}
		for k, i := range at {
			w := &out[i]
			if l.Hub[k].Met {
				w.MetWith = append(w.MetWith, what.thing)
			}
			if more := l.Hub[k].Delivered - w.Delivered; more > w.MostAdds {
				w.Most, w.MostAdds = what.thing, more
			}
		}
	}
	for i := range out {
		sort.Strings(out[i].MetWith)
	}
	return out, nil
}

// dryStore is the humidity at which dry stalks keep: no mould grows below.
const dryStore = 0.65

// eachSite returns a change of every site.
func eachSite(do func(*sim.Site)) func(*sim.Region) {
	return func(r *sim.Region) {
		for i := range r.Sites {
			do(&r.Sites[i])
		}
	}
}

func anySite(r *sim.Region, has func(*sim.Site) bool) bool {
	for i := range r.Sites {
		if has(&r.Sites[i]) {
			return true
		}
	}
	return false
}

// moreReliefs are things tried in a single season that are no part of a plan's price list.
func moreReliefs(r *sim.Region) []relief {
	list := []relief{{"one dryer more at every site", func(r *sim.Region) {
		for i := range r.Sites {
			r.Sites[i].Dryers++
		}
	}}}
	if r.Road.ClosedAboveMM > 0 {
		list = append(list, relief{"a road that stays open", func(r *sim.Region) { r.Road.ClosedAboveMM = 0 }})
	}
	if r.Road.VehicleStalks > 0 {
		list = append(list, relief{"a vehicle large enough", func(r *sim.Region) { r.Road.VehicleStalks = 0 }})
	}
	if r.Road.MoistureLimit > 0 {
		list = append(list, relief{"a gate without a limit of moisture", func(r *sim.Region) { r.Road.MoistureLimit = 0 }})
	}
	if r.Road.MinimumStalks > 0 {
		list = append(list, relief{"a vehicle that comes for any number", func(r *sim.Region) { r.Road.MinimumStalks = 0 }})
	}
	if r.People.Planting.Days > 0 {
		list = append(list, relief{"nobody away for planting", func(r *sim.Region) { r.People.Planting.Days = 0 }})
	}
	if len(r.People.Away) > 0 {
		list = append(list, relief{"nobody away on holidays", func(r *sim.Region) { r.People.Away = nil }})
	}
	if r.Store.Humidity == 0 || r.Store.Humidity > dryStore {
		list = append(list, relief{"stores kept at 65 % humidity", func(r *sim.Region) { r.Store.Humidity = dryStore }})
	}
	if anySite(r, func(s *sim.Site) bool { return s.StoreStalks > 0 }) {
		list = append(list, relief{"room enough in the stores", eachSite(func(s *sim.Site) { s.StoreStalks = 0 })})
	}
	if r.Dryer.WetWood > 0 {
		list = append(list, relief{"wood kept dry", func(r *sim.Region) { r.Dryer.WetWood = 0 }})
	}
	if anySite(r, func(s *sim.Site) bool { return s.SolidRoofM2 > 0 }) {
		list = append(list, relief{"clear sheets in place of solid roofs", eachSite(func(s *sim.Site) {
			s.ClearRoofM2, s.SolidRoofM2 = s.ClearRoofM2+s.SolidRoofM2, 0
		})})
	}
	if anySite(r, func(s *sim.Site) bool { return len(s.Closed) > 0 }) {
		list = append(list, relief{"stands that are never closed", eachSite(func(s *sim.Site) { s.Closed = nil })})
	}
	if anySite(r, func(s *sim.Site) bool { return s.StandM2 > 0 }) {
		list = append(list, relief{"plant enough within reach", eachSite(func(s *sim.Site) { s.StandM2 = 0 })})
	}
	return append(list, relief{"cutting in any rain", func(r *sim.Region) { r.Yard.MaxCutRainMM = 1e6 }})
}
