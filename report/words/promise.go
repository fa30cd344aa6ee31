package words

import (
	"time"

	"drystalk/sim/decide"
	"drystalk/sim/trials"
	"drystalk/tongue"
)

// PromiseSentence says what can be promised.
func PromiseSentence(region string, p decide.Promise) string {
	if p.Flat == 0 && p.NextOdds.Share >= p.Target {
		return tongue.Sayf("%s can promise no contract yet: with %s stalks a month %s in %s, but %s seasons are too few to prove it; %s.",
			region, Grouped(p.Next), briefly(p.Goal), InTrials(p.NextOdds), Grouped(p.NextOdds.Seasons), askedFor(p.Target, p.NextOdds))
	}
	if p.Flat == 0 {
		return tongue.Sayf("%s can promise no contract: even with %s stalks a month %s in only %s; %s.", region, Grouped(p.Next), briefly(p.Goal), InTrials(p.NextOdds), askedFor(p.Target, p.NextOdds))
	}
	return tongue.Sayf("%s can promise %s good stalks a month: then %s; %s.",
		region, Grouped(p.Flat), happensIn(p.Goal, p.Worst.Name, p.Odds), askedFor(p.Target, p.Odds))
}

// PromiseParagraph says for a decision paper what the promise is measured against, and what a month
// alone and a stock could do, the most telling sentence first.
func PromiseParagraph(p decide.Promise) []string {
	var out []string
	if p.Flat != 0 {
		out = append(out, ofLargest(p), notSure(p))
	}
	if p.Stock != nil {
		out = append(out, stockInShort(*p.Stock, p))
	}
	return out
}

// ofLargest says what part of the contract as written can be promised.
func ofLargest(p decide.Promise) string {
	return tongue.Sayf("That is %s of the largest month of the contract as written.", Percent(p.Part))
}

// notSure says of the next larger promise why it is not made.
func notSure(p decide.Promise) string {
	if p.NextOdds.Share < p.Target {
		return tongue.Sayf("A promise of %s would be met in %s, which is too few.", Grouped(p.Next), OutOf(p.NextOdds.Share))
	}
	if p.NextOdds.Low >= p.Target {
		return tongue.Sayf("A promise of %s came out at %s, which is too close to be sure of.", Grouped(p.Next), OutOf(p.NextOdds.Share))
	}
	return tongue.Sayf("A promise of %s came out at %s, but that may be as low as %s.", Grouped(p.Next), OutOf(p.NextOdds.Share), OutOf(p.NextOdds.Low))
}

// mostAlone returns the month that could take most while the others stay.
func mostAlone(p decide.Promise) decide.Promised {
	most := decide.Promised{}
	for _, m := range p.Months {
		if m.Stalks > most.Stalks {
			most = m
		}
	}
	return most
}

// monthAlone says how much one month could take while the others stay, and which months as much.
func monthAlone(p decide.Promise, most decide.Promised) string {
	var alike, less []string
	worst := most.Odds
	for _, m := range p.Months {
		if m.Stalks != most.Stalks {
			less = append(less, m.Name)
			continue
		}
		alike = append(alike, m.Name)
		if m.Odds.Share < worst.Share {
			worst = m.Odds
		}
	}
	if len(alike) == 1 {
		return tongue.Sayf("One month alone might take more while the others stay, most in %s: %s came out at %s, which is not proven. Do not promise it on this.", most.Name, Grouped(most.Stalks), Odds(most.Odds))
	}
	months := tongue.Sayf("most in %s", And(alike))
	switch {
	case len(less) == 0:
		months = tongue.Say("alike in any month")
	case 2*len(less) < len(alike):
		months = tongue.Sayf("most in any month but %s", And(less))
	}
	return tongue.Sayf("One month alone might take more while the others stay, %s: %s came out at %s or better, which is not proven. Do not promise it on this.", months, Grouped(most.Stalks), Odds(worst))
}

// PromiseNotes are what stands beside a promise.
func PromiseNotes(p decide.Promise) []Note {
	proven, alone := "", ""
	if p.Flat != 0 {
		next := tongue.Sayf("met in %s%s", Odds(p.NextOdds), ofFewer(p.NextOdds, p.Seasons))
		if Odds(p.NextOdds) == Odds(p.Odds) {
			next = tongue.Sayf("they came out as well, met in %s%s, but several sizes were tried, and of so many one may come out well by chance; more seasons may tell", Odds(p.NextOdds), ofFewer(p.NextOdds, p.Seasons))
		}
		proven = tongue.Sayf("In this model %s a month reach the target in at least %s (95 %% sure, over %s trial seasons). %s are not proven: %s. What the model leaves out is in no proof, so your place may differ.",
			Grouped(p.Flat), OfTen(p.Target), Grouped(p.Seasons), Grouped(p.Next), next)
		if most := mostAlone(p); most.Stalks > p.Flat {
			alone = monthAlone(p, most)
		}
	}
	var stock []string
	if p.Stock != nil {
		stock = stockWords(*p.Stock, p)
	}
	return notes(note(tongue.Say("How sure"), proven), note(tongue.Say("One month alone"), alone), note(tongue.Say("Stock before the rains"), stock...), note(tongue.Say("The hub"), HubSentence(p.Hub)))
}

// stockInShort says what stock carries the contract as written to its end.
func stockInShort(s decide.StockNeed, p decide.Promise) string {
	if s.Stalks < 0 {
		return tongue.Sayf("No stock tried at the end of %s carries the contract as written to its end.", s.After)
	}
	if !p.Goal.ByMonth() {
		return tongue.Sayf("With %s good stalks at the hub at the end of %s, the rest of the contract as written reaches the target in %s%s.", Grouped(s.Stalks), s.After, ofSeasons(s.Odds.Share), fewerMayDo(s, p))
	}
	return tongue.Sayf("With %s good stalks at the hub at the end of %s, each later month of the contract as written is met in %s%s.", Grouped(s.Stalks), s.After, atLeastOf(s.Odds.Share), fewerMayDo(s, p))
}

// atLeastOf says a share as the least of several: "at least 93 of 100 trial seasons".
func atLeastOf(x float64) string {
	switch counting(x) {
	case ofNone, ofHardlyAny, ofAll:
		return inSeasons(x)
	case ofNearlyAll:
		return tongue.Say("at least 99 of 100 trial seasons")
	}
	return tongue.Sayf("at least %s", inSeasons(x))
}

// fewerMayDo says of a stock that is enough, as an aside, that a smaller one may be too: where none was tried in
// the same seasons, or the next smaller did not clearly miss the target.
func fewerMayDo(s decide.StockNeed, p decide.Promise) string {
	if s.Stalks == 0 || s.Less > 0 && reaching(s.LessIn, p.Target) == missed {
		return ""
	}
	return tongue.Say("; fewer stalks may do")
}

// stockWords says what stock carries the contract as written to its end, with intervals.
func stockWords(s decide.StockNeed, p decide.Promise) []string {
	if s.Stalks < 0 {
		return []string{tongue.Sayf("No stock tried at the end of %s carries the contract as written to its end.", s.After)}
	}
	so, then := tongue.Say("every later month is met"), tongue.Say("the worst is then met")
	if !p.Goal.ByMonth() {
		so, then = tongue.Say("the rest of the season reaches the target"), tongue.Say("that is then so")
	}
	enough := tongue.Say("may be enough")
	if reaching(s.Odds, p.Target) == reached {
		enough = tongue.Say("are proven to be enough")
	}
	out := []string{
		tongue.Sayf("With the contract as written, %s good stalks at the hub at the end of %s %s for the rest of it%s.", Grouped(s.Stalks), endOf(s.After), enough, fewerMayDo(s, p)),
		tongue.Sayf("Enough means that %s in %s: %s in %s of %s seasons.", so, OfTen(p.Target), then, Odds(s.Odds), Grouped(s.Seasons)),
	}
	if s.Less > 0 {
		out = append(out, tongue.Sayf("With %s it is %s%s.", Grouped(s.Less), Odds(s.LessIn), ofFewer(s.LessIn, s.Seasons)))
	}
	return out
}

// endOf names the last day of a month, by which "before the rains" and the like are counted: "April (30 April)".
func endOf(month string) string {
	for m := time.January; m <= time.December; m++ {
		if m.String() == month {
			last := time.Date(2001, m+1, 0, 0, 0, 0, 0, time.UTC).Day() // of a year that is no leap year
			return tongue.Sayf("%s (%d %s)", month, last, month)
		}
	}
	return month
}

// ofFewer says of how many seasons odds are where they are of fewer than what stands beside them.
func ofFewer(o trials.Odds, than int) string {
	if o.Seasons >= than {
		return ""
	}
	return tongue.Sayf(" of %s seasons", Grouped(o.Seasons))
}
