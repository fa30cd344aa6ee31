package sim

import (
	"math"

	"drystalk/sim/charge"
)

// road is the way from a site to the hub and to other sites: the collections with the site's
// account at the hub, and the parcels hauled.
type road struct {
	*given
	*book

	accepted float64  // share accepted at the gate, of this site in this season
	sent     []parcel // to another site, this season
	coming   []parcel // from other sites that have lived through the season already
	senders  []*road  // of other sites that live side by side
	hub      hubStore // what of this site lies at the hub

	desk     *desk   // where the hub speaks to this site
	also     []*desk // of its twins in other plans
	enough   bool    // the hub has said that there is enough
	calledOn int     // day on which the vehicle came for a collection last, whatever it found; -1: never yet
	missing  float64 // good stalks, when the hub spoke last
	heardAt  int     // stalks in the store and collected so far when it did
	gone     int     // stalks that left the store with collections so far, those sorted out included
}

func (r *road) begin(g *given, b *book, at *desk) {
	hub := r.hub // keeps the memory of an earlier season
	*r = road{given: g, book: b, accepted: g.p.AcceptedShare, desk: at, also: r.also[:0], calledOn: -1, senders: r.senders[:0]}
	if refused := g.season.Refused; refused != nil {
		r.accepted = 1 - min(1, (1-g.p.AcceptedShare)*refused[g.index])
	}
	hub.begin(g, len(b.months))
	r.hub = hub
}

// shut tells whether the rain of the last three days keeps the vehicle away on day d.
func (r *road) shut(d int) bool {
	limit := r.region.Road.ClosedAboveMM
	return limit > 0 && r.season.threeDaysMM(d) > limit
}

// worthIt tells whether the vehicle comes for the stalks of the store: never for nothing, nor
// where the hub has no room. It books where it does not come for so few.
func (r *road) worthIt(stalks int) bool {
	if stalks == 0 || r.most() == 0 {
		return false
	}
	if stalks >= r.region.Road.MinimumStalks {
		return true
	}
	r.month.Skipped++
	return false
}

// tooDamp tells whether a lot is too wet for the gate. A rule of the trade; a lot at the
// limit itself is taken.
func (r *road) tooDamp(l *lot) bool {
	limit := r.region.Road.MoistureLimit
	return limit > 0 && l.state.Moisture.WetBasis() > limit
}

// load grades the lots of the store once more, the oldest first, and puts what is of full grade
// on the vehicle until it is full, or the hub has no more room. Of a lot that does not fit
// whole goes what fits, and the rest stays where it lies, as old as it is. It returns what was
// loaded, as one lot.
func (r *road) load(s *store, p *people) lot {
	room := r.most()
	var sent lot
	for i := range s.lots {
		l := &s.lots[i]
		if sent.stalks >= room {
			break
		}
		if !l.broke {
			l.stalks, l.broke = p.breakBrittle(l.stalks, &l.state), l.state.Moisture < charge.BrittleBelow
		}
		l.stalks = p.grade(l.stalks, &l.kept, &l.state)
		n := min(l.stalks, room-sent.stalks)
		sent.add(n, &l.state)
		r.left(n, l.state.Moisture)
		l.stalks -= n
	}
	s.keep(func(l *lot) bool { return l.stalks > 0 })
	return sent
}

// most returns how many stalks of the site leave with one collection at most.
func (r *road) most() int {
	most := math.MaxInt
	if v := r.region.Road.VehicleStalks; v > 0 {
		most = v
	}
	if room := r.desk.room(); room < math.MaxInt && r.accepted > 0 {
		most = min(most, int(float64(room)/r.accepted))
	}
	return most
}

// deliver brings stalks to the hub, where the gate takes its share; dry is how many lay dry in the
// store from which they were sorted.
func (r *road) deliver(nowH float64, sent lot, dry int) {
	accepted := int(math.Round(float64(sent.stalks) * r.accepted))
	r.month.ToHub += sent.stalks
	r.month.RefusedAtGate += sent.stalks - accepted
	r.gone += dry
	r.desk.arrive(r.monthIndex, dry, accepted)
	for _, k := range r.also {
		k.arrive(r.monthIndex, dry, accepted)
	}
	r.hub.put(nowH, r.monthIndex, accepted, sent.state)
}

// hear keeps what the hub has said is missing while so much lies in the store.
func (r *road) hear(missing float64, stored int) { r.missing, r.heardAt = missing, stored+r.gone }

// brought returns the stalks that have come to lie dry since the hub spoke, collected or not, while
// so much lies in the store.
func (r *road) brought(stored int) float64 { return float64(stored + r.gone - r.heardAt) }

// serve lets what lies at the hub live through a month that ends.
func (r *road) serve(span *Span) { r.hub.closeMonth(r.monthIndex, span.LastDay) }
