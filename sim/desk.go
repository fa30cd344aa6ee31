package sim

import (
	"math"
	"slices"
)

// Speaks is when the hub tells the sites whether more is wanted.
type Speaks int

// When the hub speaks.
const (
	SpeaksDaily         Speaks = iota // every evening, to all sites alike
	SpeaksAtCollections               // to a site only when the vehicle comes for a collection: each may bring all that is missing
	SpeaksByCutters                   // each site has its fixed share, by its cutters' output, and counts for itself
)

// Coupled tells whether what one site does depends on what others bring: then a plan is lived
// through whole.
func (r *Region) Coupled() bool { return len(r.Sites) > 1 && r.Hub.Speaks != SpeaksByCutters }

// desk is where it is known what lies at the hub and what is wanted: of all sites of a plan, or
// where each has its share of one site.
type desk struct {
	region *Region
	spans  []Span
	gate   Gate
	target []int // by month of the season: stock wanted ahead
	share  float64
	rests  bool // false: it never says that there is enough

	sites    []*siteSeason
	enough   bool // said last, to all sites alike
	months   []HubMonth
	shelf    shelf
	accepted []int // by month
	stock    int   // that lies at the hub

	dry, taken int // at all collections so far: lay dry in the stores, accepted at the gate
}

// begin opens the season of a desk that knows a share of contract, stock and room.
func (k *desk) begin(run *Runner, share float64, rests bool) {
	r := run.region
	k.region, k.spans, k.share, k.rests, k.sites = r, run.spans, share, rests, k.sites[:0]
	k.gate = run.gate
	k.gate.Opening = part(share, run.gate.Opening)
	k.gate.Asked, k.gate.Least, k.target = k.gate.Asked[:0:0], k.gate.Least[:0:0], k.target[:0]
	last := run.gate.LastAsked()
	for m, asked := range run.gate.Asked {
		asked = part(share, asked)
		ahead := 0
		if m < last {
			ahead = part(share, r.Contract.TargetStock[run.gate.Months[m]])
		}
		k.gate.Asked, k.gate.Least = append(k.gate.Asked, asked), append(k.gate.Least, r.Contract.Least(asked))
		k.target = append(k.target, ahead)
	}
	n := len(k.spans)
	k.months = append(k.months[:0], make([]HubMonth, n)...)
	k.accepted = append(k.accepted[:0], make([]int, n)...)
	k.shelf = shelf{append(k.shelf.stock[:0], k.gate.Opening), Kept{
		append(k.shelf.kept.Still[:0], make([]int, stillPairs(n))...), append(k.shelf.kept.Opening[:0], make([]float64, n)...),
	}, n}
	k.stock, k.dry, k.taken, k.enough = k.gate.Opening, 0, 0, false
	k.takeUp(run)
}

// part returns a share of some stalks, rounded.
func part(share float64, stalks int) int { return int(math.Round(share * float64(stalks))) }

// room returns how many accepted stalks the hub still takes from the sites of this desk.
func (k *desk) room() int {
	if k.region.Hub.StoreStalks == 0 {
		return math.MaxInt
	}
	return max(0, int(k.share*float64(k.region.Hub.StoreStalks))-k.stock)
}

// arrive books what lay dry at a site before a collection took it, and what the gate took of it.
func (k *desk) arrive(month, dry, taken int) {
	k.dry += dry
	k.taken += taken
	k.accepted[month] += taken
	k.stock += taken
}

// evening is what happens after day d before the hub speaks of the next day: a month that ends is served.
func (k *desk) evening(d int) {
	if d < k.region.Start.Day {
		return
	}
	k.comesOn(d)
	for m := range k.spans {
		if k.spans[m].LastDay == d {
			k.serve(m)
		}
	}
}

// serve serves month m from what all sites have at the hub.
func (k *desk) serve(m int) {
	kept := &k.shelf.kept
	for i, y := range k.sites {
		hub := &y.lives().road.hub
		if i == 0 {
			kept.Opening[m] = hub.first[m]
		}
		for arrival := range m + 1 {
			at := stillAt(hub.months, arrival, m)
			kept.Still[at] += hub.still[at]
		}
	}
	k.gate.serve(k.months, m, 0, &k.shelf, k.accepted)
	k.stock = k.months[m].Closing
}

// speak says to the sites whether more is wanted on day d; begins says that the season does. A hub that
// speaks at collections alone speaks to those sites to which the vehicle came the day before. What is
// said to all alike they hear (tell) when it is known who of them live for others.
func (k *desk) speak(d int, begins bool) {
	m := slices.IndexFunc(k.spans, func(s Span) bool { return s.FirstDay <= d && d <= s.LastDay })
	switch {
	case m < 0:
	case !k.rests:
		k.enough = false
	case k.region.Hub.Speaks == SpeaksAtCollections:
		missing := k.missing(m)
		for _, y := range k.sites {
			if begins || y.road.calledOn == d-1 {
				y.road.hear(missing, y.store.stalks())
			}
			y.road.enough = y.road.brought(y.store.stalks())*k.acceptedShare() >= y.road.missing
		}
	default:
		k.enough = k.missing(m) <= 0
	}
}

// tell has the sites hear what is said to all alike.
func (k *desk) tell() {
	if k.rests && k.region.Hub.Speaks == SpeaksAtCollections {
		return // each has heard what it was told
	}
	for _, y := range k.sites {
		y.road.enough = k.enough
	}
}

// missing returns how many good stalks are wanted in month m beyond what lies at the hub and,
// by the accepted share, dry at the sites: for the month with what is owed of the last, and for the
// stock ahead.
func (k *desk) missing(m int) float64 {
	wanted := k.gate.Asked[m] + k.target[m]
	if k.gate.Grace && m > 0 && !k.months[m-1].Met {
		wanted += k.months[m-1].Asked - k.months[m-1].Delivered
	}
	dry := 0
	for _, y := range k.sites {
		dry += y.lives().store.stalks()
	}
	return float64(wanted-k.stock) - float64(dry)*k.acceptedShare()
}

// acceptedShare returns the share of what lay dry in the stores that came to be accepted at all
// collections so far; before the first the share of the gate that is stated.
func (k *desk) acceptedShare() float64 {
	if k.dry > 0 {
		return float64(k.taken) / float64(k.dry)
	}
	s := k.sites[0].season
	if s.StatedShare > 0 {
		return s.StatedShare
	}
	return s.Parameters.AcceptedShare
}
