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

	share    float64  // of the region's contract that is this site's
	accepted float64  // share accepted at the gate, of this site in this season
	sent     []parcel // to another site, this season
	coming   []parcel // from other sites
	hub      hubStore // what of this site lies at the hub
}

func (r *road) begin(g *given, b *book, share float64) {
	hub := r.hub // keeps the memory of an earlier season
	*r = road{given: g, book: b, share: share, accepted: g.p.AcceptedShare}
	if refused := g.season.Refused; refused != nil {
		r.accepted = 1 - min(1, (1-g.p.AcceptedShare)*refused[g.index])
	}
	hub.begin(g, len(b.months), share*float64(g.region.Hub.OpeningStock))
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
	if room := r.hub.room(r.share); room < math.MaxInt && r.accepted > 0 {
		most = min(most, int(float64(room)/r.accepted))
	}
	return most
}

// deliver brings stalks to the hub, where the gate takes its share.
func (r *road) deliver(nowH float64, sent lot) {
	accepted := int(math.Round(float64(sent.stalks) * r.accepted))
	r.month.ToHub += sent.stalks
	r.month.RefusedAtGate += sent.stalks - accepted
	r.hub.put(nowH, r.monthIndex, accepted, sent.state)
}

// hasItsShare tells whether the site has, finished, its share of the contract of a month and
// of the stock wanted ahead; stored is what lies in its store. Stalks still drying do not
// count: counting them would make a further dryer stop the cutting.
func (r *road) hasItsShare(span *Span, stored int) bool {
	c := &r.region.Contract
	wanted := r.share * float64(c.StalksByMonth[span.Month]+c.TargetStock[span.Month])
	finished := r.hub.own() + float64(stored)*r.accepted
	return finished >= wanted
}

// serve lets what lies at the hub live through a month that ends, and the contract take the
// site's share of what is good.
func (r *road) serve(span *Span) {
	r.hub.closeMonth(r.monthIndex, span.LastDay, r.share*float64(r.region.Contract.StalksByMonth[span.Month]))
}
