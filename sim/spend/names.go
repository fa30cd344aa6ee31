package spend

import (
	"fmt"
	"math"
	"slices"

	"drystalk/sim"
)

// names are the names of the sites of a design.
type names struct {
	asked []string // by all that their rows might depend on: what the search counts as asked for
	lived []string // by what they do depend on: what lives through the seasons once
}

// namesOf returns the names of each site under a design. The plan as written is the same for the
// whole search, so that is the steps of the site and of the region, and the share of contract and
// stock that falls to the site, which goes by the cutters of all sites. Where stalks are hauled or
// dryers moved, it is the whole design.
func (s *search) namesOf(d design) names {
	of := d.String()
	if known, ok := s.named[of]; ok {
		return known
	}
	var n names
	r := s.region(d)
	for site, share := range r.Shares() {
		asked, lived := fmt.Sprint(site, d[site], d[len(d)-1], math.Float64bits(share)), ""
		switch {
		case s.coupled:
			asked = fmt.Sprint(site, of)
			lived = asked
		case s.hears(r):
			lived = fmt.Sprint(site, s.telling(r, d, site), d[len(d)-1], math.Float64bits(share))
		default:
			lived = fmt.Sprint(site, s.telling(r, d, site), s.telling(r, d, len(r.Sites)))
		}
		n.asked, n.lived = append(n.asked, asked), append(n.lived, lived)
	}
	s.named[of] = n
	return n
}

// keys names the rows of each site under a design.
func (s *search) keys(d design) []string { return s.namesOf(d).lived }

// hears tells whether a site learns of its share of contract, stock and room at the hub of a region: not
// where it lives apart (trials.Variant.Apart) and the hub has room for any number.
func (s *search) hears(r *sim.Region) bool { return !s.apart() || r.Hub.StoreStalks > 0 }

// telling returns the steps at a place that tell in what a site does that does not hear of the hub.
func (s *search) telling(r *sim.Region, d design, at int) []int {
	steps := slices.Clone(d[at])
	fires := at < len(r.Sites) && r.Sites[at].Dryers+r.Coming(at) > 0
	for l := range steps {
		if s.levers[l].atHub || s.levers[l].fires && !fires {
			steps[l] = 0
		}
	}
	return steps
}
