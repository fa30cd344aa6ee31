package table

import (
	"drystalk/report/words"
	"drystalk/sim/money"
	"drystalk/tongue"
)

// CashOverYears lists how low the cash of each site falls over the years of a future, without
// and with the purchase.
func CashOverYears(p money.Purchase, currency string) Table {
	t := Table{
		Sheet: tongue.Say("Cash over the years"), Title: tongue.Sayf("Cash over %s (%s futures with 95 %% intervals; years follow each other, and what a year leaves is shared out at its end, all but the opening cash and what the next year's instalments need)", words.Years(p.Years), words.Grouped(p.Futures)),
		Head: []string{tongue.Say("site"), tongue.Say("plan"), tongue.Sayf("own part, %s", currency), tongue.Sayf("borrowed, %s", currency), tongue.Sayf("lowest, median, %s", currency), tongue.Say("5 to 95 % of futures"), tongue.Say("below nothing in"), tongue.Say("an instalment not covered in")}, Left: 2,
	}
	for _, c := range p.Cash {
		plan, own, loan, failed := tongue.Say("without"), text("-"), text("-"), text("-")
		if c.Second {
			plan = tongue.Say("with the purchase")
		}
		if c.Funding != nil {
			own, loan = amount(c.Funding.Own, currency), amount(c.Funding.Loan, currency)
		}
		if c.NotCovered != nil {
			failed = odds(*c.NotCovered)
		}
		t.Rows = append(t.Rows, []Cell{text(c.Site), text(plan), own, loan, meanAmount(c.Lowest.Median, currency), amountSpan(c.Lowest.P5, c.Lowest.P95, currency), odds(c.Below), failed})
	}
	return t
}

// CashByYear lists, year by year, the cash of the sites that pay for the purchase.
func CashByYear(p money.Purchase, currency string) Table {
	t := Table{
		Title: tongue.Sayf("Year by year, %s (%s futures; at the end of the last year nothing is shared out, so that what is left can be read)", currency, words.Grouped(p.Futures)),
		Head:  []string{tongue.Say("site"), tongue.Say("year"), tongue.Say("without: at the end, median"), tongue.Say("shared out then, median"), tongue.Say("lowest, one of twenty below"), tongue.Say("with the purchase: at the end, median"), tongue.Say("shared out then, median"), tongue.Say("lowest, one of twenty below"), tongue.Say("an instalment not covered in")}, Left: 1,
		Apart: []string{tongue.Say("site"), tongue.Say("year"), tongue.Say("without: at the end, median"), tongue.Say("without: shared out then, median"), tongue.Say("without: lowest, one of twenty below"), tongue.Say("with the purchase: at the end, median"), tongue.Say("with the purchase: shared out then, median"), tongue.Say("with the purchase: lowest, one of twenty below"), tongue.Say("an instalment not covered in")},
	}
	without := map[string][]money.CashYear{}
	for _, c := range p.Cash {
		if !c.Second {
			without[c.Site] = c.Years
		}
	}
	for _, c := range p.Cash {
		if c.Funding == nil {
			continue
		}
		for k, y := range c.Years {
			failed, before := text("-"), without[c.Site][k]
			if y.NotCovered != nil {
				failed = odds(*y.NotCovered)
			}
			t.Rows = append(t.Rows, []Cell{
				text(c.Site), plain(y.Year, ""), meanAmount(before.End.Median, currency), meanAmount(before.Shared.Median, currency), meanAmount(before.Lowest.P5, currency),
				meanAmount(y.End.Median, currency), meanAmount(y.Shared.Median, currency), meanAmount(y.Lowest.P5, currency), failed,
			})
		}
	}
	return t
}
