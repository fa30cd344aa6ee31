package trials

import (
	"slices"

	"drystalk/sim"
)

// Arriving adds up what sites bring to the hub in a season, and how much of it keeps there.
// The zero value is empty and may be used again after Clear.
type Arriving struct {
	accepted []int // by month
	still    []int // by month of arrival and month after, see sim.Kept; empty while all keep
}

// Clear forgets what was added and expects sites of so many months.
func (a *Arriving) Clear(months int) {
	a.accepted, a.still = append(a.accepted[:0], make([]int, months)...), a.still[:0]
}

// Add adds a site: its accepted stalks by month and, where some of them spoil at the hub, those
// still of full grade (Table.Kept).
func (a *Arriving) Add(accepted, still []int32) {
	if still != nil && len(a.still) == 0 {
		a.still = append(a.still, make([]int, len(still))...)
		addAll(a.still, a.accepted)
	}
	for k, n := range accepted {
		a.accepted[k] += int(n)
	}
	for k, n := range still {
		a.still[k] += int(n)
	}
	if still == nil && len(a.still) > 0 {
		addAll(a.still, accepted)
	}
}

// addAll adds stalks that all keep to those of their month of arrival in every month after.
func addAll[N int | int32](still []int, accepted []N) {
	at := 0
	for k := range accepted {
		for range len(accepted) - k {
			still[at] += int(accepted[k])
			at++
		}
	}
}

// Serve serves the contract into months, with the share of the hub's opening stock that keeps
// (Table.OpeningKept).
func (a *Arriving) Serve(g *sim.Gate, months []sim.HubMonth, opening []float64) {
	in := sim.Arrivals{Arrived: a.accepted, Kept: sim.Kept{Opening: opening}}
	if len(a.still) > 0 {
		in.Kept.Still = a.still
	}
	g.Serve(months, in)
}

// keptAt is where a row holds what keeps at the hub: before the dryers, of which tables may
// hold different numbers.
func keptAt(months int) int { return months*(1+len(monthly)) + figures }

// pairs is how many figures that is: for each month of arrival those from it on.
func pairs(months int) int { return months * (months + 1) / 2 }

// Kept returns how many of the good stalks that a site-season brought to the hub are still of
// full grade there at the end of each month after, in the order of sim.Kept; nil where all
// stalks of the season keep.
func (t *Table) Kept(site, dryers, i int) []int32 {
	t.bySite()
	return t.kept(site, dryers, i)
}

func (t *Table) kept(site, dryers, i int) []int32 {
	if p, k := t.part(i); !at(p.spoils, k) {
		return nil
	}
	n := len(t.gate.Months)
	return t.list(site, dryers, i, keptAt(n), pairs(n))
}

// OpeningKept returns the share of the hub's opening stock still of full grade at the end of
// each month of season i; nil where all of it keeps.
func (t *Table) OpeningKept(i int) []float64 {
	p, k := t.part(i)
	return at(p.opening, k)
}

// putKept writes what becomes at the hub of the stalks of a site-season.
func (t *Table) putKept(row []int32, i int, kept sim.Kept) {
	n, spoils := len(t.gate.Months), false
	out := row[keptAt(n) : keptAt(n)+pairs(n)]
	at := 0
	for k := range n {
		for range n - k {
			out[at] = row[k]
			if kept.Still != nil {
				out[at] = int32(kept.Still[at])
			}
			spoils = spoils || out[at] != row[k]
			at++
		}
	}
	p, season := t.part(i)
	if p.opening[season] == nil && slices.ContainsFunc(kept.Opening, func(share float64) bool { return share < 1 }) {
		p.opening[season], spoils = slices.Clone(kept.Opening), true
	}
	p.spoils[season] = p.spoils[season] || spoils
}
