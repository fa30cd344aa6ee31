package words

import (
	"fmt"

	"drystalk/sim/decide"
	"drystalk/sim/weather"
)

// FitSentence says whether a fitted climate reproduces its record.
func FitSentence(f weather.FitReport) string {
	s := f.Summary
	inside := 0
	for _, l := range f.Lines {
		if l.Inside {
			inside++
		}
	}
	return fmt.Sprintf("The generator fitted to %s, %d to %d (%d complete years), is %s: %d of %d statistics of the record lie where 95 %% of simulated records of its length do.",
		s.Station, s.FirstYear, s.LastYear, s.Complete, f.Verdict, inside, len(f.Lines))
}

// FitParagraph says what the verdict on a fit rests on.
func FitParagraph(f weather.FitReport) []string {
	out := []string{fmt.Sprintf("%s simulated years in %d blocks. It knows no more than the record: a change of climate is not in it.", Grouped(f.Years), f.Blocks)}
	for _, sentence := range append(append([]string(nil), f.Why...), f.Summary.Findings...) {
		out = append(out, ended(sentence))
	}
	return out
}

// mostRefused is how many refused years of a record are named.
const mostRefused = 12

// RefusedYears names the years of a record that are not used, and why.
func RefusedYears(s weather.Summary) []string {
	var out []string
	for _, q := range s.Refused {
		out = append(out, fmt.Sprintf("%d is not used: %s.", q.Year, q.Refused))
		if len(out) == mostRefused {
			return append(out, fmt.Sprintf("and %d more years.", len(s.Refused)-mostRefused))
		}
	}
	return out
}

// YearsSentence says how the plan fares in real years, and whether the generator agrees.
func YearsSentence(y decide.YearsResult) string {
	all, worst := 0, 0
	for _, r := range y.Years {
		if r.Met == r.Asked {
			all++
		}
	}
	for k, m := range y.Months {
		if m.Real.Share < y.Months[worst].Real.Share {
			worst = k
		}
	}
	s := fmt.Sprintf("In the %d real seasons of %s all months would have been met in %d.", len(y.Years), y.Station, all)
	if len(y.Months) > 0 {
		m := y.Months[worst]
		s += fmt.Sprintf(" The worst month, %s, in %s of them; the generator says %s.", m.Name, Odds(m.Real), Odds(m.Generator))
	}
	if y.Agree {
		return s + " The two agree within their intervals."
	}
	return s + " They do not agree: trust the real years, and look at the fit of the weather."
}
