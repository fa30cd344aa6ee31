package sim

import (
	"math"

	"drystalk/sim/stalk"
)

// hubStore is what a site has brought to the hub, lot by lot, in the air of the hub. It says
// how much of it is still of full grade at the end of each month. What of it the contract takes is settled
// at the desk.
type hubStore struct {
	*given

	lots     []hubLot
	air      []stalk.StillAir // by day
	exchange exchange

	months int
	still  []int     // by monthly pair, see stillAt
	first  []float64 // share of the hub's opening stock still of full grade at the end of each month
}

// hubLot is the good stalks of one collection of a site.
type hubLot struct {
	month   int // of the season in which they arrived; openingLot for the stock of the first day
	arrived int // accepted at the gate
	atFirst float64
	kept    float64 // share of full grade when last graded; atFirst when they arrived
	state   stalk.State
	livedH  float64 // time up to which they have lived
}

// openingLot is the month of the stock of the first day.
const openingLot = -1

// stillAt returns the place of the stalks of a month of arrival that are of full grade at the
// end of a month, the same or a later one, in a list of all such pairs of so many months.
func stillAt(months, arrival, end int) int {
	return arrival*months - arrival*(arrival-1)/2 + end - arrival
}

// stillPairs is the length of such a list.
func stillPairs(months int) int { return months * (months + 1) / 2 }

// begin opens the season with the stock at the hub, which lies there at the finishing moisture,
// without mould and past the hours in which none grows.
func (h *hubStore) begin(g *given, months int) {
	h.given, h.months = g, months
	h.lots, h.air = h.lots[:0], g.season.hubAirOf(g.region)
	h.exchange = g.p.exchangeOf(g.region.Hub.SealedStore)
	h.still = append(h.still[:0], make([]int, stillPairs(months))...)
	h.first = append(h.first[:0], make([]float64, months)...)
	state := g.freshState()
	state.Moisture, state.AgeH = g.p.Cabinet.Target.DryBasis(), g.p.Stalk.LivingH
	h.lots = append(h.lots, hubLot{month: openingLot, atFirst: 1, kept: 1, state: state})
}

// put lays the accepted stalks of a collection down as one lot.
func (h *hubStore) put(nowH float64, month, accepted int, state stalk.State) {
	if accepted == 0 {
		return
	}
	full := h.grades.full(state.PeakIndex)
	h.lots = append(h.lots, hubLot{month, accepted, full, full, state, nowH})
}

// closeMonth lets all lots live to the end of day last and grades them: what has mould beyond full
// grade is no longer counted.
func (h *hubStore) closeMonth(month, last int) {
	for i := range h.lots {
		l := &h.lots[i]
		h.live(l, last)
		l.kept = min(l.kept, h.grades.full(l.state.PeakIndex))
		if l.month == openingLot {
			h.first[month] = l.kept
		} else if l.atFirst > 0 {
			h.still[stillAt(h.months, l.month, month)] += int(math.Round(float64(l.arrived) * l.kept / l.atFirst))
		}
	}
}

// live lets a lot lie in the air of the hub to the end of a day, day by day.
func (h *hubStore) live(l *hubLot, last int) {
	for day := int(l.livedH / 24); day <= last; day++ {
		end := float64(24 * (day + 1))
		hours := end - l.livedH
		l.state.Settle(&h.air[day], h.exchange.takenUp(hours), hours, &h.p.Stalk)
		l.livedH = end
	}
}

// Kept is what becomes of stalks at the hub in a season, were none delivered.
type Kept struct {
	// Still holds, for each month of arrival and each month from it on, the accepted stalks
	// still of full grade at that month's end: those of the first month of arrival for all
	// months, then those of the second from the second on, and so on. nil: all keep.
	Still []int
	// Opening holds the share of the hub's opening stock still of full grade at the end of
	// each month. nil: all of it.
	Opening []float64
}

// Add adds the stalks of another site; the share of the opening stock is that of the hub.
func (k *Kept) Add(o Kept) {
	if k.Still == nil {
		k.Still = make([]int, len(o.Still))
	}
	for i, n := range o.Still {
		k.Still[i] += n
	}
	k.Opening = o.Opening
}

// shelf is what lies at the hub, by month of arrival, while months are served.
type shelf struct {
	stock []int // the opening stock, then by month of arrival
	kept  Kept
	n     int // months
}

// spoil takes off what has come to less than full grade in a month and returns how many that
// is. Of what arrived together the same part spoils, delivered or not.
func (s *shelf) spoil(month int, accepted []int) (spoiled int) {
	if s.kept.Opening != nil {
		before := 1.0
		if month > 0 {
			before = s.kept.Opening[month-1]
		}
		spoiled += s.lose(0, s.kept.Opening[month], before)
	}
	if s.kept.Still == nil {
		return spoiled
	}
	for k := range month + 1 {
		before := accepted[k]
		if k < month {
			before = s.kept.Still[stillAt(s.n, k, month-1)]
		}
		spoiled += s.lose(k+1, float64(s.kept.Still[stillAt(s.n, k, month)]), float64(before))
	}
	return spoiled
}

// lose takes off a place of the shelf what has spoiled, so that still of before are left.
func (s *shelf) lose(at int, still, before float64) int {
	if !(still < before) {
		return 0
	}
	left := int(math.Round(float64(s.stock[at]) * still / before))
	lost := s.stock[at] - left
	s.stock[at] = left
	return lost
}

// drop takes the youngest stalks off the shelf, so many, as if they had never come.
func (s *shelf) drop(stalks int) {
	for at := len(s.stock) - 1; at >= 0 && stalks > 0; at-- {
		n := min(s.stock[at], stalks)
		s.stock[at] -= n
		stalks -= n
	}
}

// take takes stalks off the shelf, at most so many, of the oldest first, and returns how many.
func (s *shelf) take(most int) (taken int) {
	for at := range s.stock {
		n := min(s.stock[at], most-taken)
		s.stock[at] -= n
		taken += n
	}
	return taken
}
