package money

import (
	"math"
	"slices"
	"sort"

	"drystalk/sim"
	"drystalk/sim/trials"
)

// SiteCash is the cash of one site over the years of many futures, all that it pays for the
// purchase in it.
type SiteCash struct {
	Site       string       `json:"site"`
	Second     bool         `json:"of_second_plan"`
	Funding    *Funding     `json:"funding,omitempty"` // nil: it pays nothing
	Lowest     trials.Band  `json:"lowest_balance"`
	Below      trials.Odds  `json:"cash_below_nothing"`               // futures in which it falls below nothing
	NotCovered *trials.Odds `json:"instalment_not_covered,omitempty"` // futures in which it finds too little cash for an instalment; nil where nothing is borrowed
	Cushion    *Cushion     `json:"cushion,omitempty"`                // nil where 19 of 20 futures cover every instalment as it is
	Years      []CashYear   `json:"years"`
}

// Cushion is how much more cash a site would need from the first season on, never shared out, for 19 of
// 20 futures to cover every instalment: the fewest whole units of the currency that do. All balances are
// higher by just as much then, for what is shared out at the end of a year is what lies above the cash
// kept back. (TestMoreCashLiftsEveryBalance)
type Cushion struct {
	Cash       float64     `json:"cash"`
	NotCovered trials.Odds `json:"instalment_not_covered"` // futures that still find too little cash for an instalment
}

// CashYear is the cash of one site in one year of many futures.
type CashYear struct {
	Year       int          `json:"year"`            // from 1
	End        trials.Band  `json:"cash_at_the_end"` // before what is left is shared out
	Shared     trials.Band  `json:"shared_out"`      // at the end of the year; nothing in the last
	Lowest     trials.Band  `json:"lowest_balance"`
	NotCovered *trials.Odds `json:"instalment_not_covered,omitempty"` // futures in which an instalment of the year is not covered; nil where none is due
}

// tally gathers the accounts of a plan's sites, future by future.
type tally struct {
	years   int
	bills   []Bill // nil for a plan that buys nothing
	futures int
	failed  int       // futures in which some site did not cover an instalment
	missed  []float64 // instalments that were not covered, by future
	sites   []siteTally
}

type siteTally struct {
	lowest        []float64
	short         []Amount // the most lacking for an instalment, by future
	below, failed int      // futures
	each          []yearTally
}

type yearTally struct {
	end, lowest, shared []float64
	failed              int
}

func newTally(sites, years int, bills []Bill) *tally {
	t := &tally{years: years, bills: bills, sites: make([]siteTally, sites)}
	for k := range t.sites {
		t.sites[k].each = make([]yearTally, years)
	}
	return t
}

// add counts the accounts of one more future.
func (t *tally) add(accounts []Account) {
	t.futures++
	missed := 0
	for k := range accounts {
		t.sites[k].add(&accounts[k])
		missed += len(accounts[k].Uncovered)
	}
	t.missed = append(t.missed, float64(missed))
	if missed > 0 {
		t.failed++
	}
}

func (s *siteTally) add(a *Account) {
	s.lowest, s.short = append(s.lowest, a.Lowest.Units()), append(s.short, a.Short)
	if a.Lowest < 0 {
		s.below++
	}
	if len(a.Uncovered) > 0 {
		s.failed++
	}
	failed := make([]bool, len(s.each))
	for _, month := range a.Uncovered {
		failed[month/12] = true
	}
	for y := range s.each {
		months := a.Months[12*y : 12*y+12]
		lowest := months[0]
		for _, x := range months {
			lowest = min(lowest, x)
		}
		e := &s.each[y]
		shared := Amount(0)
		if y < len(a.Shared) {
			shared = a.Shared[y]
		}
		e.end, e.lowest, e.shared = append(e.end, months[11].Units()), append(e.lowest, lowest.Units()), append(e.shared, shared.Units())
		if failed[y] {
			e.failed++
		}
	}
}

// borrows tells whether any site pays instalments.
func (t *tally) borrows() bool {
	for k := range t.bills {
		if len(t.bills[k].Instalments) > 0 {
			return true
		}
	}
	return false
}

// notCovered returns the futures in which some site did not cover an instalment, nil where
// nothing is borrowed.
func (t *tally) notCovered() *trials.Odds {
	if !t.borrows() {
		return nil
	}
	return oddsOf(t.failed, t.futures)
}

func oddsOf(met, of int) *trials.Odds {
	o := trials.NewOdds(met, of)
	return &o
}

// cushion returns the cash that is lacking for 19 of 20 futures to cover every instalment; nil where none is.
func (s *siteTally) cushion() *Cushion {
	n := len(s.short)
	if nearlyAll(n-s.failed, n) {
		return nil
	}
	short := slices.Sorted(slices.Values(s.short))
	covered := sort.Search(n, func(k int) bool { return nearlyAll(k, n) })
	cash := math.Ceil(short[covered-1].Units())
	for covered < n && short[covered] <= Of(cash) {
		covered++
	}
	return &Cushion{cash, trials.NewOdds(n-covered, n)}
}

// cash returns what is said of each site.
func (t *tally) cash(r *sim.Region, second bool) (out []SiteCash) {
	for k := range t.sites {
		s := &t.sites[k]
		c := SiteCash{Site: r.Sites[k].Name, Second: second, Lowest: trials.NewBand(s.lowest), Below: trials.NewOdds(s.below, t.futures)}
		due := 0 // months in which an instalment is due
		if t.bills != nil && t.bills[k].Cost > 0 {
			c.Funding, due = &t.bills[k].Funding, len(t.bills[k].Instalments)
		}
		if due > 0 {
			c.NotCovered, c.Cushion = oddsOf(s.failed, t.futures), s.cushion()
		}
		for y := range s.each {
			e := &s.each[y]
			year := CashYear{Year: y + 1, End: trials.NewBand(e.end), Shared: trials.NewBand(e.shared), Lowest: trials.NewBand(e.lowest)}
			if due > 12*y {
				year.NotCovered = oddsOf(e.failed, t.futures)
			}
			c.Years = append(c.Years, year)
		}
		out = append(out, c)
	}
	return out
}
