package table

import (
	"fmt"

	"drystalk/report/words"
	"drystalk/sim/decide"
	"drystalk/sim/spend"
)

// Promise lists what each month alone could take.
func Promise(p decide.Promise) Table {
	t := Table{
		Title: fmt.Sprintf("Each month alone raised, the others at %s (shares of %s seasons, not proven)", words.Grouped(p.Flat), words.Grouped(p.MonthSeasons)),
		Head:  []string{"month", "good stalks", "worst month then met in"}, Left: 1,
	}
	for _, m := range p.Months {
		t.Rows = append(t.Rows, []string{m.Name, words.Grouped(m.Stalks), words.Odds(m.Odds)})
	}
	return t
}

// Spending lists what to buy, step by step, and what that does.
func Spending(s spend.Answer, currency string) Table {
	t := Table{
		Title: fmt.Sprintf("What to buy, by gain for its money (%s fresh seasons, 95 %% intervals)", words.Grouped(s.Seasons)),
		Head:  []string{"buy", "at", "cost, " + currency, "so far", "worst month", "met in", "gain, points", "fewer missing stalks"}, Left: 2,
	}
	row := func(what, site string, b spend.Bought, gain, fewer string) {
		t.Rows = append(t.Rows, []string{what, site, words.BareAmount(b.Cost), words.BareAmount(b.Spent), b.Worst.Name, words.Odds(b.Worst.Odds), gain, fewer})
	}
	row("(the plan as written)", "", s.Start, "", "")
	for _, b := range s.Steps {
		row(words.AmountsWords(b.What), b.Site, b, words.Points(b.Gain), fmt.Sprintf("%s (%s to %s)", words.Whole(b.Fewer.Mean), words.Whole(b.Fewer.Low), words.Whole(b.Fewer.High)))
	}
	return t
}

// Marginal lists what one step more would do.
func Marginal(s spend.Answer, currency string) Table {
	t := Table{
		Title: fmt.Sprintf("What one step more would do (%s search seasons; these chose the list, so they flatter it)", words.Grouped(s.SearchSeasons)),
		Head:  []string{"step", "at", "cost, " + currency, "worst month, points", "fewer missing stalks", "per 100 " + currency}, Left: 2,
	}
	for k, m := range s.Marginal {
		if k == 12 {
			break
		}
		per := 0.0
		if m.Cost > 0 {
			per = 100 * m.Fewer / m.Cost
		}
		t.Rows = append(t.Rows, []string{words.AmountWords(m.What), m.Site, words.BareAmount(m.Cost), fmt.Sprintf("%+d", words.Round(100*m.Gain)), words.Whole(m.Fewer), words.Whole(per)})
	}
	return t
}
