package ways

import (
	"slices"

	"drystalk/sim"
	"drystalk/sim/decide"
	"drystalk/sim/trials"
)

// design is a way of working: of each lever that is offered the rung it stands on.
type design []int

// key tells designs apart.
func (d design) key() string {
	b := make([]byte, len(d))
	for i, at := range d {
		b[i] = byte(at)
	}
	return string(b)
}

// with returns the design with one lever on another rung.
func (d design) with(lever, at int) design {
	out := slices.Clone(d)
	out[lever] = at
	return out
}

// space is what may be chosen: the levers that are offered, with their ladders.
type space struct {
	set     trials.Setup
	plan    []int
	levers  []*lever
	ladders [][]rung
	written design
}

// newSpace returns the levers that mean something to a plan, of some keys; nil for all.
func newSpace(set trials.Setup, a Allowed, of []Lever) *space {
	s := &space{set: set, plan: decide.PlanOf(set.Region)}
	w := working{set.Region, &set.Base}
	for i := range table {
		l := &table[i]
		if of != nil && !slices.Contains(of, l.key) || l.dryers && !s.fires() {
			continue
		}
		if ladder := l.ladder(w, a); ladder != nil {
			s.levers, s.ladders = append(s.levers, l), append(s.ladders, ladder)
			s.written = append(s.written, slices.IndexFunc(ladder, func(r rung) bool { return r.written }))
		}
	}
	return s
}

// fires tells whether the region has a dryer, or gets one.
func (s *space) fires() bool {
	for i, n := range s.plan {
		if n+s.set.Region.Coming(i) > 0 {
			return true
		}
	}
	return false
}

// changed lists the levers of a design that are not as written.
func (s *space) changed(d design) []int {
	var out []int
	for l := range d {
		if d[l] != s.written[l] {
			out = append(out, l)
		}
	}
	return out
}

// apply returns the region and the parameters of a design.
func (s *space) apply(d design) (*sim.Region, sim.Parameters) {
	region, base := s.set.Region.Clone(), s.set.Base
	w := working{region, &base}
	for _, l := range s.changed(d) {
		s.levers[l].set(w, s.ladders[l][d[l]].x)
	}
	return region, base
}

// edits returns what a scenario says of a design, as edits of it.
func (s *space) edits(d design) []string {
	region, base := s.apply(d)
	var out []string
	for _, l := range s.changed(d) {
		for _, c := range s.levers[l].changes(working{region, &base}) {
			out = append(out, c.said())
		}
	}
	return out
}

// lived is a design whose region has lived through some seasons.
type lived struct {
	region *sim.Region
	set    trials.Setup // that gave its seasons
	table  *trials.Table
}

// before returns the first seasons of a design.
func (l lived) before(n int) lived {
	l.table = l.table.Before(n)
	return l
}
