package ahead

import (
	"math"

	"drystalk/sim"
	"drystalk/tongue"
)

// Key names a way of working on from today.
type Key string

// The ways, in the order in which they are told.
const (
	AsNow     Key = "as_now"
	Evening   Key = "evening_fires" // shifts end at 22 h
	NightFire Key = "night_fires"   // shifts run until the next begins
	StopCut   Key = "stop_cutting"  // nobody cuts for StopDays
	ShipEarly Key = "ship_early"    // twice as many collections
	RentDryer Key = "rent_dryer"    // one more dryer from outside for the rest of the season
)

// StopDays is how long nobody cuts where cutting is stopped. Assumption: a week is what people agree to.
const StopDays = 7

// way is a way of working on: what it changes in the region, and whether it is another than now.
type way struct {
	key   Key
	night bool // only with the word of those who tend the fire
	apply func(r *sim.Region, q *Question) bool
}

// table are all ways but as now.
var table = []way{
	{key: Evening, apply: func(r *sim.Region, _ *Question) bool { return shiftsUntil(r, sim.NightFromH) }},
	{key: NightFire, night: true, apply: func(r *sim.Region, _ *Question) bool { return shiftsUntil(r, 24+sim.NightToH) }},
	{key: StopCut, apply: stopCutting},
	{key: ShipEarly, apply: shipEarly},
	{key: RentDryer, apply: rentDryer},
}

// shiftsUntil lets the shifts of all dryers run until an hour; false where they do already, or there
// is no dryer.
func shiftsUntil(r *sim.Region, endH float64) bool {
	changed := false
	for i := range r.Sites {
		s := &r.Sites[i]
		if longer := endH - r.Dryer.ShiftEndH; s.Dryers+r.Coming(i) > 0 && longer > s.LongerShiftH {
			s.LongerShiftH, changed = longer, true
		}
	}
	return changed
}

// stopCutting closes all stands for a week from today.
func stopCutting(r *sim.Region, _ *Question) bool {
	from := r.Start.Day
	for i := range r.Sites {
		r.Sites[i].Closed = append(r.Sites[i].Closed, sim.Closure{Why: tongue.Say("cutting is stopped"), FirstDay: from, LastDay: min(from+StopDays, r.Calendar.Days) - 1})
	}
	return true
}

// mostCollections is the most collections a month that are tried.
const mostCollections = 8

// shipEarly doubles the collections of a month; false where there are many already.
func shipEarly(r *sim.Region, _ *Question) bool {
	now := r.Hub.CollectionsPerMonth
	r.Hub.CollectionsPerMonth = min(2*now, mostCollections)
	return r.Hub.CollectionsPerMonth > now
}

// rentDryer puts one more dryer up at the site that was found best for it; false where there is none.
func rentDryer(r *sim.Region, q *Question) bool {
	if q.rentAt < 0 {
		return false
	}
	oneMore(r, q.rentAt, q.RentReadyDays)
	return true
}

// oneMore puts one more dryer up at a site, ready in some days.
func oneMore(r *sim.Region, site, readyDays int) {
	r.Sites[site].Dryers++
	at := &r.Start.Sites[site]
	at.New, at.NewOnDay = 1, r.Start.Day+readyDays
}

// mostRentSites is at how many sites at most a rented dryer is tried: those that cut most.
const mostRentSites = 4

// rentSites returns the sites at which a rented dryer is tried, those with the largest output for each
// dryer that stands first.
func rentSites(r *sim.Region) []int {
	var out []int
	left := make([]float64, len(r.Sites))
	for i := range r.Sites {
		s := &r.Sites[i]
		left[i] = float64(s.Cutters) * s.OutputPerPersonH * s.CuttingHPerDay / float64(1+s.Dryers)
	}
	for range min(mostRentSites, len(left)) {
		best := 0
		for i := range left {
			if left[i] > left[best] {
				best = i
			}
		}
		out = append(out, best)
		left[best] = math.Inf(-1)
	}
	return out
}
