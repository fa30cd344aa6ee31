package sim

import (
	"fmt"

	"drystalk/sim/stalk"
	"drystalk/tongue"
)

// book is the ledger of a site while its season runs. Every room writes what happens in it
// into the month at hand and into the water of the season.
//
// The water is one running account and not a sum of accounts by room: it is added up in the
// order in which things happen, so that its rounding is that of one list.
type book struct {
	of         *given
	months     []SiteMonth
	monthIndex int
	month      *SiteMonth
	water      Water
}

// open begins a season of so many months.
func (b *book) open(of *given, months int) {
	b.of = of
	b.months = append(b.months[:0], make([]SiteMonth, months)...)
	b.monthIndex, b.month = 0, &b.months[0]
	b.water = Water{}
}

// turn begins the next month with the stalks the last one closed with. It tells whether
// there is one.
func (b *book) turn() bool {
	if b.monthIndex+1 == len(b.months) {
		return false
	}
	opening := b.month.Closing
	b.monthIndex++
	b.month = &b.months[b.monthIndex]
	b.month.Opening = opening
	return true
}

// left books the water in stalks that leave the site.
func (b *book) left(stalks int, m stalk.DryBasis) {
	b.water.Left += b.of.dryKg(stalks) * float64(m)
}

// checkBalance proves that every stalk of every month is accounted for.
func (b *book) checkBalance(spans []Span) error {
	for i := range b.months {
		if err := b.months[i].checkStalks(); err != nil {
			return fmt.Errorf("%s: %w", spans[i].Month, err)
		}
	}
	if off := b.water.Off(); !(off < 1e-9) {
		return tongue.Errorf("the water does not balance by %g of what came in: %+v", off, b.water)
	}
	return nil
}
