package sim

import (
	"slices"
	"sync"
	"sync/atomic"

	"drystalk/sim/air"
	"drystalk/sim/stalk"
)

// covers are what the hours of a season do to stalks at each place. Of many days nobody asks, of most
// under a heap, so a day is worked out when somebody first lies through it. Several runners may
// live through one season at the same time.
type covers struct {
	air   []air.Hour
	stalk stalk.Properties
	yard  Yard // whose people pull the sheets
	of    [places]stalk.Cover
	racks []place // that a site has, in order; the sheeted last

	hours [places][]stalk.Hour // none of a place that no site has

	mutex sync.Mutex
	known [2][]atomic.Bool // by day: of the racks, and of the heap
}

// prepare forgets the season before and keeps its memory.
func (c *covers) prepare(hours []air.Hour, p *Parameters, regions []*Region) {
	c.air, c.stalk, c.yard, c.racks = hours, p.Stalk, regions[0].Yard, c.racks[:0]
	c.of = [places]stalk.Cover{
		clearRack: stalk.ClearRoof(p.ClearRoofSunFactor),
		openRack:  stalk.OpenRack(),
		solidRack: stalk.SolidRoof(p.SolidRoofSunFactor, p.SolidRoofAirFactor),
		heap:      stalk.Heap(),
		sheeted:   stalk.OpenRack(),
	}
	for at := range places {
		n := 0
		if slices.ContainsFunc(regions, func(r *Region) bool { return r.uses(at) }) {
			n = len(hours)
			if at != heap {
				c.racks = append(c.racks, at)
			}
		}
		c.hours[at] = slices.Grow(c.hours[at][:0], n)[:n]
	}
	for k := range c.known {
		c.known[k] = unknown(c.known[k], len(hours)/24)
	}
}

// between returns what the hours from one on to another do to stalks at a place.
func (c *covers) between(at place, from, to int) []stalk.Hour {
	known := c.known[0]
	if at == heap {
		known = c.known[1]
	}
	for d := from / 24; 24*d < to; d++ {
		if !known[d].Load() {
			c.workOut(at, d, &known[d])
		}
	}
	return c.hours[at][from:to]
}

// workOut works out a day of a heap or of all racks.
func (c *covers) workOut(at place, d int, known *atomic.Bool) {
	c.mutex.Lock()
	defer c.mutex.Unlock()
	if known.Load() {
		return
	}
	for i := 24 * d; i < 24*d+24; i++ {
		if at == heap {
			c.hours[heap][i] = stalk.NewHour(&c.air[i], c.of[heap], &c.stalk)
		} else {
			c.underRacks(i)
		}
	}
	known.Store(true)
}

// underRacks works out an hour under every kind of rack. Those of an hour without sun share all but
// evaporation and rain.
func (c *covers) underRacks(i int) {
	var open stalk.Open
	open.In(&c.air[i])
	sun := c.air[i].RadiationMJPerM2 > 0
	for k, at := range c.racks {
		cover := &c.of[at]
		if at == sheeted && sheetOver(c.air, i, &c.yard) {
			over := stalk.Sheet()
			cover = &over
		}
		if k > 0 && !sun {
			open.UnderNoSun(cover, &c.stalk, &c.hours[c.racks[0]][i], &c.hours[at][i])
		} else {
			open.Under(cover, &c.stalk, &c.hours[at][i])
		}
	}
}

// withoutSun returns the air outside in an hour in which no sun shines, and the drying rate of a stalk in
// it, 1/h, from the table of any rack; false where there is none.
func (c *covers) withoutSun(hour int) (a stalk.StillAir, dryingRatePerH float64, ok bool) {
	if len(c.racks) == 0 || c.air[hour].RadiationMJPerM2 > 0 {
		return a, 0, false
	}
	h := &c.between(c.racks[0], hour, hour+1)[0]
	a, dryingRatePerH = h.WithoutSun()
	return a, dryingRatePerH, true
}

// sheetOver tells whether sheets lie over the racks in hour i: in the rain, once it has
// rained for the hours it takes to pull them, for the hour after, and at night where they
// lie there every night.
func sheetOver(hours []air.Hour, i int, yard *Yard) bool {
	if h := i % 24; yard.SheetsAtNight && (h < morningH || h >= collectionH) {
		return true
	}
	if !(hours[i].RainMM > 0) {
		return i > 0 && hours[i-1].RainMM > 0
	}
	for k := 1; k <= yard.SheetReactionH; k++ {
		if i < k || !(hours[i-k].RainMM > 0) {
			return false
		}
	}
	return true
}
