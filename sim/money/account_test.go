package money

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"drystalk/sim"
	"drystalk/sim/trials"
)

// units returns amounts in units of the currency.
func units(list []Amount) (out []float64) {
	for _, a := range list {
		out = append(out, a.Units())
	}
	return out
}

// Three linked years counted by hand. Things for 240 are bought, of which a quarter is grant and
// six tenths a loan without interest over 36 months: own part 36, instalments of 4; sheets of
// them, 40, last two years. A season has two months, costs 30 and 20, and what is sold is paid a
// month later: 60 and 50 in a good season (G), 20 and 10 in a bad one (B). The site begins with
// 170. One bad year shows in no instalment; two in a row do.
func TestTwoBadYearsInARowByHand(t *testing.T) {
	p := Prices{OpeningCash: Of(170), PaidAfter: 1, GrantShare: 0.25, LoanShare: 0.6, LoanMonths: 36}
	r := &sim.Region{Sites: []sim.Site{{Name: "Stone Weir", Cutters: 1, OutputPerPersonH: 1}}}
	bills, err := p.Bills(r, []Item{{Of: Dryer, Site: "Stone Weir", Cost: Of(200), Years: 8}, {Of: Sheets, Site: "Stone Weir", Cost: Of(40), Years: 2}}, 3)
	require.NoError(t, err)
	require.Equal(t, Funding{Cost: Of(240), Grant: Of(60), Own: Of(36), Loan: Of(144), Months: 36, Instalment: Of(4)}, bills[0].Funding)
	require.Equal(t, []Amount{0, 0, Of(40)}, bills[0].Again)

	month := func(cost, sold float64) Parts { return Parts{Cutting: -Of(cost), Sales: Of(sold)} }
	season := map[byte][][]Parts{'G': {{month(30, 60), month(20, 50)}}, 'B': {{month(30, 20), month(20, 10)}}}
	account := func(years string) Account {
		var run [][][]Parts
		for k := range years {
			run = append(run, season[years[k]])
		}
		return accounts(&p, run, len(years), bills)[0]
	}
	linked := account("GBB")
	assert.Equal(t, []float64{
		// 170 less the own part 36 is 134
		100, 136, 182, 178, 174, 170, 166, 162, 158, 154, 150, 146,
		112, 108, 114, 110, 106, 102, 98, 94, 90, 86, 82, 78,
		// sheets again: 38
		4, 0, 6, 2, -2, -6, -10, -14, -18, -22, -26, -30,
	}, units(linked.Months))
	assert.Equal(t, []int{28, 29, 30, 31, 32, 33, 34, 35}, linked.Uncovered)
	assert.Equal(t, []any{Of(-30), 35}, []any{linked.Lowest, linked.LowestAt})
	for _, years := range []string{"GGG", "GBG", "GGB", "G", "B"} {
		assert.Empty(t, account(years).Uncovered, years)
	}
	assert.Equal(t, Of(66), account("B").Months[11])
}

// What is bought when the year turns is the lowest point, though the month ends higher; so is
// the own part on the first day.
func TestLowestWhereSomethingIsBought(t *testing.T) {
	b := Bill{Funding: Funding{Own: Of(90)}, Again: []Amount{0, Of(70)}}
	flows := make([]Amount, 24)
	flows[0], flows[12] = Of(80), Of(50)
	a := b.account(Of(100), flows, 2)
	assert.Equal(t, []any{Of(10), 0}, []any{a.Lowest, a.LowestAt})
	b.Own = 0
	flows[0] = -Of(60)
	a = b.account(Of(100), flows, 2)
	assert.Equal(t, []any{-Of(30), 12}, []any{a.Lowest, a.LowestAt})
	assert.Equal(t, Of(20), a.Months[12])
}

// Instalments after the years are not those of the years, and what is sold in the last month is
// still paid.
func TestAccountEndsWithItsYears(t *testing.T) {
	p := Prices{PaidAfter: 3, OpeningCash: Of(36)}
	bill := Bill{}
	for range 20 {
		bill.Instalments = append(bill.Instalments, Of(3))
	}
	months := make([]Parts, 12)
	months[11][Sales] = Of(5)
	a := accounts(&p, [][][]Parts{{months}}, 1, []Bill{bill})[0]
	require.Len(t, a.Months, 15)
	assert.Empty(t, a.Uncovered)
	assert.Equal(t, []float64{0, 0, 0, 5}, units(a.Months[11:]))
}

// An account of three years with interest against a general-purpose reference: LibreOffice Calc
// 7.4.7. Column A holds what comes in less what goes out by month, B1 is
// 4500-600+A1-PMT(0.12/12;36;-3600), B2 is B1+A2-PMT(0.12/12;36;-3600) and so on; B12, B24 and
// B36 stand below, MIN(B1:B36), and COUNTIF(B1:B36;"<0"), which counts the months in which the
// cash before the instalment was below it.
func TestAccountAgainstASpreadsheet(t *testing.T) {
	p := Prices{OpeningCash: Of(4500), GrantShare: 0.3, LoanShare: 0.6, LoanMonths: 36, LoanRate: 0.12}
	r := &sim.Region{Sites: []sim.Site{{Name: "Heron Point", Cutters: 1, OutputPerPersonH: 1}}}
	bills, err := p.Bills(r, []Item{{Of: Dryer, Site: "Heron Point", Cost: Of(6000), Years: 8}}, 3)
	require.NoError(t, err)
	var run [][][]Parts
	for _, year := range [][]float64{{-2200, -1900, 1500, 2400, 1100}, {-2500, -2100, 300, 900, 250}, {-2600, -1800, 1700, 2900, 2300}} {
		months := make([]Parts, 12)
		for k, x := range year {
			months[k][Cutting] = Of(x)
		}
		run = append(run, [][]Parts{months})
	}
	a := accounts(&p, run, 3, bills)[0]
	const cents = 36 * 0.005 // whole cents each month
	assert.InDelta(t, 3365.14181608483, a.Months[11].Units(), cents, "B12")
	assert.InDelta(t, -1219.71636783034, a.Months[23].Units(), cents, "B24")
	assert.InDelta(t, -154.574551745516, a.Months[35].Units(), cents, "B36")
	assert.InDelta(t, -5858.85939848287, a.Lowest.Units(), cents, "MIN")
	assert.Len(t, a.Uncovered, 18, "COUNTIF")
}

// What each site pays by hand. Half of 3,000 over 12 months without interest are 125 a month; at
// 12 % a year the level payment of 1,500 at 1 % a month is 133.27 (annuity tables), and what is
// paid beyond the principal is interest. Whatever is bought is borrowed for; a moved dryer is paid
// where it goes, what lies at the hub by all sites by their shares of the contract.
func TestBillsByHand(t *testing.T) {
	r := &sim.Region{Sites: []sim.Site{{Name: "Stone Weir", Cutters: 3, OutputPerPersonH: 100, CuttingHPerDay: 6}, {Name: "Ferry Bank", Cutters: 1, OutputPerPersonH: 100, CuttingHPerDay: 6}}}
	require.Equal(t, []float64{0.75, 0.25}, r.Shares())
	p := Prices{LoanShare: 0.5, LoanMonths: 12}
	one := func(item Item) []Bill {
		bills, err := p.Bills(r, []Item{item}, 4)
		require.NoError(t, err)
		return bills
	}
	for _, of := range Things() {
		b := one(Item{Of: of, Site: "Ferry Bank", Cost: Of(3000), Years: 8})
		assert.Equal(t, Funding{Cost: Of(3000), Own: Of(1500), Loan: Of(1500), Months: 12, Instalment: Of(125)}, b[1].Funding, of)
		assert.Equal(t, Funding{}, b[0].Funding)
		assert.Empty(t, b[0].Instalments)
		assert.Equal(t, b[1].Funding, InAll(b))
	}
	hub := one(Item{Of: HubStock, Cost: Of(100.01), Years: 1})
	assert.Equal(t, []Amount{7501, 2500}, []Amount{hub[0].Cost, hub[1].Cost})
	assert.Equal(t, []Amount{0, 7501, 7501, 7501}, hub[0].Again)
	assert.Equal(t, Of(100.01), InAll(hub).Cost)
	moved := one(Item{Of: MovedDryer, Site: "Stone Weir", To: "Ferry Bank", Cost: Of(50), Years: 1})
	assert.Equal(t, []Amount{0, Of(50)}, []Amount{moved[0].Cost, moved[1].Cost})

	p.LoanRate = 0.12
	b := one(Item{Of: OpenRack, Site: "Stone Weir", Cost: Of(3000), Years: 4})[0]
	assert.InDelta(t, 133.27, b.Instalment.Units(), 0.011)
	assert.InDelta(t, 12*133.27-1500, b.Interest.Units(), 0.15)
	assert.Equal(t, make([]Amount, 4), b.Again, "it lasts as long as the years")
	p.GrantShare, p.LoanShare = 0.5, 0.5
	b = one(Item{Of: OpenRack, Site: "Stone Weir", Cost: 5, Years: 4})[0]
	assert.Equal(t, []Amount{3, 2, 0}, []Amount{b.Grant, b.Loan, b.Own}, "2.5 and 2.5 round up: no more is borrowed than the grant leaves")
	p.LoanMonths = 0
	_, err := p.Bills(r, []Item{{Of: Dryer, Cost: Of(3000), Years: 8}}, 4)
	require.ErrorContains(t, err, "want a principal of 0 or more, months")
	p = Prices{GrantShare: 1}
	b = one(Item{Of: Dryer, Site: "Stone Weir", Cost: Of(3000), Years: 8})[0]
	assert.Equal(t, Bill{Funding: Funding{Cost: Of(3000), Grant: Of(3000)}, Again: make([]Amount, 4)}, b, "a full grant leaves nothing to pay")
}

// Grant, own part and loan add up to the last minor unit whatever the shares, none is below
// nothing, and the instalments pay the loan and its interest.
func TestFundingAddsUp(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		grant := rapid.Float64Range(0, 1).Draw(t, "grant")
		p := Prices{GrantShare: grant, LoanShare: rapid.Float64Range(0, 1-grant).Draw(t, "loan"), LoanMonths: rapid.IntRange(1, 60).Draw(t, "months"), LoanRate: 0.12}
		r := &sim.Region{Sites: []sim.Site{{Name: "A", Cutters: 2, OutputPerPersonH: 90, CuttingHPerDay: 5}, {Name: "B", Cutters: 3, OutputPerPersonH: 110, CuttingHPerDay: 5}}}
		cost := Amount(rapid.Int64Range(0, 1e9).Draw(t, "cost"))
		bills, err := p.Bills(r, []Item{{Of: HubStock, Cost: cost, Years: 1}, {Of: Dryer, Site: "B", Cost: cost, Years: 8}}, 2)
		require.NoError(t, err)
		all := InAll(bills)
		require.Equal(t, 2*cost, all.Cost)
		require.Equal(t, all.Cost, all.Grant+all.Own+all.Loan)
		for _, b := range bills {
			require.GreaterOrEqual(t, min(b.Grant, b.Own, b.Loan), Amount(0))
			paid := Amount(0)
			for _, x := range b.Instalments {
				paid += x
			}
			require.Equal(t, b.Loan+b.Interest, paid)
		}
	})
}

// What is said of cash over the years is that of the accounts of every future, counted by hand:
// how low, how often below nothing, which years' instalments are not covered; a what-if has the
// odds of its own prices.
func TestCashOverTheYears(t *testing.T) {
	const futures, years = 10, 3
	_, y := busy(t, futures*years, years)
	p := prices()
	p.OpeningCash, p.PerGoodStalk, p.RentPerYear, p.UpkeepPerDryer, p.LoanMonths = Of(1500), 0.13, 300, 100, 24
	items := []Item{{Of: Dryer, Size: 1, Site: "Stone Weir", Cost: Of(4000), Years: 8}, {Of: Sheets, Size: 1, Site: "Stone Weir", Cost: Of(40), Years: 1}}
	bills, err := p.Bills(y.Region, items, years)
	require.NoError(t, err)
	b, err := Judge(p, y, y, years, items)
	require.NoError(t, err)
	require.Len(t, b.Cash, 4)
	dearWood := p
	dearWood.WoodPerKg, dearWood.WoodRainsPerKg = 0.22, 0.46
	failed, failedDear, failedIn := 0, 0, [years]int{}
	var lowest, end []float64
	below := [4]int{}
	for f := range futures {
		for k, list := range [][]Account{y.Accounts(&p, f*years, years, nil), y.Accounts(&p, f*years, years, bills)} {
			for site, a := range list {
				if a.Lowest < 0 {
					below[2*k+site]++
				}
			}
		}
		a := y.Accounts(&p, f*years, years, bills)[0]
		lowest, end = append(lowest, a.Lowest.Units()), append(end, a.Months[23].Units())
		in := map[int]bool{}
		for _, m := range a.Uncovered {
			in[m/12] = true
		}
		for year := range in {
			failedIn[year]++
		}
		if len(in) > 0 {
			failed++
		}
		if len(y.Accounts(&dearWood, f*years, years, bills)[0].Uncovered) > 0 {
			failedDear++
		}
	}
	require.True(t, 0 < failed && failed < futures, "the numbers of this test tell both: %d", failed)
	require.Greater(t, failedDear, failed)
	require.NotNil(t, b.NotCovered)
	assert.Equal(t, trials.NewOdds(failed, futures), *b.NotCovered)
	assert.Equal(t, WoodTwice, b.WhatIfs[1].Change)
	assert.Equal(t, trials.NewOdds(failedDear, futures), *b.WhatIfs[1].NotCovered)
	for k, c := range b.Cash {
		assert.Equal(t, []any{y.Region.Sites[k%2].Name, k > 1}, []any{c.Site, c.Second})
		assert.Equal(t, trials.NewOdds(below[k], futures), c.Below)
		require.Len(t, c.Years, years)
		if k != 2 {
			assert.Nil(t, c.Funding)
			assert.Nil(t, c.NotCovered)
		}
	}
	bought := b.Cash[2]
	require.NotNil(t, bought.Funding)
	assert.Equal(t, bills[0].Funding, *bought.Funding)
	assert.Equal(t, *b.NotCovered, *bought.NotCovered, "no other site borrows")
	assert.Equal(t, trials.NewBand(lowest), bought.Lowest)
	assert.Equal(t, trials.NewBand(end), bought.Years[1].End)
	for y, year := range bought.Years {
		assert.Equal(t, y+1, year.Year)
		if y == 2 {
			assert.Nil(t, year.NotCovered, "the loan ends with the second year")
			continue
		}
		assert.Equal(t, trials.NewOdds(failedIn[y], futures), *year.NotCovered)
	}
}

// A dearer year never leaves more, at any site in any month, and a better one never less:
// wood, a larger grant, more cash to begin with, a later payment, a lower price.
func TestAccountsGoTheRightWay(t *testing.T) {
	const years = 2
	_, fired := busy(t, 2*years, years)
	mouldy := moulding(t, 2*years, years)
	items := []Item{{Of: Dryer, Site: "Stone Weir", Cost: Of(4000), Years: 8}, {Of: HubStock, Cost: Of(300), Years: 1}}
	worse := map[string]func(p *Prices){
		"dearer wood":          func(p *Prices) { p.WoodPerKg, p.WoodRainsPerKg = 1.5*p.WoodPerKg, 1.1*p.WoodRainsPerKg },
		"a smaller grant":      func(p *Prices) { p.GrantShare -= 0.2 },
		"less cash":            func(p *Prices) { p.OpeningCash -= Of(100) },
		"paid later":           func(p *Prices) { p.PaidAfter++ },
		"a lower price":        func(p *Prices) { p.PerGoodStalk *= 0.9 },
		"second grade cheaper": func(p *Prices) { p.PerSecondStalk *= 0.5 },
		"dearer interest":      func(p *Prices) { p.LoanRate += 0.1 },
		"a ceiling":            func(p *Prices) { p.SecondMost = 4000 },
		"a lower ceiling":      func(p *Prices) { p.SecondMost = 0 },
	}
	require.Len(t, worse, 9)
	for name, change := range worse {
		good, bad := prices(), prices()
		good.OpeningCash, bad.OpeningCash = Of(2000), Of(2000)
		y := fired
		if strings.Contains(name, "ceiling") {
			y, good.SecondMost = mouldy, 6000
		}
		change(&bad)
		for f := range 2 {
			var runs [2][]Account
			for k, p := range []Prices{good, bad} {
				bills, err := p.Bills(y.Region, items, years)
				require.NoError(t, err)
				runs[k] = y.Accounts(&p, f*years, years, bills)
			}
			lower := 0
			for site := range runs[0] {
				a, b := runs[0][site], runs[1][site]
				for m := range 12 * years {
					require.LessOrEqual(t, b.Months[m], a.Months[m], "%s, site %d, month %d", name, site, m)
					if b.Months[m] < a.Months[m] {
						lower++
					}
				}
				require.Subset(t, b.Uncovered, a.Uncovered, "%s: what was covered may not be, never the other way", name)
				require.LessOrEqual(t, b.Lowest, a.Lowest)
			}
			assert.Positive(t, lower, fmt.Sprint(name, " changes nothing: the check says nothing"))
		}
	}
}
