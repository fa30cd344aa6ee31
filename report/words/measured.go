package words

import (
	"fmt"
	"strings"

	"drystalk/sim/knowledge"
	"drystalk/sim/measured"
	"drystalk/tongue"
)

// told are the parameters that logs tell as they stand in a sentence: what has the value, the unit
// after it.
var told = map[knowledge.Key][2]tongue.Text{
	knowledge.RateAt80CPerH:     {"the drying rate of your stalks is", "an hour at 80 °C"},
	knowledge.EvaporatesKgPerH:  {"your dryer drives off at most", "kg of water an hour"},
	knowledge.RateSpread:        {"single stalks differ in their rate by", "(standard deviation of the logarithm)"},
	knowledge.FurnaceEfficiency: {"the chamber gets", "of the wood's heat"},
	knowledge.SkinFactor:        {"your racks evaporate", "of the reference"},
	knowledge.OutputFactor:      {"your cutters bring", "times what is stated"},
}

// MeasuredSentence says what a log tells, the most telling first: two of its parameters.
func MeasuredSentence(log string, tells []measured.Estimate) string {
	var parts []string
	for _, e := range tells {
		if e.Carried && len(parts) < 2 {
			said := told[e.Key]
			parts = append(parts, tongue.Sayf("%s %s %s (%s to %s)", said[0], Figure(e.Value), said[1], Figure(e.Low), Figure(e.High)))
		}
	}
	if len(parts) == 0 {
		return tongue.Sayf("%s tell nothing more narrowly than what is documented, which stands.", log)
	}
	return tongue.Sayf("%s say that %s.", log, strings.Join(parts, tongue.Say(", and that ")))
}

// MeasuredInShort says what of a log is carried on and what is not.
func MeasuredInShort(tells []measured.Estimate, file string) []string {
	var carried, open []string
	for _, e := range tells {
		if e.Carried {
			carried = append(carried, e.Name)
		} else {
			open = append(open, e.Name)
		}
	}
	if len(carried) == 0 {
		return []string{tongue.Sayf("A scenario keeps the documented range of the %s: for any season, of which one does not tell all, the log leaves it no narrower.", listed(open))}
	}
	out := []string{tongue.Sayf("The log carries %s; a scenario takes it up with knowledge: {measured_files: %s}.", listed(carried), file)}
	if len(open) > 0 {
		out = append(out, tongue.Sayf("It does not carry %s: what is documented stays.", listed(open)))
	}
	return out
}

// listed joins names: "a, b and c".
func listed(names []string) string {
	if len(names) < 2 {
		return strings.Join(names, "")
	}
	return tongue.Sayf("%s and %s", strings.Join(names[:len(names)-1], ", "), names[len(names)-1])
}

// StoodInSentence says, after the sentence of a log of weighings, what monthly normals stood in for.
func StoodInSentence(s measured.StoodIn) string {
	if s.What() == "" {
		return ""
	}
	return tongue.Sayf(" Monthly normals stood in for %s, which the weather record lacks: the interval is widened by an assumed %.0f %% (standard deviation).", s.What(), 100*s.SD)
}

// OddTimes says which times between weighings lie far from all others: the slip may be in either of
// their two lines.
func OddTimes(odd []measured.NotUsed) []string {
	if len(odd) == 0 {
		return nil
	}
	var names []string
	for _, o := range odd {
		names = append(names, tongue.Sayf("%d to %d", o.Before, o.Line))
	}
	if len(odd) == 1 {
		return []string{tongue.Sayf("The time from line %s was left out, because the others contradict: look for a slip in line %s, mend it and fit again.", names[0], odd[0].Lines())}
	}
	return []string{tongue.Sayf("The times from line %s were left out, because the others contradict: look for a slip in one of the two lines of each, mend it and fit again.", listed(names))}
}

// FarLines points at lines of a tally that are far from its mean.
func FarLines(lines []measured.FarLine) []string {
	if len(lines) == 0 {
		return nil
	}
	l := lines[0]
	text := tongue.Sayf("Line %d says %.0f stalks an hour, %.1f times the mean, and is counted: look whether it is right.", l.Line, l.PerH, l.Times)
	if more := len(lines) - 1; more > 0 {
		text += tongue.Sayf(" %d more lines are twice or half the mean.", more)
	}
	return []string{text}
}

// OddLines says which lines lie far from all others; nothing where none does.
func OddLines(lines []int) []string {
	if len(lines) == 0 {
		return nil
	}
	var names []string
	for _, l := range lines {
		names = append(names, fmt.Sprint(l))
	}
	word := tongue.Say("Line ")
	if len(lines) > 1 {
		word = tongue.Say("Lines ")
	}
	were := tongue.Say(" was")
	if len(lines) > 1 {
		were = tongue.Say(" were")
	}
	return []string{word + listed(names) + tongue.Sayf("%s left out, because the other lines contradict: look for a slip, mend it and fit again.", were)}
}

// FullLoadMeant is a full load before and after a log was read.
type FullLoadMeant struct {
	Name             string // "fresh"
	AsIsH, MeasuredH float64
}

// MeantInShort says what a log of loads means for full loads.
func MeantInShort(loads []FullLoadMeant) []string {
	var parts []string
	for _, l := range loads {
		parts = append(parts, tongue.Sayf("%.1f h %s (%.1f h as the scenario stands)", l.MeasuredH, l.Name, l.AsIsH))
	}
	return []string{tongue.Sayf("So a full load takes %s.", listed(parts))}
}

// ExcessInShort says how much lines of a log differ beyond what readings explain, where that is much.
func ExcessInShort(excess float64, lines string) []string {
	if excess < 0.02 {
		return nil
	}
	return []string{tongue.Sayf("Rates differ from %s to %s by %.0f %% beyond what the readings explain; the intervals hold that.", lines, lines, 100*excess)}
}

// OutputMeasured is what a tally of cutting tells.
type OutputMeasured struct {
	Days                int
	PerH, Low, High     float64 // stalks per person-hour
	Stated              float64
	DaySD               float64 // of the logarithm, between days
	Missing             []string
	DaySDLow, DaySDHigh float64
}

// OutputSentence says what a tally of cutting tells.
func OutputSentence(o OutputMeasured) string {
	return tongue.Sayf("%d days say that a cutter brings %.0f stalks an hour (%.0f to %.0f), where the scenario states %.0f.", o.Days, o.PerH, o.Low, o.High, o.Stated)
}

// OutputParagraph says how days differ and which have no line.
func OutputParagraph(o OutputMeasured) []string {
	out := []string{tongue.Sayf("From day to day output differs by %.0f %% (standard deviation of its logarithm; luck: output_day_sd).", 100*o.DaySD)}
	switch n := len(o.Missing); {
	case n == 1:
		out = append(out, tongue.Sayf("%s has no line: it is taken as not known, not as a day without cutting.", o.Missing[0]))
	case n > 1:
		out = append(out, tongue.Sayf("%d days between the first and the last have no line, first %s: they are taken as not known, not as days without cutting.", n, o.Missing[0]))
	}
	return out
}
