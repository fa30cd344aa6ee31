package table

import (
	"fmt"

	"drystalk/report/words"
	"drystalk/sim/decide"
)

// Dryers lists the numbers of dryers with their odds.
func Dryers(a decide.Answer) Table {
	t := Table{
		Title: "Odds by number of dryers (95 % intervals)",
		Head:  []string{"dryers", "worst month", "met in", "all months met in", "delivered", "missing a season", "seasons"}, Left: 2,
	}
	for n, p := range a.Plans {
		name := fmt.Sprint(p.Dryers)
		if n == a.Needed {
			name += " (fund)"
		}
		missing := 0.0
		for _, m := range p.Months {
			missing += m.Shortfall.Mean
		}
		t.Rows = append(t.Rows, []string{
			name, p.WorstMonth().Name, words.Odds(p.WorstMonth().Odds), words.Odds(p.AllMonths),
			words.Percent(p.Share.Mean), words.Whole(missing), words.Grouped(p.AllMonths.Seasons),
		})
	}
	return t
}

// Where lists the placements.
func Where(a decide.Answer) Table {
	t := Table{Title: "Best placement of each number", Head: append([]string{"dryers"}, a.Sites...), Left: 1}
	for _, p := range a.Plans {
		row := []string{fmt.Sprint(p.Dryers)}
		for _, n := range p.PerSite {
			row = append(row, fmt.Sprint(n))
		}
		t.Rows = append(t.Rows, row)
	}
	return t
}

// Swings says how the answer moves with what nobody has measured.
func Swings(a decide.Answer, most int) Table {
	t := Table{
		Title: "How the answer moves: seasons split in thirds by each unmeasured parameter",
		Head:  []string{"parameter", "low third", "dryers", "worst month met in", "high third", "dryers", "worst month met in"}, Left: 1,
	}
	for i, s := range a.Swings {
		if i == most {
			break
		}
		t.Rows = append(t.Rows, []string{
			s.Parameter, "below " + words.Quantity(s.LowBelow, ""), words.Needed(s.Low), words.Odds(s.OddsLow),
			"above " + words.Quantity(s.HighAbove, ""), words.Needed(s.High), words.Odds(s.OddsHigh),
		})
	}
	return t
}
