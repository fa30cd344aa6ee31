package sim

import "math"

// ordinaryCut returns the stalks that a day without luck would bring.
func (y *siteSeason) ordinaryCut() int { return y.cutOf(1) }

func (y *siteSeason) cutOf(luck float64) int {
	s := y.site
	hours := float64(s.Cutters) * s.CuttingHPerDay
	return int(math.Round(hours * s.OutputPerPersonH * y.p.OutputFactor * luck))
}

// decideCut settles in the morning of day d how many stalks will be cut. A day
// of much rain, a share already fulfilled and a full yard each stop it; the
// stalks that could have been cut are booked under the first of these.
func (y *siteSeason) decideCut(d int) int {
	if rest := y.region.Yard.RestEveryDays; rest > 0 && d%rest == rest-1 {
		return 0
	}
	could := y.cutOf(y.season.Output[y.index][d])
	switch {
	case y.season.Days[d].RainMM > y.region.Yard.MaxCutRainMM:
		y.month.NotCutRain += could
		return 0
	case y.hasItsShare():
		y.month.NotCutTarget += could
		return 0
	}
	// Nobody cuts into a rotting heap: the yard takes what the racks hold and
	// one day's overflow.
	room := y.roomForFresh() + max(0, y.ordinaryCut()-y.inHeap())
	cut := min(could, room)
	y.month.NotCutYardFull += could - cut
	if cut > 0 {
		y.month.WorkDays++
	}
	return cut
}

// hasItsShare tells whether the site has, finished, its share of this month's
// contract and of the stock wanted ahead. Stalks still drying do not count:
// counting them would make a further dryer stop the cutting.
func (y *siteSeason) hasItsShare() bool {
	month := y.spans[y.monthIndex].Month
	c := y.region.Contract
	wanted := y.share * float64(c.StalksByMonth[month]+c.TargetStock[month])
	finished := y.own + float64(y.inStore())*y.p.AcceptedShare
	return finished >= wanted
}
