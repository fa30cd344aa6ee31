package sim

import (
	"math"
	"slices"

	"drystalk/sim/stalk"
)

// lot is dry full-grade stalks lying in the site store.
type lot struct {
	stalks int
	kept   float64
	state  stalk.State
	sinceH float64 // time up to which the lot has lived
}

// putInStore adds full-grade stalks to the store. Stalks that come in at the
// same round or unloading lie together: moisture and index become the mean by
// stalks (all of one dry mass). All of them are of full grade now, so the share
// kept is what a grading at the joint index would keep.
func (y *siteSeason) putInStore(stalks int, s stalk.State) {
	if stalks == 0 {
		return
	}
	now := y.engine.NowH()
	if n := len(y.store); n > 0 && y.store[n-1].sinceH == now {
		l := &y.store[n-1]
		w := float64(stalks) / float64(stalks+l.stalks)
		l.state.Moisture += stalk.DryBasis(w) * (s.Moisture - l.state.Moisture)
		l.state.MouldIndex += w * (s.MouldIndex - l.state.MouldIndex)
		l.state.PeakIndex += w * (s.PeakIndex - l.state.PeakIndex)
		l.state.StillH += w * (s.StillH - l.state.StillH)
		l.state.AgeH += w * (s.AgeH - l.state.AgeH)
		l.stalks += stalks
		l.kept = stalk.FullShare(l.state.PeakIndex, y.p.Stalk.MouldSpread)
		return
	}
	kept := stalk.FullShare(s.PeakIndex, y.p.Stalk.MouldSpread)
	y.store = append(y.store, lot{stalks, kept, s, now})
}

func (y *siteSeason) inStore() int {
	n := 0
	for i := range y.store {
		n += y.store[i].stalks
	}
	return n
}

// storeRoom returns how many stalks the site store still takes.
func (y *siteSeason) storeRoom() int {
	if y.site.StoreStalks == 0 {
		return math.MaxInt
	}
	return max(0, y.site.StoreStalks-y.inStore())
}

// ageStore lets the lots live up to now in the mean air of day d.
func (y *siteSeason) ageStore(d int) {
	exchange := y.p.StoreExchangeOpenPerH
	if y.site.SealedStore {
		exchange = y.p.StoreExchangeSealedPerH
	}
	now := y.engine.NowH()
	for i := range y.store {
		l := &y.store[i]
		if now > l.sinceH {
			y.water.Evaporated -= y.dryKg(l.stalks) * l.state.Still(&y.storeAir[d], exchange, now-l.sinceH, &y.p.Stalk)
			l.sinceH = now
		}
	}
}

// roadShut tells whether the rain of the last three days keeps the vehicle away.
func (y *siteSeason) roadShut(d int) bool {
	limit := y.region.Road.ClosedAboveMM
	if !(limit > 0) {
		return false
	}
	return y.season.threeDaysMM(d) > limit
}

// returnDamp puts lots that are too wet for the gate back on a rack. A rule of the trade;
// a lot at the limit itself is taken.
func (y *siteSeason) returnDamp(d int) {
	limit := y.region.Road.MoistureLimit
	if !(limit > 0) {
		return
	}
	y.store = slices.DeleteFunc(y.store, func(l lot) bool {
		if l.state.Moisture.WetBasis() <= limit {
			return false
		}
		y.month.Redried += l.stalks
		l.state.Predried = true
		y.spread(d, l.stalks, l.kept, l.state)
		return true
	})
}

// collect grades the store once more and sends what is of full grade to the
// hub, where the gate takes its share.
func (y *siteSeason) collect(d int) {
	if y.roadShut(d) {
		y.month.RoadShut++
		if d+1 < y.region.Calendar.Days {
			y.engine.At(float64(24*(d+1)+collectionH), rankRound, event{collection, d + 1})
		}
		return
	}
	if n := y.inStore(); n < y.region.Road.MinimumStalks {
		if n > 0 {
			y.month.Skipped++
		}
		return
	}
	y.ageStore(d)
	y.month.Trips++
	y.people.work(y.region.People.CollectionH, &y.month.Tasks.Collection)
	y.returnDamp(d)
	sent := 0
	for i := range y.store {
		l := &y.store[i]
		l.stalks = y.people.grade(l.stalks, &l.kept, &l.state)
		if room := y.region.Road.VehicleStalks; room > 0 && sent+l.stalks > room {
			break // the vehicle is full: the rest waits, graded when it goes
		}
		sent += l.stalks
		y.left(l.stalks, l.state.Moisture)
		l.stalks = 0
	}
	y.store = slices.DeleteFunc(y.store, func(l lot) bool { return l.stalks == 0 })
	accepted := int(math.Round(float64(sent) * y.accepted))
	y.month.ToHub += sent
	y.month.RefusedAtGate += sent - accepted
	y.own += float64(accepted)
}
