package spend

import "slices"

// bundle is a step of each of some levers, bought together at one place.
type bundle struct {
	at     int
	levers []int
}

// in returns a design with the bundle bought.
func (b *bundle) in(d design) design {
	c := d.clone()
	for _, l := range b.levers {
		c[b.at][l]++
	}
	return c
}

// bundleLevers is the most levers in a bundle, besides all of them together.
const bundleLevers = 3

// singles lists the steps alone that may be bought: those of the region, and those of each site.
func (s *search) singles() []bundle {
	return slices.DeleteFunc(s.bundles(), func(b bundle) bool { return len(b.levers) > 1 })
}

// bundles lists what may be bought in one go: a step of the region, and at each site each step
// alone, by two and by three, and all levers together. A chain of shortages can only begin with
// several at once.
func (s *search) bundles() []bundle {
	var local []int
	var out []bundle
	for l := range s.levers {
		if s.levers[l].region {
			out = append(out, bundle{len(s.Setup.Region.Sites), []int{l}})
		} else {
			local = append(local, l)
		}
	}
	sets := upTo(bundleLevers, local)
	if len(local) > bundleLevers {
		sets = append(sets, local)
	}
	for site := range s.Setup.Region.Sites {
		for _, set := range sets {
			out = append(out, bundle{site, set})
		}
	}
	return out
}

// upTo lists the sets of one to so many of a list, each after those it begins with.
func upTo(most int, of []int) [][]int {
	if most == 0 {
		return nil
	}
	var out [][]int
	for k, x := range of {
		out = append(out, []int{x})
		for _, rest := range upTo(most-1, of[k+1:]) {
			out = append(out, append([]int{x}, rest...))
		}
	}
	return out
}
