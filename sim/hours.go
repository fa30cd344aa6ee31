package sim

import "math"

// putUp readies the dryers of the site for the season: its own, of which some may
// leave for other sites, and those that come.
func (ds *dryers) putUp(own int) {
	gone, come := ds.moves()
	n := own + len(come)
	for len(ds.cabinets) < n {
		ds.cabinets = append(ds.cabinets, dryer{})
	}
	ds.cabinets = ds.cabinets[:n]
	for i := range ds.cabinets {
		ds.cabinets[i] = dryer{charge: ds.cabinets[i].charge[:0], goneH: never, why: DryerNoStalks}
		d := &ds.cabinets[i]
		if luck := ds.luck(i); luck != nil && luck.Out {
			d.worksAtH = never
		}
		if i < own {
			d.readyH = 24 * float64(ds.region.Dryer.ReadyAfterDays)
		} else { // on its way from the day it leaves the other site
			d.bookedH, d.readyH = 24*come[i-own].leaves, 24*come[i-own].works
		}
	}
	for k, day := range gone { // the last of its own leaves first
		if i := own - 1 - k; i >= 0 {
			ds.cabinets[i].goneH = 24 * day
		}
	}
}

// comes is a dryer on its way to a site, in days of the season.
type comes struct{ leaves, works float64 }

// moves returns the days on which dryers leave the site, and those that come here.
func (ds *dryers) moves() (gone []float64, come []comes) {
	for i := range ds.region.Moves {
		m := &ds.region.Moves[i]
		if m.From == ds.site.Name {
			gone = append(gone, float64(m.Day))
		}
		if m.To == ds.site.Name {
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
func (ds *dryers) idle(n int, why DryerState, nowH float64) {
	if d := &ds.cabinets[n]; d.why != why {
		ds.bookHours(n, nowH)
		d.why = why
	}
}

// bookHours writes the shift hours of a dryer up to a time into the ledger of the month.
// The hours of a charge are known from its times, those of a free dryer from why it stands.
func (ds *dryers) bookHours(n int, toH float64) {
	d := &ds.cabinets[n]
	if toH = min(toH, d.goneH); !(toH > d.bookedH) {
		return
	}
	ds.bookUntil(d, min(d.readyH, toH), DryerNotReady)
	if len(d.charge) == 0 {
		ds.bookUntil(d, min(d.worksAtH, toH), DryerBroken)
		ds.bookUntil(d, toH, d.why)
		return
	}
	handledH := ds.hoursUntil(d, min(d.lightH, toH))
	ds.bookUntil(d, min(d.fireOutH, toH), DryerFiring)
	ds.bookUntil(d, min(d.coldFromH, toH), DryerCooling)
	ds.bookUntil(d, min(d.unloadedH-ds.region.Dryer.HandlingH, toH), DryerWaiting)
	ds.bookHoursOf(d, handledH+ds.hoursUntil(d, min(d.unloadedH, toH)), DryerHandling)
}

// bookUntil books the shift hours of a dryer up to a time that are not booked yet.
func (ds *dryers) bookUntil(d *dryer, toH float64, s DryerState) {
	ds.bookHoursOf(d, ds.hoursUntil(d, toH), s)
}

// hoursUntil returns the shift hours of a dryer up to a time that are not booked yet, to be booked now.
func (ds *dryers) hoursUntil(d *dryer, toH float64) (hours float64) {
	if toH > d.bookedH {
		hours = ds.shiftHours(d.bookedH, toH)
		d.bookedH = toH
	}
	return hours
}

// bookHoursOf books hours of a dryer in a state.
func (ds *dryers) bookHoursOf(d *dryer, hours float64, s DryerState) {
	if hours != 0 {
		ds.month.Shift[s] += hours
		d.spent[s] += hours
	}
}

// bookAll books the hours of all dryers up to the end of the day, which is the last minute.
func (ds *dryers) bookAll(nowH float64) {
	for n := range ds.cabinets {
		ds.bookHours(n, math.Ceil(nowH)) // to midnight
	}
	ds.month.IdleH = ds.month.Shift.Idle()
}

// closeMonth books the hours of a month that ends with the day, in which dryers that are out
// for the season were broken.
func (ds *dryers) closeMonth(span *Span, nowH float64) {
	ds.bookAll(nowH)
	shiftH := ds.shiftEndH() - ds.region.Dryer.ShiftStartH
	for i := range ds.cabinets {
		if ds.cabinets[i].worksAtH == never {
			ds.month.BrokenH += float64(span.LastDay-span.FirstDay+1) * shiftH
		}
	}
}

// each returns how each dryer spent its shift hours, good until the next season.
func (ds *dryers) each() []DryerHours {
	ds.spent = ds.spent[:0]
	for i := range ds.cabinets {
		ds.spent = append(ds.spent, ds.cabinets[i].spent)
	}
	return ds.spent
}

// The night, hours of the day. ILO Night Work Convention C171 (from memory): at least
// seven consecutive hours with those from midnight to five.
const (
	NightFromH = 22
	NightToH   = 6
)

// nightHours returns the hours of night between two times.
func nightHours(fromH, toH float64) float64 {
	sum := 0.0
	for day := math.Floor(fromH/24) - 1; day <= math.Floor(toH/24); day++ {
		sum += max(0, min(toH, 24*(day+1)+NightToH)-max(fromH, 24*day+NightFromH))
	}
	return sum
}
