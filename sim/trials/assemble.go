package trials

import (
	"fmt"
	"slices"

	"drystalk/sim"
	"drystalk/tongue"
)

// Assemble puts the table of one plan, the dryers of the sites of a region, together from tables
// that hold a site each: from, by site. It is the table that Setup.Table gives of the region, if
// the rows are of sites that live as those of the region do; that the caller must know. Tables of
// other seasons, or one without its site's number of dryers, are an error.
func Assemble(r *sim.Region, from []*Table) (*Table, error) {
	if len(from) != len(r.Sites) || len(from) == 0 {
		return nil, tongue.Errorf("rows of %d sites, the region has %d", len(from), len(r.Sites))
	}
	plan := make([]int, len(r.Sites))
	for site := range plan {
		plan[site] = r.Sites[site].Dryers
		if err := from[site].fits(from[0], site, plan[site]); err != nil {
			return nil, fmt.Errorf("%s: %w", r.Sites[site].Name, err)
		}
	}
	first := from[0]
	t := newTable(r, first.First, first.Seasons, Only(plan))
	t.Seasons, t.years, t.RainAt = first.Seasons, first.years, first.RainAt
	p := t.parts[0]
	p.begin()
	for site, dryers := range plan {
		for i := range t.Seasons {
			row := t.row(site, dryers, i)
			copy(row, from[site].row(site, dryers, i)) // dryers of which the plan has none come last
			p.opening[i] = from[site].OpeningKept(i)
			p.spoils[i] = p.spoils[i] || p.opening[i] != nil || t.spoiled(row)
		}
	}
	return t, nil
}

// fits tells why the rows of a site cannot stand beside those of another table.
func (t *Table) fits(other *Table, site, dryers int) error {
	switch {
	case t.First != other.First || t.Seasons != other.Seasons || len(t.spans) != len(other.spans):
		return tongue.Fault("rows of other seasons")
	case site >= len(t.levels()) || !slices.Contains(t.levels()[site], dryers):
		return tongue.Errorf("no rows of %d dryers", dryers)
	}
	return nil
}

// spoiled tells whether something of what a row brought does not keep at the hub.
func (t *Table) spoiled(row []int32) bool {
	n := len(t.spans)
	at := keptAt(n)
	for k := range n {
		for range n - k {
			if row[at] != row[k] {
				return true
			}
			at++
		}
	}
	return false
}
