package report

import (
	"fmt"

	"drystalk/sim/decide"
)

// ForPromise lays out the largest contract that a plan meets.
func ForPromise(region string, p decide.Promise) Report {
	r := Report{Title: "What can be promised: " + region}
	if p.Flat == 0 {
		r.Sentence = fmt.Sprintf("%s can promise no contract: even %s stalks a month are met in only %s of %s seasons in the worst month.", region, grouped(p.Next), odds(p.NextOdds), grouped(p.Seasons))
	} else {
		r.Sentence = fmt.Sprintf("%s can promise %s good stalks a month: the worst month, %s, is then met in %s of %s seasons, proven to be at least %s.",
			region, grouped(p.Flat), p.Worst.Name, odds(p.Worst.Odds), grouped(p.Seasons), ofTen(p.Target))
		r.Paragraph = append(r.Paragraph,
			fmt.Sprintf("That is %s of the largest month of the contract as written.", percent(p.Part)),
			fmt.Sprintf("%s are not proven: met in %s.", grouped(p.Next), odds(p.NextOdds)))
		most := decide.Promised{}
		for _, m := range p.Months {
			if m.Stalks > most.Stalks {
				most = m
			}
		}
		if most.Stalks > p.Flat {
			r.Paragraph = append(r.Paragraph, fmt.Sprintf("One month alone could take more while the others stay: most in %s, %s.", most.Name, grouped(most.Stalks)))
		}
	}
	if s := p.Stock; s != nil {
		switch {
		case s.Stalks >= 0:
			r.Paragraph = append(r.Paragraph, fmt.Sprintf("With the contract as written, %s good stalks must lie at the hub at the end of %s so that every later month is met in %s; the worst is then met in %s of %s seasons.",
				grouped(s.Stalks), s.After, ofTen(p.Target), odds(s.Odds), grouped(s.Seasons)))
			if s.Less > 0 {
				r.Paragraph = append(r.Paragraph, fmt.Sprintf("With %s it is %s.", grouped(s.Less), odds(s.LessIn)))
			}
		default:
			r.Paragraph = append(r.Paragraph, fmt.Sprintf("No stock tried at the end of %s carries the contract as written to its end.", s.After))
		}
	}
	if len(p.Months) > 0 {
		t := Table{
			Title: fmt.Sprintf("Each month alone raised, the others at %s (shares of %s seasons, not proven)", grouped(p.Flat), grouped(p.MonthSeasons)),
			Head:  []string{"month", "good stalks", "worst month then met in"}, Left: 1,
		}
		for _, m := range p.Months {
			t.Rows = append(t.Rows, []string{m.Name, grouped(m.Stalks), odds(m.Odds)})
		}
		r.Sections = append(r.Sections, Section{Title: "Month by month", Tables: []Table{t}})
	}
	return r
}
