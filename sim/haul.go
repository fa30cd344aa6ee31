package sim

import (
	"slices"

	"drystalk/sim/stalk"
	"drystalk/tongue"
)

// haulH and haulArrivesH are when stalks leave for another site's dryers and when they lie
// in its yard. Common practice, no source: after the day's cut has landed.
const (
	haulH        = 14
	haulArrivesH = 15
)

// parcel is stalks on their way to another site.
type parcel struct {
	day    int
	cutDay int
	stalks int
	kept   float64
	state  stalk.State
}

// HaulOrder returns the sites in an order in which every site comes after those that haul
// to it, or an error where a site hauls to an unknown one or stalks would go in a circle.
func (r *Region) HaulOrder() ([]int, error) {
	to := make([]int, len(r.Sites))
	for i := range r.Sites {
		to[i] = -1
		if name := r.Sites[i].HaulTo; name != "" {
			to[i] = slices.IndexFunc(r.Sites, func(s Site) bool { return s.Name == name })
			if to[i] < 0 || to[i] == i {
				return nil, tongue.Errorf("%s hauls to %q, which is no other site", r.Sites[i].Name, name)
			}
		}
	}
	var order []int
	for len(order) < len(r.Sites) {
		before := len(order)
		for i := range r.Sites {
			waits := false
			for j := range to {
				waits = waits || (to[j] == i && !slices.Contains(order, j))
			}
			if !waits && !slices.Contains(order, i) {
				order = append(order, i)
			}
		}
		if len(order) == before {
			return nil, tongue.Errorf("stalks would be hauled in a circle")
		}
	}
	return order, nil
}

// Hauls tells whether any site hauls stalks to another: then sites are no longer apart
// between collections, and a plan must be run whole.
func (r *Region) Hauls() bool {
	return slices.ContainsFunc(r.Sites, func(s Site) bool { return s.HaulTo != "" && s.HaulStalksPerDay > 0 })
}

// haulAway sends batches that are not dry to the other site, by the loading rule of the
// dryers, up to the day's number.
func (y *siteSeason) haulAway(d int) {
	left := y.site.HaulStalksPerDay
	y.yard.orderWet()
	for _, i := range y.yard.order {
		b := &y.yard.batches[i]
		n := min(left, b.stalks)
		if n == 0 {
			continue
		}
		left -= n
		y.people.work(float64(n)/1000*y.region.People.HaulHPer1000, &y.month.Tasks.Hauling)
		y.road.send(parcel{d, b.cutDay, n, b.kept, y.yard.lift(b, n)})
	}
	y.yard.dropEmpty()
}

// send puts a parcel on its way to another site.
func (r *road) send(p parcel) {
	r.month.MovedOut += p.stalks
	r.left(p.stalks, p.state.Moisture)
	r.sent = append(r.sent, p)
}

// receive spreads what other sites sent on day d.
func (y *siteSeason) receive(d int) {
	y.takeIn(y.road.coming, d)
	for _, from := range y.road.senders {
		y.takeIn(from.sent, d)
	}
}

// takeIn spreads the parcels that were sent on day d.
func (y *siteSeason) takeIn(parcels []parcel, d int) {
	for _, p := range parcels {
		if p.day == d {
			y.month.MovedIn += p.stalks
			y.water.MovedIn += y.dryKg(p.stalks) * float64(p.state.Moisture)
			y.yard.spread(p.cutDay, p.stalks, p.kept, p.state)
		}
	}
}

// takeParcels gives the site about to run what others sent it in this season. Sites run in
// the order of HaulOrder.
func (run *Runner) takeParcels(r *road) {
	if run.parcelsOf != r.season.Number || len(run.parcels) != len(run.region.Sites) {
		run.parcels, run.parcelsOf = make([][]parcel, len(run.region.Sites)), r.season.Number
	}
	for from := range run.region.Sites {
		if run.region.Sites[from].HaulTo == r.site.Name {
			r.coming = append(r.coming, run.parcels[from]...)
		}
	}
}
