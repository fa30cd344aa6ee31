package words

import (
	"fmt"

	"drystalk/sim/decide"
)

// PromiseSentence says what can be promised.
func PromiseSentence(region string, p decide.Promise) string {
	if p.Flat == 0 && !p.Goal.ByMonth() {
		return fmt.Sprintf("%s can promise no contract: even with %s stalks a month the target is reached in only %s of %s seasons.", region, Grouped(p.Next), Odds(p.NextOdds), Grouped(p.Seasons))
	}
	if p.Flat == 0 {
		return fmt.Sprintf("%s can promise no contract: even %s stalks a month are met in only %s of %s seasons in the worst month.", region, Grouped(p.Next), Odds(p.NextOdds), Grouped(p.Seasons))
	}
	return fmt.Sprintf("%s can promise %s good stalks a month: then %s in %s of %s seasons, proven to be at least %s.",
		region, Grouped(p.Flat), Happens(p.Goal, p.Worst.Name), Odds(p.Odds), Grouped(p.Seasons), OfTen(p.Target))
}

// PromiseParagraph says what the promise is measured against, and what a month alone and a stock
// could do.
func PromiseParagraph(p decide.Promise) []string {
	var out []string
	if p.Flat != 0 {
		out = append(out,
			fmt.Sprintf("That is %s of the largest month of the contract as written.", Percent(p.Part)),
			fmt.Sprintf("%s are not proven: met in %s.", Grouped(p.Next), Odds(p.NextOdds)))
		most := decide.Promised{}
		for _, m := range p.Months {
			if m.Stalks > most.Stalks {
				most = m
			}
		}
		if most.Stalks > p.Flat {
			out = append(out, fmt.Sprintf("One month alone could take more while the others stay: most in %s, %s.", most.Name, Grouped(most.Stalks)))
		}
	}
	out = append(out, HubSentence(p.Hub))
	if p.Stock != nil {
		out = append(out, stockWords(*p.Stock, p)...)
	}
	return out
}

// stockWords says what stock carries the contract as written to its end.
func stockWords(s decide.StockNeed, p decide.Promise) []string {
	if s.Stalks < 0 {
		return []string{fmt.Sprintf("No stock tried at the end of %s carries the contract as written to its end.", s.After)}
	}
	so, then := "every later month is met", "the worst is then met"
	if !p.Goal.ByMonth() {
		so, then = "the rest of the season reaches the target", "that is then so"
	}
	out := []string{fmt.Sprintf("With the contract as written, %s good stalks must lie at the hub at the end of %s so that %s in %s; %s in %s of %s seasons.",
		Grouped(s.Stalks), s.After, so, OfTen(p.Target), then, Odds(s.Odds), Grouped(s.Seasons))}
	if s.Less > 0 {
		out = append(out, fmt.Sprintf("With %s it is %s.", Grouped(s.Less), Odds(s.LessIn)))
	}
	return out
}
