package sim

import (
	"math"

	"drystalk/sim/stalk"
)

// Spreading says how thick stalks lie on the racks.
type Spreading int

// The ways of spreading.
const (
	SpreadAtFullLoad   Spreading = iota // as thick as Site.LoadingKgPerM2 says, however much rack is free
	SpreadOverFreeRack                  // over the whole rack of a kind, no thinner than Yard.LeastLoadingKgPerM2
)

// stepOfLoad is about how much thicker a load is than the next thinner one: stalks are spread
// again only for a change of that much, and batches that were laid alike stay alike, since loads
// are few. Assumption.
const stepOfLoad = 1.15

// fullLoad returns the load at which a rack is full on day d, fresh kg/m²: in a wet week another
// where the site states one. The week is that of the seven days before.
func (y *yard) fullLoad(d int) float64 {
	if wet := y.site.LoadingInWetWeeksKgPerM2; wet > 0 && y.season.rainOfWeekBefore(d) >= y.region.Yard.WetWeekMM {
		return wet
	}
	return y.site.LoadingKgPerM2
}

// rainOfWeekBefore returns the rain of the seven days before day d, mm.
func (s *Season) rainOfWeekBefore(d int) float64 {
	if d == 0 {
		return 0
	}
	return weekMM(s.Days, min(d, len(s.Days))-1)
}

// m2PerStalk returns the rack that one stalk takes at full load, m²; less once pre-dried,
// when batches are closed up.
func (y *yard) m2PerStalk(predried bool) float64 { return y.m2PerStalkAt(y.fullKgPerM2, predried) }

// m2PerStalkAt returns the rack that one stalk takes at a load, m².
func (y *yard) m2PerStalkAt(freshKgPerM2 float64, predried bool) float64 {
	m2 := y.p.Stalk.FreshG / 1000 / freshKgPerM2
	if predried {
		m2 *= y.p.Stalk.AreaAfterPredry
	}
	return m2
}

// takesM2 returns the rack that a batch takes from others, m². Stalks that lie thin because the
// rack was free are closed up to the full load where others need the place.
func (y *yard) takesM2(b *batch) float64 {
	load := b.kgPerM2
	if y.region.Yard.Spreading == SpreadOverFreeRack {
		load = y.fullKgPerM2
	}
	return float64(b.stalks) * y.m2PerStalkAt(load, b.state.Predried)
}

// evenOut spreads the stalks of each kind of rack over the whole of it, where that is the rule
// and the day is one of the times for it: at a round, and when stalks were laid.
func (y *yard) evenOut() {
	if !y.uneven {
		return
	}
	y.uneven = false
	for at := clearRack; at < heap; at++ {
		load, fits := y.loadOf(at)
		for i := range y.batches {
			if b := &y.batches[i]; fits && b.at == at && (b.fresh || b.kgPerM2 != load) {
				y.spreadAgain(b, load)
			}
		}
	}
}

// loadOf returns the load at which the stalks on a kind of rack lie over the whole of it, fresh
// kg/m²: the thinnest step that leaves room for all. It tells whether they fit; where a wet week
// asks for a thinner load than there is room for, stalks stay as they lie.
func (y *yard) loadOf(at place) (load float64, fits bool) {
	used := 0.0
	for i := range y.batches {
		if b := &y.batches[i]; b.at == at {
			used += y.takesM2(b)
		}
	}
	full, least := y.fullKgPerM2, y.leastLoad()
	steps := max(1, math.Round(math.Log(full/least)/math.Log(stepOfLoad)))
	for k := steps; k >= 0; k-- {
		load = full * math.Pow(least/full, k/steps)
		if used*full <= load*y.site.areaM2(at) {
			return load, used > 0
		}
	}
	return 0, false
}

// leastLoad returns the load below which stalks are spread no thinner today, fresh kg/m².
func (y *yard) leastLoad() float64 {
	least := y.region.Yard.LeastLoadingKgPerM2
	if least == 0 {
		least = y.p.Stalk.LayerKgPerM2
	}
	return min(y.fullKgPerM2, least)
}

// spreadAgain spreads a batch at a load. Its stalks keep their water: the film is the thinner the
// more area it lies on, and what is more than clings drips off.
func (y *yard) spreadAgain(b *batch, load float64) {
	before := y.film(b)
	thinner := y.p.Stalk.DryLoadKgPerM2(load) / y.p.Stalk.DryLoadKgPerM2(b.kgPerM2)
	b.state.FilmKgPerM2 = min(y.p.Stalk.FilmMM, b.state.FilmKgPerM2*thinner)
	y.exchanged(b, b.stalks)
	b.gave = stalk.Exchange{}
	b.kgPerM2, b.fresh, b.path = load, false, nil
	y.water.Shed += y.dryKg(b.stalks) * (before - y.film(b))
	y.laidM2 += float64(b.stalks) * y.m2PerStalkAt(load, b.state.Predried)
}
