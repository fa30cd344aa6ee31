package sim

import "drystalk/sim/stalk"

// Loaded is a charge that was loaded on the day on which the season is taken up.
type Loaded struct {
	AtH     float64 // hour of that day at which loading began
	Room    bool    // fired because the yard wanted room; else because stalks were at risk of mould
	Of      []LoadedOf
	DryingH float64
	WoodKg  float64
}

// LoadedOf is the part of a charge that is of one batch.
type LoadedOf struct {
	Stalks int
	CutDay int // of the season
	Wet    stalk.DryBasis
}

// watches tells whether what is loaded now is noted: on the day on which the season is taken up.
func (y *siteSeason) watches() bool {
	return y.region.Start.Stated() && int(y.engine.NowH())/24 == y.region.Start.Day
}

// beginLoad notes that a charge is loaded, and why.
func (y *siteSeason) beginLoad() {
	if y.watches() {
		y.loaded = append(y.loaded, Loaded{AtH: y.engine.NowH() - float64(24*y.region.Start.Day), Room: y.yard.short()})
	}
}

// noteDrawn notes what the charge being loaded has of the k-th batch of the order.
func (y *siteSeason) noteDrawn(k int, l *lot) {
	if y.watches() && l.stalks > 0 {
		c := &y.loaded[len(y.loaded)-1]
		c.Of = append(c.Of, LoadedOf{l.stalks, y.yard.batches[y.yard.order[k]].cutDay, l.state.Moisture})
	}
}

// noteLit notes the hours and the wood of the charge that was lit.
func (y *siteSeason) noteLit(d *dryer) {
	if y.watches() {
		c := &y.loaded[len(y.loaded)-1]
		c.DryingH, c.WoodKg = d.dryingH, d.woodKg
	}
}

// Stalks returns the stalks of the charge.
func (c *Loaded) Stalks() int {
	n := 0
	for i := range c.Of {
		n += c.Of[i].Stalks
	}
	return n
}
