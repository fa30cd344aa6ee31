package spend

import (
	"fmt"
	"slices"

	"drystalk/sim"
	"drystalk/sim/money"
)

// design is how many steps of each lever are bought, by place and lever; the places are the
// sites, and the region last.
type design [][]int

// String names a design, as a key.
func (d design) String() string { return fmt.Sprint([][]int(d)) }

func (d design) clone() design {
	c := make(design, len(d))
	for at := range d {
		c[at] = slices.Clone(d[at])
	}
	return c
}

// with returns the design with more steps of a lever at a place.
func (d design) with(at, lever, steps int) design {
	c := d.clone()
	c[at][lever] += steps
	return c
}

// has tells whether any of a lever is bought.
func (d design) has(lever int) bool {
	return slices.ContainsFunc(d, func(at []int) bool { return at[lever] > 0 })
}

// start returns the design in which nothing is bought.
func (s *search) start() design {
	d := make(design, len(s.Setup.Region.Sites)+1)
	for at := range d {
		d[at] = make([]int, len(s.levers))
	}
	return d
}

// sold tells whether a lever is bought at a place: those of the region at the last.
func (s *search) sold(at, lever int) bool {
	return s.levers[lever].region == (at == len(s.Setup.Region.Sites))
}

// placeOf returns a place of a region.
func (s *search) placeOf(r *sim.Region, at int) place {
	if at == len(r.Sites) {
		return place{region: r}
	}
	return place{r, &r.Sites[at], s.MaxDryers[at]}
}

// nameOf returns the name of a place, "" for the region.
func (s *search) nameOf(at int) string {
	if at == len(s.Setup.Region.Sites) {
		return ""
	}
	return s.Setup.Region.Sites[at].Name
}

// region returns the region under a design.
func (s *search) region(d design) *sim.Region {
	r := s.Setup.Region.Clone()
	for l := range s.levers {
		for at := range d {
			if s.sold(at, l) {
				s.levers[l].apply(s.placeOf(r, at), d[at][l])
			}
		}
	}
	return r
}

// cost returns what a design costs.
func (s *search) cost(d design) money.Amount {
	bought := s.region(d)
	sum := money.Amount(0)
	for l := range s.levers {
		for at := range d {
			if s.sold(at, l) && d[at][l] > 0 {
				sum += s.levers[l].costs(s.Prices, s.placeOf(s.Setup.Region, at), s.placeOf(bought, at), d[at][l])
			}
		}
	}
	return sum
}

// allowed tells whether a design keeps to the most of each lever.
func (s *search) allowed(d design) bool {
	for l := range s.levers {
		for at := range d {
			if n := d[at][l]; s.sold(at, l) && (n < 0 || n > s.levers[l].takes(s.placeOf(s.Setup.Region, at))) {
				return false
			}
		}
	}
	return true
}

// affordable tells whether a design is allowed and keeps to the budget, if there is one.
func (s *search) affordable(d design) bool {
	return s.allowed(d) && (s.Budget == 0 || s.cost(d) <= s.Budget)
}

// describe names what one design has more of than another.
func (s *search) describe(a, b design) (site string, what []Quantity) {
	for l := range s.levers {
		for at := range b {
			if n := b[at][l] - a[at][l]; n > 0 {
				if !s.levers[l].region {
					site = s.nameOf(at)
				}
				what = append(what, s.levers[l].quantity(n))
			}
		}
	}
	return site, what
}

// inAll sums up a design.
func (s *search) inAll(d design) []InAll {
	var out []InAll
	for l := range s.levers {
		all := InAll{Of: s.levers[l].key, Unit: s.levers[l].unit}
		bought := false
		for at := range d {
			all.PerSite = append(all.PerSite, s.levers[l].quantity(d[at][l]).Size)
			bought = bought || d[at][l] > 0
		}
		if bought {
			out = append(out, all)
		}
	}
	return out
}
