package money

import (
	"drystalk/sim"
	"drystalk/sim/trials"
)

// What a season earns is what its sites do and what the hub does, to the last minor unit: what a
// search that puts many plans together from the same rows goes by. Play.Year says it by part.

// SiteNet returns what a site with so many dryers spends by itself in season i, below 0: all but
// second grade, which the sites sell together, and what the hub earns. Pay to members is their
// income and not spent. The table must hold it.
func (p *Prices) SiteNet(r *sim.Region, t *trials.Table, site, dryers, i int) Amount {
	y := Play{Region: r, Table: t, Plan: make([]int, len(r.Sites))}
	y.Plan[site] = dryers
	parts := make([]Parts, t.Months())
	y.siteSeason(p, site, i, parts)
	sum := Amount(0)
	for k := range parts {
		sum += p.Theirs(&parts[k])
	}
	return sum
}

// HubNet returns what the region earns in a season besides: good stalks delivered and left over,
// less penalties, and second grade, of which each site has so many by month.
func (p *Prices) HubNet(months []sim.HubMonth, second [][]int32) Amount {
	sum := Of(float64(months[len(months)-1].Closing) * p.SurplusPerStalk)
	for k := range months {
		sum += Of(float64(months[k].Delivered+months[k].MadeGood)*p.PerGoodStalk) - p.PenaltyOf(&months[k])
		sold, all := Amount(0), 0
		for site := range second {
			n := int(second[site][k])
			sold, all = sold+Of(float64(n)*p.PerSecondStalk), all+n
		}
		if p.SecondMost >= 0 && all > p.SecondMost {
			sold = Of(float64(p.SecondMost) * p.PerSecondStalk)
		}
		sum += sold
	}
	return sum
}
