package sim

import "math"

// putUpDryers readies the dryers of the site for the season: its own, of which some may
// leave for other sites, and those that come.
func (y *siteSeason) putUpDryers(own int) {
	gone, come := y.movesOf()
	n := own + len(come)
	for len(y.dryers) < n {
		y.dryers = append(y.dryers, dryer{})
	}
	y.dryers = y.dryers[:n]
	for i := range y.dryers {
		y.dryers[i] = dryer{charge: y.dryers[i].charge[:0], goneH: math.Inf(1), why: DryerNoStalks}
		d := &y.dryers[i]
		if luck := y.dryerLuck(i); luck != nil && luck.Out {
			d.worksAtH = math.Inf(1)
		}
		if i < own {
			d.readyH = 24 * float64(y.region.Dryer.ReadyAfterDays)
		} else { // on its way from the day it leaves the other site
			d.bookedH, d.readyH = 24*come[i-own].leaves, 24*come[i-own].works
		}
	}
	for k, day := range gone { // the last of its own leaves first
		if i := own - 1 - k; i >= 0 {
			y.dryers[i].goneH = 24 * day
		}
	}
}

// comes is a dryer on its way to a site, in days of the season.
type comes struct{ leaves, works float64 }

// movesOf returns the days on which dryers leave the site, and those that come here.
func (y *siteSeason) movesOf() (gone []float64, come []comes) {
	for i := range y.region.Moves {
		m := &y.region.Moves[i]
		if m.From == y.site.Name {
			gone = append(gone, float64(m.Day))
		}
		if m.To == y.site.Name {
			come = append(come, comes{float64(m.Day), float64(m.Day + m.DaysLost)})
		}
	}
	return gone, come
}

// Coming returns how many dryers are brought to a site in the season.
func (r *Region) Coming(site int) int {
	n := 0
	for i := range r.Moves {
		if r.Moves[i].To == r.Sites[site].Name {
			n++
		}
	}
	return n
}

// idle says why a free dryer has no charge from now on.
func (y *siteSeason) idle(n int, why DryerState) {
	if d := &y.dryers[n]; d.why != why {
		y.bookDryer(n, y.engine.NowH())
		d.why = why
	}
}

// noNeed says why nobody wants a fire: nothing wet lies there, or the sun may do it.
func (y *siteSeason) noNeed() DryerState {
	target := y.p.Cabinet.Target.DryBasis()
	for i := range y.batches {
		if y.batches[i].state.Moisture > target {
			return DryerNotWanted
		}
	}
	return DryerNoStalks
}

// noCharge says why no charge could be put together: too few stalks for the smallest one,
// or too little time to the end of the shift.
func (y *siteSeason) noCharge() DryerState {
	good, wettest := 0, y.p.Cabinet.Target.DryBasis()
	for k, i := range y.order {
		good += y.good[k]
		wettest = max(wettest, y.batches[i].state.Moisture)
	}
	if good > 0 && float64(good) >= y.region.Dryer.MinimumFill*float64(y.capacity(wettest)) {
		return DryerNoTime
	}
	return DryerNoStalks
}

// burning returns the dryers that are being loaded or fired.
func (y *siteSeason) burning() int {
	n := 0
	for i := range y.dryers {
		if d := &y.dryers[i]; len(d.charge) > 0 && y.engine.NowH() < d.fireOutH {
			n++
		}
	}
	return n
}

// brownedShare returns the part of a charge that browns: it rises with the temperature of
// the chamber. Source of the direction: Casas et al. 2012, Science Diliman 24(2); the
// numbers are assumptions of the scenario.
func (y *siteSeason) brownedShare() float64 {
	d := &y.region.Dryer
	if !(d.BrownsAboveC > 0) {
		return 0
	}
	return min(1, max(0, y.p.Cabinet.SetC-d.BrownsAboveC)*d.BrownedPerC)
}

// bookDryer writes the shift hours of a dryer up to a time into the ledger of the month.
// The hours of a charge are known from its times, those of a free dryer from why it stands.
func (y *siteSeason) bookDryer(n int, toH float64) {
	d := &y.dryers[n]
	var h DryerHours
	toH = min(toH, d.goneH)
	from := d.bookedH
	until := func(endH float64, s DryerState) {
		if end := min(endH, toH); end > from {
			h[s] += y.shiftHours(from, end)
			from = end
		}
	}
	until(d.readyH, DryerNotReady)
	if len(d.charge) > 0 {
		until(d.lightH, DryerHandling)
		until(d.fireOutH, DryerFiring)
		until(d.coldFromH, DryerCooling)
		until(d.unloadedH-y.region.Dryer.HandlingH, DryerWaiting)
		until(d.unloadedH, DryerHandling)
	} else {
		until(d.worksAtH, DryerBroken)
		until(toH, d.why)
	}
	d.bookedH = max(d.bookedH, from)
	y.month.Shift.Add(&h)
	d.spent.Add(&h)
}

// Dryers returns how each dryer of the site-season that ran last spent its shift hours:
// those of the site first, then those that came from other sites.
func (run *Runner) Dryers() []DryerHours {
	out := make([]DryerHours, len(run.site.dryers))
	for i := range run.site.dryers {
		out[i] = run.site.dryers[i].spent
	}
	return out
}

// The night, hours of the day. ILO Night Work Convention C171 (from memory): at least
// seven consecutive hours with those from midnight to five.
const (
	nightFromH = 22
	nightToH   = 6
)

// nightHours returns the hours of night between two times.
func nightHours(fromH, toH float64) float64 {
	sum := 0.0
	for day := math.Floor(fromH/24) - 1; day <= math.Floor(toH/24); day++ {
		sum += max(0, min(toH, 24*(day+1)+nightToH)-max(fromH, 24*day+nightFromH))
	}
	return sum
}
