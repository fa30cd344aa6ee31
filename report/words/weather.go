package words

import (
	"math"
	"strings"

	"drystalk/sim/decide"
	"drystalk/sim/trials"
	"drystalk/sim/weather"
	"drystalk/tongue"
)

// FitSentence says whether a fitted climate reproduces its record.
func FitSentence(f weather.FitReport) string {
	s, inside := f.Summary, len(f.Lines)-outside(f)
	return tongue.Sayf("The weather fitted to %s, %d to %d (%d complete years), is %s: %d of %d checks against the record hold.",
		s.Station, s.FirstYear, s.LastYear, s.Complete, weather.SayVerdict(f.Verdict), inside, len(f.Lines))
}

// outside counts the checks that do not hold.
func outside(f weather.FitReport) int {
	n := 0
	for _, l := range f.Lines {
		if !l.Inside {
			n++
		}
	}
	return n
}

// FitParagraph says for a decision paper what a verdict on a fit rests on.
func FitParagraph(f weather.FitReport) []string {
	out := []string{tongue.Say("It knows no more than the record: a change of climate is not in it.")}
	if f.Verdict == weather.VerdictGood {
		n := outside(f)
		if n == 0 {
			return append(out, tongue.Say("Nothing that was found speaks against it."))
		}
		return append(out, tongue.Several(n, "1 check does not hold (marked no in the table): it differs by less than matters for drying, or decides nothing.",
			"%d checks do not hold (marked no in the table): each differs by less than matters for drying, or decides nothing.", n))
	}
	return append(out, allEnded(f.Why)...)
}

// FitNotes are what stands beside a fit.
func FitNotes(f weather.FitReport) []Note {
	return notes(
		note(tongue.Say("How it was judged"), tongue.Sayf("%s simulated years in %d blocks as long as the record were set beside it; a check holds where the record lies where 95 %% of the blocks do.", Grouped(f.Years), f.Blocks)),
		note(tongue.Say("What was found"), allEnded(f.Why)...),
		note(tongue.Say("The record"), allEnded(f.Summary.Findings)...),
	)
}

func allEnded(list []string) []string {
	var out []string
	for _, s := range list {
		out = append(out, ended(s))
	}
	return out
}

// mostRefused is how many refused years of a record are named.
const mostRefused = 12

// RefusedYears names the years of a record that are not used, and why.
func RefusedYears(s weather.Summary) []string {
	var out []string
	for _, q := range s.Refused {
		out = append(out, tongue.Sayf("%d is not used: %s.", q.Year, q.Refused))
		if len(out) == mostRefused {
			return append(out, tongue.Sayf("and %d more years.", len(s.Refused)-mostRefused))
		}
	}
	return out
}

// YearsSentence says how the plan fares in real years, whether the generator agrees, and what
// difference could have been seen.
func YearsSentence(y decide.YearsResult) string {
	s := tongue.Sayf("In the %d real seasons of %s, each with %d draws of luck, all months are met in %s.", len(y.Years), y.Station, y.Draws, Share(y.All))
	if len(y.Suspected) > 0 {
		s = tongue.Sayf("The record of %s looks damaged (%s). ", y.Station, strings.TrimSuffix(y.Suspected[0], ".")) + s
	}
	if len(y.Months) == 0 {
		return s
	}
	worst := y.Months[0]
	for _, m := range y.Months {
		if m.Real.Mean < worst.Real.Mean {
			worst = m
		}
	}
	s += tongue.Sayf(" The worst month, %s, in %s; the generator says %s.", worst.Name, Share(worst.Real), Odds(worst.Generator))
	if len(y.Changed) > 0 {
		return s + tongue.Sayf(" The plan changes its climate (%s) and the real years are as they were, so the two are not compared.", And(y.Changed))
	}
	return s + " " + agreeWords(y.Months, y.Agree)
}

// YearsInShort says in the paragraph of an answer how the plan fares in real years.
func YearsInShort(y decide.YearsResult) string {
	s := tongue.Sayf("In the %d real seasons of %s all months are met in %s.", len(y.Years), y.Station, OutOf(y.All.Mean))
	switch {
	case len(y.Suspected) > 0:
		return s + tongue.Say(" But that record looks damaged.")
	case len(y.Months) > 0 && len(y.Changed) == 0 && !y.Agree:
		return s + tongue.Say(" The drawn weather does not agree with them: trust the real years.")
	}
	return s
}

// agreeWords says whether the generator agrees, and what would have been seen.
func agreeWords(months []decide.MonthAgrees, agree bool) string {
	least, most := months[0], months[0]
	for _, m := range months {
		if m.Shows < least.Shows {
			least = m
		}
		if m.Shows > most.Shows {
			most = m
		}
	}
	seen := tongue.Sayf("So many years would show a difference of %s in %s", pointsFrom(most.Shows), most.Name)
	if least.Name != most.Name {
		seen = tongue.Sayf("So many years would show a difference of %s in %s and of %s in %s; smaller ones they cannot tell", pointsFrom(least.Shows), least.Name, pointsFrom(most.Shows), most.Name)
	}
	if agree {
		return tongue.Sayf("No month differs beyond chance. %s.", seen)
	}
	return tongue.Sayf("They do not agree: trust the real years, and look at the fit of the weather. %s.", seen)
}

// pointsFrom says from how many percentage points on.
func pointsFrom(x float64) string { return tongue.Sayf("%d points or more", int(math.Ceil(100*x))) }

// Share says a share with its interval.
func Share(m trials.Mean) string {
	return tongue.Sayf("%s (%s to %s)", Percent(m.Mean), bare(m.Low), Percent(m.High))
}

// DefaultsInShort says how much stands behind a scenario's answers.
func DefaultsInShort(assumptions int) string {
	return tongue.Sayf("%s numbers and assumptions stand behind its answers; drystalk check --explain lists them with their sources.", Grouped(assumptions))
}

// InventedWords says of a demo that it is one.
func InventedWords() string { return tongue.Say("The place and its numbers are invented.") }

// HumidityInShort says in the paragraph of an answer that the humidity of some stations is guessed.
func HumidityInShort(guessed []string) []string {
	switch len(guessed) {
	case 0:
		return nil
	case 1:
		return []string{tongue.Sayf("No humidity is recorded for %s: it is guessed, and the odds hang on it.", guessed[0])}
	}
	return []string{tongue.Sayf("No humidity is recorded for %s and %d more: it is guessed, and the odds hang on it.", guessed[0], len(guessed)-1)}
}

// PlaceWords says what of the place is guessed that the odds hang on: it opens the paragraph of
// every answer. guessed are the stations without a record of humidity.
func PlaceWords(guessed []string) []string {
	if len(guessed) == 0 {
		return nil
	}
	return []string{tongue.Sayf("No humidity is recorded for %s: it is guessed from the lowest temperatures, and the odds hang on it.", And(guessed))}
}
