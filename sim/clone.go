package sim

import (
	"maps"
	"slices"
)

// Clone returns a region that shares nothing with this one: what is changed in one of them
// stays as it was in the other.
func (r *Region) Clone() *Region {
	c := *r
	c.Contract.StalksByMonth = maps.Clone(r.Contract.StalksByMonth)
	c.Contract.TargetStock = maps.Clone(r.Contract.TargetStock)
	c.People.Away = slices.Clone(r.People.Away)
	c.Moves = slices.Clone(r.Moves)
	c.Sites = slices.Clone(r.Sites)
	c.Start = r.Start.clone()
	for i := range c.Sites {
		c.Sites[i].Closed = slices.Clone(r.Sites[i].Closed)
	}
	return &c
}
