package sim

import (
	"math"

	"drystalk/sim/charge"
	"drystalk/sim/stalk"
)

// store is the site store: lots of dry full-grade stalks, in its air.
type store struct {
	*given
	*book

	lots     []lot
	air      []stalk.StillAir // by day
	exchange exchange
}

// exchange is how fast stalks in a store take up moisture from its air. What they take up in a
// whole day, which is how lots mostly live, is worked out once.
type exchange struct{ perH, inADay float64 }

// exchangeOf returns the exchange of stalks that lie open or in tied bags.
func (p *Parameters) exchangeOf(sealed bool) exchange {
	perH := p.StoreExchangeOpenPerH
	if sealed {
		perH = p.StoreExchangeSealedPerH
	}
	return exchange{perH, stalk.TakenUp(perH, 24)}
}

// takenUp returns the part of the way to the equilibrium that stalks go in some hours.
func (e *exchange) takenUp(hours float64) float64 {
	if hours == 24 {
		return e.inADay
	}
	return stalk.TakenUp(e.perH, hours)
}

// lot is dry full-grade stalks lying in the site store.
type lot struct {
	stalks int
	kept   float64
	state  stalk.State
	sinceH float64 // time up to which the lot has lived
	cameH  float64 // into the store
	broke  bool    // what breaks of stalks dried too far has been taken off
}

// add adds stalks that come to lie together with those of the lot: moisture, indices and hours
// become the mean by stalks (all of one dry mass).
func (l *lot) add(stalks int, state *stalk.State) {
	if stalks == 0 {
		return
	}
	if l.stalks == 0 {
		l.stalks, l.state = stalks, *state
		return
	}
	w := float64(stalks) / float64(stalks+l.stalks)
	l.state.Moisture += stalk.DryBasis(w) * (state.Moisture - l.state.Moisture)
	l.state.MouldIndex += w * (state.MouldIndex - l.state.MouldIndex)
	l.state.PeakIndex += w * (state.PeakIndex - l.state.PeakIndex)
	l.state.StillH += w * (state.StillH - l.state.StillH)
	l.state.AgeH += w * (state.AgeH - l.state.AgeH)
	l.stalks += stalks
}

func (s *store) begin(g *given, b *book) {
	s.given, s.book, s.lots, s.air = g, b, s.lots[:0], g.season.storeOf(g.region)
	s.exchange = g.p.exchangeOf(g.site.SealedStore)
}

// stock lays the opening stock into the store at the finishing moisture.
func (s *store) stock() {
	s.put(0, s.site.OpeningStock, s.dryState())
}

// put adds full-grade stalks to the store. Stalks that come in at one instant lie together as
// one lot, and those of another never join it: moisture and index become the mean by
// stalks (all of one dry mass). All of them are of full grade now, so the share
// kept is what a grading at the joint index would keep.
func (s *store) put(nowH float64, stalks int, state stalk.State) {
	if stalks == 0 {
		return
	}
	if n := len(s.lots); n > 0 && s.lots[n-1].cameH == nowH {
		l := &s.lots[n-1]
		l.add(stalks, &state)
		l.kept = s.grades.full(l.state.PeakIndex)
		l.broke = l.state.Moisture < charge.BrittleBelow
		return
	}
	kept := s.grades.full(state.PeakIndex)
	broke := state.Moisture < charge.BrittleBelow // in the dryer, or on the way in
	s.lots = append(s.lots, lot{stalks: stalks, kept: kept, state: state, sinceH: nowH, cameH: nowH, broke: broke})
}

// stalks returns what lies in the store.
func (s *store) stalks() int {
	n := 0
	for i := range s.lots {
		n += s.lots[i].stalks
	}
	return n
}

// addWater adds the water in the stalks of the store to a sum, kg.
func (s *store) addWater(kg float64) float64 {
	for i := range s.lots {
		kg += s.dryKg(s.lots[i].stalks) * float64(s.lots[i].state.Moisture)
	}
	return kg
}

// room returns how many stalks the store still takes.
func (s *store) room() int {
	if s.site.StoreStalks == 0 {
		return math.MaxInt
	}
	return max(0, s.site.StoreStalks-s.stalks())
}

// age lets the lots live up to now in the mean air of day d.
func (s *store) age(nowH float64, d int) {
	for i := range s.lots {
		l := &s.lots[i]
		if hours := nowH - l.sinceH; hours > 0 {
			takenUp := s.exchange.inADay
			if hours != 24 {
				takenUp = s.exchange.takenUp(hours)
			}
			s.water.Evaporated -= s.dryKg(l.stalks) * l.state.Settle(&s.air[d], takenUp, hours, &s.p.Stalk)
			l.sinceH = nowH
		}
	}
}

// keep keeps, in order, the lots for which keep holds.
func (s *store) keep(keep func(*lot) bool) {
	n := 0
	for i := range s.lots {
		if keep(&s.lots[i]) {
			s.lots[n] = s.lots[i]
			n++
		}
	}
	s.lots = s.lots[:n]
}
