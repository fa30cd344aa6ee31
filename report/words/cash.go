package words

import "drystalk/tongue"

// lowCash says that the cash of a site that pays for a purchase falls below nothing: in most futures
// without it too, or with it in one first year of twenty.
func lowCash(c Compared) string {
	p := c.Result.Purchase
	if p == nil {
		return ""
	}
	for _, without := range p.Cash {
		if !without.Second && paysFor(c, without.Site) && 2*without.Below.Met > without.Below.Seasons {
			return tongue.Say("Even without the purchase cash falls below nothing in most futures.")
		}
	}
	for _, a := range c.Result.Accounts {
		if a.Second && paysFor(c, a.Site) && a.Lowest.P5 < 0 {
			return tongue.Sayf("In one first year of twenty the cash of %s falls to %s or lower, most often in %s.", a.Site, Money(a.Lowest.P5, c.Currency), a.At)
		}
	}
	return ""
}

// paysFor tells whether a site pays for what is bought.
func paysFor(c Compared, site string) bool {
	if p := c.Result.Purchase; p != nil {
		for _, with := range p.Cash {
			if with.Site == site && with.Funding != nil {
				return true
			}
		}
	}
	return false
}

// cashWords names the sites whose cash falls low in the first year, or in the years after it.
func cashWords(c Compared) []string {
	var out []string
	for _, a := range c.Result.Accounts {
		if a.Second && paysFor(c, a.Site) && (a.Lowest.P5 < 0 || a.Uncovered.Mean > 0) {
			s := tongue.Sayf("In the first year the cash of %s is lowest in %s, at %s in a middling season and %s in one of twenty, own part and instalments paid",
				a.Site, a.At, Money(a.Lowest.Median, c.Currency), Money(a.Lowest.P5, c.Currency))
			out = append(out, s+firstYearMissed(c, a.Site)+".")
		}
	}
	if p := c.Result.Purchase; p != nil {
		out = append(out, belowWords(*p, c.Currency)...)
	}
	return out
}

// firstYearMissed says in how many futures an instalment of a site finds too little cash in the first
// year, as an aside; "" where none does.
func firstYearMissed(c Compared, site string) string {
	p := c.Result.Purchase
	if p == nil {
		return ""
	}
	for _, with := range p.Cash {
		if with.Site != site || !with.Second || len(with.Years) == 0 {
			continue
		}
		if o := with.Years[0].NotCovered; o != nil && o.Met > 0 {
			return tongue.Sayf("; in %s of futures an instalment of that year finds too little cash", Odds(*o))
		}
	}
	return ""
}
