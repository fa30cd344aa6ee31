package spend

import (
	"slices"

	"drystalk/sim"
	"drystalk/sim/decide"
	"drystalk/sim/trials"
)

// pack is sites of one or several designs that live through the seasons as the sites of one
// region: side by side they live faster than alone.
type pack struct {
	design design
	region *sim.Region
	levels [][]int // by site: the numbers of dryers with which it lives; none for one that does not
}

// variants lays out site-plans in as few regions as may hold them. It returns which of them each
// site-plan is a part of.
func (s *search) variants(runs []siteRun) (variants []trials.Variant, of []int) {
	var packs []*pack
	for k := range runs {
		v := slices.IndexFunc(packs, func(p *pack) bool { return s.joined(p, &runs[k]) })
		if v < 0 {
			v = len(packs)
			packs = append(packs, s.packOf(&runs[k]))
		}
		of = append(of, v)
	}
	for _, p := range packs {
		variants = append(variants, trials.Variant{Region: p.region, Levels: p.levels, Apart: s.apart()})
	}
	return variants, of
}

// packOf returns a pack of one site-plan: with all sites of its design where they are coupled.
func (s *search) packOf(run *siteRun) *pack {
	p := &pack{run.design, run.region, make([][]int, len(run.region.Sites))}
	if s.coupled {
		p.levels = trials.Only(decide.PlanOf(run.region))
	} else {
		p.levels[run.site] = []int{run.region.Sites[run.site].Dryers}
	}
	return p
}

// joined takes a site-plan into a pack, if the site then lives there as in its own design, and
// tells whether it does: where nothing but numbers of dryers differs from what the site lives
// with, and what else the row depends on is the same: where sites hear of it, the stock and the
// shares of all sites.
func (s *search) joined(p *pack, run *siteRun) bool {
	if s.coupled {
		return p.design.String() == run.design.String()
	}
	if len(p.levels[run.site]) > 0 && !s.sameButDryers(p.design[run.site], run.design[run.site]) {
		return false
	}
	d := p.design.clone()
	d[run.site] = slices.Clone(run.design[run.site])
	region := s.region(d)
	if !s.aroundAlike(p, run, region) {
		return false
	}
	p.design, p.region = d, region
	if n := run.region.Sites[run.site].Dryers; !slices.Contains(p.levels[run.site], n) {
		p.levels[run.site] = append(p.levels[run.site], n)
	}
	return true
}

// aroundAlike tells whether all but sites is the same in a pack, in the region of a site-plan and in
// the one that they become: what is bought for the region and, where sites hear of it, their shares.
func (s *search) aroundAlike(p *pack, run *siteRun, region *sim.Region) bool {
	last := len(p.design) - 1
	if !s.hears(region) {
		return slices.Equal(s.telling(p.region, p.design, last), s.telling(run.region, run.design, last))
	}
	shares := region.Shares()
	return slices.Equal(p.design[last], run.design[last]) &&
		slices.Equal(shares, p.region.Shares()) && slices.Equal(shares, run.region.Shares())
}

// sameButDryers tells whether the steps at a site are the same but for dryers.
func (s *search) sameButDryers(a, b []int) bool {
	for l := range s.levers {
		if a[l] != b[l] && s.levers[l].key != Dryers {
			return false
		}
	}
	return true
}
