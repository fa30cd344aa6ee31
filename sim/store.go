package sim

import (
	"math"

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
			l.state.Still(&y.season.stores[d], exchange, now-l.sinceH, &y.p.Stalk)
			l.sinceH = now
		}
	}
}

// collect grades the store once more and sends what is of full grade to the
// hub, where the gate takes its share.
func (y *siteSeason) collect(d int) {
	y.ageStore(d)
	sent := 0
	for i := range y.store {
		l := &y.store[i]
		sent += y.grade(l.stalks, &l.kept, l.state.PeakIndex)
	}
	y.store = y.store[:0]
	accepted := int(math.Round(float64(sent) * y.p.AcceptedShare))
	y.month.ToHub += sent
	y.month.RefusedAtGate += sent - accepted
	y.own += float64(accepted)
}
