package sim

import (
	"reflect"
	"slices"
)

// What a site does in a season hangs on its region, on itself, its dryers and the season, and of all
// other sites and of the contract on nothing but what the hub says in the evening. So sites of plans
// that live side by side, alike in all that, do the same until the hub says one thing to the one and
// another to the other. Until then one of them lives for both, its twins; then the other goes on from
// there by itself. Sites that all live by themselves do the same, more slowly. (TestTwinsAreAsAlone)

// mayHaveTwins tells whether sites of a runner may live for those of other plans: not where the hub says more to
// a site than whether there is enough, or stalks go from one site to another, or it is noted what
// lies where. A search that has sites live apart asks for none twice.
func (run *Runner) mayHaveTwins() bool {
	r := run.region
	return r.Hub.Speaks != SpeaksAtCollections && r.Hub.StoreStalks == 0 && !r.Hauls() &&
		run.TakenOn <= 0 && !run.EveryDay && !run.Restless
}

// pairTwins finds the twins among the lanes of parties before their first day, and returns all that follow one.
func pairTwins(parties []Party) (following []*siteSeason) {
	like := likeSites(parties)
	var living []*siteSeason // and those of which it is not known
	var kinds []twinKind
	for k, p := range parties {
		for i := range p.Run.all {
			l, y := &p.Run.all[i], p.Run.lanes[i]
			if like[k] == nil {
				continue
			}
			kind := twinKind{like[k][l.Site], *l, y.road.enough}
			at := slices.Index(kinds, kind)
			if at < 0 {
				living, kinds = append(living, y), append(kinds, kind)
				continue
			}
			y.follow(living[at])
			y.engine.Reset()
			following = append(following, y)
		}
	}
	return following
}

// twinKind is what twins have in common on their first day.
type twinKind struct {
	party  int // the first that has such a site
	lane   Lane
	enough bool
}

// likeSites returns, by party and site, the first party whose site of that number is like it but for its dryers, in
// a region that is like its region but for contract, stock and sites; nil for a party whose sites have no twins.
func likeSites(parties []Party) [][]int {
	like := make([][]int, len(parties))
	for k, p := range parties {
		if !p.Run.mayHaveTwins() {
			continue
		}
		r := p.Run.region
		like[k] = slices.Repeat([]int{k}, len(r.Sites))
		for before := range k {
			if like[before] == nil {
				continue
			}
			o := parties[before].Run.region
			if !likeBut(r, o) {
				continue
			}
			for i := range min(len(r.Sites), len(o.Sites)) {
				if like[k][i] == k && likeSite(&r.Sites[i], &o.Sites[i]) {
					like[k][i] = like[before][i]
				}
			}
		}
	}
	return like
}

// likeBut tells whether two regions are alike but for their contracts, the stock at their hubs, of which a
// site knows by the word of the hub alone, the names and the sites.
func likeBut(a, b *Region) bool {
	if a == b {
		return true
	}
	x, y := *a, *b
	for _, r := range []*Region{&x, &y} {
		r.Name, r.Contract, r.Hub.OpeningStock, r.Sites = "", Contract{}, 0, nil
	}
	return reflect.DeepEqual(x, y)
}

// likeSite tells whether two sites are alike but for their dryers.
func likeSite(a, b *Site) bool {
	if a == b {
		return true
	}
	x, y := *a, *b
	x.Dryers, y.Dryers = 0, 0
	return reflect.DeepEqual(x, y)
}

// lives returns the site that lives for this one: a twin or itself.
func (y *siteSeason) lives() *siteSeason {
	if y.twin != nil {
		return y.twin
	}
	return y
}

// follow lets a twin live for the site: what is brought to its hub is brought to that of the site too.
func (y *siteSeason) follow(twin *siteSeason) {
	y.twin = twin
	twin.road.also = append(twin.road.also, y.road.desk)
}

// partTwins lets sites live by themselves to which the hub has not said what it said to their twin. What
// follow one twin and have heard the same go on together.
func partTwins(sites []*siteSeason) {
	for _, y := range sites {
		if y.twin != nil {
			y.twin.apart = nil
		}
	}
	for _, y := range sites {
		twin := y.twin
		if twin == nil || y.road.desk.enough == twin.road.desk.enough {
			continue
		}
		twin.road.also = slices.DeleteFunc(twin.road.also, func(k *desk) bool { return k == y.road.desk })
		y.twin = nil
		if twin.apart != nil {
			y.follow(twin.apart)
			continue
		}
		y.takeOver(twin)
		twin.apart = y
	}
}

// takeOver puts the site where its twin is: it has done what that did and holds what that holds.
func (y *siteSeason) takeOver(twin *siteSeason) {
	y.book.takeOver(&twin.book)
	y.people.takeOver(&twin.people)
	y.stand.takeOver(&twin.stand)
	y.yard.takeOver(&twin.yard)
	y.dryers.takeOver(&twin.dryers)
	y.store.takeOver(&twin.store)
	y.road.takeOver(&twin.road)
	y.engine.TakeOver(twin.engine)
	y.left = true
	y.loaded = append(y.loaded[:0], twin.loaded...)
	for i := range y.loaded {
		y.loaded[i].Of = slices.Clone(y.loaded[i].Of)
	}
}

func (b *book) takeOver(o *book) {
	months := append(b.months[:0], o.months...)
	*b = book{of: b.of, months: months, monthIndex: o.monthIndex, month: &months[o.monthIndex], water: o.water}
}

func (p *people) takeOver(o *people) {
	given, book := p.given, p.book
	*p = *o
	p.given, p.book = given, book
}

func (st *stand) takeOver(o *stand) {
	given, book := st.given, st.book
	*st = *o
	st.given, st.book = given, book
}

func (y *yard) takeOver(o *yard) {
	own := *y
	*y = *o
	y.given, y.book = own.given, own.book
	y.batches = append(own.batches[:0], o.batches...)
	y.scratch, y.order, y.good = own.scratch, own.order, own.good
}

func (ds *dryers) takeOver(o *dryers) {
	for len(ds.cabinets) < len(o.cabinets) {
		ds.cabinets = append(ds.cabinets, dryer{})
	}
	ds.cabinets = ds.cabinets[:len(o.cabinets)]
	for n := range ds.cabinets {
		own := ds.cabinets[n].charge
		ds.cabinets[n] = o.cabinets[n]
		ds.cabinets[n].charge = append(own[:0], o.cabinets[n].charge...)
	}
	ds.woodKg, ds.asked, ds.worked.fire = o.woodKg, o.asked, nil
}

func (s *store) takeOver(o *store) { s.lots = append(s.lots[:0], o.lots...) }

func (r *road) takeOver(o *road) {
	own := *r
	*r = *o
	r.given, r.book, r.desk, r.also, r.hub = own.given, own.book, own.desk, own.also, own.hub
	r.sent, r.coming, r.senders = own.sent, own.coming, own.senders
	r.hub.takeOver(&o.hub)
}

func (h *hubStore) takeOver(o *hubStore) {
	h.lots, h.still, h.first = append(h.lots[:0], o.lots...), append(h.still[:0], o.still...), append(h.first[:0], o.first...)
}
